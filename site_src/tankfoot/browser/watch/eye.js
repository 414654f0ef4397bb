/** What two places of a picture look like: the mean colour of the glass, and of the bright plain place beside it. */

const SIDE = 24; // px that a place is read from
const SHARE = 0.1; // of the picture's shorter side: how wide a place is
const NOT_PLAIN = 0.3; // how unlike its parts may be, of their mean. Common practice, no source

/** The width of a place as a share of the picture's width. @param {HTMLVideoElement} video */
export function placeWidth({ videoWidth: width, videoHeight: height }) {
  return width ? (SHARE * Math.min(width, height)) / width : SHARE;
}

/**
 * Something that reads a video's picture again and again.
 *
 * @returns {(video: HTMLVideoElement, marks: import("./marks.js").Marks) =>
 *   {glass: number[], reference: number[]|null}} sRGB, 0 to 255; no reference where its place is not plain
 */
export function newEye() {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [2 * SIDE, SIDE];
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  return (video, marks) => {
    [marks.glass, marks.reference].forEach(({ x, y }, place) => {
      const side = SHARE * Math.min(video.videoWidth, video.videoHeight);
      const left = within(x * video.videoWidth - side / 2, video.videoWidth - side);
      const top = within(y * video.videoHeight - side / 2, video.videoHeight - side);
      pen.drawImage(video, left, top, side, side, place * SIDE, 0, SIDE, SIDE);
    });
    const { data } = pen.getImageData(0, 0, 2 * SIDE, SIDE);
    const [glass, reference] = [0, SIDE].map((from) => seen(data, from));
    return { glass: glass.mean, reference: reference.spread > NOT_PLAIN ? null : reference.mean };
  };
}

function within(value, most) {
  return Math.min(Math.max(value, 0), most);
}

/** The mean of the pixels right of `from`, and how far their green is from its mean, as a share of it. */
function seen(data, from) {
  const total = [0, 0, 0];
  let squares = 0;
  for (let y = 0; y < SIDE; y += 1) {
    for (let x = from; x < from + SIDE; x += 1) {
      const at = 4 * (2 * SIDE * y + x);
      for (const channel of [0, 1, 2]) total[channel] += data[at + channel];
      squares += data[at + 1] ** 2;
    }
  }
  const mean = total.map((sum) => sum / SIDE ** 2);
  const spread = Math.sqrt(Math.max(squares / SIDE ** 2 - mean[1] ** 2, 0)) / Math.max(mean[1], 1);
  return { mean, spread };
}

/** What two places of a picture look like: the mean colour of the glass, and of the bright plain place beside it. */

const LONG = 160; // px of the picture's longer side as it is read: fewer take less work, and a mean needs no more
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
  const pen = canvas.getContext("2d", { willReadFrequently: true });

  /** The canvas has the video's shape, also once the phone was turned. */
  function fit({ videoWidth: width, videoHeight: height }) {
    const scale = LONG / Math.max(width, height);
    const [wide, high] = [width, height].map((side) => Math.round(side * scale));
    if (canvas.width !== wide || canvas.height !== high) [canvas.width, canvas.height] = [wide, high];
  }

  function placeAt({ x, y }) {
    const { width, height } = canvas;
    const side = Math.max(Math.round(SHARE * Math.min(width, height)), 2);
    const [left, top] = [[x, width], [y, height]].map(([share, size]) => (
      Math.round(Math.min(Math.max(share * size - side / 2, 0), size - side))
    ));
    return seen(pen.getImageData(left, top, side, side).data);
  }

  return (video, marks) => {
    fit(video);
    pen.drawImage(video, 0, 0, canvas.width, canvas.height);
    const [glass, reference] = [marks.glass, marks.reference].map(placeAt);
    return { glass: glass.mean, reference: reference.spread > NOT_PLAIN ? null : reference.mean };
  };
}

/** The mean of pixels, and how far their green is from its mean, as a share of it. @param {Uint8ClampedArray} data */
function seen(data) {
  const count = data.length / 4;
  const total = [0, 0, 0];
  let squares = 0;
  for (let at = 0; at < data.length; at += 4) {
    for (const channel of [0, 1, 2]) total[channel] += data[at + channel];
    squares += data[at + 1] ** 2;
  }
  const mean = total.map((sum) => sum / count);
  const spread = Math.sqrt(Math.max(squares / count - mean[1] ** 2, 0)) / Math.max(mean[1], 1);
  return { mean, spread };
}

/** Five pictures a second of a video. One that comes while the phone is busy is dropped, never queued. */

const EVERY = 200; // ms
const EARLY = 20; // ms: a picture that comes so little too soon is taken

/**
 * Calls `take` with a fresh picture in the video, until what is returned is called. A picture is waited for only when it
 * is due: a phone that tells of each one works for most of them in vain.
 *
 * @param {HTMLVideoElement} video @param {() => void} take
 */
export function everyFrame(video, take) {
  let due = performance.now();
  let shown = -1; // what the video had come to when it was read last
  let isOver = false;
  const next = video.requestVideoFrameCallback ? () => video.requestVideoFrameCallback(look) : look;

  function look() {
    if (isOver) return;
    const now = performance.now();
    if (video.currentTime !== shown && video.videoWidth) {
      shown = video.currentTime;
      due = Math.max(due + EVERY, now + EVERY / 2);
      take();
    }
    setTimeout(next, Math.max(due - EARLY - performance.now(), EVERY / 10));
  }

  look();
  return () => { isOver = true; };
}

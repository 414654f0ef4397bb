/** Five pictures a second of a video. One that comes while the phone is busy is dropped, never queued. */

const EVERY = 200; // ms
const EARLY = 20; // ms: a frame that comes so little too soon is taken

/** Calls `take` with a fresh picture in the video, until what is returned is called. @param {HTMLVideoElement} video */
export function everyFrame(video, take) {
  let due = -Infinity;
  let shown = -1; // what the video had come to when it was read last
  let isOver = false;
  const next = video.requestVideoFrameCallback
    ? (then) => video.requestVideoFrameCallback(then) : (then) => setTimeout(() => then(performance.now()), EVERY / 4);

  function look(now) {
    if (isOver) return;
    next(look);
    if (now + EARLY < due || video.currentTime === shown || !video.videoWidth) return;
    due = Math.max(due + EVERY, now + EVERY / 2);
    shown = video.currentTime;
    take();
  }

  next(look);
  return () => { isOver = true; };
}

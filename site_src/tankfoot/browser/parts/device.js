/** What a phone can do beside showing: stay awake, buzz, beep. Each is missing on some phone, and none is relied on. */

let lock = null;
let wanted = false;

/** Keeps the screen on while `on`; a phone that cannot goes dark as usual. */
export async function stayAwake(on) {
  wanted = on;
  if (!on) {
    await lock?.release();
    lock = null;
    return;
  }
  if (lock && !lock.released) return;
  try {
    lock = await navigator.wakeLock?.request("screen") ?? null;
  } catch (error) {
    if (error.name !== "NotAllowedError") throw error; // battery saver or page hidden: asked again when it shows
  }
}

document.addEventListener("visibilitychange", () => {
  if (wanted && document.visibilityState === "visible") stayAwake(true);
});

/** Buzzes and beeps three times. */
export function alarm() {
  navigator.vibrate?.([400, 200, 400, 200, 400]);
  if (!window.AudioContext) return;
  const audio = new AudioContext();
  for (const start of [0, 0.6, 1.2]) {
    const tone = audio.createOscillator();
    tone.frequency.value = 880;
    tone.connect(audio.destination);
    tone.start(audio.currentTime + start);
    tone.stop(audio.currentTime + start + 0.35);
  }
}

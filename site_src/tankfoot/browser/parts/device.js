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

/** How long the phone buzzes and rests, in ms; each tone's start and length in s, and its pitch in Hz; full volume is 1. */
const SIGNALS = {
  alarm: { buzzes: [400, 200, 400, 200, 400], tones: [[0, 0.35, 880], [0.6, 0.35, 880], [1.2, 0.35, 880]] },
  saved: { buzzes: [60], tones: [[0, 0.09, 880]] },
  begins: { buzzes: [40, 80, 40, 80, 40], tones: [[0, 0.18, 330], [0.2, 0.3, 440]], volume: 0.3 },
  turning: { buzzes: [120], tones: [[0, 0.5, 196]], volume: 0.6 },
  beer: { buzzes: [500, 150, 500], tones: [[0, 0.35, 659], [0.35, 0.6, 494], [1.2, 0.35, 659], [1.55, 0.6, 494]] },
  refused: { buzzes: [150, 120, 150], tones: [[0, 0.16, 220], [0.26, 0.16, 220]] },
};

/** Buzzes and beeps three times. */
export function alarm() {
  give("alarm");
}

/** @param {keyof typeof SIGNALS} name @param {{tone?: boolean, buzz?: boolean}} by what it is given */
export function give(name, { tone: isHeard = true, buzz: isFelt = true } = {}) {
  const { buzzes, tones, volume } = { volume: 1, ...SIGNALS[name] };
  if (isFelt) navigator.vibrate?.(buzzes);
  if (!isHeard || !window.AudioContext) return;
  const audio = new AudioContext();
  const loudness = audio.createGain();
  loudness.gain.value = volume;
  loudness.connect(audio.destination);
  let last = null;
  for (const [start, length, pitch] of tones) {
    last = audio.createOscillator();
    last.frequency.value = pitch;
    last.connect(loudness);
    last.start(audio.currentTime + start);
    last.stop(audio.currentTime + start + length);
  }
  last.onended = () => audio.close(); // a browser has only a few of them
}

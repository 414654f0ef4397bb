/** The camera on the back of the phone: asked for only when a hand wants it, and held as still as the phone can. */

/** Why there is no picture: `code` is a stable word. */
export class CameraTrouble extends Error {
  constructor(code, options) {
    super(code, options);
    this.code = code;
  }
}

/** By the names that Media Capture and Streams gives what went wrong. */
const CODES = {
  NotAllowedError: "refused", SecurityError: "refused", NotFoundError: "missing", OverconstrainedError: "missing",
  NotSupportedError: "missing", NotReadableError: "busy", AbortError: "busy",
};
/** Small and slow: five readings a second need no more, and the phone stays cool. */
const WANTED = {
  audio: false,
  video: { facingMode: "environment", width: { ideal: 640 }, height: { ideal: 480 }, frameRate: { ideal: 15 } },
};
/** What follows the light of itself, and the settings that it holds; by MediaStream Image Capture. */
const MODES = { exposureMode: ["exposureTime", "iso"], whiteBalanceMode: ["colorTemperature"], focusMode: ["focusDistance"] };

/** Shows the camera's picture in `video`. Throws a CameraTrouble. @param {HTMLVideoElement} video @param {() => void} ended */
export async function openCamera(video, ended) {
  if (!navigator.mediaDevices?.getUserMedia) throw new CameraTrouble("missing");
  const stream = await asked(() => navigator.mediaDevices.getUserMedia(WANTED));
  const [track] = stream.getVideoTracks();
  track.addEventListener("ended", ended);
  video.srcObject = stream;
  const can = track.getCapabilities?.() ?? {};
  await asked(() => video.play()).catch((trouble) => { close(); throw trouble; });

  /** Applies settings where the phone takes them; whether it did. */
  async function apply(settings) {
    try {
      await track.applyConstraints({ advanced: [settings] });
      return true;
    } catch (error) {
      if (!Object.hasOwn(CODES, error.name)) throw error;
      console.info("not set:", error.name);
      return false;
    }
  }

  function close() {
    track.removeEventListener("ended", ended);
    track.stop();
    video.srcObject = null;
  }

  return {
    close,
    hasTorch: can.torch === true,
    /** @param {boolean} on @returns {Promise<boolean>} whether the phone took it */
    light: (on) => apply({ torch: on }),

    /** Exposure and white balance stay as they are now. @returns {Promise<boolean>} whether both do */
    async fix() {
      const wanted = fixed(can, track.getSettings());
      if (!Object.keys(wanted).length || !await apply(wanted)) return false;
      const now = track.getSettings();
      return now.exposureMode === "manual" && now.whiteBalanceMode === "manual";
    },

    /** They follow the light again, while a hand aims. */
    async free() {
      const modes = Object.keys(MODES).filter((mode) => can[mode]?.includes("continuous"));
      if (modes.length) await apply(Object.fromEntries(modes.map((mode) => [mode, "continuous"])));
    },
  };
}

function fixed(can, now) {
  const wanted = {};
  for (const [mode, values] of Object.entries(MODES)) {
    if (!can[mode]?.includes("manual")) continue;
    wanted[mode] = "manual";
    for (const value of values) if (can[value] && now[value] !== undefined) wanted[value] = now[value];
  }
  return wanted;
}

async function asked(work) {
  try {
    return await work();
  } catch (error) {
    if (!Object.hasOwn(CODES, error.name)) throw error;
    throw new CameraTrouble(CODES[error.name], { cause: error });
  }
}

/** Aiming: the camera's picture with its two marks, and what stands in the way of seeing. */

import { look } from "../../watch/sight.js";
import { words } from "../../wording/words.js";
import { keepMarks, keptMarks } from "../storage/watching.js";
import { placeWidth } from "./eye.js";
import { placeMarks } from "./marks.js";

/**
 * @param {HTMLElement} sheet @param {HTMLElement} thumb where the picture is, small, once it is aimed
 * @param {{light: (on: boolean) => Promise<boolean>, hasTorch: boolean}} camera
 * @param {{aimed: () => Promise<void>, free: () => void, off: () => void}} then
 */
export function openAim(sheet, thumb, camera, { aimed, free, off }) {
  const part = (name) => sheet.querySelector(`[data-aim-${name}]`);
  const [picture, says, torch] = [part("picture"), part("says"), part("torch")];
  const video = sheet.querySelector("video") ?? thumb.querySelector("video");
  const gone = new AbortController(); // the sheet outlives the camera
  const marks = placeMarks(picture, keptMarks(), keepMarks, gone.signal);
  const on = (place, then) => place.addEventListener("click", then, { signal: gone.signal });

  on(thumb, () => { open(); free(); });
  on(part("done"), () => close());
  on(part("off"), off);
  torch.hidden = !camera.hasTorch;
  on(torch, async () => {
    const isOn = torch.getAttribute("aria-pressed") !== "true";
    if (await camera.light(isOn)) torch.setAttribute("aria-pressed", String(isOn));
  });
  video.addEventListener("resize", fit, { signal: gone.signal });
  addEventListener("resize", fit, { signal: gone.signal });

  /** The sheet ends where the buttons of the step begin: nothing of them is ever covered. */
  function fit() {
    const reach = document.querySelector("[data-step]:not([hidden]) .reach");
    sheet.style.bottom = `${innerHeight - (reach?.getBoundingClientRect().top ?? innerHeight)}px`;
    picture.style.setProperty("--aspect", String((video.videoWidth || 4) / (video.videoHeight || 3)));
    picture.style.setProperty("--side", `${placeWidth(video) * picture.clientWidth}px`);
  }

  function open() {
    sheet.hidden = false;
    thumb.hidden = true;
    picture.prepend(video);
    video.play();
    fit();
  }

  function close() {
    if (sheet.hidden) return;
    sheet.hidden = true;
    thumb.hidden = false;
    thumb.append(video);
    video.play();
    aimed();
  }

  return {
    marks,
    open,
    close,
    fit,
    get isOpen() { return !sheet.hidden; },
    /** What stands in the way of seeing, by one sample. */
    tell(sample) {
      const why = sample.reference === null ? "reference" : look(sample, null, null)[0];
      const text = words(`watch.aim.${why ?? "clear"}`);
      if (says.textContent !== text) says.textContent = text;
    },
    end() {
      gone.abort();
      sheet.hidden = thumb.hidden = true;
      torch.setAttribute("aria-pressed", "false");
    },
  };
}

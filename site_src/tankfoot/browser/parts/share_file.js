/** Hands a file on: to the phone's share sheet where it takes files, into the downloads otherwise. */

import { element } from "./figures.js";

const GONE_AFTER = 60000; // ms; the download has read it by then

/** @param {File} file */
export async function shareFile(file) {
  if (!navigator.canShare?.({ files: [file] })) {
    download(file);
    return;
  }
  try {
    await navigator.share({ files: [file] });
  } catch (error) {
    if (error.name === "AbortError") return; // the person closed the sheet
    if (error.name !== "NotAllowedError") throw error;
    download(file);
  }
}

function download(file) {
  const address = URL.createObjectURL(file);
  element("a", { href: address, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(address), GONE_AFTER);
}

/** This page in another language: a site of its own beside this one. What a hand did is in the record, which they share. */

import { saveSettings } from "../storage/settings.js";

/**
 * Goes there, once that language can be had.
 *
 * @param {string} language chosen from now on, "" for the phone's own @param {string} address of the page in it
 * @returns {Promise<boolean>} false where this phone does not keep it and no signal brings it
 */
export async function speak(language, address) {
  if (!await isThere(address)) return false;
  await saveSettings({ language });
  location.assign(address + location.search + location.hash);
  return true;
}

async function isThere(address) {
  if (await globalThis.caches?.match(address)) return true;
  try {
    return (await fetch(address, { method: "HEAD", cache: "no-store" })).ok;
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return false;
  }
}

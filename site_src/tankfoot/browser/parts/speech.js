/** Reading aloud, by a voice that is on the phone itself: one that is not would send the words away. */

import { locale } from "../../quantities/locale.js";

const PATIENCE = 1500; // ms: some browsers read their list of voices late

/** @returns {Promise<SpeechSynthesisVoice|null>} one in the page's language, its region's where there is one; else null */
export async function ownVoice() {
  if (!window.speechSynthesis) return null;
  const { lang } = document.documentElement;
  const own = (await voices()).filter((voice) => voice.localService === true && voice.lang.split(/[-_]/)[0] === lang);
  return own.find((voice) => voice.lang.replace("_", "-") === locale()) ?? own.find((voice) => voice.default) ?? own[0] ?? null;
}

async function voices() {
  if (!speechSynthesis.getVoices().length) {
    await new Promise((resolve) => {
      speechSynthesis.addEventListener("voiceschanged", resolve, { once: true });
      setTimeout(resolve, PATIENCE);
    });
  }
  return speechSynthesis.getVoices();
}

/** Says texts one after the other, in place of what is being said. @param {string[]} texts @param {SpeechSynthesisVoice} voice */
export function sayNow(texts, voice) {
  speechSynthesis.cancel();
  sayNext(texts, voice);
}

/** Says texts after what is being said. @param {string[]} texts @param {SpeechSynthesisVoice} voice */
export function sayNext(texts, voice) {
  for (const text of texts) {
    const said = new SpeechSynthesisUtterance(text);
    Object.assign(said, { voice, lang: voice.lang });
    speechSynthesis.speak(said);
  }
}

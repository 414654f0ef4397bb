/** The thread in which the record goes into files, and files are read: years of it are looked at there. */

import { EVERY } from "../parts/progress.js";
import { work } from "./file_work.js";

self.onmessage = async ({ data: { number, what, given } }) => {
  let last = performance.now();
  const tell = (done, count) => {
    if (performance.now() - last < EVERY) return;
    last = performance.now();
    self.postMessage({ number, told: { done, count } });
  };
  try {
    self.postMessage({ number, answer: await work[what](given, tell) });
  } catch (error) {
    if (!error.code) console.error(error);
    self.postMessage({ number, trouble: error.code ?? "readonly" });
  }
};

/** The thread in which costs are reckoned: years of purges are read there, and the page stays quick. */

import { answerTo } from "./asked.js";

let latest = 0; // what was asked before it is answered no more

self.onmessage = async ({ data: { number, asked } }) => {
  latest = number;
  try {
    await answerTo(asked, (told) => {
      if (number !== latest) throw new Overtaken();
      self.postMessage({ number, told });
    });
  } catch (error) {
    if (error instanceof Overtaken) return;
    console.error(error);
    self.postMessage({ number, trouble: error.code ?? "readonly" });
  }
};

class Overtaken extends Error {}

/** The thread in which costs are reckoned: years of purges are read there, and the page stays quick. */

import { answerTo, readFor } from "./asked.js";

let latest = 0; // what was asked before it is answered no more
let begun = readFor(Intl.DateTimeFormat().resolvedOptions().timeZone); // the page asks once its modules are there

Promise.allSettled([begun.tanks, begun.bases, begun.events, begun.first]); // trouble is told to who asks, not before

self.onmessage = async ({ data: { number, asked } }) => {
  latest = number;
  const read = begun?.zone === asked.zone ? begun : undefined;
  begun = null; // what is asked later is of the record as it is then
  try {
    await answerTo(asked, (told) => {
      if (number !== latest) throw new Overtaken();
      self.postMessage({ number, told });
    }, read);
  } catch (error) {
    if (error instanceof Overtaken) return;
    console.error(error);
    self.postMessage({ number, trouble: error.code ?? "readonly" });
  }
};

class Overtaken extends Error {}

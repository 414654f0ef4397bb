/** Opens every sum on the page: a calculator's page has one, a checklist the ones whose numbers it needs. */

import { openSum } from "../parts/sum.js";

for (const root of document.querySelectorAll("[data-calculator]")) {
  const place = root.querySelector("[data-plot]");
  const shown = place ? await plotting(place, root.dataset.calculator) : undefined;
  await openSum(root, { shown });
}

async function plotting(place, id) {
  const { plotOf } = await import("../drawing/plot.js");
  return plotOf(place, id);
}

/** Opens every sum on the page: a calculator's page has one, a checklist the ones whose numbers it needs. */

import { openSum } from "./sum.js";

for (const root of document.querySelectorAll("[data-calculator]")) await openSum(root);

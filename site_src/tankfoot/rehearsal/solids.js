/** The solids in the cone: they follow a slow draw, a fast one cores them. Twin of solids.py. */

import { nextDraw } from "../purge/shuffle.js";

const TAIL = 0.08;
const GROWS = 0.12;
const MOST_OVER = 4.0;
const SLUMPS = 0.004;
const WORD = 4294967296.0;

export function solidsShare(core, solids, atFirst) {
  if (atFirst <= 0.0) return 0.0;
  return (1.0 - core) * Math.min(1.0, solids / (TAIL * atFirst));
}

export function coreAfter(core, speed, follows, seconds) {
  const over = Math.min(MOST_OVER, speed / follows - 1.0);
  const grown = core + seconds * (over > 0.0 ? GROWS * over : speed < follows ? -SLUMPS : 0.0);
  return Math.min(1.0, Math.max(0.0, grown));
}

export function plugBegins(chance, solids, often) {
  if (often <= 0.0 || solids <= 0.0) return [chance, false];
  const next = nextDraw(chance);
  return [next, next / WORD < -Math.expm1(-often * solids)];
}

export function plugLasts(chance, usual) {
  const next = nextDraw(chance);
  return [next, usual * Math.pow(2.0, 2.0 * next / WORD - 1.0)];
}

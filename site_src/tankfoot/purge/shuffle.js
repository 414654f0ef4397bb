/** Orders and views that follow from a text, the same on every phone. Twin of shuffle.py. */

/** @param {string} seed */
export function seeded(seed) {
  let state = 0x811c9dc5;
  for (let place = 0; place < seed.length; place += 1) state = Math.imul(state ^ seed.charCodeAt(place), 0x01000193) >>> 0;
  return state || 1;
}

/** @param {number} state the draw before it */
export function nextDraw(state) {
  state = (state ^ (state << 13)) >>> 0;
  state ^= state >>> 17;
  return (state ^ (state << 5)) >>> 0;
}

/** @param {string} seed @returns {Generator<number>} whole numbers from 1 to 2^32 - 1 without end */
export function* draws(seed) {
  let state = seeded(seed);
  for (;;) {
    state = nextDraw(state);
    yield state;
  }
}

/** @template T @param {T[]} items @param {string} seed @returns {T[]} in an order that follows from the seed */
export function shuffled(items, seed) {
  const left = [...items];
  const numbers = draws(seed);
  for (let place = left.length - 1; place > 0; place -= 1) {
    const other = numbers.next().value % (place + 1);
    [left[place], left[other]] = [left[other], left[place]];
  }
  return left;
}

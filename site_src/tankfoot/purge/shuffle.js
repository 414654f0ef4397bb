/** Orders and views that follow from a text, the same on every phone. Twin of shuffle.py. */

/** @param {string} seed @returns {Generator<number>} whole numbers from 0 to 2^32 - 1 without end */
export function* draws(seed) {
  let state = 0x811c9dc5;
  for (let place = 0; place < seed.length; place += 1) state = Math.imul(state ^ seed.charCodeAt(place), 0x01000193) >>> 0;
  state ||= 1;
  for (;;) {
    state = (state ^ (state << 13)) >>> 0;
    state ^= state >>> 17;
    state = (state ^ (state << 5)) >>> 0;
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

/**
 * Opens what LZMA has packed, bit by bit: how likely each is has been learnt from those in the same place before it.
 * Source, and its names: Igor Pavlov, LZMA specification, 2015, in the public domain.
 */

const CERTAIN = 2 ** 11;
const LEARNS = 5; // a bit moves its likelihood by one part in 2 ** 5
const RANGE = 0; // places in the coder
const CODE = 1;
const LEAST_RANGE = 2 ** 24; // below it the next byte comes in
const HEAD = 13; // bytes: properties, size of the dictionary, length of what was packed
const FIRST = HEAD + 5; // bytes that it begins with: a 0 and four of the code
const LONGEST = 20; // bytes that a literal or a match is written in: LZMA_REQUIRED_INPUT_MAX of the LZMA SDK
const BYTE = 2 ** 8;
const LITERAL = 3 * BYTE; // likelihoods: of bits alone, and beside a 0 or a 1 of the byte that might have come
const STATES = 12; // by what the last ones were, literals or matches
const AFTER_MATCH = 7; // in this state or a later one the last was a match
const SHORTEST = 2; // bytes of a match
const LENGTHS = 4; // from 2 bytes to 5 and more: each has its own likelihoods of a distance
const SLOT_BITS = 6;
const FIRST_LONG = 4; // a slot below it is the distance itself
const FIRST_DIRECT = 14; // from this slot on the middle bits are as likely as not
const ALIGN_BITS = 4; // the last bits of a distance, which have likelihoods again

function likelihoods(count) {
  return new Uint16Array(count).fill(CERTAIN / 2);
}

function rangeDecoder(packed) {
  let next = FIRST;
  const code = packed.subarray(HEAD + 1, next).reduce((sum, byte) => sum * BYTE + byte, 0);
  const coder = Uint32Array.of(2 ** 32 - 1, code);

  function refill() {
    if (coder[RANGE] >= LEAST_RANGE) return;
    coder[RANGE] <<= 8;
    coder[CODE] = (coder[CODE] << 8) | packed[next];
    next += 1;
  }

  function bit(of, at) {
    const likely = of[at];
    const bound = (coder[RANGE] >>> 11) * likely;
    const is = coder[CODE] < bound ? 0 : 1;
    if (is) {
      coder[RANGE] -= bound;
      coder[CODE] -= bound;
      of[at] = likely - (likely >> LEARNS);
    } else {
      coder[RANGE] = bound;
      of[at] = likely + ((CERTAIN - likely) >> LEARNS);
    }
    refill();
    return is;
  }

  /** Bits that are as likely as not. */
  function direct(count) {
    let value = 0;
    for (let i = 0; i < count; i += 1) {
      coder[RANGE] >>>= 1;
      const is = coder[CODE] < coder[RANGE] ? 0 : 1;
      if (is) coder[CODE] -= coder[RANGE];
      value = 2 * value + is;
      refill();
    }
    return value;
  }

  /** The highest bit first, each as likely as it has been after the bits before it. */
  function tree(of, from, bits) {
    let node = 1;
    for (let i = 0; i < bits; i += 1) node = 2 * node + bit(of, from + node);
    return node - 2 ** bits;
  }

  /** A tree with the lowest bit first. */
  function reverseTree(of, from, bits) {
    let node = 1;
    let value = 0;
    for (let i = 0; i < bits; i += 1) {
      const is = bit(of, from + node);
      node = 2 * node + is;
      value += is << i;
    }
    return value;
  }

  return { bit, direct, tree, reverseTree, isFed: (there) => next <= there - LONGEST };
}

/**
 * Opens a file of the format .lzma, "lzma_alone", while it still comes. One that is damaged gives other bytes.
 *
 * @param {Uint8Array} packed as long as the whole file
 * @param {number} length bytes of what was packed
 * @returns {function(number): Uint8Array} opens as much as so many bytes of the file tell; Infinity: all are there
 */
export function unpacking(packed, length) {
  const out = new Uint8Array(length);
  let open = null;
  return (there) => {
    if (there >= FIRST) open ??= opening(packed, out);
    open?.(there);
    return out;
  };
}

/** Writes into `out` what so many bytes of `packed` tell. */
function opening(packed, out) {
  const { bit, direct, tree, reverseTree, isFed } = rangeDecoder(packed);
  const lc = packed[0] % 9; // bits of the byte before that a literal's likelihoods go by
  const lp = Math.floor(packed[0] / 9) % 5; // bits of its place that they go by
  const places = 2 ** Math.floor(packed[0] / 45);

  const literals = likelihoods(LITERAL << (lc + lp));
  const isMatch = likelihoods(STATES * places);
  const isRep = likelihoods(STATES);
  const isRepG0 = likelihoods(STATES);
  const isRep0Long = likelihoods(STATES * places);
  const isRepG1 = likelihoods(STATES);
  const isRepG2 = likelihoods(STATES);
  const slots = likelihoods(LENGTHS << SLOT_BITS);
  const middles = likelihoods(2 ** 7);
  const aligns = likelihoods(2 ** ALIGN_BITS);
  const lengthOfMatch = lengths();
  const lengthOfRep = lengths();

  const reps = [0, 0, 0, 0]; // the last four distances; a distance is one less than how far back
  let state = 0;
  let at = 0;

  function lengths() {
    const choice = likelihoods(2);
    const [low, middle, high] = [places << 3, places << 3, BYTE].map(likelihoods);
    return (place) => {
      if (!bit(choice, 0)) return tree(low, place << 3, 3);
      return bit(choice, 1) ? 16 + tree(high, 0, 8) : 8 + tree(middle, place << 3, 3);
    };
  }

  function distance(length) {
    const slot = tree(slots, Math.min(length, LENGTHS - 1) << SLOT_BITS, SLOT_BITS);
    if (slot < FIRST_LONG) return slot;
    const bits = (slot >> 1) - 1;
    const least = (2 + (slot & 1)) * 2 ** bits;
    if (slot < FIRST_DIRECT) return least + reverseTree(middles, least - slot, bits);
    return least + direct(bits - ALIGN_BITS) * 2 ** ALIGN_BITS + reverseTree(aligns, 0, ALIGN_BITS);
  }

  function literal() {
    const from = LITERAL * (((at & (2 ** lp - 1)) << lc) + ((at && out[at - 1]) >> (8 - lc)));
    let node = 1;
    if (state >= AFTER_MATCH) { // the byte that would have come next is near
      let near = out[at - reps[0] - 1];
      for (let isAlike = true; isAlike && node < BYTE; near <<= 1) {
        const one = (near >> 7) & 1;
        const is = bit(literals, from + (1 + one) * BYTE + node);
        node = 2 * node + is;
        isAlike = is === one;
      }
    }
    while (node < BYTE) node = 2 * node + bit(literals, from + node);
    return node - BYTE;
  }

  /** Bytes that come again, from as far back as the first of reps then says. */
  function match(place) {
    const isAfterMatch = state >= AFTER_MATCH;
    if (!bit(isRep, state)) {
      state = isAfterMatch ? 10 : 7;
      const more = lengthOfMatch(place);
      reps.unshift(distance(more));
      reps.pop();
      return SHORTEST + more;
    }
    if (bit(isRepG0, state)) {
      const which = bit(isRepG1, state) ? 2 + bit(isRepG2, state) : 1;
      reps.unshift(...reps.splice(which, 1));
    } else if (!bit(isRep0Long, state * places + place)) {
      state = isAfterMatch ? 11 : 9;
      return 1;
    }
    state = isAfterMatch ? 11 : 8;
    return SHORTEST + lengthOfRep(place);
  }

  return (there) => {
    while (at < out.length && isFed(there)) {
      const place = at & (places - 1);
      if (bit(isMatch, state * places + place)) {
        for (const end = at + match(place); at < end; at += 1) out[at] = out[at - reps[0] - 1];
      } else {
        out[at] = literal();
        state = state < 4 ? 0 : state - (state < 10 ? 3 : 6);
        at += 1;
      }
    }
  };
}

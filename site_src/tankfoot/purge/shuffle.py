"""Orders and views that change from purge to purge and are the same on every phone: drawn from a text, not from chance.

A hand that has seen a question a hundred times answers it without reading; one that looks different each time is read
again (Anderson and others, How Polymorphic Warnings Reduce Habituation in the Brain, CHI 2015).
"""

WORD = 0xFFFFFFFF


def seeded(seed):
    """Where a row of draws begins, a whole number from 1 to 2^32 - 1, by the text ``seed``.

    FNV-1a of the seed's UTF-16 code units (draft-eastlake-fnv).
    """
    state = 0x811C9DC5
    units = seed.encode("utf-16-le", "surrogatepass")
    for low, high in zip(units[::2], units[1::2], strict=True):
        state = (state ^ (low | high << 8)) * 0x01000193 & WORD
    return state or 1


def next_draw(state):
    """The whole number from 1 to 2^32 - 1 that is drawn after ``state``, the draw before it.

    A xorshift of 32 bits (Marsaglia, Xorshift RNGs, Journal of Statistical Software 8, 2003, shifts 13, 17, 5).
    """
    state ^= state << 13 & WORD
    state ^= state >> 17
    return state ^ state << 5 & WORD


def draws(seed):
    """Whole numbers from 1 to 2^32 - 1 without end, from the text ``seed``."""
    state = seeded(seed)
    while True:
        state = next_draw(state)
        yield state


def shuffled(items, seed):
    """``items`` in an order that follows from the text ``seed`` (Fisher and Yates).

    >>> sorted(shuffled(["a", "b", "c"], "a purge, gate-valve")) == ["a", "b", "c"]
    True
    """
    left, numbers = list(items), draws(seed)
    for place in range(len(left) - 1, 0, -1):
        other = next(numbers) % (place + 1)
        left[place], left[other] = left[other], left[place]
    return left


RANGES = {
    "seeded": ["seed"],
    "next_draw": [(1, WORD)],
    "shuffled": [[["a"], ["a", "b", "c"], list("abcdef"), []], "seed"],
}

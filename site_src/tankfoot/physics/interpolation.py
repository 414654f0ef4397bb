"""A smooth curve through a table that never overshoots it."""


def pchip_slopes(xs, ys):
    """Slopes at the points of a monotone piecewise cubic, one for each of ``xs`` (rising, three or more).

    Weighted harmonic means inside, a one-sided three-point rule at the ends. Source: F. N. Fritsch and
    J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304.

    >>> pchip_slopes([0.0, 1.0, 2.0], [0.0, 1.0, 2.0])
    [1.0, 1.0, 1.0]
    """
    h = [b - a for a, b in zip(xs, xs[1:], strict=False)]
    d = [(b - a) / width for a, b, width in zip(ys, ys[1:], h, strict=False)]
    slopes = [_end_slope(h[0], h[1], d[0], d[1])]
    for i in range(1, len(d)):
        if d[i - 1] * d[i] <= 0.0:
            slopes.append(0.0)
        else:
            w1 = 2.0 * h[i] + h[i - 1]
            w2 = h[i] + 2.0 * h[i - 1]
            slopes.append((w1 + w2) / (w1 / d[i - 1] + w2 / d[i]))
    slopes.append(_end_slope(h[-1], h[-2], d[-1], d[-2]))
    return slopes


def _end_slope(h0, h1, d0, d1):
    slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0.0:
        return 0.0
    if d0 * d1 <= 0.0 and abs(slope) > 3.0 * abs(d0):
        return 3.0 * d0
    return slope


def pchip(xs, ys, slopes, x):
    """The value at ``x`` of the cubic through the points ``xs``, ``ys`` with ``slopes``; x inside the table.

    >>> pchip([0.0, 1.0, 2.0], [0.0, 1.0, 2.0], [1.0, 1.0, 1.0], 0.5)
    0.5
    """
    i = 0
    while i < len(xs) - 2 and x >= xs[i + 1]:
        i += 1
    h = xs[i + 1] - xs[i]
    t = (x - xs[i]) / h
    u = 1.0 - t
    return (
        ys[i] * (1.0 + 2.0 * t) * u * u
        + h * slopes[i] * t * u * u
        + ys[i + 1] * t * t * (3.0 - 2.0 * t)
        - h * slopes[i + 1] * t * t * u
    )


RANGES = {
    "pchip_slopes": "table",
    "pchip": "place in a table",
}

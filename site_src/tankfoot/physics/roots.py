"""One root of one function, bracketed."""

ROOT_TOLERANCE = 1e-13  # of the bracket's larger end
MOST_STEPS = 200


def brent_root(function, low, high):
    """The argument between ``low`` and ``high`` where ``function`` crosses zero.

    Brent's method: inverse quadratic or secant steps, a bisection whenever those do not help. The
    function must have opposite signs at the two ends, else ValueError.

    Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 4.

    >>> round(brent_root(lambda x: x * x - 2.0, 0.0, 2.0), 12)
    1.414213562373
    """
    a, b = low, high
    fa, fb = function(a), function(b)
    if fa == 0.0:
        return a
    if fb == 0.0:
        return b
    if not fa * fb < 0.0:
        raise ValueError(f"no change of sign between {low} and {high}: give a bracket around the root")
    c, fc = a, fa
    step = last_step = b - a
    for _ in range(MOST_STEPS):
        if abs(fc) < abs(fb):
            a, b, c = b, c, b
            fa, fb, fc = fb, fc, fb
        tolerance = ROOT_TOLERANCE * (abs(b) + 1e-300)
        middle = 0.5 * (c - b)
        if abs(middle) <= tolerance or fb == 0.0:
            break
        if abs(last_step) < tolerance or abs(fa) <= abs(fb):
            step = last_step = middle
        else:
            s = fb / fa
            if a == c:
                p, q = 2.0 * middle * s, 1.0 - s
            else:
                t, r = fa / fc, fb / fc
                p = s * (2.0 * middle * t * (t - r) - (b - a) * (r - 1.0))
                q = (t - 1.0) * (r - 1.0) * (s - 1.0)
            p, q = (p, -q) if p > 0.0 else (-p, q)
            if 2.0 * p < min(3.0 * middle * q - abs(tolerance * q), abs(last_step * q)):
                last_step, step = step, p / q
            else:
                step = last_step = middle
        a, fa = b, fb
        b += step if abs(step) > tolerance else (tolerance if middle > 0.0 else -tolerance)
        fb = function(b)
        if (fb > 0.0) == (fc > 0.0):
            c, fc = a, fa
            step = last_step = b - a
    return b


RANGES = {
    "brent_root": "bracket",
}

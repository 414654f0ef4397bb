"""From what a camera says of a place to its colour, and how far two colours are apart.

Results are rounded to a millionth: far below what a camera tells, and coarse enough that both languages, whose powers
and angles differ in the last digit, go on with the same number.
"""

import math

# sRGB to XYZ: IEC 61966-2-1:1999. Its white is the sum of each row, so that a grey has no colour at all.
TO_XYZ = ((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))
FULL = 255.0
DARKEST = 1e-4  # a channel of the reference below it is taken for it: nothing is divided by zero
STEPS = 1e6
OPPOSITE = 180.0 + 1e-9  # degrees; opposite hues are so in both languages, whichever way the last digit falls


def light(rgb):
    """Linear light, each of 0 to 1, of sRGB ``rgb``, each of 0 to 255.

    u = v / 255;  u / 12.92 up to 0.04045, ((u + 0.055) / 1.055)^2.4 above: IEC 61966-2-1:1999, 5.2.

    >>> light([0.0, 127.5, 255.0])
    [0.0, 0.214041, 1.0]
    """
    return [rounded(_linear(channel / FULL)) for channel in rgb]


def _linear(u):
    return u / 12.92 if u <= 0.04045 else ((u + 0.055) / 1.055) ** 2.4


def srgb(light):
    """sRGB in whole numbers, 0 to 255, of linear light; what is brighter than white is white.

    12.92 v up to 0.0031308, 1.055 v^(1/2.4) - 0.055 above: IEC 61966-2-1:1999, 5.2.

    >>> srgb([0.0, 0.215861, 1.2])
    [0, 128, 255]
    """
    return [math.floor(rounded(FULL * _bent(min(max(one, 0.0), 1.0))) + 0.5) for one in light]


def _bent(v):
    return 12.92 * v if v <= 0.0031308 else 1.055 * v ** (1.0 / 2.4) - 0.055


def ratio(glass, reference):
    """What the glass sends back of the light that the reference shows, each channel by itself; both linear.

    It takes lamp, exposure and white balance out, as far as they are the same for both (von Kries, 1902).

    >>> ratio([0.1, 0.2, 0.3], [0.5, 0.5, 0.6])
    [0.2, 0.4, 0.5]
    """
    return [rounded(one / max(white, DARKEST)) for one, white in zip(glass, reference, strict=True)]


def lab(linear):
    """CIELAB [L*, a*, b*] of linear light, D65, 2 degrees.

    L* = 116 f(Y) - 16, a* = 500 (f(X) - f(Y)), b* = 200 (f(Y) - f(Z)), each over its white: ISO/CIE 11664-4:2019.

    >>> lab([1.0, 1.0, 1.0]), lab([1.0, 0.0, 0.0])
    ([100.0, 0.0, 0.0], [53.232882, 80.105327, 67.222782])
    """
    r, g, b = linear
    x, y, z = (_f((row[0] * r + row[1] * g + row[2] * b) / (row[0] + row[1] + row[2])) for row in TO_XYZ)
    return [rounded(116.0 * y - 16.0), rounded(500.0 * (x - y)), rounded(200.0 * (y - z))]


def _f(t):
    return t ** (1.0 / 3.0) if t > (6.0 / 29.0) ** 3 else t * (29.0 / 6.0) ** 2 / 3.0 + 4.0 / 29.0


def chroma(colour):
    """How colourful: C* = sqrt(a*² + b*²), ISO/CIE 11664-4:2019.

    >>> chroma([50.0, 3.0, 4.0])
    5.0
    """
    _, a, b = colour
    return math.sqrt(a * a + b * b)


def difference(one, other):
    """CIEDE2000 between two colours in CIELAB: ISO/CIE 11664-6:2014, all weights 1.

    >>> difference([50.0, 2.5, 0.0], [73.0, 25.0, -18.0])  # Sharma, Wu and Dalal (2005), pair 17: 27.1492
    27.149231
    """
    mean = 0.5 * (chroma(one) + chroma(other))
    stretch = 1.0 + 0.5 * (1.0 - _high(mean))
    (c1, h1), (c2, h2) = (_polar(stretch * a, b) for _, a, b in (one, other))
    turn = _turn(h1, h2) if c1 * c2 > 0.0 else 0.0
    hue = _mean_hue(h1, h2) if c1 * c2 > 0.0 else h1 + h2
    lightness, colourful = 0.5 * (one[0] + other[0]) - 50.0, 0.5 * (c1 + c2)
    t = (1.0 - 0.17 * _cos(hue - 30.0) + 0.24 * _cos(2.0 * hue) + 0.32 * _cos(3.0 * hue + 6.0)
         - 0.20 * _cos(4.0 * hue - 63.0))
    dl = (other[0] - one[0]) / (1.0 + 0.015 * lightness * lightness / math.sqrt(20.0 + lightness * lightness))
    dc = (c2 - c1) / (1.0 + 0.045 * colourful)
    dh = 2.0 * math.sqrt(c1 * c2) * math.sin(math.radians(0.5 * turn)) / (1.0 + 0.015 * colourful * t)
    blue = (hue - 275.0) / 25.0
    bent = -2.0 * _high(colourful) * math.sin(math.radians(60.0 * math.exp(-blue * blue)))
    return rounded(math.sqrt(max(dl * dl + dc * dc + dh * dh + bent * dc * dh, 0.0)))


def _high(c):
    return math.sqrt(c**7 / (c**7 + 25.0**7))


def _polar(a, b):
    return math.sqrt(a * a + b * b), math.degrees(math.atan2(b, a)) % 360.0


def _turn(h1, h2):
    turn = h2 - h1
    return turn - 360.0 if turn > OPPOSITE else turn + 360.0 if turn < -OPPOSITE else turn


def _mean_hue(h1, h2):
    both = h1 + h2
    if abs(h1 - h2) <= OPPOSITE:
        return 0.5 * both
    return 0.5 * (both + 360.0 if both < 360.0 else both - 360.0)


def _cos(degrees):
    return math.cos(math.radians(degrees))


def rounded(value):
    """``value`` to a millionth, halves upwards.

    >>> rounded(0.12345678), rounded(-0.0000005)
    (0.123457, 0.0)
    """
    return math.floor(value * STEPS + 0.5) / STEPS + 0.0


RANGES = {
    "light": ["rgb"],
    "srgb": ["light beyond"],
    "ratio": ["light", "light"],
    "lab": ["light"],
    "chroma": ["colour"],
    "difference": "two colours",
    "rounded": [(-200.0, 200.0)],
}

"""The text people read for a number: the same to the character in both languages.

Python and JavaScript round and print differently. Here a number is first brought to twelve significant digits (so
that a last-bit difference cannot tip it), then rounded half away from zero, as on paper.
"""

from decimal import ROUND_HALF_UP, Context, Decimal

from tankfoot.quantities.units import MONEY_SIGN, units

TWELVE = Context(prec=12, rounding=ROUND_HALF_UP)
WIDE = Context(prec=400, rounding=ROUND_HALF_UP)  # more digits than any float has before the point
SIGNIFICANT = 3
MOST_SIGNIFICANT = 5
LARGE, SMALL = 9, -7  # powers of ten from which on a number is shown as a power
SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
MINUS = "\u2212"
COUNT_SIGN = "times"  # what is counted is shown as a bare number


def _twelve(value):
    return TWELVE.create_decimal(value)


def _exponent(decimal, significant):
    """The power of ten of the first digit once ``decimal`` is rounded to ``significant`` digits."""
    return Context(prec=significant, rounding=ROUND_HALF_UP).create_decimal(decimal).adjusted()


def _fixed(decimal, decimals):
    rounded = abs(decimal).quantize(Decimal(1).scaleb(-decimals), context=WIDE)
    return (MINUS if decimal < 0 and rounded else "") + f"{rounded:f}"


def _as_power(decimal, decimals, power):
    return f"{_fixed(decimal.scaleb(-power), decimals)}×10{str(power).translate(SUPERSCRIPTS)}"


def format_number(value, significant=SIGNIFICANT):
    """``value`` with ``significant`` digits, or all digits before the point if those are more.

    >>> format_number(1.005), format_number(-1234.5), format_number(9.995), format_number(2.5e12)
    ('1.01', '−1235', '10.0', '2.50×10¹²')
    """
    value = _twelve(value)
    if not value:
        return "0"
    power = _exponent(value, significant)
    if power >= LARGE or power <= SMALL:
        return _as_power(value, significant - 1, power)
    return _fixed(value, max(0, significant - 1 - power))


def format_plain(value, significant=MOST_SIGNIFICANT):
    """Like ``format_number`` without the zeros at the end of a fraction: for limits and converted input.

    >>> format_plain(10.0), format_plain(0.75), format_plain(101.325, 6)
    ('10', '0.75', '101.325')
    """
    text = format_number(value, significant)
    return text.rstrip("0").rstrip(".") if "." in text and "×" not in text else text


def format_in(si, symbol, significant=MOST_SIGNIFICANT):
    """An SI value as plain text in the unit ``symbol``.

    >>> format_in(68947.57, "psi"), format_in(275.15, "°C", 3)
    ('10 psi', '2 °C')
    """
    unit = units()[symbol]
    return with_unit(format_plain((si - unit.offset) / unit.factor, significant), symbol)


def format_pair(value, uncertainty):
    """``value`` and its ± as two texts, cut at the same digit: the ± keeps two (GUM 7.2.6), before the point too.

    Where one of them is shown as a power of ten, the other is shown in the same power.

    >>> format_pair(0.44061, 0.1234), format_pair(17184, 1859), format_pair(5.2e12, 4e11)
    (('0.44', '0.12'), ('17200', '1900'), ('5.20×10¹²', '0.40×10¹²'))
    """
    value, uncertainty = _twelve(value), _twelve(uncertainty)
    if not uncertainty:
        return format_number(value), "0"
    power = _exponent(uncertainty, 2)
    first = _exponent(value, 2) if value else power
    decimals = min(1 - power, MOST_SIGNIFICANT - 1 - first)
    if max(first, power) >= LARGE or max(first, power) <= SMALL:
        shared = max(_exponent(value, SIGNIFICANT), power) if value else power
        texts = [_as_power(number, decimals + shared, shared) for number in (value, uncertainty)]
    else:
        decimals = min(1 - power, max(0, decimals))
        texts = [_fixed(number, decimals) for number in (value, uncertainty)]
    return texts[0], texts[1] if 1 - power <= decimals else format_number(uncertainty, 2)


def format_result(si, uncertainty, symbol):
    """A result in the unit ``symbol`` as the screen shows it: {"text": "0.44 bbl", "give_or_take": "± 0.12 bbl"}.

    ``si`` and ``uncertainty`` (None for none) in SI. Without a ± money has two decimals, and a whole count none.

    >>> format_result(0.0517, 0.0145, "bbl")
    {'text': '0.44 bbl', 'give_or_take': '± 0.12 bbl'}
    >>> format_result(57.123, None, "$")["text"], format_result(8.0, None, "times")["text"]
    ('$57.12', '8')
    """
    unit = units()[symbol]
    value = (si - unit.offset) / unit.factor
    if uncertainty is None:
        return {"text": with_unit(_alone(value, symbol), symbol), "give_or_take": None}
    number, spread = format_pair(value, uncertainty / unit.factor)
    return {"text": with_unit(number, symbol), "give_or_take": "± " + with_unit(spread, symbol)}


def _alone(value, symbol):
    """The number of a result that has no ±."""
    decimal = _twelve(value)
    if symbol == MONEY_SIGN:
        return _fixed(decimal, 2)
    whole = symbol == COUNT_SIGN and decimal == decimal.to_integral_value(context=WIDE)
    return format_plain(value, SIGNIFICANT) if whole else format_number(value)


def with_unit(number, symbol):
    """A number's text with its unit, money with its sign in front.

    >>> with_unit("−5", "$"), with_unit("150", "$/bbl"), with_unit("12", "times"), with_unit("70", "%")
    ('−$5', '$150/bbl', '12', '70 %')
    """
    if symbol == COUNT_SIGN:
        return number
    if symbol.startswith(MONEY_SIGN):
        sign = MINUS if number.startswith(MINUS) else ""
        return f"{sign}{MONEY_SIGN}{number.removeprefix(MINUS)}{symbol.removeprefix(MONEY_SIGN)}"
    return f"{number} {symbol}"


RANGES = {
    "format_number": ["float", [2, 3, 5, 6]],
    "format_plain": ["float", [2, 3, 5, 6]],
    "format_pair": "float and its ±",
    "format_result": "result",
    "format_in": [(-1e9, 1e9, 0.0), "unit", [2, 3, 5]],
    "with_unit": [["0", "12", "−0.5", "1.20×10⁹"], "unit"],
}

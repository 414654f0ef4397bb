"""JSON written the same way everywhere."""

import json
import math
import struct

import pytest
import rfc8785
from hypothesis import given
from tankfoot.record.canonical import NotCanonical, canonical, number
from values import json_values, unhurried

# RFC 8785, appendix B, as reprinted in the tests of several implementations of it
APPENDIX_B = {
    "0000000000000000": "0", "8000000000000000": "0",
    "0000000000000001": "5e-324", "8000000000000001": "-5e-324",
    "7fefffffffffffff": "1.7976931348623157e+308", "ffefffffffffffff": "-1.7976931348623157e+308",
    "4340000000000000": "9007199254740992", "c340000000000000": "-9007199254740992",
    "4430000000000000": "295147905179352830000", "44b52d02c7e14af5": "9.999999999999997e+22",
    "44b52d02c7e14af6": "1e+23", "44b52d02c7e14af7": "1.0000000000000001e+23",
    "444b1ae4d6e2ef4e": "999999999999999700000", "444b1ae4d6e2ef4f": "999999999999999900000",
    "444b1ae4d6e2ef50": "1e+21", "3eb0c6f7a0b5ed8c": "9.999999999999997e-7", "3eb0c6f7a0b5ed8d": "0.000001",
    "41b3de4355555553": "333333333.3333332", "41b3de4355555554": "333333333.33333325",
    "41b3de4355555555": "333333333.3333333", "41b3de4355555556": "333333333.3333334",
    "41b3de4355555557": "333333333.33333343", "becbf647612f3696": "-0.0000033333333333333333",
    "43143ff3c1cb0959": "1424953923781206.2",
}


@pytest.mark.parametrize(("bits", "text"), APPENDIX_B.items())
def test_numbers_are_written_as_the_standard_prints_them(bits, text):
    # RFC 8785, appendix B
    assert number(struct.unpack(">d", bytes.fromhex(bits))[0]) == text


@given(json_values)
@unhurried
def test_canonical_text_is_that_of_another_implementation(value):
    # reference library: rfc8785
    assert canonical(value).encode() == rfc8785.dumps(value)


@pytest.mark.parametrize(("value", "code"), [
    (math.nan, "not-finite"), ([math.inf], "not-finite"), (json.loads("[" * 40 + "]" * 40), "too-deep"),
])
def test_what_json_cannot_hold_has_no_canonical_text(value, code):
    with pytest.raises(NotCanonical) as refused:
        canonical(value)
    assert refused.value.code == code


def test_half_a_surrogate_pair_is_written_as_its_escape():
    # ECMA-262, QuoteJSONString: a lone surrogate is written as \u and four small hex digits
    assert canonical(json.loads('"\\uD83D x \\ud83d\\ude00"')) == '"\\ud83d x 😀"'

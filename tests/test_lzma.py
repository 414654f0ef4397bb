"""What liblzma has packed, the worker opens, to the byte. Source: Python's lzma, which is liblzma of XZ Utils."""

import lzma
from base64 import b64decode, b64encode

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tankfoot.site.pack import TEXT
from tankfoot.site.sources import PACKAGE

DECODER = PACKAGE / "site" / "templates" / "lzma.js"
OPENED = """async ([module, packed, length, piece]) => {
  const { unpacking } = await import(`data:text/javascript,${encodeURIComponent(module)}`);
  const bytes = new Uint8Array(await (await fetch(`data:;base64,${packed}`)).arrayBuffer());
  const come = new Uint8Array(bytes.length);
  const open = unpacking(come, length);
  for (let there = piece; there < bytes.length; there += piece) {
    come.set(bytes.subarray(0, there));
    open(there);
  }
  come.set(bytes);
  return btoa(Array.from(open(Infinity), (byte) => String.fromCharCode(byte)).join(""));
}"""
A_LINE = b'<p class="help">Left empty: one degree.</p>\n'


@pytest.fixture(scope="module")
def page(chromium):
    context = chromium.new_context()
    yield context.new_page()
    context.close()


def opened(page, packed, length, piece):
    """What the decoder says when the file comes in pieces of so many bytes."""
    told = [DECODER.read_text(encoding="utf-8"), b64encode(packed).decode(), length, piece]
    return b64decode(page.evaluate(OPENED, told))


def agrees(page, data, piece=1460, **properties):
    packed = lzma.compress(data, format=lzma.FORMAT_ALONE, filters=[TEXT | properties])
    return opened(page, packed, len(data), piece) == data


@st.composite
def texts(draw):
    """Bytes of their own, runs of one byte, and pieces that come again, near and far: each way that LZMA has."""
    data = b""
    for _ in range(draw(st.integers(0, 12))):
        kind = draw(st.sampled_from(["own", "run", "again", "line"]))
        if kind == "own":
            data += draw(st.binary(max_size=40))
        elif kind == "run":
            data += bytes([draw(st.integers(0, 255))]) * draw(st.integers(1, 600))
        elif kind == "line":
            data += A_LINE * draw(st.integers(1, 5000))
        elif data:
            start = draw(st.integers(0, len(data) - 1))
            data += data[start : start + draw(st.integers(1, 400))]
    return data


@given(data=texts(), piece=st.sampled_from([1, 7, 20, 500, 10**9]), bits=st.tuples(*[st.integers(0, 4)] * 3))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_was_packed_is_opened(page, data, piece, bits):
    lc, lp, pb = bits
    assert agrees(page, data, piece, lc=lc, lp=min(lp, 4 - lc), pb=pb)  # Source: liblzma, lzma12.h: lc + lp <= 4


@pytest.mark.parametrize("far", [3, 100, 4000, 70_000, 1_500_000])
def test_what_came_long_before_is_found_again(page, far):
    between = b"".join(number.to_bytes(4, "big") for number in range(far // 4))
    assert agrees(page, A_LINE + between + A_LINE)


def test_another_byte_would_be_seen(page):
    packed = bytearray(lzma.compress(A_LINE * 3, format=lzma.FORMAT_ALONE, filters=[TEXT]))
    packed[20] ^= 1
    assert opened(page, bytes(packed), 3 * len(A_LINE), len(packed)) != A_LINE * 3

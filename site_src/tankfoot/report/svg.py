"""A picture of the report as SVG text, for a page without scripts; browser/drawing/marks.js does the same."""

from html import escape


def svg_text(picture, name):
    """The <svg> of a ``picture`` of pictures.py; ``name`` is its own on the page.

    >>> svg_text({"kind": "loss-bar", "wide": 328, "tall": 9, "title": "A & B", "says": "", "marks": []}, "p1")[:62]
    '<svg class="marks loss-bar" viewBox="0 0 328 9" role="img" ari'
    """
    attributes = {
        "class": f"marks {picture['kind']}", "viewBox": f"0 0 {picture['wide']} {picture['tall']}", "role": "img",
        "aria-labelledby": f"{name}-title {name}-says",
    }
    parts = [
        ["title", {"id": f"{name}-title"}, picture["title"]], ["desc", {"id": f"{name}-says"}, picture["says"]],
        *picture["marks"],
    ]
    inner = "".join(_opened(tag, own) + f"{escape(text)}</{tag}>" for tag, own, text in parts)
    return f"{_opened('svg', attributes)}{inner}</svg>"


def _opened(tag, attributes):
    return "".join([f"<{tag}", *(f' {key}="{escape(value)}"' for key, value in attributes.items()), ">"])

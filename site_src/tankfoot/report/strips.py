"""Pictures of runs that a camera watched: the strip of their colours, and how long beer ran.

A run is {"run": s that the port was open, "change": s after opened of the colour change that counts, "tapped" and
"seen": s after opened by the hand and by the camera, None where there was none, "watched": as a purge keeps it}. Its
colours are one picture of a single row: a mark a colour would be thousands of marks on a page of fifty runs.
"""

from base64 import b64encode

from tankfoot.purge.times import in_run, times_of
from tankfoot.report.marks import box, fitted, path, picture, px, text
from tankfoot.watch.strip import colours_of

START, FINISH = 2.0, 326.0  # of the time axis
BAND, UNSEEN, BEER = (22.0, 62.0), 68.0, (74.0, 86.0)  # of one strip, from the top down
SEEN, TAPPED, ENDS = 17.0, 90.0, 120.0
KEY, KEY_ROW, KEY_TEXT = 134, 24, 30.0
ROW, NAME, ROW_BAND, ROW_BEER = 58, 16.0, (23.0, 39.0), (42.0, 50.0)  # of strips below one another
LONGEST = 36  # characters of a row's name and figures
A_PICTURE = 15  # rows: more would not fit a sheet of paper


def run_of(body):
    """The run of a purge's ``body``, None where no camera watched it or its times are not known."""
    if not body.get("watched"):
        return None
    times = times_of(body)
    run = times["run"]
    if run is None or run <= 0.0:
        return None
    return {"run": run, **{name: in_run(times[name], run) for name in ("change", "tapped", "seen")},
            "watched": body["watched"]}


def strip(run, words):
    """The strip of one ``run``: opened on the left, closed on the right, beer as a bar below, marks for both instants.

    ``words``: {"title", "says", "opened", "closed", and beside the marks of the key "seen", "tapped", "beer",
    "unseen"}, each of 34 letters.
    """
    x = _scale(run["run"])
    seen, tapped, change = run["seen"], run["tapped"], run["change"]
    stretches = [row for row in run["watched"]["unseen"] if row[0] < run["run"]]
    is_shown = {"seen": seen is not None, "tapped": tapped is not None, "beer": change is not None, "unseen": stretches}
    key = [name for name in SYMBOLS if is_shown[name]]
    marks = [
        *_band(run, x, *BAND),
        *(path("unseen", f"M{px(x(start))} {px(UNSEEN)}H{px(max(x(end), x(start) + 2.0))}")
          for start, end, _ in stretches),
        *_beer(run, x, BAND[0], *BEER),
        *([_down("seen", x(seen), SEEN)] if seen is not None else []),
        *([_up("tapped", x(tapped), TAPPED)] if tapped is not None else []),
        text("opened", START, ENDS, words["opened"]), text("last", FINISH, ENDS, words["closed"]),
        *(mark for place, name in enumerate(key) for mark in (
            SYMBOLS[name](KEY + KEY_ROW * place), text("key", KEY_TEXT, KEY + KEY_ROW * place + 14.0, words[name]),
        )),
    ]
    return picture("run-strip", KEY + KEY_ROW * len(key), words, marks)


def strips(rows, longest, words):
    """Strips below one another, all from opened on and to the same scale, whose end is the ``longest`` run, s.

    ``rows``: runs with {"label", "text": the figure in words}. ``words``: {"title", "says"}.
    """
    x = _scale(longest)
    marks = []
    for place, row in enumerate(rows):
        top = float(ROW * place)
        marks += [
            text("name", START, top + NAME, fitted(row["label"], LONGEST - len(row["text"]))),
            text("figure", FINISH, top + NAME, row["text"]),
            *_band(row, x, top + ROW_BAND[0], top + ROW_BAND[1]),
            *_beer(row, x, top + ROW_BAND[0], top + ROW_BEER[0], top + ROW_BEER[1]),
        ]
    return picture("run-strips", ROW * max(1, len(rows)), words, marks)


def image_of(colours):
    """Colours as a strip has them, as the address of a picture of one row.

    A bitmap of 24 bits without compression: Microsoft's BITMAPFILEHEADER and BITMAPINFOHEADER, blue first, rows filled
    up to whole four bytes.
    """
    pixels = [channel for red, green, blue in colours_of(colours) for channel in (blue, green, red)]
    count = len(pixels) // 3
    pixels += [0] * (-len(pixels) % 4)
    sizes = ((54 + len(pixels), 4), (0, 4), (54, 4), (40, 4), (count, 4), (1, 4), (1, 2), (24, 2), (0, 4),
             (len(pixels), 4), (0, 4), (0, 4), (0, 4), (0, 4))
    head = [byte for value, size in sizes for byte in value.to_bytes(size, "little")]
    return f"data:image/bmp;base64,{b64encode(bytes([66, 77, *head, *pixels])).decode('ascii')}"


def _scale(longest):
    return lambda seconds: START + min(seconds / longest, 1.0) * (FINISH - START)


def _band(run, x, top, bottom):
    """The colours of a run, and around them the time that the port was open."""
    watched = run["watched"]
    start, end = x(watched["from"]), x(watched["from"] + watched["every"] * len(watched["colours"]) / 4)
    colours = {"class": "colours", "href": image_of(watched["colours"]), "x": px(start), "y": px(top),
               "width": px(end - start), "height": px(bottom - top), "preserveAspectRatio": "none"}
    return [["image", colours, ""], path("open", box(START, top, x(run["run"]), bottom))]


def _beer(run, x, top, bar, bottom):
    """From the colour change on: a line through the colours, and how long beer ran as a bar below them."""
    if run["change"] is None:
        return []
    change = x(run["change"])
    line = f"M{px(change)} {px(top)}V{px(bottom)}"
    return [path("beer", box(change, bar, x(run["run"]), bottom)), path("around", line), path("change", line)]


def _down(kind, x, y):
    return path(kind, f"M{px(x)} {px(y)}l-7 -12h14Z")


def _up(kind, x, y):
    return path(kind, f"M{px(x)} {px(y)}l7 12h-14Z")


SYMBOLS = {  # of the key, in its order
    "seen": lambda top: _down("seen", 12.0, top + 14.0),
    "tapped": lambda top: _up("tapped", 12.0, top + 2.0),
    "beer": lambda top: path("beer", box(START, top + 2.0, START + 18.0, top + 14.0)),
    "unseen": lambda top: path("unseen", f"M{px(START)} {px(top + 8.0)}H{px(START + 18.0)}"),
}


RANGES = {
    "run_of": "watched purge with its strip",
    "strip": "run and words",
    "strips": "runs, a scale and words",
    "image_of": ["text of a strip"],
}

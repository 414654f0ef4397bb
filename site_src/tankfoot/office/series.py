"""What a camera saw of a glass, from a file: a series of colours as CSV, or a film."""

import csv
import math

from tankfoot.watch.colour import FULL

GLASS = ("r", "g", "b")
REFERENCE = ("reference_r", "reference_g", "reference_b")
APART = 0.15  # s between samples at least: of a film of 30 frames a second every fifth is one
TOO_FAR = 0.35  # s between samples, in the middle of all: what is slower tells no change in time


class SeriesError(Exception):
    """Why a file is no series: the ``key`` of the sentence, and its ``facts``."""

    def __init__(self, key, **facts):
        super().__init__(key)
        self.key, self.facts = key, facts


def samples_of(path, glass, reference):
    """The samples that the watching takes, about five a second; of a film, of the places ``glass`` and ``reference``.

    A place is (left, top, width, height) in percent of the picture, ``reference`` None where there is none.
    """
    read = _from_csv(path) if path.suffix.lower() == ".csv" else _from_film(path, glass, reference)
    samples = []
    for sample in read:
        if not samples or sample["t"] - samples[-1]["t"] >= APART:
            samples.append(sample)
    steps = sorted(after["t"] - before["t"] for before, after in zip(samples, samples[1:], strict=False))
    if not steps:
        raise SeriesError("too_short")
    if steps[len(steps) // 2] > TOO_FAR:
        raise SeriesError("too_slow", seconds=f"{steps[len(steps) // 2]:.2f}")
    return samples


def _from_csv(path):
    with path.open(encoding="utf-8-sig", newline="") as file:
        try:
            yield from _rows(csv.DictReader(file, strict=True))
        except (UnicodeDecodeError, csv.Error) as error:
            raise SeriesError("no_csv") from error


def _rows(reader):
    names = reader.fieldnames or []
    wanted = ("t", *GLASS, *(REFERENCE if set(REFERENCE) & set(names) else ()))
    missing = [name for name in wanted if name not in names]
    if missing:
        raise SeriesError("no_column", names=", ".join(missing))
    last = -math.inf
    for row in reader:
        line = reader.line_num
        t = _number(row, "t", line, -math.inf, math.inf)
        if t <= last:
            raise SeriesError("no_later", line=line)
        last = t
        bare = REFERENCE[0] not in names or not any((row[name] or "").strip() for name in REFERENCE)
        reference = None if bare else _channels(row, REFERENCE, line)
        yield {"t": t, "glass": _channels(row, GLASS, line), "reference": reference}


def _channels(row, names, line):
    return [_number(row, name, line, 0.0, FULL) for name in names]


def _number(row, name, line, low, high):
    text = row[name]
    try:
        value = float(text)
    except (TypeError, ValueError):
        value = math.nan
    if not (low <= value <= high and math.isfinite(value)):
        raise SeriesError("no_number" if name == "t" else "no_channel", line=line, name=name, given=text or "")
    return value


def _from_film(path, glass, reference):
    for t, picture in _pictures(path):
        yield {"t": t, "glass": _mean(picture, glass), "reference": reference and _mean(picture, reference)}


def _pictures(path):
    """(s, rows of pixels) of a film, by whichever of two programs is installed."""
    try:
        import imageio.v3 as imageio
        import imageio_ffmpeg  # noqa: F401, imageio asks for it
    except ImportError:
        yield from _pictures_by_opencv(path)
        return
    try:
        rate = imageio.immeta(path, plugin="FFMPEG")["fps"]
        for number, picture in enumerate(imageio.imiter(path, plugin="FFMPEG")):
            yield number / rate, picture
    except (OSError, RuntimeError, ValueError) as error:
        if not path.exists():
            raise
        raise SeriesError("no_film") from error


def _pictures_by_opencv(path):
    try:
        import cv2
    except ImportError as missing:
        raise SeriesError("no_reader") from missing
    path.open("rb").close()  # whether it can be read at all is said as of any file
    film = cv2.VideoCapture(str(path))
    number, rate = 0, film.get(cv2.CAP_PROP_FPS)
    there, picture = film.read()
    if not there or not rate > 0.0:
        raise SeriesError("no_film")
    while there:
        yield number / rate, picture[:, :, ::-1]
        number += 1
        there, picture = film.read()


def _mean(picture, place):
    """The mean colour of a place of a picture."""
    height, width = picture.shape[:2]
    left, top, wide, high = place
    x, y = int(left * width / 100.0), int(top * height / 100.0)
    part = picture[y : y + max(int(high * height / 100.0), 1), x : x + max(int(wide * width / 100.0), 1)]
    return [float(value) for value in part.reshape(-1, part.shape[-1])[:, :3].mean(axis=0)]

"""Films of an invented sight glass, as Chromium takes them for a camera: YUV4MPEG2, 4:2:0.

What is in the glass, when it turns and how sharply is a simulated tank's, played from the instant that its flow valve
opened; the colours of that, the lamp, the camera and what disturbs them are those of tests/glass.py. A picture has the
glass under the first place of mark 1 and the white tape under that of mark 2. Before the run the glass stands still.
"""

import random

import glass
import numpy
from browsers import chromium_options
from rehearsed_glass import change_in, course_of
from tankfoot.rehearsal.scenarios import scenario

WIDTH, HEIGHT, RATE = 160, 120, 10
AT_EACH = RATE // int(glass.RATE)  # frames a sample
BEFORE = 3.0  # s that the glass stands still before the run
STEEL = (96.0, 98.0, 100.0)
GLASS, TAPE = (0.4, 0.5), (0.7, 0.5)  # where the marks stand at first
END = 12.0  # s after the film's opening, its end
# A film is short: of what lies in the cone of a small tank so little, and the flow valve so far open, that it follows
# the draw and is through after some eight seconds; for the film that never turns there is more than it has time for.
TANK = {"order": 0, "tank": "small", "pressure": "10 psi", "right": [], "wrong": [], "done": {}}
CONES = {
    "trub": ("trub", "4.5 %", 0.08), "yeast": ("yeast", "4.5 %", 0.08), "hops": ("hops", "3.2 %", 0.06),
    "fruit": ("fruit", "2.6 %", 0.05), "full": ("trub", "9 %", 0.08),
}

# What a film shows: a kind of glass.KINDS, one of CONES, and when what disturbs the picture begins, s after the film's
# opening.
FILMS = {
    "trub": ("trub to gold", "trub", None), "yeast": ("yeast to gold", "yeast", None),
    "hops": ("hops to gold", "hops", None), "fruit": ("fruit to gold", "fruit", None), "fog": ("fog", "trub", 4.5),
    "knocked": ("knocked", "trub", 4.5), "never": ("never turns", "full", None), "lamp": ("lamp goes out", "trub", 4.5),
}


def run_of(name, seed="film 1"):
    """(Scene, samples) of a run that is short enough for a film."""
    kind, cone, event = FILMS[name]
    solids, share, opening = CONES[cone]
    rng = random.Random(f"{seed} {kind}")
    made = glass.scene(kind, rng)
    made.course, made.fill = course_of(scenario(name, TANK | {"solids": solids, "share": share}), seed, opening, END)
    made.change, made.starts, made.end = change_in(made.course), [], END
    return made, glass.samples_of(made, rng, event)


def film(path, samples):
    """Writes a film whose run begins ``BEFORE`` seconds after its first picture; returns its path."""
    still = [samples[0]] * int(BEFORE * glass.RATE)
    with path.open("wb") as file:
        file.write(f"YUV4MPEG2 W{WIDTH} H{HEIGHT} F{RATE}:1 Ip A1:1 C420\n".encode())
        for sample in [*still, *samples]:
            file.write((b"FRAME\n" + _planes(_picture(sample))) * AT_EACH)
    return path


def _picture(sample):
    picture = numpy.tile(numpy.array(STEEL), (HEIGHT, WIDTH, 1))
    for (x, y), colour in ((GLASS, sample["glass"]), (TAPE, sample["reference"])):
        left, top = int(x * WIDTH), int(y * HEIGHT)
        picture[top - 30 : top + 30, left - 14 : left + 14] = colour
    return picture


def _planes(rgb):
    """Luma and two chromas of a picture, by ITU-R BT.601 in its limited range, which YUV4MPEG2 files have."""
    r, g, b = (rgb[..., channel] / 255.0 for channel in range(3))
    y = 16.0 + 65.481 * r + 128.553 * g + 24.966 * b
    cb = 128.0 - 37.797 * r - 74.203 * g + 112.0 * b
    cr = 128.0 + 112.0 * r - 93.786 * g - 18.214 * b
    small = (plane.reshape(HEIGHT // 2, 2, WIDTH // 2, 2).mean(axis=(1, 3)) for plane in (cb, cr))
    return b"".join(numpy.clip(numpy.round(plane), 0, 255).astype(numpy.uint8).tobytes() for plane in (y, *small))


def camera_options(playwright, path):
    """Launch options for a Chromium whose camera shows a film, from its first picture each time it is opened."""
    options = chromium_options(playwright)  # the one without windows has no camera
    own = ("--headless=new", "--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={path}")
    return {**options, "args": [*options["args"], *own]}

"""The strip of a run's colours: what stands in it, how it is shortened, and what a purge keeps of a watched run."""

import json
import random
from base64 import b64encode

import numpy as np
import pytest
from glass import KINDS, series
from records import current
from skimage.color import lab2rgb
from tankfoot.record.bodies import BODIES, LONGEST_STRIP, MOST_UNSEEN, UNSEEN
from tankfoot.record.entry import check_entry
from tankfoot.watch.colour import lab, light, srgb
from tankfoot.watch.seen import begin, step
from tankfoot.watch.strip import add, colour_of, colours_of, empty, halved, kept, shut, text_of

RUNS = [(kind, seed) for kind in KINDS for seed in range(2)]


def watched_run(kind, seed):
    state, strip = begin(), empty()
    for sample in series(kind, seed)[1]:
        state = step(state, sample)
        strip = add(strip, sample["t"], colour_of(state, sample))
    return state, strip


def test_a_colour_comes_back_from_its_light():
    rng = random.Random("srgb")
    for _ in range(2000):
        colour = [rng.randrange(256) for _ in range(3)]
        assert srgb(light(colour)) == colour


def test_the_colour_of_light_is_that_of_another_library():
    rng = random.Random("lab")
    for _ in range(300):
        seen = light([rng.randrange(256) for _ in range(3)])
        # reference library: scikit-image, whose D65 differs from the sum of the matrix in the fifth digit
        outside = 255.0 * lab2rgb(np.array([[lab(seen)]]), illuminant="D65")[0][0]
        assert srgb(seen) == pytest.approx(list(outside), abs=1.0)


def test_the_text_is_three_bytes_a_colour_in_base64():
    # RFC 4648, section 4: three bytes are four characters, without an end to fill.
    flat = bytes([0, 16, 131, 255, 255, 255])
    assert text_of([[0, 16, 131], [255, 255, 255]]) == b64encode(flat).decode() == "ABCD////"
    assert colours_of("ABCD////") == [[0, 16, 131], [255, 255, 255]]


def test_there_is_a_colour_every_half_second():
    strip = empty()
    for i in range(100):  # 20 s, five a second
        strip = add(strip, 1.4 + i / 5, [i, 0, 0])
    assert (strip["from"], strip["every"]) == (1.4, 0.5)
    reds = [red for red, _, _ in colours_of(shut(strip))]
    assert len(reds) == 40
    # By hand: the readings 0, 1, 2 fall into the first half second, 3 and 4 into the second, and so on.
    assert reds[:2] == pytest.approx([1, 4], abs=1) and reds[-1] == pytest.approx(98, abs=1)


def test_a_long_run_keeps_every_part_of_it_in_2000_characters():
    strip, seconds = empty(), 1800.0
    for i in range(int(seconds * 5)):
        t = i / 5
        strip = add(strip, t, [round(255 * t / seconds), 40, 40])
        assert len(shut(strip)) <= LONGEST_STRIP
    reds = np.array([red for red, _, _ in colours_of(shut(strip))])
    assert strip["every"] == 4.0 and len(reds) == 450
    # The ramp that went in, by numpy.
    wanted = np.interp(4.0 * np.arange(450) + 2.0, [0.0, seconds], [0.0, 255.0])
    assert np.abs(reds - wanted).max() < 1.5


def test_two_neighbours_become_their_mean_in_light_and_not_in_numbers():
    # Half the light of white is 188: IEC 61966-2-1, by hand, 255 * (1.055 * 0.5 ** (1 / 2.4) - 0.055) = 187.5.
    assert colours_of(halved(text_of([[255, 255, 255], [0, 0, 0]]))) == [[188, 188, 188]]


def test_a_gap_goes_on_with_the_last_colour_and_an_hour_costs_no_more():
    strip = add(add(empty(), 0.0, [200, 10, 10]), 10.0, [10, 10, 200])
    assert colours_of(shut(strip)) == [[200, 10, 10]] * 20 + [[10, 10, 200]]
    long = add(strip, 3600.0, [10, 200, 10])
    assert len(shut(long)) <= LONGEST_STRIP
    assert colours_of(shut(long))[-1] == [10, 200, 10]


def test_what_comes_late_changes_nothing_before_it():
    strip = add(add(empty(), 0.0, [200, 10, 10]), 10.0, [10, 10, 200])
    assert add(strip, 4.0, [0, 0, 0]) == strip


def test_a_strip_goes_on_after_a_reload_as_if_there_had_been_none():
    once = again = empty()
    for i in range(2000):
        t, colour = i / 5, [i % 256, 99, 255 - i % 256]
        once = add(once, t, colour)
        again = add(json.loads(json.dumps(again)), t, colour)
    assert once == again


def test_the_same_run_in_half_the_light_leaves_the_same_strip():
    strips = []
    for lamp in (1.0, 0.5):
        state, strip = begin(), empty()
        for sample in series("trub to gold", 3)[1]:
            dimmed = {"t": sample["t"]} | {
                key: [255.0 * _camera(lamp * one) for one in light(sample[key])] for key in ("glass", "reference")
            }
            state = step(state, dimmed)
            strip = add(strip, sample["t"], colour_of(state, dimmed))
        strips.append(np.array(colours_of(shut(strip))))
    seen = np.abs(strips[0] - strips[1]).max(axis=1)
    assert np.mean(seen <= 1) > 0.9  # but where the glass was not full, or could not be seen


def _camera(v):
    """sRGB, 0 to 1, of linear light: IEC 61966-2-1."""
    return 12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_kept_of_any_run_is_what_a_purge_may_hold(kind):
    state, strip = watched_run(kind, 1)
    watched = json.loads(json.dumps(kept(strip, state)))
    assert not BODIES["purge"].fields["watched"].schema.validate(watched)
    assert watched["taken"] is False
    assert (watched["beer_colour"] is None) == (watched["beer_at"] is None)
    if watched["beer_at"] is not None:
        assert watched["beer_at"] == pytest.approx(state["beer"]["at"], abs=0.0005)


def test_nothing_is_kept_of_a_run_without_a_colour():
    assert kept(empty(), begin()) is None


def test_of_many_stretches_the_longest_are_kept_in_time():
    state, strip = watched_run("trub to gold", 1)
    state["unseen"] = [[float(i), i + 0.01 * (1 + i % 25), "fog"] for i in range(50)]
    kept_ones = kept(strip, state)["unseen"]
    assert len(kept_ones) == MOST_UNSEEN
    assert kept_ones == sorted(kept_ones)
    assert min(end - start for start, end, _ in kept_ones) >= 0.15 - 1e-9  # by hand: 15 of 25 lengths, twice


def test_the_record_knows_every_reason_for_not_seeing():
    reasons = {why for kind, seed in RUNS for _, _, why in watched_run(kind, seed)[0]["unseen"]}
    assert reasons <= set(UNSEEN)
    assert len(reasons) >= 6


def purge_with(**members):
    entry = next(entry for entry in current()["entries"] if "watched" in entry["body"])
    entry["body"]["watched"] |= members
    return entry


@pytest.mark.parametrize(("members", "where"), [
    ({"colours": ""}, "colours"), ({"colours": "ABC"}, "colours"), ({"colours": "ABCD" * 501}, "colours"),
    ({"colours": "AB=="}, "colours"), ({"every": 0}, "every"), ({"from": -0.5}, "from"), ({"beer_at": "43"}, "beer_at"),
    ({"unseen": [[1.0, 2.0]]}, "unseen[0]"), ({"unseen": [[1.0, 2.0, "night"]]}, "unseen[0][2]"),
    ({"unseen": [[1.0, 2.0, "fog", 3]]}, "unseen[0]"), ({"unseen": [[0.0, 1.0, "fog"]] * 21}, "unseen"),
    ({"beer_colour": [50.0, 1.0]}, "beer_colour"), ({"taken": None}, "taken"),
])
def test_what_is_no_strip_is_refused_where_it_is_wrong(members, where):
    assert [problem.where for problem in check_entry(purge_with(**members))] == [f"body.watched.{where}"]


def test_a_purge_without_a_strip_is_as_it_was():
    entry = purge_with()
    assert check_entry(entry) == []
    del entry["body"]["watched"]
    assert check_entry(entry) == []

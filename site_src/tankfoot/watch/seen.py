"""What a camera has seen of a run: the layer that runs, whether it turns, since when there is beer. A pure step.

The state is plain JSON of about two kilobytes, whole after every step: whoever keeps it goes on where it was. Two sums
run over how far each reading is from the colour of the layer: the early one tells *turning*, the late one *beer*.
"""

from tankfoot.watch.colour import difference, lab, rounded
from tankfoot.watch.cusum import cusum
from tankfoot.watch.front import TICK, half, past_half
from tankfoot.watch.layer import follow, light_of, mean_light, only_lighter, steady, still_solids, usual_scatter
from tankfoot.watch.sight import followed, look, pale

# Common practice, no source, for all of these.
# Of the two sums, in scatters of the layer: above what a reading counts, the most that one counts, the limit.
EARLY = {"slack": 1.8, "most": 5.0, "limit": 5.0}
LATE = {"slack": 2.2, "most": 6.0, "limit": 12.0}
OVER, MOST_OVER = 1.3, 2.0  # times what came and went before in this run, at most so many times the limit
LEAST_CHANGE = 4.5  # CIEDE2000 of what is called beer
ALIKE = 2.5  # CIEDE2000 from the tank's own beer that is taken for it
LEARNT = 2.5  # s that something is known before beer can follow it
BACK = 1.5  # scatters from the layer: within them what came is gone
LONGEST_TURN = 8.0  # s of a turn to no beer: then it is what runs
LATEST = 3  # samples that show what runs now
KEPT = 40  # samples, the last eight seconds
SETTLED = 3.0  # s after beer was told in which its instant is told better
GAP = 1.0  # s without a sample
FILLING = 6.0  # s from opened that the glass may take to be full and steady


def begin(beer=None):
    """The state at *opened*, before the first sample; ``beer``: the colour of the tank's beer in CIELAB, if known."""
    return {
        "t": None, "stage": "filling", "beer_colour": beer, "reference": None, "recent": [], "layer": None,
        "sure": False, "early": 0.0, "late": 0.0, "since": None, "most": 0.0, "tried": 0.0, "again": None,
        "turning": None, "beer": None, "unseen": [],
    }


def step(state, sample):
    """The state after one more sample: {"t": s since opened, "glass": [r, g, b], "reference": [r, g, b] or None}.

    ``stage`` is "filling", "solids", "turning" or "beer"; ``turning`` and ``beer`` are {"at", "said"} in s or None:
    since when, and when it was told first. A sample that is no later than the last changes nothing.
    """
    t, before, recent = sample["t"], state["t"], state["recent"]
    if before is not None and t <= before:
        return state
    seconds = TICK if before is None else t - before
    why, back, reference = look(sample, state["reference"], lab(light_of(recent[-1])) if recent else None)
    new = {**state, "t": t, "reference": followed(state["reference"], reference, seconds)}
    if new["stage"] == "beer":
        return new if back is None else _beer(_with_reading(new, back))
    if before is None:
        new["since"] = t
    elif seconds > GAP:
        new = _unseen(new, before, "gap")
    if why == "moved":
        return _afresh(_unseen({**new, "reference": reference, "recent": []}, t, why), why)
    if why is not None:
        return _unseen(new, t if before is None else before, why)
    new = _with_reading(new, back)
    seconds = min(seconds, GAP)
    return _filling(new, seconds) if new["stage"] == "filling" else _running(new, lab(back), seconds)


def _with_reading(state, back):
    return {**state, "recent": [*state["recent"][1 - KEPT :], [state["t"], *back]]}


def _unseen(state, start, why):
    """The state with a stretch up to now that was not seen, joined with the last one where that goes on."""
    earlier = state["unseen"]
    if earlier and earlier[-1][2] == why and start - earlier[-1][1] <= GAP:
        start, earlier = earlier[-1][0], earlier[:-1]
    return {**state, "unseen": [*earlier, [start, state["t"], why]]}


def _afresh(state, why):
    """Nothing is known any more of what runs; ``why`` stands in the stretch until something is."""
    return {**state, "stage": "filling", "layer": None, "sure": False, "since": state["t"], "turning": None,
            "again": why}


def _filling(state, seconds):
    """Until the glass is full and steady: sanitizer, air and foam come first."""
    t, since, layer = state["t"], state["since"], steady(state["recent"])
    colour = layer and lab(layer["light"])
    if layer is None or pale(colour):
        patience = 0.0 if state["again"] else FILLING
        if t - since < patience:
            return state
        told = t - seconds - since >= patience
        return _unseen(state, t - seconds if told else since, "fog" if layer else state["again"] or "unsteady")
    if state["beer_colour"] and difference(colour, state["beer_colour"]) < ALIKE:
        return {**state, "stage": "beer", "layer": layer, "beer": {"at": layer["from"], "said": t}}
    return _with_layer(state, layer)


def _with_layer(state, layer):
    return {**state, "stage": "solids", "layer": layer, "early": 0.0, "late": 0.0, "since": None, "turning": None,
            "tried": max(state["tried"], state["most"]), "most": 0.0}


def _running(state, colour, seconds):
    """While solids run, and while they turn."""
    layer = state["layer"]
    known, scatter = lab(layer["light"]), usual_scatter(layer)
    apart = difference(colour, known)
    early = _summed(state["early"], EARLY, apart / scatter, seconds)
    late = _summed(state["late"], LATE, apart / scatter, seconds)
    now = lab(mean_light(state["recent"][-LATEST:]))
    if early == 0.0 or state["stage"] == "turning" and difference(now, known) < BACK * scatter:
        followed_on = follow(layer, light_of(state["recent"][-1]), apart, seconds)
        return _with_layer({**state, "sure": state["sure"] or followed_on["seconds"] >= LEARNT}, followed_on)
    new = {**state, "early": early, "late": late}
    if new["since"] is None:
        new["since"] = rounded(state["t"] - 0.5 * seconds)
    if early < EARLY["limit"] and new["stage"] == "solids":
        return new
    if new["sure"]:
        return _turning(new, known, now)
    return _afresh(_unseen(new, layer["from"], "unsteady"), new["again"])


def _summed(total, test, reading, seconds):
    ticks = seconds / TICK
    return rounded(cusum(total, ticks * min(reading, test["most"]), ticks * test["slack"]))


def _turning(state, known, now):
    """Something else comes: foam or fog, another layer, a cloud, or beer."""
    if pale(now):
        return _unseen(state, max(state["since"], state["t"] - TICK), "fog")
    layer, recent, t = state["layer"], state["recent"], state["t"]
    apart, next_layer = difference(now, known), steady(recent)
    if still_solids(known, now) or only_lighter(layer["light"], mean_light(recent[-LATEST:])):
        another = next_layer and difference(lab(next_layer["light"]), known) > LEAST_CHANGE
        return _with_layer(state, next_layer) if another else {**state, "stage": "turning"}
    new = {**state, "stage": "turning", "turning": state["turning"] or {"at": state["since"], "said": t},
           "most": max(state["most"], state["late"])}
    if _is_beer(new, now, apart):
        return {**new, "stage": "beer", "beer": {"at": half(recent, layer["light"], state["since"]), "said": t}}
    if t - state["since"] > LONGEST_TURN:
        return _with_layer(new, next_layer) if next_layer else _afresh(new, "unsteady")
    return new


def _is_beer(state, now, apart):
    limit = min(max(LATE["limit"], OVER * state["tried"]), MOST_OVER * LATE["limit"])
    if state["late"] < limit or apart < LEAST_CHANGE:
        return False
    if state["beer_colour"] and difference(now, state["beer_colour"]) < ALIKE:
        return True
    layer = state["layer"]
    return past_half(state["recent"], layer["light"], state["since"], apart / usual_scatter(layer))


def _beer(state):
    """Once beer runs its instant is told better for a while, as its own colour is seen."""
    beer, since = state["beer"], state["since"]
    if state["turning"] is None or state["t"] - beer["said"] > SETTLED:
        return state
    return {**state, "beer": {**beer, "at": half(state["recent"], state["layer"]["light"], since)}}


def answer(state):
    """{"turning_at": s or None, "beer_at": s or None, "unseen": [[from, to, why]]} of what has been seen so far."""
    turning, beer = state["turning"], state["beer"]
    return {"turning_at": turning and turning["at"], "beer_at": beer and beer["at"], "unseen": state["unseen"]}


def watched(samples, beer=None):
    """The state after all ``samples``."""
    state = begin(beer)
    for sample in samples:
        state = step(state, sample)
    return state


RANGES = {
    "begin": ["beer colour"],
    "step": "state and sample",
    "answer": ["watching"],
    "watched": ["samples", "beer colour"],
}

"""Whether a tank of the record can be drawn, filled and opened: its measures, its beer, what hangs under it."""

from tankfoot.purge import stack
from tankfoot.quantities.format import format_in
from tankfoot.quantities.propagate import within_reach
from tankfoot.tanks.shape import tank_shape

ROUNDING = 1.01  # a measure may have been changed beside beer that was typed with two digits


def tank_problems(body):
    """[(place in it, code, facts)] of what a tank's ``body``, right in its shape, cannot mean, by their places.

    >>> body = {"diameter": 1.2, "straight_height": 1.5, "cone_angle": 1.0471975511965976, "head_depth": 0.0,
    ...         "head_volume": 0.2, "beer_volume": 90.0, "stack": None}
    >>> tank_problems(body)
    [('beer_volume', 'too-much-beer', {'holds': '2288 L'})]
    """
    shape, found = within_reach(tank_shape, body), []
    if shape is None or not shape["total"] > 0.0:
        found.append(("", "no-vessel", {}))
    elif body["beer_volume"] > ROUNDING * shape["total"]:
        found.append(("beer_volume", "too-much-beer", {"holds": format_in(shape["total"], "L", 4)}))
    if body["stack"] is not None and (why := stack.problem(body["stack"])):
        found.append(("stack", why, {}))
    return found


RANGES = {"tank_problems": ["tank of the record"]}

"""What follows from the numbers in a tank's body."""

from tankfoot.physics.vessel import cone_height, head_volume, level_at_volume, straight_volume


def tank_shape(body):
    """What follows from a tank's ``body``, in m and m3: {"cone", "total", "head", "level", "headspace"}.

    ``cone`` is the height of the cone, ``total`` the whole volume, ``head`` that of the head, ``headspace`` what is
    not beer. ``level`` of the beer above the tip of the cone; None where the beer stands in the head, which has no
    formula.

    By hand: a cone of 60° as wide as 1.2 m is 1.2 m / (2 tan 30°) high.

    >>> body = {"diameter": 1.2, "straight_height": 1.5, "cone_angle": 1.0471975511965976, "head_depth": 0.0,
    ...         "head_volume": 0.2, "beer_volume": 1.5}
    >>> {name: round(value, 4) for name, value in tank_shape(body).items()}
    {'cone': 1.0392, 'total': 2.2882, 'head': 0.2, 'level': 2.0191, 'headspace': 0.7882}
    """
    diameter, straight, beer = body["diameter"], body["straight_height"], body["beer_volume"]
    cone = cone_height(diameter, body["cone_angle"])
    below_head = straight_volume(diameter, cone, straight)
    head = head_volume(diameter, body["head_depth"]) if body["head_volume"] is None else body["head_volume"]
    level = 0.0
    if beer > below_head:
        level = None
    elif beer > 0.0:
        level = level_at_volume(beer, diameter, cone, straight)
    total = below_head + head
    return {"cone": cone, "total": total, "head": head, "level": level, "headspace": total - beer}


RANGES = {
    "tank_shape": ["tank"],
}

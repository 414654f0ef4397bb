"""The shape of an upright tank: a cone below, a straight side, a head on top.

Levels are heights above the tip of the cone. The cone runs to a sharp tip at the bottom port: what the port's
own bore cuts off the tip is left out (8 mL in a 70° cone on a 35 mm port). The head is flat or a
spherical cap.
"""

import math


def cone_height(diameter, angle):
    """Height of a cone of full opening ``angle`` (rad, 0 to pi) under a ``diameter`` (m), m.

    h = D / (2 tan(angle / 2)).

    >>> round(cone_height(1.2, math.radians(60.0)), 5)
    1.03923
    """
    return 0.5 * diameter / math.tan(0.5 * angle)


def cone_angle(diameter, height):
    """Full opening angle of a cone of ``height`` (m) under a ``diameter`` (m), rad: 2 atan(D / (2 h)).

    >>> round(math.degrees(cone_angle(1.8, 0.9)), 9)
    90.0
    """
    return 2.0 * math.atan(0.5 * diameter / height)


def cross_section(diameter):
    """Area of the straight side, m2: pi D^2 / 4, for a ``diameter`` in m.

    >>> round(cross_section(1.2), 5)
    1.13097
    """
    return math.pi * diameter * diameter / 4.0


def cone_volume(diameter, height):
    """Volume of a cone, m3: pi D^2 h / 12, ``diameter`` and ``height`` in m.

    >>> round(cone_volume(1.8, 0.9) * 1000.0, 3)
    763.407
    """
    return cross_section(diameter) * height / 3.0


def head_volume(diameter, depth):
    """Volume of a head, m3: a spherical cap, pi d (3 a^2 + d^2) / 6 with a = D / 2; 0 where it is flat.

    ``diameter`` in m, ``depth`` d in m, 0 (flat) to D / 2 (a half sphere).

    >>> round(head_volume(1.2, 0.2), 5)
    0.11729
    """
    return head_volume_up_to(depth, diameter, depth)


def head_volume_up_to(height, diameter, depth):
    """Volume in a spherical cap from its base up to a ``height`` y in it, m3: pi (a^2 y - c y^2 - y^3 / 3).

    c = (a^2 - d^2) / (2 d) is how far the sphere's centre lies below the base, a = D / 2. All lengths in m,
    ``height`` 0 to ``depth``; a flat head has no volume. The integral of pi r^2 with r^2 = a^2 - 2 c y - y^2.

    >>> round(head_volume_up_to(0.1, 1.2, 0.2), 5)
    0.08692
    """
    if depth == 0.0:
        return 0.0
    a2, y = 0.25 * diameter * diameter, height
    c = (a2 - depth * depth) / (2.0 * depth)
    return math.pi * y * (a2 - y * (c + y / 3.0))


def volume_at_level(level, diameter, cone, straight, depth=0.0):
    """Volume of liquid up to a ``level``, m3.

    V = Vc (h / hc)^3 in the cone, Vc + A (h - hc) on the straight side, and the cap's part above it.
    ``level`` h, 0 to the top of the head; ``diameter``; ``cone`` hc and ``straight``, the heights of the cone
    and of the straight side; ``depth`` of the head: all in m. Above the top the tank is full.

    >>> round(volume_at_level(1.6, 1.2, cone_height(1.2, math.radians(70.0)), 1.5) * 1000.0, 2)
    1163.48
    """
    if level <= cone:
        part = level / cone
        return cone_volume(diameter, cone) * part * part * part
    if level <= cone + straight:
        return cone_volume(diameter, cone) + cross_section(diameter) * (level - cone)
    in_head = min(level - cone - straight, depth)
    return straight_volume(diameter, cone, straight) + head_volume_up_to(in_head, diameter, depth)


def straight_volume(diameter, cone, straight):
    """Volume up to the top of the straight side, m3: Vc + A L. All lengths in m.

    >>> round(straight_volume(1.2, 1.03923, 1.5), 4)
    2.0882
    """
    return cone_volume(diameter, cone) + cross_section(diameter) * straight


def level_at_volume(volume, diameter, cone, straight):
    """Level of a ``volume`` (m3) of liquid, m: h = hc (V / Vc)^(1/3) in the cone, hc + (V - Vc) / A above it.

    From 0 to the top of the straight side; raises ValueError above. Lengths in m as in ``volume_at_level``.

    >>> round(level_at_volume(0.2, 1.2, cone_height(1.2, math.radians(60.0)), 1.5), 7)
    0.8305661
    """
    if not 0.0 <= volume <= straight_volume(diameter, cone, straight):
        raise ValueError(f"{volume} m3 is not between 0 and the top of the straight side: give less")
    in_cone = cone_volume(diameter, cone)
    if volume <= in_cone:
        return cone * math.pow(volume / in_cone, 1.0 / 3.0)
    return cone + (volume - in_cone) / cross_section(diameter)


def radius_at_level(level, diameter, cone, straight, depth=0.0):
    """Inside radius at a ``level``, m: straight in the cone, D / 2 on the straight side, a circle above.

    Lengths in m as in ``volume_at_level``; 0 above the top.

    >>> radius_at_level(0.45, 1.8, 0.9, 2.2)
    0.45
    """
    if level <= cone:
        return 0.5 * diameter * level / cone
    y = level - cone - straight
    if y <= 0.0:
        return 0.5 * diameter
    if y >= depth:
        return 0.0
    a2 = 0.25 * diameter * diameter
    return math.sqrt(max(0.0, a2 - y * ((a2 - depth * depth) / depth + y)))


RANGES = {
    "cone_height": [(0.3, 6.0), (0.2, 3.0)],
    "cone_angle": [(0.3, 6.0), (0.1, 5.0)],
    "cross_section": [(0.3, 6.0)],
    "cone_volume": [(0.3, 6.0), (0.1, 5.0)],
    "head_volume": [(0.3, 6.0), (0.0, 0.15)],
    "head_volume_up_to": [(0.0, 3.0), (0.3, 6.0), (0.0, 3.0)],
    "volume_at_level": "level in a tank",
    "straight_volume": [(0.3, 6.0), (0.1, 5.0), (0.2, 6.0)],
    "level_at_volume": "volume in a tank",
    "radius_at_level": "level in a tank",
}

"""What lies in the cone of a tank: depth to volume, and back."""

import math

from tankfoot.physics.roots import brent_root

MORE_THAN_ENOUGH = 1.001  # of the depth that the volume would have in a sharp cone


def cone_height(diameter, outlet, angle):
    """Height of a cone from its outlet to a cylinder of ``diameter``, m: (D - d) / (2 tan(angle / 2)).

    ``diameter`` and ``outlet`` in m, ``angle`` the full angle between the walls in rad.

    >>> round(cone_height(0.9, 0.0, math.radians(60.0)), 6)
    0.779423
    """
    return (diameter - outlet) / (2.0 * math.tan(angle / 2.0))


def frustum_volume(depth, outlet, angle):
    """Volume of a cone's foot filled to a ``depth`` above its outlet, m3: pi / 3 h (r0^2 + r0 r + r^2).

    r0 = ``outlet`` / 2 at the bottom (m; 0 for a sharp tip), r = r0 + h tan(angle / 2) at the top, ``angle``
    the full angle between the walls in rad, ``depth`` h in m.

    >>> round(frustum_volume(0.5, 0.0, math.radians(60.0)) * 1000, 4)
    43.6332
    """
    bottom = outlet / 2.0
    top = bottom + depth * math.tan(angle / 2.0)
    return math.pi / 3.0 * depth * (bottom * bottom + bottom * top + top * top)


def solids_volume(depth, outlet, angle, diameter):
    """Volume of level solids of a ``depth`` above the outlet, m3.

    A frustum, and from the cone's top on a cylinder of ``diameter`` (m); None where it is not known, and the
    cone then has no top. The others as for frustum_volume.

    >>> round(solids_volume(1.5, 0.0, math.radians(60.0), 0.9) * 1000, 3)
    623.694
    """
    if diameter is None:
        return frustum_volume(depth, outlet, angle)
    height = cone_height(diameter, outlet, angle)
    if depth <= height:
        return frustum_volume(depth, outlet, angle)
    return frustum_volume(height, outlet, angle) + math.pi / 4.0 * diameter * diameter * (depth - height)


def solids_depth(volume, outlet, angle, diameter):
    """Depth of level solids above the outlet, m, for their ``volume`` (m3): the inverse of solids_volume.

    By Brent's method within the cone, in closed form above it.

    >>> round(solids_depth(0.05, 0.0, math.radians(60.0), 0.9), 7)
    0.5232239
    """
    if diameter is not None:
        height = cone_height(diameter, outlet, angle)
        cone = frustum_volume(height, outlet, angle)
        if volume >= cone:
            return height + (volume - cone) / (math.pi / 4.0 * diameter * diameter)
    slope = math.tan(angle / 2.0)
    sharp = math.pow(3.0 * volume / (math.pi * slope * slope), 1.0 / 3.0)
    return brent_root(lambda h: frustum_volume(h, outlet, angle) - volume, 0.0, MORE_THAN_ENOUGH * sharp)


RANGES = {
    "cone_height": [(0.3, 4.0), (0.0, 0.2), (0.35, 2.1)],
    "frustum_volume": [(0.0, 3.0), (0.0, 0.2), (0.35, 2.1)],
    "solids_volume": [(0.0, 6.0), (0.0, 0.2), (0.35, 2.1), (0.3, 4.0, None)],
    "solids_depth": [(0.0, 20.0, 1e-4, 0.1), (0.0, 0.2), (0.35, 2.1), (0.3, 4.0, None)],
}

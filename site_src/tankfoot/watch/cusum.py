"""The one-sided cumulative sum: it grows while readings stay above what is usual, else falls to none."""


def cusum(total, reading, slack):
    """The next sum: max(0, total + reading - slack). E. S. Page, Continuous inspection schemes, Biometrika 41 (1954).

    Over a limit h, with ``slack`` k, in standard deviations of the readings, it says that their mean has grown by 2 k.
    The change is put where the sum left zero last.

    >>> cusum(1.0, 2.0, 0.5), cusum(1.0, -2.0, 0.5)
    (2.5, 0.0)
    """
    return max(0.0, total + reading - slack)


RANGES = {
    "cusum": [(0.0, 10.0), (-5.0, 5.0), (0.0, 2.0)],
}

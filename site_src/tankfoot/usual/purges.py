"""What is usual for a tank, from its latest purges."""

from tankfoot.usual.median import median

LATEST = 20  # purges that tell what is usual: a hand should not wait until thousands are read


def usual_result(purges, name):
    """The median of the result ``name`` over the bodies of ``purges``, in its SI unit; None where none tells it.

    An amount whose ± is larger than itself tells nothing and is left out: the ± is the combined one of JCGM 100:2008
    (GUM), 5.1.2, of first order, and where it is larger than the value the reading does not tell it from none.

    >>> purges = [{"result": {"overrun": {"value": n / 1000, "uncertainty": 0.003}}} for n in (4, 2, 9, 5)]
    >>> usual_result([*purges, {"result": {}}], "overrun")
    0.005
    """
    amounts = [body["result"][name] for body in purges if name in body["result"]]
    return median([amount["value"] for amount in amounts if tells(amount)])


def tells(amount):
    """Whether an amount is at least as large as its ±; one without a ± is taken at its word.

    >>> [tells({"value": 0.002, "uncertainty": doubt}) for doubt in (0.003, 0.002, None)]
    [False, True, True]
    """
    return amount["uncertainty"] is None or amount["uncertainty"] <= abs(amount["value"])


RANGES = {
    "tells": ["amount"],
    "usual_result": ["results", ["overrun", "volume_lost"]],
}

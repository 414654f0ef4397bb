"""What is usual for a tank, from its latest purges."""

from tankfoot.usual.median import median

LATEST = 20  # purges that tell what is usual: a hand should not wait until thousands are read


def usual_result(purges, name):
    """The median of the result ``name`` over the bodies of ``purges``, in its SI unit; None where none has it.

    >>> purges = [{"result": {"overrun": {"value": litres / 1000}}} for litres in (4, 2, 9)]
    >>> usual_result([*purges, {"result": {}}], "overrun")
    0.004
    """
    return median([body["result"][name]["value"] for body in purges if name in body["result"]])


RANGES = {
    "usual_result": ["results", ["overrun", "volume_lost"]],
}

"""Sums asked by texts, as the command and the pages ask them."""

from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon


def reckoned(name, system="us", **texts):
    """The outcome of a sum that takes what was typed."""
    outcome = reckon(calculators()[name], texts, system)
    assert not outcome.problems, outcome.problems
    return outcome


def results(name, **texts):
    """{name: SI value} of the results there are."""
    return {key: result.value for key, result in reckoned(name, **texts).results.items() if result}


def refusals(name, **texts):
    """[(field, code)] of what is refused."""
    return [(field, problem.code) for field, problem in reckon(calculators()[name], texts).problems]


def remarks(name, **texts):
    """The names of the remarks that hold."""
    return reckoned(name, **texts).remarks

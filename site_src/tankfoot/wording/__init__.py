"""The words on the screen: a folder a language, a TOML file a screen or a calculator."""

import tomllib
from functools import cache
from importlib.resources import files

LANGUAGE = "en"


@cache
def words(name, language=LANGUAGE):
    """All words of one file, by its ``name`` without ending: a calculator's id, or ``app``."""
    return tomllib.loads((files(__package__) / language / f"{name}.toml").read_text(encoding="utf-8"))


def problem_sentence(calculator_id, field, problem):
    """The sentence for a refused input: what was wrong, what is allowed, what to do.

    A calculator's own refusal has its words in the calculator's file, all others in ``app``.
    """
    own = words(calculator_id)
    label = own["fields"].get(field, {}).get("label", field)
    template = own.get("refusals", {}).get(problem.code) or words("app")["problems"][problem.code]
    return template.format(label=label, **problem.facts)

"""docs/methods.md: every sum with its formula, limits and sources, from the same declarations as the pages.

Each is worked once, with the numbers of the invented brewery. What a room learns from the record stands in its own
``methods.md`` and follows as it is. Write it with ``python -m tankfoot.site.methods demo/sums.toml > docs/methods.md``.
"""

import sys
import tomllib
from pathlib import Path

from tankfoot import __file__ as package
from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.wording import words

HEAD = """# Methods

Each sum, its formula, where it holds and what it rests on, worked once with the numbers of the invented brewery
([demo/sums.toml](../demo/sums.toml)), then a simulated tank and what is learnt from the record. Made from the
declarations.
"""


def methods(numbers):
    """The text of docs/methods.md; ``numbers``: {calculator's id: {field: text}}, the page's example where none
    is given."""
    parts = [_method(one, words(one.id), numbers.get(one.id) or _example(one)) for one in calculators().values()]
    written = [path.read_text(encoding="utf-8") for path in sorted(Path(package).parent.glob("*/methods.md"))]
    return "\n".join([HEAD, *parts, *written])


def _example(calculator):
    return {name: q.examples["us"] for name, q in calculator.fields.items() if q.examples["us"]}


def _method(calculator, own, texts):
    outcome = reckon(calculator, texts)
    if outcome.problems:
        raise ValueError(f"{calculator.id} is not worked: {outcome.problems}")
    labels = {name: words["label"] for name, words in own["fields"].items()}
    fields = (f"- {labels[name]} (`{name}`): {_given(texts, name, q)}" for name, q in calculator.fields.items())
    results = (f"- {own['results'][name]} (`{name}`): {_told(result)}" for name, result in outcome.results.items())
    remarks = (f"- {own['remarks'][name]}" for name in outcome.remarks)
    sources = (f"- {source}" for source in own["method"]["sources"])
    method = own["method"]
    lines = [
        f"## {own['title']}\n\n`{calculator.id}`: {own['question']}\n\n    {method['equation']}\n",
        f"{method['text']}\n\nLimits: {method['limits']}\n",
        "In:\n", *fields, "\nOut:\n", *results, *remarks, "\nSources:\n", *sources,
    ]
    return "\n".join(lines) + "\n"


def _given(texts, name, quantity):
    if name in texts:
        return texts[name]
    return f"{quantity.defaults['us']}, the default" if quantity.defaults["us"] else "left empty"


def _told(result):
    return " ".join(filter(None, [result.text, result.give_or_take])) if result else "not given by these"


if __name__ == "__main__":
    print(methods(tomllib.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))), end="")

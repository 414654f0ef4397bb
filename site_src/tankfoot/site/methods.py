"""docs/methods.md: every sum with its formula, limits and sources, from the same declarations as the pages.

Write it with ``python -m tankfoot.site.methods > docs/methods.md``.
"""

from tankfoot.calculators import calculators
from tankfoot.site.app import worked
from tankfoot.wording import words


def methods():
    """The text of docs/methods.md."""
    parts = ["# Methods\n\nEach sum, its formula, where it holds and what it rests on. Made from the declarations.\n"]
    parts += [_method(calculator, words(calculator.id)) for calculator in calculators().values()]
    return "\n".join(parts)


def _method(calculator, own):
    fields = (f"- {own['fields'][name]['label']} (`{name}`)" for name in calculator.fields)
    results = (f"- {own['results'][name]} (`{name}`){_example(calculator, name)}" for name in calculator.results)
    sources = (f"- {source}" for source in calculator.module.SOURCES)
    method = own["method"]
    lines = [
        f"## {own['title']}\n\n`{calculator.id}`: {own['question']}\n\n    {method['equation']}\n",
        f"{method['text']}\n\nLimits: {method['limits']}\n",
        "In:\n", *fields, "\nOut, for the example on the page:\n", *results, "\nSources:\n", *sources,
    ]
    return "\n".join(lines) + "\n"


def _example(calculator, name):
    result = worked(calculator.id).results.get(name)
    return f": {' '.join(filter(None, [result.text, result.give_or_take]))}" if result else ""


if __name__ == "__main__":
    print(methods(), end="")

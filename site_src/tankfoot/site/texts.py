"""What templates ask for besides words: places filled in, dates, the numbers of a sum's example."""

from markupsafe import Markup, escape

from tankfoot.calculators import calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.checklists.shown import NAMES, PLACE, everywhere, shown, units_of
from tankfoot.quantities.format import format_plain
from tankfoot.quantities.text import read_quantity
from tankfoot.wording import words
from tankfoot.wording.languages import LANGUAGE

PREFILLED = 3  # significant digits of what nobody typed, as in browser/parts/fields.js


def with_places(text, system="us", language=LANGUAGE):
    """A text of a list or card as HTML, its places in spans that the browser fills in anew; those by the region not
    where the text is in another language than the page, whose words for them would be strange in it.

    >>> with_places("Above {53 °F}, say")
    Markup('Above <span data-shown="{53 °F}">53 °F</span>, say')
    """
    def span(found):
        if language != LANGUAGE and found[1] in NAMES:
            return everywhere(found[1], language)
        return Markup('<span data-shown="{}">{}</span>').format(found[0], shown(found[0], "", units_of(system)))

    parts, end = [], 0
    for found in PLACE.finditer(text):
        parts += [escape(text[end : found.start()]), escape(span(found))]
        end = found.end()
    return Markup().join([*parts, escape(text[end:])])


def page_title(page, language=LANGUAGE):
    """What a browser shows over a page."""
    app = words("app", language)
    return app["shell"]["title"].format(page=page, app=app["name"])


def full_date(day, language=LANGUAGE):
    """A date in words.

    >>> from datetime import date
    >>> full_date(date(2026, 11, 26))
    '26 November 2026'
    """
    said = words("app", language)["dates"]
    return said["full"].format(day=day.day, month=said["months"][day.month - 1], year=day.year)


def typed(quantity, system="us"):
    """What a field shows at first: (number, unit symbol)."""
    text = quantity.examples[system]
    if text is None:
        return "", quantity.bare_unit(system)
    reading = read_quantity(text, quantity.kind, quantity.bare_unit(system))
    return format_plain(reading.value, PREFILLED), reading.unit


def worked(name, system="us"):
    """A calculator's outcome for its example inputs."""
    calculator = calculators()[name]
    return reckon(calculator, {field: q.examples[system] or "" for field, q in calculator.fields.items()}, system)


def example_inputs(name, system="us"):
    """What a calculator's example puts in, as a list shows it: "Headspace 3 bbl · Pressure now 10 psi"."""
    asked = calculators()[name].fields.items()
    given = [(field, q.examples[system]) for field, q in asked if q.defaults[system] is None and q.examples[system]]
    return " · ".join(f"{words(name)['fields'][field]['label']} {text}" for field, text in given)


def with_examples(name, template, system="us"):
    """A label such as "{loss_volume} gone in" with a calculator's example in it."""
    return template.format(**{field: q.examples[system] for field, q in calculators()[name].fields.items()})

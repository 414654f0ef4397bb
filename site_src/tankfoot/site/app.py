"""The Flask app: one route a page, and the JavaScript rooms served under the names they have in Python."""

import posixpath
from functools import partial
from importlib.resources import files
from pathlib import Path

from flask import Flask, Response, abort, render_template, request, send_from_directory
from jinja2 import Undefined, pass_context
from markupsafe import Markup, escape

from tankfoot import __version__
from tankfoot.batches.rules import ASKS
from tankfoot.calculators import SIGNALS, calculators
from tankfoot.calculators.reckon import reckon
from tankfoot.checklists import cards, checklists, regions, versions
from tankfoot.checklists.practice import EXERCISE, stacks
from tankfoot.checklists.schema import rules as rules_of_texts
from tankfoot.checklists.shown import NAMES, PLACE, everywhere, shown, units_of
from tankfoot.purge.machine import LATEST, begins, rows, sums, tables
from tankfoot.purge.stack import typical
from tankfoot.quantities.format import format_plain
from tankfoot.quantities.text import read_quantity
from tankfoot.quantities.units import offered
from tankfoot.record import limits
from tankfoot.record.bodies import BATCH_EVENTS, HOLDS, MOST_IN_STACK, PARTS, SOLIDS
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.report.marks import narrowed
from tankfoot.site import stack_drawing
from tankfoot.site.declared import DECLARED, declared_js
from tankfoot.site.plots import page_plot
from tankfoot.site.qr import qr
from tankfoot.site.tongues import folder_of, roots, tongues
from tankfoot.wording import said, words
from tankfoot.wording.languages import FIRST, LANGUAGE, languages

PACKAGE = Path(str(files("tankfoot")))
ASSETS = PACKAGE / "site" / "assets"
PREFILLED = 3  # significant digits of what nobody typed, as in browser/parts/fields.js


class Missing(Undefined):
    """What a page would show and is not there: stops the build. Whether it is there may be asked."""

    __str__ = __iter__ = __len__ = Undefined._fail_with_undefined_error


def create_app(address=None):
    """The app with all its pages; the freezer walks it, nothing else needs to.

    ``address``: where the site will stand, for the QR codes of the printed sheets.
    """
    app = Flask(__name__, static_folder=None)
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.undefined = Missing
    app.jinja_env.filters["shown"] = _shown
    app.context_processor(_names)
    app.jinja_env.globals.update(
        site_address=address and address + folder_of(LANGUAGE), qr=qr, narrowed=narrowed,
    )
    for rule, view in (PAGES | (FIRST_CARDS if LANGUAGE != FIRST else {})).items():
        app.add_url_rule(rule, view_func=view)
    return app


def link(path):
    """The address of ``path`` (from the site's root) relative to the page being made, so that any host folder will do.

    >>> app = create_app()
    >>> with app.test_request_context("/calculators/purge-volume/"):
    ...     link("settings/")
    '../../settings/'
    """
    slash = "/" if path.endswith("/") or not path else ""
    here = posixpath.dirname(request.path)
    return posixpath.relpath("/" + path, here) + slash


def _names():
    return {
        "app": words("app"), "words": words, "language": LANGUAGE, "link": link, "version": __version__,
        "roots": roots(request.path), "tongues": tongues(request.path), "said": said,
        "page_title": page_title, "full_date": full_date,
        "calculators": calculators(), "checklists": checklists(), "cards": cards(), "regions": regions(),
        "versions": versions, "signals": SIGNALS, "offered": offered,
        "typed": typed, "worked": worked, "example_inputs": example_inputs, "with_examples": with_examples,
    }


@pass_context
def _shown(context, text):
    return with_places(text, language=context.get("language", LANGUAGE))


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


def modules():
    """The paths of all JavaScript files of the rooms, below the package."""
    paths = (path.relative_to(PACKAGE) for path in PACKAGE.rglob("*.js"))
    return sorted(path.as_posix() for path in paths if path.parts[0] != "site")


def today():
    return render_template("today.html", own=words("today"))


def sums_first():
    return _work_it_out("sums", "lists")


def lists_first():
    return _work_it_out("lists", "sums")


def _work_it_out(*order):
    groups = {group: [id for id in calculators() if words(id)["group"] == group] for group in words("app")["groups"]}
    return render_template("work.html", own=words("lists"), groups=groups, order=order)


def calculator_page(name):
    calculator = calculators().get(name) or abort(404)
    outcome = worked(name)
    plot = page_plot(calculator, outcome)
    return render_template("calculator.html", calculator=calculator, own=words(name), outcome=outcome, plot=plot)


def purge():
    return render_template("purge.html", **_of_purge())


def rehearsal_run():
    rehearsal = words("rehearsal")
    told = {key: rehearsal[key] for key in ("scenarios", "happened", "done", "reasons")}
    return render_template("rehearsal_run.html", of=rehearsal["screen"], told=told, is_rehearsal=True, **_of_purge())


def rehearsals():
    own = words("rehearsal")
    told = {"own": own["list"], "of": own["screen"], "scenarios": own["scenarios"]}
    return render_template("rehearsals.html", order=scenarios(), **told)


def _of_purge():
    readings = {}
    for name, like in sums()["readings"].items():
        calculator, field = like.split(".")
        readings[name] = calculators()[calculator].fields[field]
    shown = {step.state: [_shown_sum(result) for result in step.shows] for step in tables()[LATEST].values()}
    own = words("purge") | {"steps": words("purge_steps")}
    steps = tables()[LATEST]
    shared = {row["steps"][0]: row for row in rows()[LATEST]["short"]}
    also = {state: [steps[other] for other in shared.get(state, {}).get("also", [])] for state in steps}
    return {
        "own": own, "steps": steps, "begins": begins(), "readings": readings, "sums_at": shown, "also": also,
        "instruments": sums()["instruments"], "list_line": list_line,
    }


def round_page():
    return render_template("round.html", own=words("round"))


def handover():
    return render_template("handover.html", own=words("handover"))


def rules():
    return render_template(
        "rules.html", own=words("rules"), kinds_asked=ASKS, batch_events=BATCH_EVENTS, solids_known=SOLIDS,
    )


def gauges():
    return render_template("gauges.html", own=words("gauges"))


def list_line(name):
    """A line of a checklist by its name, such as "before-breaking-a-clamp.cap-within-reach"."""
    list_, id = name.split(".")
    return next(line for line in checklists()[list_].lines if line.id == id)


def _shown_sum(shown):
    name, result = shown.split(".")
    return name, sums()["sums"][name]["calculator"], result


def checklist_page(name):
    checklist = checklists().get(name) or abort(404)
    foreign = words("app")["shell"]["only_in_english"] if checklist.language != LANGUAGE else None
    return render_template("checklist.html", checklist=checklist, foreign=foreign, own=words("lists"))


def practice():
    return render_template(
        "practice.html", own=words("practice"), exercise=EXERCISE, stacks=stacks(), drawing=stack_drawing
    )


def own_list():
    return render_template("own_list.html", own=words("lists")["own"])


def own_list_edit():
    return render_template(
        "own_list_edit.html", own=words("lists")["edit"], limits=limits,
        rules={language: _rules_of_lines(language) for language in languages()},
    )


def _rules_of_lines(language):
    """What a line of a list should not say in a language, for the warnings of the editor."""
    return {name: rules_of_texts(language)[name] for name in ("promises", "empty_answers")}


def card_index():
    return render_template("cards.html", own=words("emergency"))


def card_page(name):
    """A card, on the sites in other languages with a way to the English one."""
    beside = {"language": FIRST, "path": f"emergency/{FIRST}/{name}/"}
    return _card(cards().get(name) or abort(404), beside if LANGUAGE != FIRST else None)


def first_card(name):
    """A card in English on a site in another language: whoever helps may read that."""
    return _card(cards(FIRST).get(name) or abort(404), {"language": LANGUAGE, "path": f"emergency/{name}/"})


def _card(card, beside):
    """All that stands around a card is in its language: nobody reads two at once under stress."""
    its = card.language
    return render_template(
        "card.html", own=words("emergency", its), card=card, beside=beside, is_foreign=its != LANGUAGE,
        words=partial(words, language=its), app=words("app", its), language=its,
        roots=roots(request.path) if its == LANGUAGE else {},  # it has no page of its own in another language
        page_title=partial(page_title, language=its), full_date=partial(full_date, language=its),
    )


def tanks():
    return render_template("tanks.html", own=words("tanks"))


def tank():
    return render_template(
        "tank.html", own=words("tanks")["one"], holds=HOLDS, stacks=typical(), stack_parts=PARTS,
        most_parts=MOST_IN_STACK,
    )


def record():
    return render_template("record.html", own=words("record"))


def record_entry():
    own, of_record = words("purge") | {"steps": words("purge_steps")}, words("record")
    entry_words = {
        "steps": {
            state: {"title": step["title"], "events": step.get("events", {})} for state, step in own["steps"].items()
        },
        "readings": {name: _reading_label(own, name, like) for name, like in sums()["readings"].items()},
        "everywhere": {**of_record["everywhere"], "undo": own["undo"]},
    }
    return render_template("entry.html", own=of_record["entry"], of_purge=own, entry_words=entry_words)


def _reading_label(own, name, like):
    calculator, field = like.split(".")
    return own["fields"].get(name, words(calculator)["fields"][field])["label"]


def cost():
    return render_template("cost.html", own=words("cost"))


def settings():
    return render_template("settings.html", own=words("settings"))


def about():
    own = words("about")
    return render_template("about.html", own=own, translated=own["translated"] if LANGUAGE != FIRST else None)


def not_found():
    return render_template("404.html")


def declared(room):
    return Response(declared_js(room) if room in DECLARED else abort(404), mimetype="text/javascript")


def script(name):
    return send_from_directory(PACKAGE, name) if name in modules() else abort(404)


def pictures_css():
    return send_from_directory(PACKAGE / "report", "pictures.css")


def asset(name):
    return send_from_directory(ASSETS, name)


def manifest():
    return Response(render_template("manifest.json"), mimetype="application/manifest+json")


PAGES = {
    "/": today,
    "/calculators/": sums_first,
    "/calculators/<name>/": calculator_page,
    "/purge/": purge,
    "/rehearsal/": rehearsals,
    "/rehearsal/run/": rehearsal_run,
    "/round/": round_page,
    "/handover/": handover,
    "/rules/": rules,
    "/gauges/": gauges,
    "/checklists/": lists_first,
    "/checklists/practice/": practice,
    "/checklists/own/": own_list,
    "/checklists/own/edit/": own_list_edit,
    "/checklists/<name>/": checklist_page,
    "/emergency/": card_index,
    "/emergency/<name>/": card_page,
    "/tanks/": tanks,
    "/tanks/tank/": tank,
    "/record/": record,
    "/record/entry/": record_entry,
    "/cost/": cost,
    "/settings/": settings,
    "/about/": about,
    "/404.html": not_found,
    "/tankfoot.webmanifest": manifest,
    "/js/<room>/declared.js": declared,
    "/js/<path:name>": script,
    "/assets/css/pictures.css": pictures_css,
    "/assets/<path:name>": asset,
}
FIRST_CARDS = {f"/emergency/{FIRST}/<name>/": first_card}

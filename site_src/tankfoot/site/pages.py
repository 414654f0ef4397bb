"""What each address of the site answers with: a view a page, and the files beside them."""

from functools import partial

from flask import Response, abort, render_template, request, send_from_directory

from tankfoot.batches.rules import ASKS
from tankfoot.calculators import calculators
from tankfoot.checklists import cards, checklists
from tankfoot.checklists.practice import EXERCISE, stacks
from tankfoot.checklists.schema import rules as rules_of_texts
from tankfoot.purge.machine import LATEST, begins, rows, sums, tables
from tankfoot.purge.stack import typical
from tankfoot.record import limits
from tankfoot.record.bodies import BATCH_EVENTS, HOLDS, MOST_IN_STACK, PARTS, SOLIDS
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.site import stack_drawing
from tankfoot.site.declared import DECLARED, declared_js
from tankfoot.site.plots import page_plot
from tankfoot.site.sources import ASSETS, PACKAGE, modules
from tankfoot.site.step_signs import step_signs
from tankfoot.site.texts import full_date, page_title, worked
from tankfoot.site.tongues import roots
from tankfoot.wording import words
from tankfoot.wording.languages import FIRST, LANGUAGE, languages


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
        "instruments": sums()["instruments"], "list_line": list_line, "signs": step_signs(),
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

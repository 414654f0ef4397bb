"""Every sentence that both languages of code make, in the language of this process: read by test_parity_in_spanish.py.

`TANKFOOT_LANGUAGE=es python tests/spoken.py < cases` writes what Python says of them, as one JSON object.
"""

import json
import re
import sys
from types import SimpleNamespace

from tankfoot import wording
from tankfoot.calculators import calculators
from tankfoot.record.entry import Problem

COUNTS = (0, 1, 2, 1_000_000)  # each form that Spanish has, and what is none: Unicode CLDR, plural rules of es
TEXT = {"what": "text", "least": "1", "longest": "40"}
DAYS = (0.0, 1 / 24, 0.5, 1.0, 1.5, 2.0, 400.0)
AT = "2026-03-26 03:00"
PLACE = re.compile(r"\{(\w+)\}")
PLURALS = {"zero", "one", "two", "few", "many", "other"}


def cases():
    """What is asked of Python and of the browser: facts stand in every place that a template has."""
    app, files, due = wording.words("app"), wording.words("files"), wording.words("due")
    problems = [
        {"id": id, "field": field, "code": code, "facts": _facts(template, but=("label",))}
        for id in calculators()
        for code, template in (app["problems"] | wording.words(id).get("refusals", {})).items()
        for field in (*wording.words(id)["fields"], "nobody")
    ]
    shapes = [
        {"what": what, "unit": unit, "null": null} | _facts(template, but=("what", "unit"))
        for what, template in files["shapes"].items() if what != "or-null"
        for unit in (files["units"] if "{unit}" in template else ["metres"]) for null in (False, True)
    ]
    wrong = [
        {"where": where, "code": code, "facts": TEXT if "{what}" in template else _facts(template)}
        for code, template in files["problems"].items() for where in ("", "entries[3].body.tank")
    ]
    titles = [{"rule": rule} for rule in (*due["rules"], "own-0a1b2c3d", "dump")]
    reasons = [
        {"rule": rule, "why": {"code": code, "days": days}}
        for rule in due["rules"] for code in due["why"] for days in DAYS if days or code in due["at_once"]
    ]
    return {"problems": problems, "shapes": shapes, "wrong": wrong, "titles": titles, "reasons": reasons}


def _facts(template, but=()):
    return {name: f"<{name} $& 1,5>" for name in PLACE.findall(template) if name not in but}


def said(asked):
    """What Python says."""
    return {
        "problems": [
            wording.problem_sentence(one["id"], one["field"], SimpleNamespace(code=one["code"], facts=one["facts"]))
            for one in asked["problems"]
        ],
        "shapes": [wording.shape_words(must) for must in asked["shapes"]],
        "wrong": [wording.file_sentence(Problem(one["where"], one["code"], one["facts"])) for one in asked["wrong"]],
        "titles": [wording.due_title(item, {"title": None}) for item in asked["titles"]],
        "reasons": [wording.due_sentence(item, AT) for item in asked["reasons"]],
        "remarks": {id: wording.words(id).get("remarks", {}) for id in calculators()},
        "counts": [
            [place, count, wording.plural(forms, count, **_filling(forms))]
            for place, forms in plurals(wording.words("screens")) for count in COUNTS
        ],
    }


def _filling(forms):
    return {name: "x" for form in forms.values() for name in PLACE.findall(form) if name != "count"}


def plurals(data, trail=""):
    """(place, forms) of every plural in a file of words."""
    for key, inner in data.items():
        if isinstance(inner, dict):
            is_plural = inner.keys() <= PLURALS and "other" in inner
            yield from [(f"{trail}{key}", inner)] if is_plural else plurals(inner, f"{trail}{key}.")


if __name__ == "__main__":
    json.dump(said(json.load(sys.stdin)), sys.stdout)

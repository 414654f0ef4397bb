"""Content that does not fit together stops the build: one sentence that names the file, the fault and what to do."""

import copy
import re

import pytest
from package_copy import PackageCopy
from tankfoot.calculators import calculators
from tankfoot.quantities.field import DeclarationError, Quantity
from tankfoot.site import content_check
from tankfoot.site.content_check import check_content, codes
from tankfoot.site.faults import ContentError

# command, file, what stands there, what a slip makes of it, what the sentence must name
SLIPS = {
    "a group": (
        "build", "open-port.toml", 'group = "danger"', 'group = "dangr"',
        ["wording/en/open-port.toml", "group", "'dangr'", "use danger"],
    ),
    "a unit": (
        "build", "open_port.py", 'low="0.01 bbl"', 'low="0.01 psi"',
        ["calculators/open_port.py, line ", "'0.01 psi'", "wrong-dimension", "one of bbl, gal, L"],
    ),
    "a unit that several sums share": (
        "build", "readings.py", 'high="1200 kg/m³"', 'high="1200 kg/m3s"',
        ["calculators/readings.py, line ", "'1200 kg/m3s'", "unknown-unit", "g/mL"],
    ),
    "a list": (
        "serve", "confined-space.toml", 'completion = "No-entry check complete"', 'completion = "Stay out"',
        ["lists/confined-space.toml, completion", "end it with ' complete'"],
    ),
    "a card": (
        "build", "vacuum.toml", 'act = "Step well clear"', 'act = "Step well clear of it, quickly, all of you"',
        ["cards/vacuum.toml, act 2, act", "has more than 6 words", "move the rest to detail"],
    ),
    "a place in a list": (
        "build", "hops.toml", "{400 mm}", "{400 millimetre}",
        ["lists/hops.toml: nothing fills in {400 millimetre}", "use co2_limits or eyewash"],
    ),
    "a region": (
        "build", "regions.toml", 'standard = "uk"', 'standard = "gb"',
        ["regions.toml, regions: names the standard 'gb', which is not there", "write it"],
    ),
    "a stack": (
        "build", "stacks.toml", 'turn = "down"', 'turn = "downward"',
        ["stacks.toml, stack '", ", turn", "is no direction", "use left, right, down"],
    ),
    "a scenario": (
        "build", "packed-glass.toml", 'act = "glass", to = "cleared"', 'act = "glass", to = "clean"',
        ["scenarios/packed-glass.toml, right, act 6", "glass cannot go to 'clean'", "use cleared"],
    ),
    "a pressure in a scenario": (
        "build", "half-done.toml", 'pressure = "9 psi"', 'pressure = "9 psy"',
        ["scenarios/half-done.toml, pressure", "'9 psy'", "unknown-unit", "write it in bar or kPa or psi"],
    ),
    "what would have stopped a mistake": (
        "build", "rehearsal.toml", 'instead = "Closing before going."', '',
        ["wording/en/rehearsal.toml", "happened.unwatched.instead", "write the words"],
    ),
    "the emergency card of a mistake": (
        "build", "happened.toml", 'card = "hose-burst"', 'card = "hose-bursts"',
        ["rehearsal/happened.toml", "hose-whips", "'hose-bursts'", "use hose-burst"],
    ),
    "the sign of a step": (
        "build", "pictures/steps.toml", 'contact = "contact"', 'contakt = "contact"',
        ["pictures/steps.toml", "the sign of 'contakt'", "no step of the purge", "purge/tables/2.toml"],
    ),
    "a sign that would answer a gate": (
        "build", "pictures/steps.toml", 'contact = "contact"', 'gate-valve = "shut"',
        ["pictures/steps.toml", "the sign of 'gate-valve'", "a gate asks"],
    ),
    "a step of the purge": (
        "serve", "purge_steps.toml", "[takedown.events]", "[take-down.events]",
        ["wording/en/purge_steps.toml", "takedown.events.apart"],
    ),
}


@pytest.fixture
def package(tmp_path):
    return PackageCopy(tmp_path)


def stopped(package, command, *named):
    """Holds that a command ends before it writes anything, with one sentence that has all that is ``named``."""
    ended = package.tankfoot(command, "--output", package.folder / "site")
    assert (ended.returncode, ended.stdout) == (1, "")
    assert re.fullmatch(r"[^\n]+[.]\n", ended.stderr), ended.stderr
    assert not [name for name in named if name not in ended.stderr], ended.stderr
    assert not (package.folder / "site").exists()


@pytest.mark.parametrize(("command", "file", "before", "after", "named"), SLIPS.values(), ids=SLIPS)
def test_a_slip_in_a_file_stops_the_command(command, file, before, after, named, package):
    package.change(file, before, after)
    stopped(package, command, *named)


def test_a_sum_without_its_twin_stops_the_build(package):
    (package.package / "calculators" / "open_port.js").unlink()
    stopped(package, "build", "calculators/open_port.py has no JavaScript twin", "write calculators/open_port.js")


def test_a_card_without_its_picture_stops_the_build(package):
    (package.package / "site" / "templates" / "pictures" / "card-vacuum.svg").unlink()
    stopped(package, "build", "cards/vacuum.toml has no picture", "draw site/templates/pictures/card-vacuum.svg")


def test_a_step_without_the_sign_that_is_named_for_it_stops_the_build(package):
    (package.package / "site" / "templates" / "pictures" / "step-rinse.svg").unlink()
    stopped(package, "build", "the sign of 'rinse' is not there", "draw site/templates/pictures/step-rinse.svg")


def test_a_name_that_a_page_asks_for_in_vain_stops_the_build(package):
    package.change("calculator.html", "{{ own.method.text }}", "{{ own.methods.text }}")
    ended = package.tankfoot("build", "--output", package.folder / "site")
    assert (ended.returncode, ended.stdout) == (1, "")
    # Jinja's own words for what is not there: jinja2.Undefined
    assert re.fullmatch(r"calculator\.html, line \d+: 'dict object' has no attribute 'methods': [^\n]+\n", ended.stderr)


def test_the_content_as_it_stands_has_no_fault():
    check_content()


@pytest.fixture
def slip(monkeypatch):
    """Changes what the check reads: ``slip("words", "open-port", change)``; returns the sentence it then stops with."""

    def checked(name, file, change):
        whole = getattr(content_check, name)
        changed = copy.deepcopy(whole(file) if file else whole())
        change(changed)
        monkeypatch.setattr(content_check, name, lambda *asked: changed if asked in ((file,), ()) else whole(*asked))
        with pytest.raises(ContentError) as stopped:
            check_content()
        return str(stopped.value)

    return checked


def without(*path):
    """Takes out what stands at the end of a ``path`` of keys."""

    def change(said):
        for key in path[:-1]:
            said = said[key]
        del said[path[-1]]

    return change


UNSAID = [
    ("open-port", "question"), ("open-port", "fields.bore"), ("open-port", "fields.bore.help"),
    ("open-port", "results.jet_force"), ("open-port", "refusals.nothing-pushes"), ("open-port", "remarks.gas-choked"),
    ("open-port", "cautions.jet"), ("open-port", "method.limits"), ("harvest-mass", "remarks.enough"),
    ("room-co2", "plot.marks.shift"), ("numbers", "when.open-port"), ("purge_steps", "cap"),
    ("purge_steps", "cap.events.capped"), ("purge", "fields.flow.label"),
]


@pytest.mark.parametrize(("file", "path"), UNSAID)
def test_words_that_are_missing_are_asked_for(file, path, slip):
    said = slip("words", file, without(*path.split(".")))
    assert re.fullmatch(rf"wording/en/{file}\.toml has no {re.escape(path)}[\w.-]*: write the words\.", said)


def test_words_for_a_field_that_is_not_there_are_named(slip):
    said = slip("words", "open-port", lambda own: own["fields"].update(presure=own["fields"]["pressure"]))
    assert said.startswith("wording/en/open-port.toml has fields.presure, which calculators/open_port.py does not")


# Sums that yield each of their codes in so many words: these modules, read by eye.
def test_the_codes_that_need_words_are_found_in_the_text_of_a_sum():
    assert codes(calculators()["open-port"].module) == (["nothing-pushes"], ["gas-choked"])
    assert codes(calculators()["cone-contents"].module) == (
        ["nothing-measured", "both-measured", "narrower-than-outlet"],
        ["arm-in-solids", "arm-above-solids", "cone-only"],
    )


def of_step(state, **changes):
    def change(whole):
        next(row for row in whole["2"]["steps"] if row["state"] == state).update(changes)

    return change


WRONG_STEPS = {
    "a target": (
        of_step("cap", events={"capped": "top-up"}), "the step cap: where it leads cannot be 'top-up': use topup",
    ),
    "a target of one way": (
        of_step("cap", events={"capped": {"closed": "topup", "else": "finnish"}}),
        "the step cap: where it leads cannot be 'finnish': use finish",
    ),
    "a key": (of_step("cap", skips="topup"), "the step cap: a key cannot be 'skips': use skip"),
    "a reading": (of_step("after", saves=["flw"]), "the step after: a reading in saves cannot be 'flw': use flow"),
    "a fact": (of_step("beer", facts=["close"]), "the step beer: an event in facts cannot be 'close': use closed"),
    "a line": (
        of_step("cap", lines=["before-breaking-a-clamp.no-plugg"]),
        "the step cap: a line of before-breaking-a-clamp cannot be 'no-plugg': use no-plug",
    ),
    "a result": (
        of_step("topup", shows=["top_up_last.co2_mas"]),
        "the step topup: a result it shows cannot be 'co2_mas': use co2_mass",
    ),
}
WRONG_SUMS = {
    "a field": (
        lambda whole: whole["readings"].update(flow="timed-volume.flwo"),
        "the input of the reading flow cannot be 'flwo': use flow",
    ),
    "a sum": (
        lambda whole: whole["sums"]["margin"].update(calculator="vacum-margin"),
        "the calculator of the sum margin cannot be 'vacum-margin': use vacuum-margin",
    ),
    "an instrument": (
        lambda whole: whole["instruments"].append("presure_found"),
        "an instrument cannot be 'presure_found': use pressure_found",
    ),
    "a step of − and +": (without("step_by", "psi"), "step_by has no 'psi', which pressure_found may be read in"),
    "a bucket": (without("bucket_holds", "gal"), "bucket_holds has no 'gal', which planned_draw is asked in"),
}


@pytest.mark.parametrize(("change", "says"), WRONG_STEPS.values(), ids=WRONG_STEPS)
def test_a_slip_in_the_table_of_the_purge_is_named(change, says, slip):
    assert slip("rows", None, change).startswith(f"purge/tables/2.toml: {says}")


@pytest.mark.parametrize(("change", "says"), WRONG_SUMS.values(), ids=WRONG_SUMS)
def test_a_slip_in_what_a_purge_reckons_is_named(change, says, slip):
    assert slip("sums", None, change).startswith(f"purge/sums.toml: {says}")


@pytest.mark.parametrize(
    ("declared", "says"),
    [
        ({"kind": "presure"}, "'presure' is no kind of quantity"),
        ({"example": "10 parsec"}, "'10 parsec' cannot be read as gauge_pressure (unknown-unit)"),
        ({"default": "50 psi"}, "'50 psi' is outside the field's own low and high"),
        ({"example": {"us": "10 psi", "metric": "10 bar", "uk": "1 bar"}}, "'10 bar' is outside"),
        ({"uncertainty": "1 kg"}, "'1 ± 1 kg' cannot be read as gauge_pressure"),
    ],
)
def test_a_field_refuses_a_declaration_that_it_cannot_read(declared, says):
    with pytest.raises(DeclarationError, match=re.escape(says)):
        Quantity(**{"kind": "gauge_pressure", "low": "0 psi", "high": "40 psi", **declared})


TWINS = {
    "export function compute": ("function compute", " exports no compute"),
    "../physics/gas.js": ("../physics/gass.js", " imports ../physics/gass.js, which is not there"),
    "import { co2Density }": (
        "import { co2density }", ": an import from physics/gas.js cannot be 'co2density': use co2Density",
    ),
}


@pytest.mark.parametrize(("right", "slipped"), TWINS.items(), ids=TWINS)
def test_a_twin_that_would_leave_the_page_dead_is_named(right, slipped, package, monkeypatch):
    wrong, says = slipped
    package.change("open_port.js", right, wrong)
    monkeypatch.setattr(content_check, "PACKAGE", package.package)
    with pytest.raises(ContentError, match=re.escape(f"calculators/open_port.js{says}")):
        check_content()

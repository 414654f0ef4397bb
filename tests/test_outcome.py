"""What a purge tells: the same in both languages, and what an outside sum says of it."""

import json
import math
import random
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from drawn_purges import body, purge
from tankfoot.cli import main
from tankfoot.office.transfer import export_file
from tankfoot.purge.outcome import UnreadReading, outcome_of
from uncertainties import ufloat

CLOSE = 1e-12  # relative
BODIES = 400
RECORD = Path(str(files("tankfoot"))) / "site" / "assets" / "demo" / "record.json"
BARREL = 0.117347765304  # m3 of a US beer barrel: 31 gal of 231 in3, NIST Handbook 44, appendix C
GALLON = BARREL / 31.0
PSI = 6894.757293168  # Pa, NIST SP 811, appendix B
TOLD_IN_BROWSER = """async (given) => {
  const { url, bodies } = JSON.parse(given);
  const { outcomeOf } = (await import(url)).take("purge/outcome.js");
  const answers = [];
  for (const [body, system] of bodies) {
    answers.push(await outcomeOf(body, system).catch(({ code, message }) => ({ refused: code ?? message })));
  }
  return JSON.stringify(answers);
}"""


@pytest.fixture(scope="module")
def theirs(chromium, served):
    """What the browser makes of bodies: [(body, system)] in, its answers out."""
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    url = served.script
    yield lambda bodies: json.loads(page.evaluate(TOLD_IN_BROWSER, json.dumps({"url": url, "bodies": bodies})))
    page.close()


def ours(made, system):
    try:
        return vars(outcome_of(made, system))
    except UnreadReading as unread:
        return {"refused": unread.code}


def same(our, their):
    if isinstance(our, dict):
        return list(our) == list(their) and all(same(our[key], their[key]) for key in our)
    if isinstance(our, float):
        return their is not None and math.isclose(our, their, rel_tol=CLOSE)
    return our == their


def test_a_purge_tells_the_same_in_both_languages(theirs):
    rng = random.Random(20261125)
    bodies = [purge(rng) for _ in range(BODIES)]
    found = [ours(*given) for given in bodies]
    for given, our, their in zip(bodies, found, theirs(bodies), strict=True):
        assert same(our, their), (given, our, their)
    ways = [len(our.get("ways", ())) for our in found]
    assert min(ways.count(number) for number in (1, 2, 3)) > 20
    assert sum("refused" in our for our in found) > 5


def test_the_invented_purges_tell_the_same_in_both_languages(theirs):
    bodies = [
        (each["body"], "us") for each in json.loads(RECORD.read_text(encoding="utf-8"))["entries"]
        if each["kind"] == "purge" and not each["deleted"]
    ]
    assert all(same(ours(*given), their) for given, their in zip(bodies, theirs(bodies), strict=True))


def test_the_best_volume_is_the_mean_weighted_by_inverse_variance():
    told = outcome_of(body({"flow": "10 ± 1 gal/min", "collected_volume": "11 ± 0.5 gal"}), "us")
    # by hand: 10 gal/min for 60 s is 10 gal, ± sqrt((1 gal/min 60 s)^2 + (10 gal/min 1 s)^2)
    by_time = ufloat(10.0, 1.0) * ufloat(60.0, 1.0) / 60.0
    ways = [by_time, ufloat(11.0, 0.5)]
    # reference library: numpy.average with weights 1/u^2; uncertainties for the ± of that mean
    weights = [1.0 / way.s**2 for way in ways]
    mean = sum(weight * way for weight, way in zip(weights, ways, strict=True)) / sum(weights)
    assert told.result["volume_lost"]["value"] / GALLON == pytest.approx(
        np.average([way.n for way in ways], weights=weights), rel=1e-6)
    assert told.result["volume_lost"]["uncertainty"] / GALLON == pytest.approx(mean.s, rel=1e-6)
    assert told.agree is True


def test_ways_that_lie_far_apart_are_said_not_to_agree():
    # by hand: 10 and 20 gal with about ± 1 gal each lie further apart than 2 sqrt(2) gal
    told = outcome_of(body({"flow": "10 ± 1 gal/min", "collected_volume": "20 ± 1 gal"}), "us")
    assert told.agree is False


def test_the_overrun_is_its_share_of_the_time():
    told = outcome_of(body(
        {"collected_volume": "12 ± 1 gal", "beer_share": "50 %", "usual_overrun": "5 gal", "beer_value": "310 $/bbl"},
        seconds=60.0, overrun=15.0), "us")
    # by hand: 15 s of 60 s of 12 gal are 3 gal; of the 9 gal before half is beer; 5 gal were usual, 2 are saved;
    # 310 $/bbl are 10 $/gal: 7.5 gal of beer lost, 2 gal saved
    wanted = {"overrun": 3.0 * GALLON, "solids": 4.5 * GALLON, "beer_in_solids": 4.5 * GALLON, "saved": 2.0 * GALLON,
              "money_lost": 75.0, "money_saved": 20.0}
    assert {name: told.result[name]["value"] for name in wanted} == pytest.approx(wanted, rel=1e-6)


def test_without_a_colour_change_nothing_ran_over():
    told = outcome_of(body({"collected_volume": "12 gal"}), "us")
    # by hand
    assert told.result["overrun"]["value"] == 0.0


def test_pressure_tells_nothing_while_the_gas_was_on():
    readings = {"headspace": "3 bbl", "temperature": "36 °F", "pressure_before": "10 psi", "pressure_after": "8 psi"}
    assert outcome_of(body(readings, gas_shut=False), "us").result == {}
    assert outcome_of(body(readings, gas_shut=True), "us").ways.keys() == {"by_pressure"}


def test_ten_psi_that_come_down_to_eight_tell_a_reasonable_volume_on_the_invented_tanks():
    entries = json.loads(RECORD.read_text(encoding="utf-8"))["entries"]
    beer = {each["id"]: each["body"]["beer_volume"] for each in entries if each["kind"] == "tank"}
    purges = [each["body"] for each in entries if each["kind"] == "purge" and not each["deleted"]]
    for one in {each["tank"]: each for each in purges}.values():
        readings = one["readings"] | {"pressure_before": "10 psi", "pressure_after": "8 psi"}
        readings.pop("collected_volume", None)
        told = outcome_of(one | {"readings": readings}, "us")
        headspace = float(readings["headspace"].removesuffix(" bbl")) * BARREL
        # Boyle's law; CO2 strays from it by about one percent here (Weiss 1974, equation 6: B p / R T)
        ideal = headspace * ((10.0 * PSI + 101325.0) / (8.0 * PSI + 101325.0) - 1.0)
        assert told.result["volume_lost"]["value"] == pytest.approx(ideal, rel=0.02)
        # common practice, no source: a purge takes from some litres to a few percent of the batch
        assert 0.001 < told.result["volume_lost"]["value"] / beer[one["tank"]] < 0.05


def test_the_pressure_way_carries_the_give_or_take_of_the_gauge():
    readings = {
        "headspace": "3 ± 0.15 bbl", "temperature": "36 °F", "pressure_before": "10 ± 0.5 psi",
        "pressure_after": "8 ± 0.5 psi",
    }
    told = outcome_of(body(readings), "us")
    before, after = ufloat(10.0, 0.5) * PSI + 101325.0, ufloat(8.0, 0.5) * PSI + 101325.0
    # reference library: uncertainties, on Boyle's law
    ideal = ufloat(3.0, 0.15) * BARREL * (before / after - 1.0)
    assert told.result["volume_lost"]["uncertainty"] == pytest.approx(ideal.std_dev, rel=0.02)


@pytest.fixture
def checked(tmp_path, capsys):
    """Runs the check on the invented record after ``change(body)`` of its first finished purge: (code, said)."""

    def check(change):
        entries = json.loads(RECORD.read_text(encoding="utf-8"))["entries"]
        one = next(each for each in entries if each["kind"] == "purge" and not each["deleted"])
        change(one["body"])
        file = tmp_path / "export.json"
        file.write_text(export_file(entries, "1", "2026-06-01T07:00:00.000Z"), encoding="utf-8")
        code = main(["check", str(file)])
        return code, capsys.readouterr().err, one

    return check


def test_the_invented_record_tells_what_it_stores(capsys):
    assert main(["check", str(RECORD)]) == 0
    assert "84 purges" in capsys.readouterr().out


def test_a_result_that_its_readings_do_not_tell_is_named_with_both_values(checked):
    code, said, one = checked(lambda purge: purge["result"]["volume_lost"].update(value=0.5, uncertainty=0.1))
    assert code == 2
    assert "body.result.volume_lost is stored as 0.5 ± 0.1, but its readings give 0." in said
    assert f"(entry {one['id']})" in said
    assert len(said.splitlines()) == 1


def test_a_reading_changed_by_hand_shows_in_every_result_of_it(checked):
    _, said, _ = checked(lambda purge: purge["readings"].update(pressure_after="6 ± 0.1 psi"))
    assert "result.volume_lost" in said
    assert "result.top_up_mass" in said


@pytest.mark.parametrize(("text", "says"), [
    ("three", "must be a quantity in one of bbl"), ("1e6 bbl", "cannot be used: too-high"),
])
def test_a_reading_that_is_none_is_told_and_breaks_nothing(text, says, checked):
    readings = {"headspace": text, "collected_volume": "12"}
    code, said, _ = checked(lambda purge: purge["readings"].update(readings))
    assert code == 2
    assert f"body.readings.headspace {says}" in said


def test_what_another_version_stored_is_left_alone(checked):
    def other_version(purge):
        purge["result"]["foam"] = {"value": 1.0, "uncertainty": None}
        del purge["result"]["top_up_mass"]
        purge["events"].insert(1, {"at": purge["events"][0]["at"], "state": "foam", "event": "skimmed"})
        purge["readings"] |= {"foam_height": "3 ells"}

    assert checked(other_version)[:2] == (0, "")

"""The command line that scripts depend on."""

import json

import pint
import pytest
from tankfoot.cli import main

PURGE = ["reckon", "purge-volume", "headspace=3 bbl", "pressure_before=10 psi", "pressure_after=8 psi"]


def run(capsys, *arguments):
    code = main(list(arguments))
    said = capsys.readouterr()
    return code, said.out, said.err


def test_a_sum_comes_as_one_json_object_in_units_that_pint_reads(capsys):
    code, out, err = run(capsys, *PURGE, "--json")
    told = json.loads(out)
    assert (code, err, told["calculator"]) == (0, "", "purge-volume")
    registry = pint.UnitRegistry()
    for amount in [*told["inputs"].values(), *told["results"].values()]:
        registry.Quantity(amount["value"], amount["unit"])
    lost = told["results"]["volume_lost"]
    # Source: Boyle's law by hand, 3 bbl x (24.696 / 22.696 - 1) = 0.2644 bbl; CO2 is 1 % from ideal here.
    litres = registry.Quantity(lost["value"], lost["unit"]).to("liter").magnitude
    assert litres == pytest.approx(0.2644 * 117.3478, rel=0.02)
    assert lost["uncertainty"] > 0
    assert any("Gas must be shut" in caution for caution in told["cautions"])


def test_what_is_refused_is_told_on_the_error_stream_with_code_2(capsys):
    code, out, err = run(capsys, "reckon", "purge-volume", "headspace=1,000 bbl", "pressure_before=3 kg", "--json")
    errors = {error["field"]: error for error in json.loads(err)["errors"]}
    assert (code, out) == (2, "")
    assert {name: error["code"] for name, error in errors.items()} == {
        "headspace": "ambiguous-number", "pressure_before": "wrong-dimension", "pressure_after": "empty",
    }
    assert all(set(error) == {"field", "code", "message"} for error in errors.values())
    assert "psi" in errors["pressure_before"]["message"]


def test_a_gauge_that_did_not_fall_is_refused_with_what_it_means(capsys):
    code, _, err = run(capsys, "reckon", "purge-volume", "headspace=3", "pressure_before=8", "pressure_after=8")
    assert code == 2
    assert "gas was open" in err and "stuck" in err


def test_a_pressure_above_the_plate_is_refused(capsys):
    given = ["headspace=3", "pressure_before=8", "pressure_after=16", "rated_pressure=15"]
    code, _, err = run(capsys, "reckon", "co2-top-up", *given, "--json")
    assert code == 2
    assert json.loads(err)["errors"][0]["code"] == "above-rated"


@pytest.mark.parametrize(("system", "unit"), [("us", "bbl"), ("metric", "hL"), ("uk", "imp bbl")])
def test_the_table_is_in_the_chosen_units(capsys, system, unit):
    code, out, _ = run(capsys, *PURGE, "--units", system)
    assert code == 0
    assert f" {unit} ± " in out


def test_an_unknown_sum_and_a_word_without_equals_are_refused(capsys):
    assert run(capsys, "reckon", "beer", "--json")[0] == 2
    code, _, err = run(capsys, "reckon", "purge-volume", "headspace", "--json")
    assert (code, json.loads(err)["errors"][0]["code"]) == (2, "not-name-value")


def test_the_list_names_every_sum_with_its_inputs(capsys):
    code, out, _ = run(capsys, "list", "--json")
    listed = {calculator["id"]: calculator for calculator in json.loads(out)["calculators"]}
    assert code == 0
    assert {"purge-volume", "colour-change-saving", "co2-top-up", "alcohol-dilution"} <= set(listed)
    names = [field["name"] for field in listed["purge-volume"]["fields"]]
    assert names[:3] == ["headspace", "pressure_before", "pressure_after"]

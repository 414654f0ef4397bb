"""The command line keeps its contract: what goes in, what comes out, where, and with which exit code."""

import json
import re
import socket
import subprocess
import sys
import urllib.request

import pint
import pytest
from frozen import pages
from tankfoot import __version__
from tankfoot.calculators import calculators
from tankfoot.cli import main

STOCK_PINT = pint.UnitRegistry()
DROP = ["purge-volume", "headspace=3 bbl", "pressure_before=10 ± 0.5 psi", "pressure_after=8 psi"]


@pytest.fixture
def tankfoot(capsys):
    """Runs one command; returns (exit code, standard output, standard error)."""

    def run(*arguments):
        code = main(list(arguments))
        written = capsys.readouterr()
        return code, written.out, written.err

    return run


def test_one_json_object_with_inputs_results_and_cautions(tankfoot):
    code, out, err = tankfoot("reckon", *DROP, "--json")
    answer = json.loads(out)
    assert (code, err) == (0, "")
    assert out.count("\n") == 1
    assert list(answer) == ["calculator", "inputs", "results", "cautions"]
    assert answer["calculator"] == "purge-volume"
    assert answer["inputs"]["pressure_before"] == {"value": 10.0, "unit": "psi", "uncertainty": pytest.approx(0.5)}
    assert set(answer["results"]["volume_lost"]) == {"value", "unit", "uncertainty"}
    assert any(line.startswith("WARNING: ") for line in answer["cautions"])


def test_the_answer_is_right(tankfoot):
    _, out, _ = tankfoot("reckon", *DROP, "--json")
    lost = json.loads(out)["results"]["volume_lost"]
    # Source: ideal gas by hand, 3 bbl x (24.696 psi / 22.696 psi - 1) = 0.2644 bbl; CO2 is no ideal gas by about 1 %.
    assert lost["value"] == pytest.approx(0.2644, rel=0.02)
    assert lost["unit"] == "beer_barrel"


@pytest.mark.parametrize("system", ["us", "metric", "uk"])
@pytest.mark.parametrize("id", calculators())
def test_every_unit_in_an_answer_means_something_to_pint(id, system, tankfoot):
    examples = {name: field.examples[system] for name, field in calculators()[id].fields.items()}
    given = [f"{name}={text}" for name, text in examples.items() if text]
    code, out, err = tankfoot("reckon", id, *given, "--units", system, "--json")
    assert code == 0, err
    answer = json.loads(out)
    assert answer["results"]
    for quantity in (*answer["inputs"].values(), *answer["results"].values()):
        assert STOCK_PINT.Quantity(quantity["value"], quantity["unit"]).magnitude == quantity["value"]


def test_bare_numbers_and_results_follow_the_system_of_units(tankfoot):
    given = ["headspace=3", "pressure_before=0.7", "pressure_after=0.5"]
    for system, volume, pressure in (("metric", "hectoliter", "bar"), ("uk", "imperial_barrel", "bar")):
        _, out, _ = tankfoot("reckon", "purge-volume", *given, "--units", system, "--json")
        answer = json.loads(out)
        assert answer["inputs"]["headspace"] == {"value": 3.0, "unit": volume}
        assert answer["inputs"]["pressure_before"]["unit"] == pressure
        assert answer["results"]["volume_lost"]["unit"] == volume


def test_an_answer_can_be_given_back_as_an_input(tankfoot):
    _, out, _ = tankfoot("reckon", *DROP, "--json")
    inputs = json.loads(out)["inputs"]
    again = [f"{name}={given['value']} {given['unit']}" for name, given in inputs.items()]
    _, out_again, _ = tankfoot("reckon", "purge-volume", *again, "--json")
    assert json.loads(out_again)["results"] == json.loads(out)["results"]


REFUSED = {
    "no drop": ([*DROP, "pressure_after=10"], [("pressure_after", "no-drop")]),
    "above the plate": (
        ["co2-top-up", "headspace=3", "pressure_before=8", "pressure_after=16", "rated_pressure=15"],
        [("pressure_after", "above-rated")],
    ),
    "nothing given": (
        ["purge-volume"], [("headspace", "empty"), ("pressure_before", "empty"), ("pressure_after", "empty")],
    ),
    "no number": ([*DROP[:3], "pressure_after=low"], [("pressure_after", "not-a-number")]),
    "no such unit": ([*DROP[:3], "pressure_after=8 parsec"], [("pressure_after", "unknown-unit")]),
    "another quantity": ([*DROP[:3], "pressure_after=8 kg"], [("pressure_after", "wrong-dimension")]),
    "a comma that could be two things": ([*DROP, "headspace=1,234"], [("headspace", "ambiguous-number")]),
    "too much": ([*DROP, "temperature=99 °C"], [("temperature", "too-high")]),
    "no such input": ([*DROP, "colour=brown"], [("colour", "unknown-field")]),
    "no such sum": (["no-such-sum"], [("calculator", "unknown-calculator")]),
    "no name": (["purge-volume", "3 bbl"], [("3 bbl", "not-name-value")]),
}


@pytest.mark.parametrize("arguments, expected", REFUSED.values(), ids=REFUSED)
def test_a_refused_input_is_one_json_object_on_the_error_stream(arguments, expected, tankfoot):
    code, out, err = tankfoot("reckon", *arguments, "--json")
    errors = json.loads(err)["errors"]
    assert (code, out) == (2, "")
    assert [(error["field"], error["code"]) for error in errors] == expected
    assert all(set(error) == {"field", "code", "message"} and error["message"].endswith(".") for error in errors)


def test_a_refused_input_is_a_sentence_without_json(tankfoot):
    code, out, err = tankfoot("reckon", *REFUSED["no drop"][0])
    assert (code, out) == (2, "")
    assert err.startswith("Pressure after must be below pressure before.")
    assert "gas was open" in err and "stuck" in err


def test_a_table_for_people_has_inputs_results_and_cautions(tankfoot):
    code, out, _ = tankfoot("reckon", *DROP)
    assert code == 0
    assert re.search(r"^  Headspace +3 bbl$", out, re.MULTILINE)
    assert re.search(r"^  Left the tank +0\.\d\d bbl ± 0\.\d\d bbl$", out, re.MULTILINE)
    assert "WARNING: " in out


@pytest.mark.parametrize(("system", "unit"), [("us", "bbl"), ("metric", "hL"), ("uk", "imp bbl")])
def test_the_table_is_in_the_chosen_units(system, unit, tankfoot):
    code, out, _ = tankfoot("reckon", *DROP, "--units", system)
    assert code == 0
    assert f" {unit} ± " in out


def test_the_list_tells_all_that_a_program_needs_to_ask(tankfoot):
    _, out, _ = tankfoot("list", "--json")
    listed = {calculator["id"]: calculator for calculator in json.loads(out)["calculators"]}
    assert set(listed) == set(calculators())
    for calculator in listed.values():
        for field in calculator["fields"]:
            assert {"name", "label", "help", "units", "required", "lowest", "highest"} <= set(field)
            assert all(STOCK_PINT.parse_units(unit) is not None for unit in field["units"])
        assert calculator["results"]


def test_a_required_input_is_asked_for_and_the_others_are_not(tankfoot):
    _, out, _ = tankfoot("list", "--json")
    for calculator in json.loads(out)["calculators"]:
        _, _, err = tankfoot("reckon", calculator["id"], "--json")
        required = [field["name"] for field in calculator["fields"] if field["required"]]
        empty = [error["field"] for error in json.loads(err)["errors"] if error["code"] == "empty"] if err else []
        assert empty == required, calculator["id"]


def test_the_list_for_people_names_every_sum(tankfoot):
    code, out, _ = tankfoot("list")
    assert code == 0
    assert all(f"{id}: " in out for id in calculators())


# POSIX, write(): EPIPE when nobody reads the pipe any more, as after "| head". That is no fault of the command.
def test_a_reader_that_leaves_early_is_not_complained_about():
    command = [sys.executable, "-c", "import sys; from tankfoot.cli import main; sys.exit(main())", "list", "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as listing:
        listing.stdout.close()
        assert listing.stderr.read() == b""
    assert listing.returncode == 1


def test_build_writes_the_site_where_it_is_told(tankfoot, tmp_path, site):
    code, out, _ = tankfoot("build", "--output", str(tmp_path / "here"))
    assert code == 0
    assert pages(tmp_path / "here") == pages(site)
    assert re.match(r"\d+ files, \d+ kB in ", out)


def test_build_leaves_nothing_old_behind_but_the_readme(tankfoot, tmp_path):
    (tmp_path / "old.html").write_text("from an earlier build", encoding="utf-8")
    (tmp_path / "README").write_text("what this folder is", encoding="utf-8")
    tankfoot("build", "--output", str(tmp_path))
    assert not (tmp_path / "old.html").exists()
    assert (tmp_path / "README").exists()


def test_serve_takes_the_next_free_port_and_says_so(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        command = [sys.executable, "-c", "import sys; from tankfoot.cli import main; sys.exit(main())"]
        command += ["serve", "--port", str(port), "--output", str(tmp_path)]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
            try:
                assert server.stdout.readline() == f"Port {port} is taken; this is the next free one.\n"
                address = re.search(r"http://127\.0\.0\.1:(\d+)", server.stdout.readline())
                assert int(address.group(1)) > port
                with urllib.request.urlopen(address.group()) as answer:
                    assert answer.status == 200
                    assert b"Tankfoot" in answer.read()
            finally:
                server.terminate()


def test_the_version_is_told(tankfoot, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out == f"{__version__}\n"

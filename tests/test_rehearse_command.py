"""`tankfoot rehearse`: a scenario goes in; its course comes out, in words or as one JSON object."""

import json

import pytest
from tankfoot.rehearsal.scenarios import scenarios
from tankfoot.wording import words

WRONG_CLAMP = '[{"t": 5, "act": "tank-side", "to": "open"}]'


def test_the_course_is_one_json_object(tankfoot):
    code, out, err = tankfoot("rehearse", "plain-trub", "--json")
    assert (code, err, out.count("\n")) == (0, "", 1)
    told = json.loads(out)
    assert list(told) == ["scenario", "events", "course"]
    assert told["scenario"] == "plain-trub"
    assert all("t" in each and ("act" in each) != ("happened" in each) for each in told["events"])
    assert [each["t"] for each in told["events"]] == sorted(each["t"] for each in told["events"])
    assert [row["t"] for row in told["course"]] == [float(second) for second in range(len(told["course"]))]
    columns = ["t", "pressure", "headspace", "beer_lost", "solids_out", "co2_lost", "glass"]
    assert {tuple(row) for row in told["course"]} == {tuple(columns)}
    first, last = told["course"][0], told["course"][-1]
    assert first["pressure"] == pytest.approx(68947.57, abs=0.01)
    # All that left is what the headspace grew by.
    assert last["headspace"] - first["headspace"] == pytest.approx(last["beer_lost"] + last["solids_out"], rel=1e-9)


def test_the_same_command_plays_the_same_run(tankfoot):
    assert tankfoot("rehearse", "hops-that-plug", "--json") == tankfoot("rehearse", "hops-that-plug", "--json")


def test_the_acts_of_a_file_are_played(tankfoot, tmp_path):
    file = tmp_path / "acts.json"
    file.write_text(WRONG_CLAMP, encoding="utf-8")
    told = json.loads(tankfoot("rehearse", "plain-trub", "--acts", file, "--json")[1])
    assert told["events"][0] == {"t": 5.0, "act": "tank-side", "to": "open"}
    assert told["events"][1]["happened"] == "jet"
    assert told["course"][-1]["beer_lost"] > 0.05
    other = tmp_path / "acts.toml"
    other.write_text('[[acts]]\nt = 5\nact = "tank-side"\nto = "open"\n', encoding="utf-8")
    assert json.loads(tankfoot("rehearse", "plain-trub", "--acts", other, "--json")[1]) == told


def test_in_words_a_mistake_says_what_would_have_stopped_it(tankfoot, tmp_path):
    file = tmp_path / "acts.json"
    file.write_text(WRONG_CLAMP, encoding="utf-8")
    code, out, _ = tankfoot("rehearse", "plain-trub", "--acts", file, "--units", "metric")
    assert code == 0
    jet = words("rehearsal")["happened"]["jet"]
    assert f"What would have stopped it: {jet['instead']}" in out
    assert "L/min" in out and "not done  The isolation valve stands shut." not in out.splitlines()[0]
    assert words("command")["rehearse"]["picture"] in out


@pytest.mark.parametrize("name", scenarios())
def test_every_scenario_is_told_in_words(tankfoot, name):
    code, out, err = tankfoot("rehearse", name)
    assert (code, err) == (0, "")
    assert out.startswith(words("rehearsal")["scenarios"][name]["title"])
    assert "{" not in out and "not done" not in out


REFUSED = {
    "no JSON": ("[", "is no list of acts in JSON or TOML"),
    "no list": ('{"t": 1}', "is no list of acts: write a row for each"),
    "no table": ("[1]", "act 1: is no table"),
    "no time": ('[{"act": "gas", "to": true}]', "act 1: has no t: write it"),
    "a time that never comes": ('[{"t": -1, "act": "gas", "to": true}]', "-1 is no time in a rehearsal: use 0 to"),
    "no number": ('[{"t": NaN, "act": "gas", "to": true}]', "is no time in a rehearsal"),
    "an act that is none": ('[{"t": 1, "act": "kick", "to": true}]', "'kick' is not known: use isolation"),
    "a place that is none": ('[{"t": 1, "act": "hose", "to": "sink"}]', "hose cannot go to 'sink': use bucket or"),
    "too far": ('[{"t": 1, "act": "isolation", "to": 2}]', "isolation cannot go to 2: use 0 to 1"),
    "a key too many": ('[{"t": 1, "act": "gas", "to": true, "by": "AB"}]', "'by' is not known"),
}


@pytest.mark.parametrize(("text", "says"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_list_of_acts_is_refused(tankfoot, tmp_path, text, says):
    file = tmp_path / "acts.json"
    file.write_text(text, encoding="utf-8")
    code, out, err = tankfoot("rehearse", "plain-trub", "--acts", file)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert says in err


def test_a_scenario_that_is_none_lists_them(tankfoot):
    code, out, err = tankfoot("rehearse", "first")
    assert (code, out) == (2, "")
    assert all(name in err for name in scenarios())


def test_a_file_that_is_not_there_is_told(tankfoot, tmp_path):
    code, _, err = tankfoot("rehearse", "plain-trub", "--acts", tmp_path / "none.json")
    assert code == 1
    assert "cannot be read" in err

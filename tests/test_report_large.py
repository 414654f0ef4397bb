"""A report of very many purges: in columns, on all cores, and still one page."""

import json
import math
import random
import statistics

import drawn_report
import many_phones
import pytest
from cases import SEED
from tankfoot.cli import main
from tankfoot.office import figured, report_page
from tankfoot.office.columns import Ids, Instants, Numbers, taken
from tankfoot.report.figures import by_instrument, figures_of
from tankfoot.usual.median import MANY, median

PHONES, PURGES = 4, 60


@pytest.fixture(scope="module")
def phones(tmp_path_factory):
    return many_phones.write(tmp_path_factory.mktemp("phones"), PHONES, PURGES, many_phones.drawn(40))


@pytest.mark.parametrize("many", [0, 10**9])
def test_figures_in_columns_are_those_that_the_phone_has(many, monkeypatch):
    monkeypatch.setattr(figured, "MANY", many)
    monkeypatch.setattr(figured, "cores", lambda: 2)
    rng = random.Random(SEED)
    for _ in range(8):
        facts, groups, prices, baseline = drawn_report.groups(rng)
        facts = {name: in_column(name, values) for name, values in facts.items()}
        apart = by_instrument(facts, groups)
        theirs = figured.figured(facts, {"all": apart[:1], "more": apart[1:]}, prices, baseline)
        ours = figures_of(facts, groups, prices, baseline)
        assert [*theirs["all"], *theirs["more"]] == ours
        assert theirs["more"][-1:] == ours[-1:]


def in_column(name, values):
    if all(isinstance(value, float) or value is None for value in values):
        return Numbers(math.nan if value is None else value for value in values)
    return values


def test_columns_give_out_what_was_put_in():
    rng = random.Random(SEED)
    ids, instants, numbers = Ids(), Instants(), Numbers()
    years = [rng.randint(1900, 2099) for _ in range(99)]
    put = [(many_phones.id_of(str(n)), f"{year}-03-01T07:05:09.{n:03d}Z", n / 7.0) for n, year in enumerate(years)]
    for id, instant, number in put:
        ids.append(id)
        instants.append(instant)
        numbers.append(number)
    assert list(zip(ids, instants, numbers, strict=True)) == put
    columns = [taken(column, range(9, 40)) for column in (ids, instants, numbers)]
    assert list(zip(*columns, strict=True)) == put[9:40]
    both = Ids()
    both.extend(columns[0])
    both.extend(ids)
    assert both[31] == put[0][0] and len(both) == 130
    assert sorted(instants) == [instant for _, instant in sorted(zip(instants.numbers, instants, strict=True))]


# Source: Python's statistics.median, which sorts all of them.
@pytest.mark.parametrize("draw", [
    pytest.param(lambda rng, place: rng.random(), id="all different"),
    pytest.param(lambda rng, place: rng.choice((0.0, 0.0, 1.0, 2.0)), id="few different"),
    pytest.param(lambda rng, place: float(place), id="rising"),
    pytest.param(lambda rng, place: float(place % 5), id="in step with the sample"),
    pytest.param(lambda rng, place: -1.0 / (1.0 + place), id="crowded at one end"),
])
def test_the_median_of_very_many_is_that_of_all(draw):
    rng = random.Random(SEED)
    for count in (MANY - 1, MANY, MANY + 1, 12_345):
        values = [draw(rng, place) for place in range(count)]
        assert median(values) == statistics.median(values)


def test_groups_add_up_to_the_whole(phones, capsys):
    assert main(["report", "--json", "--zone", "UTC", *map(str, phones)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["all"]["purges"] == PHONES * PURGES
    for by in ("tanks", "solids", "months", "weeks", "batches"):
        assert sum(made["purges"] for made in told[by].values()) == PHONES * PURGES
        for name in ("overrun", "co2_mass", "seconds"):
            # math.fsum of the groups: each was rounded once
            assert math.fsum(made[name]["sum"] for made in told[by].values()) == pytest.approx(
                told["all"][name]["sum"], rel=1e-12
            )


def test_a_page_of_very_many_tanks_and_batches_shows_some_and_says_how_many_not(phones, tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(report_page, "ROWS", 4)
    assert main(["report", "--zone", "UTC", *map(str, phones), "-o", str(tmp_path / "report.html")]) == 0
    assert main(["report", "--zone", "UTC", *map(str, phones), "--json"]) == 0
    told = json.loads(capsys.readouterr().out.partition("\n")[2])
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    most = sorted(told["tanks"], key=lambda tank: told["tanks"][tank]["overrun"]["sum"])
    assert all(f'<th scope="row">{tank}</th>' in page for tank in most[-4:])
    assert not any(f'<th scope="row">{tank}</th>' in page for tank in most[:-4])
    assert f"{len(most) - 4} more are not shown" in page
    assert f"{len(told['batches']) - 4} more are not shown" in page

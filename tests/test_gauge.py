"""What a tank's gauge tells in time: against CoolProp, a worked example and the rules of its own past."""

from datetime import UTC, datetime, timedelta

import pytest
from CoolProp.CoolProp import PropsSI
from tankfoot.batches.gauge import at_one_temperature, breaks_of, intervals_of, points_of, told_by, top_up

PSI = 6894.757293168361  # Pa, NIST SP 811
AIR = 101325.0  # Pa
COLD = 275.15  # K
DAY = 86400.0  # s
START = datetime(2026, 3, 1, 7, tzinfo=UTC)
VESSEL = {"headspace": 0.7882, "beer": 1.5, "air_pressure": AIR, "floor": None}
OFF = 0.0005  # of the gas's whole mass: how far its density may be from the reference, design.md


def instant(days):
    return (START + timedelta(days=days)).strftime("%Y-%m-%dT%H:%M:%S.000Z")


def point(days, psi, kelvin=COLD, *, doubt=0.1, after=None):
    return {
        "id": f"{days}", "at": instant(days), "pressure": None if psi is None else psi * PSI,
        "pressure_doubt": None if doubt is None else doubt * PSI, "temperature": kelvin, "temperature_doubt": 0.1,
        "topped_up": None if after is None else after * PSI, "topped_up_doubt": doubt and doubt * PSI,
    }


def points(*readings, every=2.0):
    """A reading of each of these pressures (psi), every second day."""
    return [point(place * every, psi) for place, psi in enumerate(readings)]


def density(pressure, temperature):
    return PropsSI("D", "T", temperature, "P", pressure, "CO2")


@pytest.mark.parametrize(("psi", "after", "kelvin", "warmed"), [
    (14.0, 12.0, 273.65, 0.0), (14.0, 12.0, 275.15, 0.5), (5.0, 4.9, 283.15, -1.0), (30.0, 10.0, 293.15, 3.0),
])
def test_the_loss_is_the_reference_equations(psi, after, kelvin, warmed):
    # Source: Span and Wagner (1996) through CoolProp.
    lost = density(psi * PSI + AIR, kelvin) - density(after * PSI + AIR, kelvin + warmed)
    [found] = intervals_of([point(0.0, psi, kelvin), point(2.0, after, kelvin + warmed)], [], VESSEL)
    whole = VESSEL["headspace"] * density(psi * PSI + AIR, kelvin)
    assert found["rate"] * 2.0 * DAY == pytest.approx(VESSEL["headspace"] * lost, abs=2 * OFF * whole)


def test_a_leak_as_worked_by_hand():
    # By hand: 1 psi less in two days over 0.7882 m3 at 2 °C. Ideal gas: V M dp / (R T) = 0.7882 x 0.0440095 x 6894.757
    # / (8.314463 x 275.15) = 0.10454 kg; over Z^2, Z = 1 - 147.4e-6 x 180.6e3 / 2287.7 = 0.9884 (B by the design's
    # table): 0.1070 kg, 53.5 g a day.
    told = told_by(points(12.0, 11.0), [], VESSEL | {"floor": 5.0 * PSI})
    assert told["rate"]["value"] * DAY == pytest.approx(0.0535, rel=0.002)
    # ± by hand: 0.1 psi on either side, by squares 0.1414 of 1 psi; 0.1 K of 275.15 K on either side is 0.051 % of the
    # 2.72 kg in it, 1.4 g of 107 g; the headspace 5 %: 0.1414, 0.013 and 0.05 by squares are 0.151.
    assert told["rate"]["uncertainty"] / told["rate"]["value"] == pytest.approx(0.151, abs=0.004)
    # By hand: half a psi a day takes 12 days from 11 psi to 5; the gas is up to 2 % less dense for its pressure there.
    assert told["to_floor"]["value"] / DAY == pytest.approx(12.0, rel=0.02)
    assert told["to_floor"]["uncertainty"] == pytest.approx(0.16 * told["to_floor"]["value"], rel=0.1)


def test_a_tank_that_only_cools_lost_nothing():
    warm, cold = 293.15, 291.15
    # Source: Span and Wagner (1996) through CoolProp: the pressure of the same gas once it is colder.
    after = PropsSI("P", "T", cold, "D", density(12.0 * PSI + AIR, warm), "CO2") - AIR
    assert after < 11.9 * PSI
    whole = VESSEL["headspace"] * density(12.0 * PSI + AIR, warm)
    [found] = intervals_of([point(0.0, 12.0, warm), point(2.0, after / PSI, cold)], [], VESSEL)
    assert abs(found["rate"]) * 2.0 * DAY < 2 * OFF * whole
    corrected = at_one_temperature(point(2.0, after / PSI, cold), warm, AIR)
    assert corrected["value"] == pytest.approx(12.0 * PSI, abs=2 * OFF * (12.0 * PSI + AIR))


def test_what_the_beer_may_give_is_in_the_give_or_take():
    # From memory, the trade's charts: at 12 psi beer holds 2.8 volumes at 2 °C and 2.0 at 12 °C; a volume is 1.977 g/L.
    chilled = [point(0.0, 12.0, 285.15), point(2.0, 12.0, 275.15)]
    [found] = intervals_of(chilled, [], VESSEL)
    assert found["uncertainty"] * 2.0 * DAY == pytest.approx(1.5 * 0.8 * 1.977, rel=0.15)
    assert told_by(chilled, [], VESSEL | {"floor": 5.0 * PSI})["to_floor"] is None


def test_a_top_up_is_the_reference_equations():
    tank = {"hold_pressure": 12.0 * PSI, "rated_pressure": 15.0 * PSI}
    found = top_up(point(0.0, 8.0), tank, 0.7882, AIR, 30.0)
    # Source: Span and Wagner (1996) through CoolProp.
    mass = 0.7882 * (density(12.0 * PSI + AIR, COLD) - density(8.0 * PSI + AIR, COLD))
    assert found["value"] == pytest.approx(mass, rel=0.005)
    assert found["share"] == pytest.approx(mass / 30.0, rel=0.005)
    # ± by hand: 0.1 psi as typed and 0.5 psi, the sum's own of the pressure to stop at, over 4 psi; headspace 5 %.
    assert found["uncertainty"] / found["value"] == pytest.approx(((0.51 / 4) ** 2 + 0.05**2) ** 0.5, rel=0.03)


@pytest.mark.parametrize(("psi", "hold", "plate", "headspace"), [
    (12.2, 12.0, 15.0, 0.8),  # above it
    (11.8, 12.0, 15.0, 0.8),  # half a psi of either reading cannot tell these
    (8.0, 16.0, 15.0, 0.8),  # never above the plate
    (8.0, None, 15.0, 0.8),
    (8.0, 12.0, 15.0, -0.1),  # by its numbers the tank is full
])
def test_no_top_up_is_told(psi, hold, plate, headspace):
    tank = {"hold_pressure": hold and hold * PSI, "rated_pressure": plate * PSI}
    assert top_up(point(0.0, psi), tank, headspace, AIR, 30.0) is None


# By the rule: three earlier intervals at least, then more than twice the ± of both above their median.
@pytest.mark.parametrize(("readings", "faster"), [
    ((14.0, 13.9, 13.8, 13.7, 11.7), True),  # 2 psi where 0.1 psi is usual
    ((14.0, 13.9, 13.8, 13.7, 13.6), False),
    ((14.0, 13.9, 13.8, 13.7, 13.4), False),  # 0.3 psi: no more than the gauge's own ± makes of 0.1
    ((14.0, 13.9, 13.8, 11.8), None),  # two earlier intervals
    ((14.0, 12.0), None),
    ((14.0, 12.0, 10.0, 8.0, 6.0), False),  # it always lost that
    ((14.0, 13.5, 11.5, 11.0, 9.0), False),  # its past goes so far up and down by itself
    ((30.0, 29.9, 27.9, 27.8, 27.7, 27.6, 27.5, 27.4, 25.4), True),  # a single one of many hides nothing
    ((6.0, 8.0, 10.0, 12.0, 12.0), False),  # it rose while the beer fermented; now it stands
    ((6.0, 8.0, 10.0, 12.0, 9.0), True),  # it rose, now it loses
])
def test_faster_than_its_own_past(readings, faster):
    assert told_by(points(*readings), [], VESSEL)["faster"] is faster


def test_a_coarse_gauge_tells_less():
    # as typed ± 1 psi: a fall of 2 psi is within what such a gauge makes of nothing
    coarse = [point(2.0 * place, psi, doubt=1.0) for place, psi in enumerate((14.0, 13.9, 13.8, 13.7, 11.7))]
    assert told_by(coarse, [], VESSEL)["faster"] is False


def test_no_interval_lies_across_what_breaks_the_series():
    read = points(14.0, 13.9, 13.8, 13.7, 8.0)
    for at in (instant(7.0), instant(8.0)):  # between the last two, and at the instant of the last
        told = told_by(read, [at], VESSEL)
        assert (told["rate"], told["faster"], told["count"]) == (None, None, 3)
    assert told_by(read, [instant(6.0)], VESSEL)["count"] == 2  # what came with the one before is no break of the last
    assert told_by(read, [instant(6.0)], VESSEL)["rate"] is not None


def test_a_top_up_begins_a_new_series():
    read = [point(0.0, 14.0), point(2.0, 10.0, after=14.0), point(4.0, 13.0)]
    rates = [found["rate"] for found in intervals_of(read, [], VESSEL)]
    # by hand: 4 psi, then 1 psi from the top-up on
    assert rates[0] / rates[1] == pytest.approx(4.0, rel=0.01)
    alone = [point(0.0, 14.0), point(1.0, None, after=15.0), point(3.0, 14.0)]
    [found] = intervals_of(alone, [], VESSEL)  # told by itself: what it ended is not known
    assert found["since"] == instant(1.0)


def test_within_an_hour_nothing_is_told():
    assert intervals_of([point(0.0, 14.0), point(0.04, 12.0)], [], VESSEL) == []  # 57.6 min
    assert len(intervals_of([point(0.0, 14.0), point(0.05, 12.0)], [], VESSEL)) == 1


def test_at_or_under_the_floor_no_time_is_told():
    assert told_by(points(12.0, 4.0), [], VESSEL | {"floor": 5.0 * PSI})["to_floor"] is None


def test_readings_as_typed_become_points():
    def entry(id, days, deleted=False, **more):
        typed = {"pressure": None, "temperature": None, "topped_up": None}
        return {"id": id, "deleted": deleted, "body": {"at": instant(days)} | typed | more}

    found = points_of([
        entry("c", 4, pressure="0,9 bar ± 0,05"), entry("a", 0, pressure="12 psi", temperature="36 °F"),
        entry("b", 2, pressure="11"), entry("d", 5, deleted=True, pressure="1 psi"), entry("e", 6, temperature="50 °F"),
    ], 290.0, "us")
    # 1 psi is 6894.757 Pa (NIST SP 811); 36 °F is 275.372 K
    assert [one["pressure"] for one in found] == pytest.approx([12 * PSI, 11 * PSI, 90000.0])
    assert [one["pressure_doubt"] for one in found] == [None, None, pytest.approx(5000.0)]
    assert [one["temperature"] for one in found] == pytest.approx([275.372, 275.372, 275.372], abs=0.001)
    assert [one["temperature_doubt"] for one in found] == [None, 3.0, 3.0]  # read once, then some degrees off


def test_purges_and_what_went_in_or_out_break_the_series():
    purge = {"created": instant(1.0), "deleted": False, "body": {"events": [{"at": instant(1.1)}]}}
    events = [{"deleted": deleted, "body": {"event": event, "at": instant(days)}} for event, days, deleted in (
        ("filled", 0.0, False), ("cooled", 0.5, False), ("dry-hopped", 2.0, False), ("harvested", 3.0, True),
        ("emptied", 4.0, False),
    )]
    assert breaks_of([purge, {**purge, "deleted": True}], events) == [
        instant(0.0), instant(1.0), instant(1.1), instant(2.0), instant(4.0),
    ]

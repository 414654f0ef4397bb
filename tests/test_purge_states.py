"""Where the events of a purge lead: the same state in both languages, whatever was taken back."""

import random

import pytest
from tankfoot.purge.machine import FIRST, LAST, WrongEvent, next_state, state_after
from test_purge_table import at, roads, shortest

OLD = "1"  # the first table: its purges are kept for good

# By hand, on the table: an undo takes back the last event that stands, whatever it was; on nothing it means nothing.
STATES = [
    ([], "choose"), (["undo"], "choose"), (["undo", "begin"], "ready"), (["begin", "undo", "undo"], "choose"),
    (["begin", "bogus", "undo"], "ready"), (["begin", "bogus", "undo", "undo", "begin", "skip"], "sanitise"),
    (["begin", "trouble", "undo"], "ready"), (["begin", "all-there", "trouble", "undo", "undo"], "ready"),
    (["begin", "undo", "trouble"], "wrong-event"), (["bogus"], "wrong-event"), (["begin", "bogus"], "wrong-event"),
    (["begin", "constructor"], "wrong-event"), (["begin", "undo", "undo", "all-there"], "wrong-event"),
    (["begin", "bogus", "undo", "opened"], "wrong-event"), ([*shortest(OLD, LAST), "undo"], "finish"),
    ([*shortest(OLD, LAST), "trouble"], "wrong-event"), ([*shortest(OLD, LAST), "trouble", "undo"], "saved"),
]


def told(events):
    try:
        return state_after(events, OLD)
    except WrongEvent as wrong:
        return wrong.code


def walked(rng):
    """Names of events: mostly a walk through the table, with undos, troubles and nonsense in it."""
    names, states = [], [FIRST]
    while len(names) < 60 and rng.random() < 0.97:
        onward = list(roads(OLD, states[-1]))
        odd = rng.random() < 0.2 or not onward
        names.append(rng.choice(("undo", "undo", "undo", "trouble", "nonsense") if odd else onward))
        if names[-1] != "undo":
            states.append(roads(OLD, states[-1]).get(names[-1], states[-1:])[0])
        elif len(states) > 1:
            states.pop()
    return names


def test_a_purges_events_lead_to_the_same_state_in_both_languages(chromium, served):
    rng = random.Random(20260301)
    lists = [at(*names) for names, _ in STATES] + [at(*walked(rng)) for _ in range(3000)]
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    theirs = page.evaluate(
        """async ([url, lists]) => {
          const { stateAfter } = (await import(url)).take("purge/machine.js");
          return lists.map((events) => {
            try { return stateAfter(events, "1"); } catch (error) { return error.code ?? String(error); }
          });
        }""",
        [served.script, lists],
    )
    page.close()
    ours = [told(events) for events in lists]
    assert theirs == ours
    assert ours[:len(STATES)] == [state for _, state in STATES]
    assert {"wrong-event", LAST} < set(ours)


@pytest.mark.parametrize(("state", "event"), [("nowhere", "begin"), ("constructor", "trouble"), ("choose", "trouble")])
def test_a_step_that_is_not_there_knows_no_event(state, event):
    with pytest.raises(WrongEvent):
        next_state(state, event)

"""A whole rehearsal is the same in both languages: what happens when, and every number of its course."""

import json

import pytest
from direct import same
from tankfoot.rehearsal.play import play
from tankfoot.rehearsal.scenarios import scenarios

CLOSE = 1e-9
PLAY = """async (given) => {
  const { root, runs } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const { play } = await take("rehearsal/play.js");
  const { scenarios } = await take("rehearsal/declared.js");
  return JSON.stringify(runs.map(([name, seed, acts, until]) => play(scenarios[name], seed, acts, until)));
}"""
# The states of a host whose frames come as they like: steps are made as time says, never by the frame.
FRAMES = """async (given) => {
  const { root, name, acts, frames } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const { begin, step, STEP } = await take("rehearsal/model.js");
  const { act } = await take("rehearsal/acts.js");
  const { scenarios } = await take("rehearsal/declared.js");
  return JSON.stringify(frames.map((length) => {
    let [state, now, left] = [begin(scenarios[name], "frames"), 0, [...acts]];
    while (state.steps < 600) {
      now += length;
      while (state.steps < 600 && (state.steps + 1) * STEP <= now + 1e-9) {
        while (left.length && Math.round(left[0].t / STEP) <= state.steps) state = act(state, left.shift());
        state = step(state);
      }
    }
    return state;
  }));
}"""
COST = """async (given) => {
  const { root, runs } = JSON.parse(given);
  const { take } = await import(`${root}js/tankfoot.js`);
  const { play } = await take("rehearsal/play.js");
  const { scenarios } = await take("rehearsal/declared.js");
  return runs.map(([name, acts, until]) => {
    const start = performance.now();
    const { state } = play(scenarios[name], "cost", acts, until);
    return (performance.now() - start) / state.steps;
  });
}"""
STEP_WITHIN = 1.0  # ms, the project's own aim, no source
SLOWER = 4


@pytest.fixture
def page(chromium, served):
    context = chromium.new_context(service_workers="block", bypass_csp=True)
    page = context.new_page()
    page.goto(served.address)
    yield page
    context.close()


def runs():
    for name, one in scenarios().items():
        yield [name, f"seed of {name}", one["right"], None]
        yield from ([name, f"seed of {name}", wrong["acts"], wrong["until"]] for wrong in one["wrong"].values())


def test_every_run_of_every_scenario_is_the_same_in_both_languages(page, served):
    given = list(runs())
    theirs = json.loads(page.evaluate(PLAY, json.dumps({"root": served.address, "runs": given})))
    for (name, seed, acts, until), their in zip(given, theirs, strict=True):
        ours = json.loads(json.dumps(play(scenarios()[name], seed, acts, until)))
        assert same(ours["events"], their["events"], CLOSE), name
        assert same(ours["course"], their["course"], CLOSE), name
        assert same(ours["state"], their["state"], CLOSE), name


def test_the_frame_rate_changes_nothing(page, served):
    acts = scenarios()["hops-that-plug"]["right"]
    frames = [1 / 60, 1 / 144, 0.05, 0.31, 7.0]
    given = {"root": served.address, "name": "hops-that-plug", "acts": acts, "frames": frames}
    first, *others = json.loads(page.evaluate(FRAMES, json.dumps(given)))
    assert first["happened"]
    assert [other == first for other in others] == [True] * 4


@pytest.mark.alone
def test_a_step_costs_little_on_a_slow_phone(page, served, tell):
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    given = [[name, one["right"], 60.0] for name, one in scenarios().items()]
    costs = page.evaluate(COST, json.dumps({"root": served.address, "runs": given}))
    tell(f"a step of a rehearsal, {SLOWER} times slowed: {max(costs):.2f} ms at most, {min(costs):.2f} ms at least")
    assert max(costs) < STEP_WITHIN

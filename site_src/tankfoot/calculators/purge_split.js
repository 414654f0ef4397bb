/** What left the tank in a purge, told apart. Twin of purge_split.py. */

export function refusals(x) {
  return x.overrun_time > x.run_time ? [["overrun_time", "longer-than-the-run"]] : [];
}

export function compute(x) {
  const overrun = x.volume_lost * x.overrun_time / x.run_time;
  const beforeChange = x.volume_lost - overrun;
  const beerInSolids = beforeChange * x.beer_share;
  const saved = x.usual_overrun === null ? null : x.usual_overrun - overrun;
  return {
    overrun,
    solids: beforeChange - beerInSolids,
    beer_in_solids: beerInSolids,
    saved,
    money_lost: x.beer_value === null ? null : (overrun + beerInSolids) * x.beer_value,
    money_saved: x.beer_value === null || saved === null ? null : saved * x.beer_value,
  };
}

export function remarks(x, y) {
  return x.usual_overrun !== null && y.overrun > x.usual_overrun ? ["a-loss"] : [];
}

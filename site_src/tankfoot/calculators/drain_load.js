/** What a purge does to the drain, and what collecting it saves. Twin of drain_load.py. */

const USUAL_DEMAND = [50.0, 400.0];

export function refusals(x) {
  const refused = [];
  if (x.day_flow === null && (x.solids_limit !== null || x.demand_limit !== null)) {
    refused.push(["day_flow", "limit-needs-flow"]);
  }
  if (x.solids_content > x.density * x.dryness) refused.push(["dryness", "wetter-than-the-purge"]);
  return refused;
}

export function compute(x) {
  const drained = x.volume * (1.0 - x.captured_share);
  const captured = x.volume * x.captured_share;
  const flow = x.day_flow === null ? null : x.day_flow + drained;
  const due = surcharge(x, drained);
  const wet = captured * x.density;
  const dried = captured * x.solids_content / x.dryness;
  return {
    suspended_solids: drained * x.solids_content,
    demand: drained * x.oxygen_demand,
    solids_concentration: flow === null ? null : drained * x.solids_content / flow,
    demand_concentration: flow === null ? null : drained * x.oxygen_demand / flow,
    surcharge: due,
    surcharge_saved: due === null ? null : surcharge(x, x.volume) - due,
    wet_mass: wet,
    dried_mass: dried,
    haulage: x.haulage_charge === null ? null : wet * x.haulage_charge,
    haulage_dried: x.haulage_charge === null ? null : dried * x.haulage_charge,
  };
}

/** @returns {any} a number, null where nothing is charged */
function surcharge(x, drained) {
  if (x.solids_charge === null && x.demand_charge === null) return null;
  const flow = x.day_flow === null ? 0.0 : x.day_flow + drained;
  const solids = charged(drained * x.solids_content, x.solids_limit, flow, x.solids_charge);
  const demand = charged(drained * x.oxygen_demand, x.demand_limit, flow, x.demand_charge);
  return solids + demand;
}

function charged(load, limit, flow, charge) {
  if (charge === null) return 0.0;
  const free = limit === null ? 0.0 : limit * flow;
  return Math.max(0.0, load - free) * charge;
}

export function remarks(x, y) {
  const said = [];
  if (x.solids_limit !== null && y.solids_concentration > x.solids_limit) said.push("over-solids-limit");
  if (x.demand_limit !== null && y.demand_concentration > x.demand_limit) said.push("over-demand-limit");
  if (!(x.oxygen_demand >= USUAL_DEMAND[0] && x.oxygen_demand <= USUAL_DEMAND[1])) said.push("unusual-demand");
  return said;
}

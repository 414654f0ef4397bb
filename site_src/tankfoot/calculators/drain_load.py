"""What a purge does to the drain, and what collecting it saves."""

from tankfoot.quantities.field import Form, Quantity

RESULTS = {
    "suspended_solids": "solids_mass",
    "demand": "solids_mass",
    "solids_concentration": "concentration",
    "demand_concentration": "concentration",
    "surcharge": "money",
    "surcharge_saved": "money",
    "wet_mass": "solids_mass",
    "dried_mass": "solids_mass",
    "haulage": "money",
    "haulage_dried": "money",
}
MORE = ("solids_limit", "demand_limit", "solids_charge", "demand_charge", "haulage_charge")
CAUTIONS = {"closed-container": "WARNING", "permit": "NOTICE"}
USUAL_DEMAND = (50.0, 400.0)  # kg/m3: from thin beer to thick yeast with its beer, by stoichiometry


class Inputs(Form):
    volume = Quantity(
        "tank_volume", low="0.001 bbl", high="4000 bbl", uncertainty="10 %",
        example={"us": "1 bbl", "metric": "1 hL", "uk": "1 imp bbl"},
    )
    solids_content = Quantity(
        "load_content", low="0 g/L", high="400 g/L", uncertainty="20 %", default="100 g/L",
    )
    oxygen_demand = Quantity(
        "load_content", low="0 g/L", high="1000 g/L", uncertainty="20 %", default="200 g/L",
    )
    captured_share = Quantity("share", low="0 %", high="100 %", default="0 %", example="80 %")
    day_flow = Quantity(
        "tank_volume", low="1 L", high="100000 bbl", uncertainty="10 %", optional=True,
        example={"us": "100 bbl", "metric": "120 hL", "uk": "70 imp bbl"},
    )
    solids_limit = Quantity("concentration", low="0 mg/L", high="100 g/L", optional=True)
    demand_limit = Quantity("concentration", low="0 mg/L", high="100 g/L", optional=True)
    solids_charge = Quantity("load_charge", low="0 $/kg", high="1000 $/kg", optional=True)
    demand_charge = Quantity("load_charge", low="0 $/kg", high="1000 $/kg", optional=True)
    haulage_charge = Quantity("haulage_charge", low="0 $/t", high="100000 $/t", optional=True)
    density = Quantity("density", low="900 kg/m³", high="1300 kg/m³", default="1.05 g/mL")
    dryness = Quantity("share", low="1 %", high="100 %", default="25 %")


def refusals(x):
    if x.day_flow is None and (x.solids_limit is not None or x.demand_limit is not None):
        yield "day_flow", "limit-needs-flow"
    if x.solids_content > x.density * x.dryness:
        yield "dryness", "wetter-than-the-purge"


def compute(x):
    drained = x.volume * (1.0 - x.captured_share)
    captured = x.volume * x.captured_share
    flow = None if x.day_flow is None else x.day_flow + drained
    surcharge = _surcharge(x, drained)
    wet = captured * x.density
    dried = captured * x.solids_content / x.dryness
    return {
        "suspended_solids": drained * x.solids_content,
        "demand": drained * x.oxygen_demand,
        "solids_concentration": None if flow is None else drained * x.solids_content / flow,
        "demand_concentration": None if flow is None else drained * x.oxygen_demand / flow,
        "surcharge": surcharge,
        "surcharge_saved": None if surcharge is None else _surcharge(x, x.volume) - surcharge,
        "wet_mass": wet,
        "dried_mass": dried,
        "haulage": None if x.haulage_charge is None else wet * x.haulage_charge,
        "haulage_dried": None if x.haulage_charge is None else dried * x.haulage_charge,
    }


def _surcharge(x, drained):
    if x.solids_charge is None and x.demand_charge is None:
        return None
    flow = 0.0 if x.day_flow is None else x.day_flow + drained
    solids = _charged(drained * x.solids_content, x.solids_limit, flow, x.solids_charge)
    demand = _charged(drained * x.oxygen_demand, x.demand_limit, flow, x.demand_charge)
    return solids + demand


def _charged(load, limit, flow, charge):
    if charge is None:
        return 0.0
    free = 0.0 if limit is None else limit * flow
    return max(0.0, load - free) * charge


def remarks(x, y):
    if x.solids_limit is not None and y["solids_concentration"] > x.solids_limit:
        yield "over-solids-limit"
    if x.demand_limit is not None and y["demand_concentration"] > x.demand_limit:
        yield "over-demand-limit"
    if not USUAL_DEMAND[0] <= x.oxygen_demand <= USUAL_DEMAND[1]:
        yield "unusual-demand"

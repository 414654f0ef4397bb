"""The curve of a calculator's page as the build draws it, so that it is right before any script runs."""

from dataclasses import asdict

from tankfoot.calculators.plot import caption, figure
from tankfoot.quantities.units import offered
from tankfoot.wording import words


def page_plot(calculator, outcome, system="us"):
    """What the template draws of an ``outcome``; None where the calculator declares no plot.

    ``declared`` is what the browser draws it anew from: the plot, and the kind of quantity of each axis.
    """
    plot = getattr(calculator.module, "PLOT", None)
    if plot is None:
        return None
    kinds = {"across": _kind(calculator, plot.across), "up": _kind(calculator, plot.up)}
    symbols = {axis: offered(kind, system)[0] for axis, kind in kinds.items()}
    inputs = {name: reading and reading.si for name, reading in outcome.inputs.items()}
    results = {name: result and result.value for name, result in outcome.results.items()}
    drawn = figure(plot, calculator.module, inputs, results, symbols)
    said = drawn and caption(drawn, words(calculator.id)["plot"], words("app")["plot"]["dashed"])
    return {"declared": {**asdict(plot), "kinds": kinds}, "symbols": symbols, "drawn": drawn, "caption": said or ""}


def _kind(calculator, name):
    return calculator.results.get(name) or calculator.fields[name].kind

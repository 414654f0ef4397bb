"""What the camera sees of invented runs: how often it misses, how often it cries too early, how late it is."""

import argparse
import json
import statistics
from concurrent.futures import ProcessPoolExecutor

from glass import DISTURBED, KINDS, NEVER, ORDINARY, UNSEEN, series
from tankfoot.watch.colour import difference, lab
from tankfoot.watch.seen import answer, watched

TUNE, SHOW = "tune", "show"  # seeds: what was tuned on the first is shown on the others
ORDINARY_CONTRAST = 10.0  # CIEDE2000 between the last solids and the beer
SEEN_EARLY = 0.1  # s before the middle of the front that still count as its instant: half a sample
GROUPS = {"ordinary": ORDINARY, "disturbed": DISTURBED, "unseen": UNSEEN, "never": NEVER}


def one(given):
    kind, seed = given
    made, samples = series(kind, seed)
    state = watched(samples)
    beer = state["beer"]
    told = {"kind": kind, "seed": seed, "change": made.change, "said": beer and beer["said"], "at": beer and beer["at"],
            "unseen": answer(state)["unseen"], "turned": state["turning"] is not None, "size": len(json.dumps(state))}
    told["contrast"] = difference(lab(made.layers[-1]), lab(made.beer)) if made.beer else None
    if made.change is None or made.change < 0:
        told["verdict"] = "false" if beer else "right"
    elif not beer:
        told["verdict"] = "missed"
    else:
        told["verdict"] = "false" if beer["said"] < made.change - SEEN_EARLY else "right"
    return told


def told_unseen(run):
    """Whether a run that was missed says that it could not see around the change."""
    return any(start - 1.0 <= run["change"] + 2.0 and end >= run["change"] - 1.0 for start, end, _ in run["unseen"])


def runs(kinds, seeds, workers=1):
    asked = [(kind, seed) for kind in kinds for seed in seeds]
    if workers == 1:
        return [one(each) for each in asked]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(one, asked, chunksize=20))


def row(name, found):
    right = [run for run in found if run["verdict"] == "right" and run["said"] is not None and run["change"]]
    missed = [run for run in found if run["verdict"] == "missed"]
    delays = sorted(run["said"] - run["change"] for run in right)
    off = sorted(abs(run["at"] - run["change"]) for run in right)
    def share(values, p):
        return values[min(int(p * len(values)), len(values) - 1)] if values else float("nan")
    return {
        "kind": name, "runs": len(found), "false": sum(run["verdict"] == "false" for run in found),
        "missed": len(missed), "silent": sum(not told_unseen(run) for run in missed),
        "delay": share(delays, 0.5), "delay90": share(delays, 0.9), "delay95": share(delays, 0.95),
        "off": share(off, 0.5), "off95": share(off, 0.95),
        "contrast": statistics.median(run["contrast"] or 0.0 for run in found),
    }


COLUMNS = ("kind", "runs", "false", "missed", "silent", "delay", "delay90", "delay95", "off", "off95")
HEAD = ("kind", "runs", "false", "missed", "silent", "delay", "90 %", "95 %", "off by", "95 %")


def table(rows):
    """The rows as a table of Markdown; delays and what the instant is off by in s."""
    told = [[f"{r[name]:.2f}" if isinstance(r[name], float) else str(r[name]) for name in COLUMNS] for r in rows]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in [HEAD, ["---"] * len(HEAD), *told])


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=20)
    parser.add_argument("--seeds", default=TUNE)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--kind", action="append")
    options = parser.parse_args()
    kinds = options.kind or list(KINDS)
    found = runs(kinds, [f"{options.seeds} {n}" for n in range(options.runs)], options.workers)
    by_kind = {kind: [run for run in found if run["kind"] == kind] for kind in kinds}
    rows = [row(kind, by_kind[kind]) for kind in kinds]
    for name, group in GROUPS.items() if not options.kind else ():
        rows.append(row(f"all {name}", [run for run in found if run["kind"] in group]))
    print(table(rows))
    print("largest state", max(run["size"] for run in found))
    for run in found:
        if options.kind and run["verdict"] != "right":
            print(run)


if __name__ == "__main__":
    main()

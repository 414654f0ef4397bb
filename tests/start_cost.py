"""How long the command takes to begin: ``python tests/start_cost.py`` prints it beside Python's own start.

The runs take turns, so that a machine that does other things slows all of them; medians of wall time.
"""

import argparse
import statistics
import subprocess
import sys
import time

MAIN = "import sys; from tankfoot.cli import main; sys.exit(main())"
SUM = ["reckon", "purge-volume", "headspace=3 bbl", "pressure_before=10 psi", "pressure_after=8 psi"]
STARTS = {
    "Python alone": ["-c", "pass"],
    "tankfoot --version": ["-c", MAIN, "--version"],
    "tankfoot --help": ["-c", MAIN, "--help"],
    "tankfoot reckon, a sum": ["-c", MAIN, *SUM],
}
BUDGET = 0.25  # s, of each; the project's own aim, no source


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--runs", type=int, default=11)
    for name, seconds in medians(options.parse_args().runs).items():
        print(f"{name:<24} {seconds * 1000:4.0f} ms (budget {BUDGET * 1000:.0f} ms)")


def medians(runs):
    """{name: seconds} of STARTS; one run before those that count fills what is kept between starts."""
    taken = {name: [] for name in STARTS}
    for _ in range(1 + runs):
        for name, arguments in STARTS.items():
            started = time.perf_counter()
            subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
            taken[name].append(time.perf_counter() - started)
    return {name: statistics.median(seconds[1:]) for name, seconds in taken.items()}


if __name__ == "__main__":
    main()

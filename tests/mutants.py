"""Breaks one number or one operator at a time in a JavaScript twin and tells which of these mutants nothing finds.

    python tests/mutants.py [ROOM ...] [--size N] [--cases N] [--sums-only] [--in-browser]

A mutant of a sum is looked for with the parity of that sum, any other by calling functions directly: its own, or where
a file declares none, those of the files that import it. Excused are the mutants of ``excused.toml``, with the reason.
"""

import argparse
import random
import sys
import time
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cases import SEED, cases
from direct import answer, compare_calls
from engines import Raised, engines, root_of, sources
from mutations import Mutant, mutants
from parity import compare, reckoned
from tankfoot.calculators import calculators
from tankfoot.site.joined import IMPORT, beside
from twins import SHARE_OF_A_SUM, twins

EXCUSES = Path(__file__).with_name("excused.toml")
CASES = 300  # of a function; a sum gets as many as its parity
SUM_CASES = 500
CALLS_OF_A_SUM = 2000  # of its refusals and of its remarks: borders between two optional inputs are rare
AIM = 0.95
CALLS_OF_AN_ENGINE = 400  # it keeps every text it was given
EVERY_SUM = ("calculators/reckon.js", "wording/sentences.js")  # what the parity of every sum compares


@dataclass(frozen=True)
class Check:
    """One comparison: ``differs(evaluate, root)`` tells whether the languages do; ``needs`` is what it loads."""

    needs: frozenset[str]
    differs: Callable[[Callable, str], bool]


@dataclass(frozen=True)
class Found:
    """What became of the mutants of one file: those that nothing found, and how many were found or excused."""

    path: str
    survivors: list[Mutant]
    found: int
    excused: int


@cache
def texts():
    """{path: text} of all JavaScript of the shared rooms, and of all that it imports."""
    return sources(twins())


@cache
def excuses():
    """{(path, line): reason}."""
    listed = tomllib.loads(EXCUSES.read_text(encoding="utf-8"))["excused"]
    return {(group["file"], line): group["why"] for group in listed for line in group["lines"]}


@cache
def checks(path, count=CASES, sums_only=False):
    """The Checks that a mutant of the file at ``path`` has to get past."""
    in_every_sum = path in EVERY_SUM or path in _reached(EVERY_SUM[0])
    ids = [id for id in calculators() if in_every_sum or path in _reached(_file(id))]
    if sums_only or path in EVERY_SUM:
        return [_sum(id) for id in ids]
    twin = twins()[path]
    if twin.is_sum:
        return [_functions(path, CALLS_OF_A_SUM * SHARE_OF_A_SUM), _sum(ids[0])]
    users = [user for user in twins() if path in _imports(user)]
    return [_functions(called, count) for called in (path, *users) if twins()[called].ranges]


def _file(id):
    return f"calculators/{id.replace('-', '_')}.js"


def _imports(path):
    return {beside(path, address) for _, address in IMPORT.findall(texts()[path])}


@cache
def _reached(path):
    """A file, and all that it imports at first or second hand."""
    return frozenset({path}.union(*map(_reached, _imports(path))))


@cache
def _sum(id):
    calculator = calculators()[id]
    given = cases(calculator, SUM_CASES)
    ours = [reckoned(calculator, case) for case in given]
    return Check(frozenset(texts()), lambda evaluate, root: bool(compare(evaluate, root, calculator, given, ours)))


@cache
def _functions(path, count):
    given = twins()[path].calls(count)
    ours = [answer(call) for call in given]
    takes_sums = any(reached.startswith("calculators/") for reached in _reached(path))  # and loads them by name
    needs = frozenset(texts()) if takes_sums else _reached(path)
    return Check(needs, lambda evaluate, root: bool(compare_calls(evaluate, root, given, ours)))


def is_found(evaluate, path, text, wanted):
    """Whether any of the ``wanted`` Checks differs once the file at ``path`` reads ``text``."""
    broken = {**texts(), path: text}
    try:
        return any(
            check.differs(evaluate, root_of({needed: broken[needed] for needed in check.needs})) for check in wanted
        )
    except Raised:
        return True


class Engines:
    """One engine after the other, each for so many mutants."""

    def __init__(self, start):
        self._start, self._engine, self._left = start, None, 0

    def evaluate(self, function, text):
        if self._left == 0:
            self.close()
            self._engine, self._left = self._start(), CALLS_OF_AN_ENGINE
        self._left -= 1
        try:
            return self._engine.evaluate(function, text)
        except Raised:
            self._left = 0
            raise

    def close(self):
        if self._engine:
            self._engine.close()


def hunt(evaluate, path, size, wanted):
    """What becomes of ``size`` mutants of the file at ``path``, or of all."""
    made = mutants(texts()[path])
    if size is not None and size < len(made):
        made = random.Random(f"{SEED} {path}").sample(made, size)
    excused = [mutant for mutant in made if (path, mutant.line) in excuses()]
    tried = [mutant for mutant in made if mutant not in excused]
    survivors = [mutant for mutant in tried if not is_found(evaluate, path, mutant.text, wanted)]
    return Found(path, survivors, len(tried) - len(survivors), len(excused))


def main(arguments=None):
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("rooms", nargs="*", metavar="ROOM", help="a room, or one file of it (all)")
    parser.add_argument("--size", type=int, metavar="N", help="mutants a file, at random (all)")
    parser.add_argument("--cases", type=int, default=CASES, metavar="N", help=f"calls of each function ({CASES})")
    parser.add_argument("--sums-only", action="store_true", help="look with whole sums alone, as if no ranges were")
    parser.add_argument("--in-browser", action="store_true", help="in Chromium, even where Node is found")
    asked = parser.parse_args(arguments)
    wanted = [path for path in twins() if not asked.rooms or {path, path.split("/")[0]} & set(asked.rooms)]
    started, results = time.perf_counter(), []
    with engines(asked.in_browser) as start:
        engine = Engines(start)
        for path in wanted:
            looked_for = checks(path, asked.cases, asked.sums_only)
            if not looked_for and not twins()[path].module:
                print(f"{path}: no twin, and no twin rests on it", flush=True)
                continue
            results.append(hunt(engine.evaluate, path, asked.size, looked_for))
            _tell(results[-1])
        engine.close()
    return _summary(results, time.perf_counter() - started)


def _tell(result):
    print(f"{result.path}: {result.found} found, {len(result.survivors)} not, {result.excused} excused", flush=True)
    for mutant in result.survivors:
        print(f"  {result.path}:{mutant.number}  {mutant.old} became {mutant.new}:  {mutant.line}", flush=True)


def _summary(results, seconds):
    for room in sorted({result.path.split("/")[0] for result in results}):
        own = [result for result in results if result.path.startswith(f"{room}/")]
        print(f"{room}: {_share(own)}")
    print(f"all: {_share(results)}, in {seconds:.0f} s")
    return 0 if _found(results) >= AIM else 1


def _found(results):
    found, left = sum(result.found for result in results), sum(len(result.survivors) for result in results)
    return found / (found + left) if found + left else 1.0


def _share(results):
    found, left = sum(result.found for result in results), sum(len(result.survivors) for result in results)
    return (f"{found} of {found + left} mutants found ({100.0 * _found(results):.1f} %), "
            f"{sum(result.excused for result in results)} more excused")


if __name__ == "__main__":
    sys.exit(main())

"""What a report of many phones costs: ``python tests/report_cost.py --files 1000 --purges 1000`` makes and reads files.

Prints how long ``tankfoot report --json`` takes on all cores and the most memory that it and all its processes held at
once, with the budgets for a million purges, and that of ``tankfoot check`` of one file of 20,000.
"""

import argparse
import resource
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

import many_phones

COMMAND = "import sys; from tankfoot.cli import main; sys.exit(main())"
BUDGET = {"seconds": 240, "megabytes": 1000}  # of 1,000,000 purges
OF_CHECK = (20_000, 5)  # purges in one file, seconds


def main():
    options = argparse.ArgumentParser()
    options.add_argument("--files", type=int, default=20)
    options.add_argument("--purges", type=int, default=1000, help="in each file")
    options.add_argument("--folder", type=Path, help="where files are made, and stay for the next time")
    chosen = options.parse_args()
    drawn = many_phones.drawn(min(3000, chosen.purges))
    with tempfile.TemporaryDirectory() as folder:
        paths = many_phones.write(chosen.folder or Path(folder), chosen.files, chosen.purges, drawn)
        size = sum(path.stat().st_size for path in paths) / 1e6
        counted = f'{{"all":{{"purges":{chosen.files * chosen.purges},'
        seconds, worked, most = measured(counted, "report", "--json", "--zone", "UTC", *paths)
        print(f"report of {chosen.files} files, {chosen.files * chosen.purges} purges, {size:.0f} MB: {seconds:.1f} s "
              f"({worked:.1f} s of work), {most:.0f} MB at most "
              f"(budget of a million: {BUDGET['seconds']} s, {BUDGET['megabytes']} MB)")
        purges, budget = OF_CHECK
        one, = many_phones.write(Path(folder), 1, purges, drawn)
        seconds, worked, most = measured(f"{one} is right: ", "check", one)
        print(f"check of one file of {purges} purges: {seconds:.1f} s ({worked:.1f} s of work), "
              f"{most:.0f} MB at most (budget {budget} s)")


def measured(answer, *arguments):
    """(seconds, seconds of work of all cores, megabytes that all processes held at most) of a ``tankfoot`` command.

    ``answer``: how what it prints begins, or it did not do what is measured.
    """
    started, before = time.perf_counter(), _worked()
    with tempfile.TemporaryFile() as output:
        command = subprocess.Popen([sys.executable, "-c", COMMAND, *map(str, arguments)], stdout=output)
        most, over = [0.0], threading.Event()
        watch = threading.Thread(target=_watch, args=(command.pid, most, over))
        watch.start()
        code = command.wait()
        over.set()
        watch.join()
        output.seek(0)
        if code or not output.read(len(answer.encode())).decode() == answer:
            raise SystemExit(f"{arguments[0]} failed: {code}")
    return time.perf_counter() - started, _worked() - before, most[0]


def _worked():
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def _watch(pid, most, over):
    while not over.wait(0.2):
        most[0] = max(most[0], sum(map(_resident, _family(pid))))


def _family(pid):
    """A process and all that came from it (Linux: /proc)."""
    found = [pid]
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        try:
            found += [each for child in task.read_text().split() for each in _family(int(child))]
        except OSError:
            continue  # it ended meanwhile
    return found


def _resident(pid):
    """Megabytes of a process that are its own: what several share counts by its part."""
    try:
        told = Path(f"/proc/{pid}/smaps_rollup").read_text()
    except OSError:
        return 0.0
    return int(told.split("Pss:")[1].split()[0]) / 1000.0


if __name__ == "__main__":
    main()

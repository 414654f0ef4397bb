"""What ``tankfoot table`` does: one row a purge of any number of files, as CSV or Parquet, a part at a time."""

import csv
import json
from array import array
from functools import partial
from itertools import islice

from tankfoot.batches.life import batch_in, changes_of
from tankfoot.office.columns import number_of_instant
from tankfoot.office.csv_export import FORMULA_STARTS
from tankfoot.office.latest import Identifying, Latest
from tankfoot.office.progress import progress
from tankfoot.office.report import NO_BASIS
from tankfoot.office.spool import Spool
from tankfoot.office.table import COLUMNS, FLAG, as_parquet, completed, parquet_types, row_of
from tankfoot.office.told import Stopped, right_files, say, stopping, written, zone_of
from tankfoot.purge.machine import LAST
from tankfoot.report.basis import basis_of
from tankfoot.wording import plural, words

KEPT = ("batch", "batch-event", "cost-basis")
AT_ONCE = 10_000  # rows
CSV, PARQUET = ".csv", ".parquet"


@stopping
def table(options):
    """The exit code."""
    ending = options.output.suffix.lower()
    if ending not in (CSV, PARQUET):
        raise Stopped(say("table", "which", given=options.output.name))
    write = _csv if ending == CSV else _parquet(_pyarrow())
    zone = zone_of(options.zone)
    with Spool() as spool:
        order, kept = _counting(options, spool)
        with progress("rows") as tell:
            rows = _rows(_spooled(spool, order, tell), kept, zone)
            written(lambda: write(options.output, rows), options.output)
    print(plural(words("command")["table"]["done"], len(order)), options.output)
    return 0


def _counting(options, spool):
    """(numbers of the rows that count, by when their purges were opened; all other entries that count)."""
    latest, opened, others = Latest(), array("q"), {}
    for place, read in enumerate(right_files(options.files, partial(_taken, options.demo, options.units))):
        for identities, texts, instants, kept in read.gathered:
            numbers = spool.add(texts)
            latest.add(identities, numbers, place)
            opened += instants
            others |= {numbers.start + at: entry for at, entry in kept.items()}
    counting = latest.numbers(options.files)
    order = sorted((number for number in counting if spool.size(number)), key=opened.__getitem__)  # else by their ids
    return array("q", order), [others[number] for number in counting if number in others]


def _taken(demo, system, entries):
    """(Identities, rows as texts, when they were opened, other entries by place) of ``entries``; no row is no text."""
    identifying, texts, opened, kept = Identifying(), [], array("q"), {}
    for place, (entry, text) in enumerate(entries):
        identifying.add(entry, text)
        counts = not entry["deleted"] and (demo or not entry["demo"])
        row = row_of(entry, system) if counts and _is_row(entry) else None
        texts.append(json.dumps(row).encode() if row else b"")
        opened.append(number_of_instant(row["opened"]) if row else 0)
        if counts and entry["kind"] in KEPT:
            kept[place] = entry | {"history": []}
    return identifying.made, texts, opened, kept


def _is_row(entry):
    return entry["kind"] == "purge" and entry["body"]["state"] == LAST


def _spooled(spool, order, tell):
    for done, number in enumerate(order):
        tell(done, len(order))
        yield json.loads(spool[number])


def _rows(rows, others, zone):
    """``rows``, each with its batch and the money it is in."""
    kinds = {}
    for entry in others:
        kinds.setdefault(entry["kind"], []).append(entry)
    beers = {batch["id"]: batch["body"]["beer"] for batch in kinds.get("batch", [])}
    stories = {}
    for event in kinds.get("batch-event", []):
        stories.setdefault(event["body"]["tank"], []).append(event)
    changes = {tank: changes_of(story) for tank, story in stories.items()}
    basis = basis_of(kinds.get("cost-basis", []))
    currency = (basis["body"] if basis else NO_BASIS)["currency"]
    for row in rows:
        batch = batch_in(changes.get(row["tank_id"], []), row["created"])
        yield completed(row, batch, beers.get(batch), zone, currency)


def _csv(path, rows):
    with path.open("w", encoding="utf-8", errors="backslashreplace", newline="") as file:
        writer = csv.writer(file, lineterminator="\r\n")  # RFC 4180
        writer.writerow(COLUMNS)
        writer.writerows([_cell(row[name], kind) for name, kind in COLUMNS.items()] for row in rows)


def _cell(value, kind):
    if kind == FLAG and value is not None:
        return "true" if value else "false"
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA_STARTS) else value


def _pyarrow():
    """The library that knows Parquet, which is not installed with Tankfoot by itself."""
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError as missing:
        raise Stopped(say("table", "no_parquet")) from missing
    return pyarrow


def _parquet(pyarrow):
    def write(path, rows):
        schema = parquet_types(pyarrow)
        with pyarrow.parquet.ParquetWriter(path, schema) as writer:
            while some := list(islice(rows, AT_ONCE)):
                writer.write_table(pyarrow.Table.from_pylist(as_parquet(some), schema))

    return write

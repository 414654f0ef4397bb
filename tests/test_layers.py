"""No room points back, in either language: what each may know stands in the tables of DEVELOPERS.md."""

import re

import pytest
from layers import PACKAGE, Unread, modules, place_of, python_imports, room_of, script_imports, table

RUN = "browser/purge/run.js"
# what a page has and a worker has not
OF_THE_PAGE = re.compile(r"\b(document|window|location|navigator(?!\.storage))\.")
LONGEST_IN_BROWSER = 250  # lines


def across(imports, part_of):
    """{(from, to): the modules that do} of all imports between two parts of the package."""
    found = {}
    for path, imported in imports.items():
        for other in imported:
            if None not in (part_of(path), part_of(other)) and part_of(path) != part_of(other):
                found.setdefault((part_of(path), part_of(other)), set()).add(path)
    return found


def refused(imports, part_of, may):
    return {pair: by for pair, by in across(imports, part_of).items() if pair[1] not in may[pair[0]]}


def scripts():
    return {path: script_imports(path, text) for path, text in modules(".js").items()}


def python():
    return {path: python_imports(path, text) for path, text in modules(".py").items() if path != "__init__.py"}


def test_the_table_names_every_room_and_nothing_else():
    rooms = {path.name for path in PACKAGE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert set(table("Rooms")) == rooms | {"cli.py"}
    assert set(table("Places in the browser")) == {path.name for path in (PACKAGE / "browser").iterdir()}


@pytest.mark.parametrize("imports", [python, scripts], ids=["Python", "JavaScript"])
def test_no_room_knows_more_than_it_may(imports):
    may = {room.removesuffix(".py"): known for room, known in table("Rooms").items()}
    found = {
        path: {other for other in imported if room_of(other) in may} for path, imported in imports().items()
    }
    assert refused(found, room_of, may) == {}


def test_no_place_in_the_browser_knows_more_than_it_may():
    assert refused(scripts(), place_of, table("Places in the browser")) == {}


def test_what_a_script_imports_is_there():
    found = set().union(*scripts().values())
    there = set(modules(".js"))
    declared = {path for path in found - there if path.endswith("/declared.js")}
    # an address that is put together as the page runs is known up to its folder
    assert {path for path in found - there - declared if not (PACKAGE / path).is_dir()} == set()


def test_a_purges_run_and_all_it_needs_of_the_browser_know_nothing_of_the_page():
    texts, imports = modules(".js"), scripts()
    needed, ahead = set(), [RUN]
    while ahead:
        path = ahead.pop()
        if path not in needed and path in texts and place_of(path):
            needed.add(path)
            ahead += imports[path]
    assert len(needed) > 3
    assert [path for path in sorted(needed) if OF_THE_PAGE.search(texts[path])] == []


def test_no_module_of_the_browser_is_longer_than_a_person_reads_at_once():
    lengths = {path: text.count("\n") for path, text in modules(".js").items() if place_of(path)}
    assert {path: lines for path, lines in lengths.items() if lines > LONGEST_IN_BROWSER} == {}


# Every way that a module can be named: ECMA-262 (16.2, Modules; 13.3.10, import calls) and the types of JSDoc; Python's
# Language Reference, 7.11.
SCRIPT = """
import { a,
  b } from "../physics/gas.js";
import "./beside.js";
export { c } from '../quantities/text.js';
export const LAST = "saved";
/** @typedef {import("../record/validate.js").Problem} Problem */
const late = await import("../../tankfoot/tanks/due.js");
const made = (id) => import(`./sums/${id}.js`);
const page = document.importNode(x), own = import.meta.url;
"""
MODULE = """
import tankfoot.physics.gas as gas, json
from tankfoot.quantities import text
from tankfoot import __version__
def late():
    from ..record.entry import check_entry
    from . import table
    return files("tankfoot.site")
"""


def test_every_way_to_import_is_seen():
    assert script_imports("purge/a.js", SCRIPT) == {
        "physics/gas.js", "purge/beside.js", "quantities/text.js", "record/validate.js", "../tankfoot/tanks/due.js",
        "purge/sums",
    }
    with pytest.raises(Unread):
        script_imports("purge/a.js", "await import(address);")
    assert python_imports("purge/a.py", MODULE) == {
        "physics.gas", "quantities.text", "__version__", "record.entry.check_entry", "purge.table", "site",
    }


def test_an_import_that_points_back_is_found():
    may = table("Rooms")
    assert refused({"physics/gas.js": {"browser/storage/record.js"}}, room_of, may) == {
        ("physics", "browser"): {"physics/gas.js"},
    }
    places = table("Places in the browser")
    assert refused({"browser/drawing/plot.js": {"browser/today/today.js"}}, place_of, places)

"""The browser reads, merges and writes the record as Python does, to the character."""

import json
import random
import struct

import pytest
import test_tanks
from drawn_records import edited_entries
from records import CURRENT, current, sealed, spoilt, torn
from tankfoot.office.csv_export import purges_csv
from tankfoot.office.merge import merge_entries
from tankfoot.office.transfer import export_file, read_file
from tankfoot.quantities.units import SYSTEMS
from tankfoot.record.canonical import canonical
from tankfoot.site.declared import DECLARED

MADE = "2026-03-01T07:05:09.120Z"


@pytest.fixture(scope="module")
def page(chromium, served):
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    yield page
    page.close()


@pytest.fixture(scope="module")
def call(page, served):
    """Calls an exported function of one module for many lists of arguments, all in one go."""

    def calls(module, name, argument_lists):
        given = {"url": served.script, "module": f"{module}.js", "name": name, "calls": argument_lists}
        return json.loads(page.evaluate(
            """async (given) => {
              const { url, module: path, name, calls } = JSON.parse(given);
              const module = await (await import(url)).take(path);
              const answers = [];
              for (const call of calls) answers.push(await module[name](...call));
              return JSON.stringify(answers);
            }""",
            json.dumps(given),
        ))

    return calls


def floats(rng, count):
    """Floats of any bits, and some that people write."""
    any_bits = (struct.unpack(">d", rng.randbytes(8))[0] for _ in range(count))
    written = [1e-7, 1e-6, 1e21, 1e20, 123456789012345680000.0, -0.0, 100.0, 0.1 + 0.2, 5e-324]
    return written + [value for value in any_bits if abs(value) < float("inf")]


def test_the_canonical_text_is_the_same(call):
    rng = random.Random(1)
    letters = [chr(rng.choice((rng.randrange(0xD800), rng.randrange(0xE000, 0x110000)))) for _ in range(3000)]
    halves = ["\ud83d", "a\ude00b"]
    values = [*floats(rng, 5000), *letters, *halves, {"\ue000": 1, "😀": 2, "a": [None, True, {}]}]
    theirs = call("record/canonical", "canonical", [[value] for value in values])
    assert theirs == [canonical(value) for value in values]


def test_the_export_file_is_the_same(call):
    entries = current()["entries"]
    assert call("office/transfer", "exportFile", [[entries, "1.2.3", MADE]]) == [export_file(entries, "1.2.3", MADE)]


def as_json(contents):
    problems = [vars(problem) for problem in contents.problems]
    return {"entries": contents.entries, "problems": problems, "made": contents.made}


def test_spoilt_entries_are_refused_alike(call):
    rng, files = random.Random(3), []
    for _ in range(400):
        files.append(json.dumps(sealed(spoilt(rng, current(), rng.randint(1, 4)))))
    theirs = call("office/transfer", "readFile", [[file] for file in files])
    for file, their in zip(files, theirs, strict=True):
        ours = as_json(read_file(file))
        assert their["problems"] == ours["problems"]
        assert their["entries"] == ours["entries"]


def test_torn_files_are_refused_alike(call):
    rng, whole = random.Random(4), CURRENT.read_text(encoding="utf-8")
    files = [torn(rng, whole) for _ in range(400)]
    files += ["", "null", "[]", "1e999", "{}", "\ufeff" + whole, "[" * 50_000]
    files += [json.dumps(current() | more) for more in (
        {"schema_version": 1}, {"schema_version": 2}, {"schema_version": 8}, {"schema_version": 0},
        {"count": 1.5}, {"count": 3}, {"made": "yesterday"},
        {"entries": {}}, {"entries": [json.loads("[" * 40 + "]" * 40)]}, {"app_version": ""},
    )]
    files.append(json.dumps(current() | {"entries": []}).replace("[]", "[1e999]"))
    theirs = call("office/transfer", "readFile", [[file] for file in files])
    for file, their in zip(files, theirs, strict=True):
        ours = as_json(read_file(file))
        assert their == ours, file[:200]


def nested(depth, *, whole=True):
    return "[" * depth + "]" * (depth if whole else 0)


def test_files_are_refused_alike_however_deep_they_are(call):
    kept = json.dumps(current())
    files = [nested(depth, whole=whole) for depth in (1, 33, 34, 2000, 200_000) for whole in (True, False)]
    # In a key that nobody knows, of the file or of an entry; in a file of another format; in a text, where it is none.
    files += [kept.replace("{", '{"deep":' + nested(depth) + ",", 1) for depth in (31, 32, 33, 5000, 200_000)]
    files += [kept.replace('"id"', '"deep":' + nested(depth) + ',"id"', 1) for depth in (29, 30, 31, 5000, 200_000)]
    files += ['{"format": "else", "deep": ' + nested(depth) + "}" for depth in (32, 33, 5000)]
    files += ['{"deep": "' + nested(5000) + '\\"' + nested(9) + end for end in ('"', '"}', "", '", [' + nested(40))]
    theirs = call("office/transfer", "readFile", [[file] for file in files])
    assert [their["problems"] for their in theirs] == [as_json(read_file(file))["problems"] for file in files]
    codes = {their["problems"][0]["code"] for their in theirs if their["problems"]}
    assert codes == {"too-deep", "not-ours", "not-json", "sha256"}


def test_records_are_merged_alike(call):
    rng, pairs = random.Random(5), []
    for _ in range(300):
        mine, theirs = (edited_entries(rng) for _ in range(2))
        pairs.append([mine, theirs])
    theirs = call("office/merge", "mergeEntries", pairs)
    for (mine, other), their in zip(pairs, theirs, strict=True):
        merged = merge_entries(mine, other)
        assert their["plan"] == [vars(step) for step in merged.plan]
        assert their["entries"] == merged.entries
        assert their["changed"] == merged.changed


@pytest.fixture(scope="module")
def drawn_records():
    """Records of what is left whole in spoilt files."""
    rng = random.Random(6)
    files = (json.dumps(sealed(spoilt(rng, current(), 3))) for _ in range(200))
    return [current()["entries"], *(read_file(file).entries for file in files)]


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_table_is_the_same(system, call, drawn_records):
    theirs = call("office/csv_export", "purgesCsv", [[record, system] for record in drawn_records])
    assert theirs == [purges_csv(record, system) for record in drawn_records]


def test_the_browser_has_the_shapes_that_python_declares(page, served):
    given = page.evaluate('async (url) => (await import(url)).take("record/declared.js")', served.script)
    assert given == json.loads(json.dumps(DECLARED["record"]()))


def test_what_the_screens_write_can_be_exported_and_read_again(phone, served):
    page = phone.new_page()
    page.goto(f"{served.address}tanks/")
    test_tanks.ready(page)
    test_tanks.add(page)
    test_tanks.save(page)
    page.goto(f"{served.address}checklists/before-opening-the-bottom-port/")
    test_tanks.ready(page)
    page.locator("[data-line]").first.check()
    text = page.evaluate(
        """async (root) => {
          const { everything } = (await import(`${root}js/tankfoot.js`)).take("browser/storage/record.js");
          const { exportFile } = (await import(`${root}js/tankfoot.js`)).take("office/transfer.js");
          return exportFile(await everything(), "1");
        }""",
        served.address,
    )
    contents = read_file(text)
    assert contents.problems == []
    assert [entry["kind"] for entry in contents.entries] == ["tank", "list-run"]


def test_what_json_cannot_say_does_not_stop_an_export(page, served):
    text = page.evaluate(
        """async (url) => {
          const { exportFile } = await (await import(url)).take("office/transfer.js");
          const entry = { id: "a", created: "b", body: { value: NaN, nothing: undefined, far: Infinity } };
          return exportFile([entry], "1", "2026-03-01T07:05:09.120Z");
        }""",
        served.script,
    )
    # ECMA-262, SerializeJSONProperty: not finite becomes null, undefined is left out
    assert json.loads(text)["entries"] == [{"id": "a", "created": "b", "body": {"value": None, "far": None}}]

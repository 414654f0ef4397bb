"""Files read line by line come to the verdict of the whole reader, part by part, on one core and on several."""

import io
import itertools
import json
import multiprocessing
import random
import re
import sys
import time

import many_phones
import pytest
import rfc8785
from cases import SEED
from drawn_meaning import entry_of_any_meaning
from drawn_records import edited_entries, json_value
from records import CURRENT, VERSION_1, current, sealed, spoilt
from tankfoot.cli import main
from tankfoot.office import cores, lines, progress, streamed
from tankfoot.office.check import check_file
from tankfoot.office.latest import Identifying, Latest
from tankfoot.office.merge import merge_entries
from tankfoot.office.streamed import read_files
from tankfoot.office.transfer import export_file
from tankfoot.record.canonical import canonical

FILES = 400
PURGES = 40
MANY = 1000
ODD = (
    "1.0", "1e-7", "1e-07", "0.00001", "-0", "12345678901234567000", "12345678901234567890", "1e21", "1e+21", "NaN",
    '"\\u00e9"', '"\\ud83d"', '"😀"', "1e999", "[[]]", ' "x"', '"a\n,\nb"', '{"\ue000":1,"😀":2}',
    '{"😀":2,"\ue000":1}',
)


def laid_out(data):
    """A file's members as the app writes them: each entry on a line of its own, by an outside library."""
    head = {key: value for key, value in data.items() if key != "entries"}
    texts = [rfc8785.dumps(entry).decode() for entry in data["entries"]]
    members = "".join(f"{json.dumps(key)}:{json.dumps(value)},\n" for key, value in head.items())
    return "{" + members + '"entries":[\n' + ",\n".join(texts) + "\n]}\n"


def a_file(rng):
    """The bytes of a file: right, or wrong in an entry, in a line, in a byte, in its head."""
    data = current() | {"entries": rng.sample(current()["entries"], rng.randint(1, 4))}
    data = spoilt(rng, data, rng.choice((0, 0, 0, 1)))
    if rng.random() < 0.3:
        data["entries"].append(entry_of_any_meaning(rng))
    if rng.random() < 0.5 and isinstance(data["entries"][0], dict):
        whole = json.dumps(json_value(rng), ensure_ascii=False).encode("utf-8", "ignore")  # no half surrogate pair
        data["entries"][0]["later"] = json.loads(whole)
    if rng.random() < 0.1:
        data["entries"] += data["entries"][:1]
    data = sealed(data) if rng.random() < 0.9 else data
    text = laid_out(data | rng.choice(({}, {}, {}, {"count": 1}, {"made": "x"}, {"later": [1]})))
    if rng.random() < 0.3:
        text = text.replace("null", rng.choice(ODD), 1)
    content = bytearray(text.encode("utf-8", "surrogatepass"))
    if rng.random() < 0.2:
        at = rng.randrange(len(content))
        content[at : at + rng.choice((0, 1))] = rng.choice((b"", b" ", b"\n", b",\n", b"\xff", b"]"))
    return bytes(content)


def told(path):
    """(entries, problems, when it was made) by the quick way, and whether that was enough."""
    (read,) = read_files([path], list)
    entries = [entry for part in read.gathered for entry, _ in part]
    texts = [text for part in read.gathered for _, text in part]
    assert texts == [canonical(entry) for entry in entries]
    return entries, read.problems, read.made


def test_a_file_read_line_by_line_has_the_verdict_of_the_whole_reader(tmp_path, monkeypatch):
    quick, whole = [], streamed.check_file
    monkeypatch.setattr(streamed, "check_file", lambda path: quick.append(path) or whole(path))
    rng, right = random.Random(SEED), 0
    for number in range(FILES):
        path = tmp_path / f"{number}.json"
        path.write_bytes(a_file(rng))
        contents = check_file(path)
        entries, problems, made = told(path)
        assert (problems, made) == (contents.problems, contents.made), path.read_bytes()
        if not problems:
            right += 1
            assert entries == contents.entries
            assert json.dumps(entries) == json.dumps(contents.entries)  # every number a float, in both
    assert right > FILES // 10
    assert FILES - len(quick) > 0.9 * right  # those that the quick way told


@pytest.mark.parametrize("path", [CURRENT, VERSION_1])
def test_what_a_file_of_another_version_or_layout_holds_is_the_same(path, tmp_path):
    data = json.loads(path.read_text(encoding="utf-8"))
    again = tmp_path / "laid-out.json"
    again.write_text(laid_out(data), encoding="utf-8")
    for file in (path, again):
        assert told(file) == (check_file(file).entries, [], check_file(file).made)


@pytest.fixture(scope="module")
def phones(tmp_path_factory):
    return many_phones.write(tmp_path_factory.mktemp("phones"), 3, PURGES, many_phones.drawn(20))


@pytest.mark.parametrize("way", [cores.context().get_start_method(), "spawn"])
def test_a_file_of_many_parts_and_many_files_on_several_cores_tell_the_same(way, phones, tmp_path, monkeypatch):
    missing, wrong = tmp_path / "none.json", tmp_path / "wrong.json"
    wrong.write_text(phones[0].read_text(encoding="utf-8").replace('"count":', '"count":1', 1), encoding="utf-8")
    paths = [*phones, missing, wrong]
    at_once = list(read_files(paths, list))
    assert [len(read.gathered) for read in at_once] == [1, 1, 1, 0, 0]
    monkeypatch.setattr(streamed, "PART", 20_000)
    monkeypatch.setattr(streamed, "ALONE", 0)
    monkeypatch.setattr(streamed, "cores", lambda: 2)
    monkeypatch.setattr(streamed, "context", lambda: multiprocessing.get_context(way))
    done = []
    in_parts = list(read_files(paths, list, lambda *how_far: done.append(how_far)))
    for one, other in zip(at_once, in_parts, strict=True):
        assert [pair for part in one.gathered for pair in part] == [pair for part in other.gathered for pair in part]
        assert (one.path, one.made, one.problems) == (other.path, other.made, other.problems)
        assert type(one.error) is type(other.error)
    first = in_parts[0]
    assert len(first.gathered) > 3
    assert first.starts == [*itertools.accumulate([0, *map(len, first.gathered[:-1])])]
    assert done == sorted(done) and len(done) > 9
    assert done[-1] == (sum(path.stat().st_size for path in [*phones, wrong]),) * 2


def test_an_id_that_is_there_twice_is_seen_across_parts(phones, tmp_path, monkeypatch):
    monkeypatch.setattr(streamed, "PART", 20_000)
    entries = check_file(phones[0]).entries
    path = tmp_path / "twice.json"
    texts = [canonical(entry) for entry in [*entries, entries[0]]]
    path.write_text(many_phones.file_of(texts), encoding="utf-8")
    (read,) = read_files([path], list)
    assert {problem.code for problem in read.problems} == {"twice"}


def test_a_line_longer_than_a_part_is_one_part(tmp_path):
    note = next(entry for entry in current()["entries"] if entry["kind"] == "photo")
    long = note | {"body": note["body"] | {"data": "A" * 100_000}}
    path = tmp_path / "long.json"
    path.write_text(export_file([long, *current()["entries"][:3]], "1", "2026-03-01T07:05:09.120Z"), encoding="utf-8")
    spans = lines.layout(path, 1000).spans
    assert spans[0][1] == spans[1][0] and len(spans) < 5
    assert sum(len(list(lines.entries_in(path, span, 5))) for span in spans) == 4


def test_the_law_that_holds_no_texts_keeps_what_merging_keeps(tmp_path):
    """Of the same instant the greater text, which the files are asked for once more."""
    rng = random.Random(SEED)
    for number in range(30):
        records = [list({entry["id"]: entry for entry in edited_entries(rng)}.values()) for _ in range(3)]
        records = [record or current()["entries"][3:4] for record in records]
        paths = [tmp_path / f"{number}-{place}.json" for place in range(3)]
        for path, record in zip(paths, records, strict=True):
            path.write_text(laid_out(sealed(current() | {"entries": record})), encoding="utf-8")
        merged = merge_entries([], sum(records, [])).entries
        for order in itertools.permutations(range(3)):
            assert kept([paths[place] for place in order]) == merged


def kept(paths):
    """The entries that count by Latest, by their ids."""
    entries, latest = [], Latest()
    for place, read in enumerate(read_files(paths, list)):
        identifying = Identifying()
        for entry, text in read.gathered[0]:
            identifying.add(entry, text)
        latest.add(identifying.made, range(len(entries), len(entries) + len(read.gathered[0])), place)
        entries += [entry for entry, _ in read.gathered[0]]
    return [entries[number] for number in latest.numbers(paths)]


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_long_work_says_how_far_it_is_on_a_terminal_and_takes_that_back(phones, capsys, monkeypatch):
    monkeypatch.setattr(progress, "AFTER", 0.0)
    monkeypatch.setattr(progress, "EVERY", 0.0)
    assert main(["check", *map(str, phones)]) == 0
    assert capsys.readouterr().err == ""
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    assert main(["check", *map(str, phones)]) == 0
    *lines, cleared, end = terminal.getvalue().split("\r")[1:]
    assert len(lines) == 2 * len(phones)  # once for each part, and once for each file
    assert all(re.fullmatch(r"\[#* *\] \d+ of \d+ MB read", line) for line in lines)
    assert cleared.strip() == end == ""


LONG_WORK = {
    "report": (["--zone", "UTC", "-o", "report.html"], r"\[####### +\] 5 of 13 figures added up"),
    "merge": (["-o", "all.json"], r"\[#{20}\] (\d+) of \1 entries written"),
    "table": (["--zone", "UTC", "-o", "purges.csv"], r"\[#+ *\] 9 of \d+ rows written"),
}


@pytest.mark.parametrize("command", LONG_WORK)
def test_long_work_after_the_reading_says_how_far_it_is_too(command, phones, tmp_path, monkeypatch):
    monkeypatch.setattr(progress, "AFTER", 0.0)
    monkeypatch.setattr(progress, "EVERY", 0.0)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stderr", terminal := Terminal())
    options, says = LONG_WORK[command]
    assert main([command, *map(str, phones), *options]) == 0
    lines = terminal.getvalue().split("\r")
    assert any(re.fullmatch(says, line.strip()) for line in lines), lines
    assert lines[-1] == ""


@pytest.mark.alone
def test_check_of_many_purges_is_quick(tmp_path_factory, capsys, tell):
    """Budget: 5 s for 20,000 on two cores; here fewer, in one process, with some room for a busy machine."""
    (path,) = many_phones.write(tmp_path_factory.mktemp("many"), 1, MANY, many_phones.drawn(200))
    main(["check", str(path)])
    begun = time.process_time()
    assert main(["check", str(path)]) == 0
    took = time.process_time() - begun
    tell(f"check of {MANY} purges: {took / MANY * 1e6:.0f} µs each")
    assert took / MANY < 1.2e-3  # s; by fields alone it was 3 ms


def rewritten(rng, text):
    """A canonical text in another way: space between signs, a member twice or elsewhere, other forms of the same."""
    members = re.findall(r'"[a-z_]+":(?:"[^"\\]*"|[0-9.]+|null|true|false)', text)
    one, other = rng.choice(members), rng.choice(members)
    at = rng.choice([found.start() + rng.randint(0, 1) for found in re.finditer(r'[{}\[\],:"0-9]', text)])
    return rng.choice((
        text[:at] + rng.choice((" ", "\t", "\r", "\n", "  ", "\u00a0", "\ufeff")) + text[at:],
        text.replace(one, f"{one},{one}", 1), text.replace(one, f"{one},{other}", 1), text.replace(f"{one},", "", 1),
        text.replace(one, "@", 1).replace(other, one, 1).replace("@", other, 1),
        text.replace('"id":', '"zz":": ","id":', 1), text.replace('"notes":"', '"notes":": , ] {', 1),
        text.replace('"notes":"', f'"notes":"{rng.choice(STRANGE_TEXTS)}', 1), text.replace("/", "\\/", 1),
        re.sub("[0-9]{2}:", lambda found: f"\\u003{found[0][0]}{found[0][1:]}", text, count=1), text,
        re.sub(r":(0\.[0-9]+)", rng.choice((r":\g<1>0", r":\1e0", r":-\1")), text, count=1),
    ))


STRANGE_TEXTS = ("é", "😀", "\u2028", "\x7f", '\\"', "\\u0001", "\\n", "\x01", "a : b", "\ue000")


def test_a_line_that_is_written_in_another_way_is_told_from_a_canonical_one(tmp_path, monkeypatch):
    """The sum is over the lines as they stand, so that nothing but their form gives them away."""
    slow, whole = [], streamed.check_file
    monkeypatch.setattr(streamed, "check_file", lambda path: slow.append(path) or whole(path))
    lines_of_phone = many_phones.lines_of(0, 30, many_phones.drawn(30))
    rng, path, right = random.Random(SEED), tmp_path / "file.json", 0
    for _ in range(FILES):
        text = rewritten(rng, rng.choice(lines_of_phone))
        path.write_bytes(many_phones.file_of([text]).encode("utf-8", "surrogatepass"))
        contents = check_file(path)
        entries, problems, _ = told(path)
        assert (problems, entries) == (contents.problems, contents.entries), text
        right += not problems
    assert FILES // 10 < right < FILES // 2
    assert FILES - len(slow) == right

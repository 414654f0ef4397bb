"""Files and fragments mutated in bytes, structure and values: Python and the browser come to the same verdict."""

import base64
import json
import random
import time
from collections import Counter

import pytest
from cases import SEED
from drawn_meaning import entry_of_any_meaning
from records import STRANGE, current, sealed, spoilt, torn, version_1
from tankfoot.office.entry_check import entry_problems
from tankfoot.office.transfer import read_bytes

AT_ONCE = 250  # mutations that are sent to the browser together
VERDICTS = """async ([url, files, entries]) => {
  const { take } = await import(url);
  const [{ readBytes }, { entryProblems }] = [await take("office/transfer.js"), await take("office/entry_check.js")];
  const places = (problems) => problems.map(({ where, code, facts, id }) => [where, code, facts, id]);
  const bytes = (text) => Uint8Array.from(atob(text), (byte) => byte.charCodeAt(0)).buffer;
  const ofFiles = [];
  for (const text of files) {
    const { entries: right, problems } = await readBytes(bytes(text));
    ofFiles.push([right.map(({ id }) => id), places(problems)]);
  }
  return JSON.stringify([ofFiles, JSON.parse(entries).map((entry) => places(entryProblems(entry)))]);
}"""


def some_entries(rng):
    """A file's members with a few entries of either schema version."""
    data = rng.choice((current, version_1))()
    return data | {"entries": rng.sample(data["entries"], rng.randint(0, 3))}


def of_structure(rng):
    """A sealed file whose entries were cut, doubled, and filled with what does not belong there."""
    data = spoilt(rng, some_entries(rng), rng.randint(0, 4))
    if rng.random() < 0.1:
        data["entries"] += data["entries"][:2]
    return json.dumps(sealed(data)).encode()


def of_values(rng):
    """A sealed file of today whose entries are right in shape, with one value elsewhere."""
    data = current() | {"entries": [entry_of_any_meaning(rng) for _ in range(rng.randint(0, 3))]}
    sealed_data = sealed(data)
    if rng.random() < 0.2:
        sealed_data[rng.choice(list(data))] = rng.choice(STRANGE)
    return json.dumps(sealed_data).encode()


def of_bytes(rng):
    """A file with bytes changed, taken out and put in, or its text torn."""
    whole = json.dumps(sealed(some_entries(rng)), ensure_ascii=rng.random() < 0.5)
    if rng.random() < 0.3:
        return torn(rng, whole).encode("utf-8", "surrogatepass")
    content = bytearray(whole.encode())
    for _ in range(rng.randint(1, 3)):
        place = rng.randrange(len(content))
        content[place : place + rng.choice((0, 1, 1, 3, 40))] = rng.randbytes(rng.choice((0, 1, 1, 2)))
    return bytes(content)


def fragment(rng):
    """One entry, or what should be one."""
    entry = entry_of_any_meaning(rng)
    made = spoilt(rng, {"entries": [entry]}, rng.randint(0, 3))["entries"]
    return made[0] if made else rng.choice(STRANGE)


FILES = (of_structure, of_values, of_bytes)
REACHED = ("right", "must-be", "missing", "not-json", "not-utf8", "sha256", "unknown-step", "too-much-beer")


@pytest.fixture
def verdicts(chromium, served):
    page = chromium.new_page(service_workers="block")
    page.goto(served.address)
    yield lambda files, entries: json.loads(page.evaluate(VERDICTS, [served.script, files, json.dumps(entries)]))
    page.close()


def placed(problems):
    return [[problem.where, problem.code, problem.facts, problem.id] for problem in problems]


def test_mutated_files_and_fragments_have_the_same_verdict_in_both_languages(verdicts, pytestconfig, tell):
    count, started, codes, done = pytestconfig.getoption("mutations"), time.perf_counter(), Counter(), 0
    while done < count:
        rng, some = random.Random(f"{SEED} {done}"), min(AT_ONCE, count - done)
        files = [rng.choice(FILES)(rng) for _ in range(some // 2)]
        entries = [fragment(rng) for _ in range(some - len(files))]
        of_files, of_entries = verdicts([base64.b64encode(file).decode() for file in files], entries)
        for file, their in zip(files, of_files, strict=True):
            ours = read_bytes(file)
            assert [[entry["id"] for entry in ours.entries], placed(ours.problems)] == their, file
            codes.update({problem.code for problem in ours.problems} or {"right"})
        for entry, their in zip(entries, of_entries, strict=True):
            found = entry_problems(json.loads(json.dumps(entry), parse_int=float))
            assert placed(found) == their, entry
            codes.update({problem.code for problem in found} or {"right"})
        done += some
    tell(f"{count} mutations, one verdict in both languages, in {time.perf_counter() - started:.0f} s: {dict(codes)}")
    assert set(REACHED) <= set(codes)

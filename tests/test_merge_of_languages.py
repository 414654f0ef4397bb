"""An English and a Spanish phone merge to one record, in whatever order, and each reads it in its own language."""

import copy
import os
import subprocess
import sys
from functools import reduce
from itertools import permutations

import cellar
import pytest
from hypothesis import given
from hypothesis import strategies as st
from playwright.sync_api import expect
from records import current
from tankfoot.checklists import checklists
from tankfoot.office.merge import merge_entries
from tankfoot.office.transfer import export_file
from tankfoot.wording import words
from test_record import REAL
from test_words_in_the_record import phones, show  # noqa: F401
from values import unhurried

MADE = "2026-03-02T12:00:00.000Z"
LANGUAGES = ("en", "es")
# What each phone did with an entry: it has none, has it as it was, or changed it at one of two instants.
DID = (None, "as it was", "2026-03-02T08:00:00.000Z", "2026-03-02T09:00:00.000Z")


def exported(language, did):
    """The entries of a phone that speaks a language; an own list that is changed there is in that language."""
    for entry, what in zip(current()["entries"], did, strict=True):
        if what is None:
            continue
        mine = copy.deepcopy(entry)
        if what != "as it was":
            mine["edited"] = what
            if mine["kind"] == "site-list":
                mine["body"]["list"]["language"] = language
        yield mine


did = st.lists(st.sampled_from(DID), min_size=len(current()["entries"]), max_size=len(current()["entries"]))


@given(did, did, did)
@unhurried
def test_exports_of_two_languages_merge_to_one_record_in_any_order(english, spanish, other):
    of = [list(exported(*one)) for one in (("en", english), ("es", spanish), ("es", other))]
    merged = {
        export_file(reduce(lambda mine, theirs: merge_entries(mine, theirs).entries, order), "0", MADE)
        for order in permutations(of)
    }
    assert len(merged) == 1


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_the_command_merges_alike_whatever_it_speaks(order, tmp_path):
    changes = (DID * len(current()["entries"]))[: len(current()["entries"])]
    for number, language in enumerate(LANGUAGES):
        entries = list(exported(language, changes[number:] + changes[:number]))
        (tmp_path / f"{number}.json").write_text(export_file(entries, "0", MADE), encoding="utf-8")
    made = set()
    for language in LANGUAGES:
        out = tmp_path / f"{language}.json"
        subprocess.run(
            [sys.executable, "-c", "import sys; from tankfoot.cli import main; sys.exit(main(sys.argv[1:]))", "merge",
             *(tmp_path / f"{number}.json" for number in order), "-o", out],
            env={**os.environ, "TANKFOOT_LANGUAGE": language}, check=True, capture_output=True,
        )
        made.add(out.read_bytes())
    assert len(made) == 1


def test_each_phone_reads_the_same_record_in_its_own_language(phones):  # noqa: F811
    skipped = checklists()["cold-exposure"].lines[0].id
    run = cellar.entry("list-run", cellar.id_of("run"), cellar.MADE, {
        "checklist": "cold-exposure", "version": checklists("es")["cold-exposure"].version, "started": cellar.MADE,
        "finished": None, "events": [{"line": skipped, "at": cellar.MADE, "done": True}],
    })
    rule = cellar.entry("due-rule", cellar.id_of("rule"), cellar.MADE, {
        "name": "own-0a1b2c3d", "title": None, "asks": "purge", "after": "cooled", "contact": False, "wait": 1,
        "within": 1, "every": None, "again": 0, "solids": None, "off": False,
    })
    read = {}
    for language, at in phones.items():
        show(at, "about/")
        cellar.keep(at.page, at.site, REAL, run, rule)
        page = show(at, f"record/entry/#id={REAL['id']}")
        solids = words("purge", language)["solids"]["hops"]
        expect(page.locator("main")).to_contain_text(solids)
        read[language] = [page.locator("main").inner_text()]
        page = show(at, "record/")
        page.locator("[data-lists] summary").click()
        title = checklists(language)["cold-exposure"].title
        expect(page.locator("[data-lists] li")).to_contain_text(title)
        page = show(at, "rules/")
        expect(page.locator("[data-list]")).to_contain_text(words("due", language)["unnamed"])
        read[language].append(page.locator("[data-list]").inner_text())
    for english, spanish in zip(read["en"], read["es"], strict=True):
        # what a hand typed and what is a number is the same, every other line is another
        same = set(english.splitlines()) & set(spanish.splitlines())
        assert [line for line in same if sum(map(str.isalpha, line.split())) > 2] in ([], [REAL["body"]["notes"]])

"""One thing has one word on every Spanish screen: what docs/words.md has under "also said" stands on none of them."""

import re
from pathlib import Path

import pytest
from spanish import excuses, texts
from tankfoot.checklists import cards, checklists
from tankfoot.site.signs import signs
from tankfoot.site.step_signs import step_signs
from tankfoot.wording import words

PAGE = Path(__file__).parent.parent / "docs" / "words.md"
SAID = texts("es")
TITLE = re.compile(r"\b(?:la|the) (ficha|lista|card|list) “([^”{]+)”", re.IGNORECASE)


def variants(page):
    """The words under "also said", in every table of the page that has such a column; notes in them are left out."""
    found = []
    for row in page.splitlines():
        cells = [cell.strip() for cell in row.strip("|").split("|")]
        if row.startswith("| English"):
            has_column = cells[-1] == "also said"
        elif row.startswith("| ") and not row.startswith("| ---") and has_column:
            found += [word for part in cells[-1].split(",") if (word := re.sub(r"\(.*?\)|:.*", "", part).strip())]
    return found


def stands(variant, text):
    return re.search(rf"(?<!\w){re.escape(variant)}(?!\w)", text, re.IGNORECASE)


EXCUSED = {row["variant"]: row for row in excuses("words")}


def left(said, variant):
    """Where ``variant`` stands and no excuse of it holds."""
    elsewhere = EXCUSED.get(variant, {}).get("within", [])
    plain = {
        place: re.sub("|".join(map(re.escape, elsewhere)) or r"\Z", "", text, flags=re.IGNORECASE)
        for place, text in said.items()
    }
    return [(*place, said[place]) for place, text in plain.items() if stands(variant, text)]


VARIANTS = variants(PAGE.read_text(encoding="utf-8"))
EVERYWHERE = {word for word, row in EXCUSED.items() if "within" not in row}


@pytest.mark.parametrize("variant", sorted(set(VARIANTS) - EVERYWHERE))
def test_a_word_that_is_said_elsewhere_stands_on_no_screen(variant):
    assert left(SAID, variant) == []


@pytest.mark.parametrize("row", EXCUSED.values(), ids=EXCUSED)
def test_an_excuse_is_of_the_table_and_needed(row):
    assert row["variant"] in VARIANTS and row["why"]
    for phrase in row.get("within", [row["variant"]]):
        assert any(phrase.lower() in text.lower() for text in SAID.values())


def test_the_page_has_such_words_and_one_that_comes_back_is_found():
    assert len(VARIANTS) > 40 and "balde" in VARIANTS
    assert left({("wording/x", "title"): "Ponga el balde debajo"}, "balde")
    assert variants("| English | Spanish |\n| --- | --- |\n| a | b, c |\n") == []


# A card or list that a line sends a hand to is found by the name that stands over it.
@pytest.mark.parametrize("language", ["en", "es"])
def test_what_is_called_by_its_title_has_that_title(language):
    said = texts(language)
    called = [(place, name) for place, text in said.items() for _, name in TITLE.findall(text)]
    titles = [text for (name, key), text in said.items() if key == "title" and name.startswith("checklists/")]
    assert len(called) >= 8 and len(titles) == len(cards()) + len(checklists())
    for place, name in called:
        assert any(title == name or re.match(rf"{re.escape(name)}(,| o )", title) for title in titles), (place, name)


# The drawings that need no language are judged on the page as they are: written anew when one changes.
def test_the_page_shows_each_sign_as_it_is_with_its_words_in_both_languages():
    page = PAGE.read_text(encoding="utf-8")
    for name, svg in signs().items():
        assert f"(pictures/{name})" in page
        kept = (PAGE.parent / "pictures" / name).read_text(encoding="utf-8")
        assert kept == svg, "python -m tankfoot.site.signs docs/pictures"
    for language in ("en", "es"):
        for card in cards(language).values():
            assert card.title in page
        row = {line.split(")")[0]: line for line in page.splitlines() if line.startswith("| ![](pictures/step-")}
        for state, name in step_signs().items():
            assert words("purge_steps", language)[state]["title"] in row[f"| ![](pictures/step-{name}.svg"], state

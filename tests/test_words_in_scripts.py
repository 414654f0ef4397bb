"""No English stands in JavaScript: scripts ask for their words by key, each key is there, and each word is asked for."""

import re
from pathlib import Path

import pytest
import tankfoot
from tankfoot.site.declared import DECLARED
from tankfoot.site.joined import IMPORT

PACKAGE = Path(tankfoot.__file__).parent
SCRIPTS = sorted(path for path in PACKAGE.rglob("*.js"))
PLURALS = {"zero", "one", "two", "few", "many", "other"}  # source: Unicode CLDR, plural categories

COMMENT = re.compile(r"/\*.*?\*/|(?<![:\\])//[^\n]*", re.DOTALL)
# What stands in it is no word for a person: it is for who reads the browser's console, or a selector of the page.
NOT_SHOWN = re.compile(
    r"(?:new \w*(?:Error|Exception)\(|console\.\w+\(|querySelector(?:All)?\(|closest\(|matches\(|className: )"
    r"(?:\"[^\"\n]*\"|`[^`\n]*`)"
)
EXPRESSION = re.compile(r"\$\{(?:[^{}`]|`[^`]*`|\{[^{}]*\})*\}")
LITERAL = re.compile(r"\"((?:[^\"\\\n]|\\.)*)\"|`((?:[^`\\]|\\.)*)`")
ENGLISH = re.compile(r"[a-z]{2,}[,;:.]? [a-z]{2,}|\b[A-Z][a-z]+[,;:.]? \w|^ ?[A-Z][a-z]+[.:!?]?$")

# Texts that look like words and are none that anybody is shown, each with what it is.
ALLOWED = {
    ".caution strong": "a selector",
    "axis end": "two classes of a drawing",
    "(prefers-color-scheme: light)": "a media query",
    "text/html; charset=utf-8": "a media type",
    "Content-Type": "a header's name",
}
KEY = re.compile(r"[a-z_]+(?:\.[\w$-]+)+")
ASKED = re.compile(r"\bwords\(([^,)]*(?:\([^)]*\))?[^,)]*)[,)]")


def english(source):
    """The texts of a script that read like words for a person."""
    code = NOT_SHOWN.sub("", COMMENT.sub("", IMPORT.sub("", source)))
    found = []
    while inner := EXPRESSION.search(code):  # what stands in a template's ${...} may hold texts of its own
        found += texts(inner[0][2:-1])
        code = code[: inner.start()] + " " + code[inner.end():]
    return [text for text in found + texts(code) if ENGLISH.search(text) and text not in ALLOWED]


def texts(code):
    return [plain or template for plain, template in LITERAL.findall(code)]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_no_english_stands_in_a_script(path):
    assert english(path.read_text(encoding="utf-8")) == []


def test_every_text_that_is_let_through_is_in_a_script():
    said = {text for path in SCRIPTS for text in texts(path.read_text(encoding="utf-8"))}
    assert set(ALLOWED) <= said


@pytest.mark.parametrize(
    "line",
    [
        'say("Saved.");', "place.textContent = `${count} lines left`;", 'const NAMES = { gauge: "Racking arm" };',
        'return isFull ? "no room here" : "";', "say(`It is ${known ? `the tank ${name}` : ``}`);", 'label: "Gauge",',
    ],
)
def test_english_in_a_script_is_found(line):
    assert english(line)


@pytest.fixture(scope="module")
def leaves():
    """The key of every word that the browser is given, a plural's forms as one."""

    def below(words, trail):
        for name, inner in words.items():
            if isinstance(inner, dict) and not set(inner) <= PLURALS:
                yield from below(inner, (*trail, name))
            else:
                yield ".".join((*trail, name))

    return set(below(DECLARED["wording"]()["screens"], ()))


def keys(code):
    """Patterns of the keys among a script's texts; what is worked out in between may be any name."""
    named = [EXPRESSION.sub("$", text) for text in texts(code)]
    return [re.compile(re.escape(key).replace(r"\$", r"[\w-]+")) for key in named if KEY.fullmatch(key)]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_word_that_a_script_asks_for_is_there(path, leaves):
    code = COMMENT.sub("", path.read_text(encoding="utf-8"))
    asked = [key for call in ASKED.findall(code) for key in keys(call)]
    assert [key.pattern for key in asked if not any(map(key.fullmatch, leaves))] == []


def test_every_word_that_the_browser_is_given_is_asked_for(leaves):
    asked = [key for path in SCRIPTS for key in keys(path.read_text(encoding="utf-8"))]
    assert {leaf for leaf in leaves if not any(key.fullmatch(leaf) for key in asked)} == set()


def test_every_plural_has_the_form_for_all_other_counts():
    """Source: Unicode CLDR: a language has "other" at least."""

    def plurals(words):
        for inner in words.values():
            if isinstance(inner, dict):
                yield from [inner] if set(inner) & PLURALS else plurals(inner)

    assert [forms for forms in plurals(DECLARED["wording"]()["screens"]) if "other" not in forms] == []

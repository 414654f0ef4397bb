"""No English stands in JavaScript: scripts ask for words by key, each key is there, each word is asked for."""

import re
from pathlib import Path

import pytest
import tankfoot
from tankfoot.site.declared import screens
from tankfoot.site.joined import IMPORT
from test_words import PLURALS

PACKAGE = Path(tankfoot.__file__).parent
SCRIPTS = sorted(path for path in PACKAGE.rglob("*.js"))

# What stands in it is no word for a person: it is for who reads the browser's console, or a selector of the page.
NOT_SHOWN = re.compile(
    r"(?:throw new \w+\(|new DOMException\(|console\.\w+\(|querySelector(?:All)?\(|closest\(|matches\(|className: )"
    r"(?:\"[^\"\n]*\"|`[^`\n]*`)"
)
# A comment, a pattern, a text in quotes, the beginning of a template, a brace.
TOKEN = re.compile(
    r"/\*.*?\*/|(?<![:\\])//[^\n]*"
    r"|(?:(?<=[(,=?:] )|(?<=return )|(?<=\())/(?:[^/\\\n\[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+/"
    r"|\"((?:[^\"\\\n]|\\.)*)\"|'(?:[^'\\\n]|\\.)*'|[`{}]", re.DOTALL,
)
CHUNK = re.compile(r"((?:[^`\\$]|\\.|\$(?!\{))*)(`|\$\{)", re.DOTALL)
ENGLISH = re.compile(r"[a-z]{2,}[,;:.]? [a-z]{2,}|\b[A-Z][a-z]+[,;:.]? \w|^ ?[A-Z][a-z]+[.:!?]?$")

# Texts that look like words and are none that anybody is shown, each with what it is.
ALLOWED = {
    ".caution strong": "a selector",
    "axis end": "two classes of a drawing",
    "(prefers-color-scheme: light)": "a media query",
    "text/html; charset=utf-8": "a media type",
    "Content-Type": "a header's name",
    "Enter": "a key's name",
}
KEY = re.compile(r"[a-z_]+(?:\.[\w$-]+)+")


def texts(code):
    """All texts of a script, comments left out; in a template, "$" for what is worked out."""
    found = []
    assert scan(code, 0, found) == len(code), "a brace or a template is not closed"
    return found


def scan(code, at, found):
    """Adds the texts from ``at`` to the brace that closes what was open there; returns the place behind it."""
    while token := TOKEN.search(code, at):
        at = token.end()
        if token[0] == "`":
            at = template(code, at, found)
        elif token[0] == "{":
            at = scan(code, at, found)
        elif token[0] == "}":
            return at
        elif token[1] is not None:
            found.append(token[1])
    return len(code)


def template(code, at, found):
    chunks = []
    while True:
        chunk = CHUNK.match(code, at)
        chunks.append(chunk[1])
        at = chunk.end()
        if chunk[2] == "`":
            found.append("$".join(chunks))
            return at
        at = scan(code, at, found)


def english(source):
    """The texts of a script that read like words for a person."""
    shown = texts(NOT_SHOWN.sub("", IMPORT.sub("", source)))
    return [text for text in shown if ENGLISH.search(text.replace("$", " ")) and text not in ALLOWED]


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

    return set(below(screens(), ()))


def keys(found):
    """Patterns of the keys among texts; what is worked out in between may be any name."""
    return [re.compile(re.escape(key).replace(r"\$", r"[\w-]+")) for key in found if KEY.fullmatch(key)]


def asked_for(code):
    """The keys that stand in a call of words()."""
    calls = code.split(" words(")[1:] + code.split("(words(")[1:]
    return keys([text for call in calls for text in first_argument(call)])


def first_argument(call):
    """The texts up to the comma or bracket that ends it."""
    depth = 0
    for place, sign in enumerate(call):
        depth += (sign in "([{") - (sign in ")]}")
        if depth < 0 or (depth == 0 and sign == ","):
            return texts(call[:place])
    raise AssertionError(f"not closed: {call[:60]}")


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_word_that_a_script_asks_for_is_there(path, leaves):
    asked = asked_for(path.read_text(encoding="utf-8"))
    assert [key.pattern for key in asked if not any(map(key.fullmatch, leaves))] == []


def test_every_word_that_the_browser_is_given_is_asked_for(leaves):
    asked = [key for path in SCRIPTS for key in keys(texts(path.read_text(encoding="utf-8")))]
    assert {leaf for leaf in leaves if not any(key.fullmatch(leaf) for key in asked)} == set()


def test_every_plural_has_the_form_for_all_other_counts():
    """Source: Unicode CLDR: a language has "other" at least."""

    def plurals(words):
        for inner in words.values():
            if isinstance(inner, dict):
                yield from [inner] if set(inner) & PLURALS else plurals(inner)

    assert [forms for forms in plurals(screens()) if "other" not in forms] == []

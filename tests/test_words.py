"""All words on the screen stand in the wording files: none is left in a template, none stands there for nothing."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tankfoot import wording
from tankfoot.batches.rules import default_rules
from tankfoot.calculators import calculators
from tankfoot.checklists import HERE, cards, checklists, parsed
from tankfoot.checklists.practice import stacks
from tankfoot.site.app import create_app
from tankfoot.site.pages import PAGES

PACKAGE = Path(wording.__file__).parent.parent
TEMPLATES = PACKAGE / "site" / "templates"
FILES = sorted(path.stem for path in (PACKAGE / "wording" / wording.LANGUAGE).glob("*.toml") if path.stem != "language")
OF_PAGES = [name for name in FILES if name != "screens"]  # scripts read that one: test_words_in_scripts.py
SPOKEN = {"aria-label", "title", "placeholder", "alt"}  # attributes that a person hears or sees (HTML, WAI-ARIA)
FORMULA = "CO2"  # the same in every language
PLURALS = {"zero", "one", "two", "few", "many", "other"}  # source: Unicode CLDR, plural categories
LETTERS = re.compile(r"[^\W\d_]{2,}")
MAIN = re.compile(r"\{% block main %\}(.*?)\{% endblock %\}")  # attributes of base.html's main
JINJA = re.compile(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", re.DOTALL)


class Seen(HTMLParser):
    """What a template itself says: its text, what is heard of its attributes, the page's description."""

    def __init__(self, source):
        super().__init__()
        self.said, self.inside = [], []
        self.feed(JINJA.sub("", MAIN.sub(r"<main\1>", source)))

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        spoken = [value for name, value in attrs if name in SPOKEN]
        described = [given["content"]] if given.get("name") == "description" else []
        marked = [value for name, value in attrs if name.startswith("data-") and value and " " in value.strip()]
        self.said += spoken + described + marked

    handle_startendtag = handle_starttag

    def handle_data(self, data):
        self.said.append(data)


def english(source):
    """Words that stand in a template outside its expressions, and sentences that stand within one."""
    texts = [text for text in re.findall(r"'([^']*)'|\"([^\"]*)\"", " ".join(JINJA.findall(source))) for text in text]
    sentences = [text for text in texts if re.search(r"[^\W\d_]{2,} [^\W\d_]|^[A-Z][a-z]", text)]
    return sentences + [text.strip() for text in Seen(source).said if LETTERS.search(text.replace(FORMULA, ""))]


@pytest.mark.parametrize("path", sorted(TEMPLATES.rglob("*.[hs][tv][mg]*")), ids=lambda path: path.stem)
def test_no_word_stands_in_a_template(path):
    assert english(path.read_text(encoding="utf-8")) == []


def test_no_word_stands_in_the_manifest():
    source = (TEMPLATES / "manifest.json").read_text(encoding="utf-8")
    assert re.findall(r'"(?:name|short_name|description|lang)": "[^"]*"', source) == []


@pytest.mark.parametrize(
    "left",
    [
        "<p>Shut it</p>", '<svg aria-label="A tank"></svg>', "<p>{{ 'Shut the valve' }}</p>", "<text>tank</text>",
        "{{ text('act', 'Clamp', 60) }}", '<meta name="description" content="A tool">', '<b data-says="Not now">',
    ],
)
def test_a_word_left_in_a_template_is_found(left):
    assert english(left)


class Words(dict):
    """Words of a file that note in ``read`` which of them are asked for."""

    def __init__(self, data, read, trail):
        super().__init__({
            key: Words(inner, read, (*trail, key)) if isinstance(inner, dict) else inner for key, inner in data.items()
        })
        self.read, self.trail = read, trail

    def __getitem__(self, key):
        self.read.add((*self.trail, key))
        return super().__getitem__(key)

    def get(self, key, default=None):
        return self[key] if key in self else default  # noqa: SIM401

    def __iter__(self):
        return iter(list(super().keys()))

    def keys(self):
        return list(super().keys())

    def items(self):
        return [(key, self[key]) for key in self]

    def values(self):
        return [self[key] for key in self]


@pytest.fixture(scope="module")
def read():
    """(file, key, key ...) of every word that a page or the manifest asks for."""
    found, plain = set(), wording.words.__wrapped__
    kept = {name: Words(plain(name), found, (name,)) for name in FILES}
    with pytest.MonkeyPatch.context() as patch:
        asked = lambda name, language=None: kept[name]  # noqa: E731
        patch.setattr(wording, "words", asked)
        for module in ("app", "pages", "texts", "stack_drawing", "plots"):
            patch.setattr(f"tankfoot.site.{module}.words", asked)
        show_all(create_app().test_client())
    return found


def show_all(client):
    names = {"calculators": calculators(), "checklists": checklists(), "emergency": cards()}
    for rule in PAGES:
        if rule.startswith(("/js/", "/assets/")):
            continue
        for name in names.get(rule.split("/")[1], ()) if "<name>" in rule else [""]:
            assert client.get(rule.replace("<name>", name)).status_code == 200, (rule, name)


def leaves(data, trail):
    for key, inner in data.items():
        is_table = isinstance(inner, dict) and not set(inner) <= PLURALS
        yield from leaves(inner, (*trail, key)) if is_table else [(*trail, key)]


CODE = "\n".join(path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*") if path.suffix in (".js", ".py"))
NAMED = set(re.findall(r"""["'`.]([\w-]+)""", CODE))  # in code, a word's key is a text or stands after a point
NAMED |= {rule["name"] for rule in default_rules()}


@pytest.mark.parametrize("name", OF_PAGES)
def test_every_word_is_shown_by_a_page_or_named_by_code(name, read):
    idle = [trail for trail in leaves(wording.words(name), (name,)) if trail not in read and trail[-1] not in NAMED]
    assert idle == []


# A template reads own.clear as the method of Python's dict, whatever the file says (Jinja: attributes come first).
@pytest.mark.parametrize("name", OF_PAGES)
def test_no_word_is_named_like_a_method_of_a_table(name):
    assert not {key for trail in leaves(wording.words(name), ()) for key in trail} & set(dir(dict))


def test_a_stack_and_what_it_says_belong_together():
    assert set(parsed(HERE / wording.LANGUAGE / "stacks.toml")) == set(stacks())

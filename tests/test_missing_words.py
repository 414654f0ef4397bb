"""What a language does not say yet is told by file and key; what it says for nothing, too."""

import json
import shutil

import pytest
from package_copy import PackageCopy
from tankfoot.site.sources import PACKAGE
from tankfoot.wording.languages import FIRST, languages

ROOMS = ("wording", "checklists")


@pytest.fixture(scope="module")
def package(tmp_path_factory):
    """The package with a language more: a copy of the Spanish, in which a test may leave something out."""
    package = PackageCopy(tmp_path_factory.mktemp("with_a_language"))
    for room in ROOMS:
        shutil.copytree(package.package / room / "es", package.package / room / "fr")
    return package


@pytest.fixture
def change(package):
    """Changes one file of the new language for the time of a test."""
    kept = {}

    def put(file, before, after):
        path = package.package / file
        kept[path] = path.read_text(encoding="utf-8")
        assert kept[path].count(before) == 1, (file, before)
        path.write_text(kept[path].replace(before, after), encoding="utf-8")

    yield put
    for path, text in kept.items():
        path.write_text(text, encoding="utf-8")


@pytest.mark.parametrize("language", [language for language in languages() if language != FIRST])
def test_no_word_is_missing_in_the_languages_that_there_are_and_none_is_stray(language, tankfoot):
    assert tankfoot("words", "--missing", language) == (0, f"{language}: nothing is missing.\n", "")
    assert tankfoot("words", "--stray", language) == (0, f"{language}: nothing is stray.\n", "")


# file, the key that the line in it begins with, the place of it that is told, and the English, as in the files
LEFT_OUT = {
    "a word": ("wording/fr/today.toml", "due", "due", "Due"),
    "a text of a list": ("checklists/fr/lists/hops.toml", "title", "title", "Hops in the tank"),
    "a text of a card": ("checklists/fr/cards/vacuum.toml", "title", "title", "Gauge below zero, tank creaks or dents"),
    "a region": ("checklists/fr/regions.toml", 'shown = "Irlanda"', "regions.Ireland.shown", "Ireland"),
    "a rule": ("checklists/fr/rules.toml", "condition", "condition", "Use this when "),
}


@pytest.mark.parametrize(("file", "begins", "key", "english"), LEFT_OUT.values(), ids=LEFT_OUT)
def test_a_text_that_is_left_out_is_listed_with_its_file_its_key_and_the_english(
    file, begins, key, english, package, change,
):
    lines = (package.package / file).read_text(encoding="utf-8").splitlines(keepends=True)
    change(file, next(line for line in lines if line.startswith(begins)), "")
    ended = package.tankfoot("words", "--missing", "fr", "--json")
    assert (ended.returncode, ended.stderr) == (1, "")
    assert json.loads(ended.stdout) == {"language": "fr", "missing": [{"file": file, "key": key, "text": english}]}
    assert package.tankfoot("words", "--missing", "fr").stdout == f"{file}\n  {key}: {english}\n"


def test_a_language_without_a_folder_lacks_all_of_it(tankfoot):
    code, out, _ = tankfoot("words", "--missing", "nah", "--json")
    files = {each["file"] for each in json.loads(out)["missing"]}
    here = {f"{room}/nah/{name}" for room in ROOMS for name in names(room)}
    assert (code, files) == (1, here)


def names(room):
    folder = PACKAGE / room / FIRST
    return [path.relative_to(folder).as_posix() for path in folder.rglob("*.toml")]


def test_a_key_that_english_has_not_and_places_that_differ_are_stray(package, change):
    change("wording/fr/today.toml", 'due = "Pendiente"', 'due = "Pendiente"\nlate = "Tarde"')
    change("wording/fr/due.toml", '[days]\none = "{count}', '[days]\none = "{counted}')
    ended = package.tankfoot("words", "--stray", "fr", "--json")
    assert (ended.returncode, ended.stderr) == (1, "")
    stray = json.loads(ended.stdout)["stray"]
    assert [(each["file"], each["key"], each["why"]) for each in stray] == [
        ("wording/fr/due.toml", "days", "places"), ("wording/fr/today.toml", "late", "unknown"),
    ]


@pytest.mark.parametrize("tag", ["es_MX", "ES", "../en", "e", ""])
def test_what_is_no_language_is_refused(tag, tankfoot):
    code, out, err = tankfoot("words", "--missing", tag)
    assert (code, out) == (2, "")
    assert err == f"{tag} is no language: give its two or three small letters by ISO 639, such as fr.\n"


@pytest.mark.parametrize("arguments", [[], ["--missing"], ["--missing", "es", "--stray", "es"], ["--lacking", "es"]])
def test_what_the_command_does_not_know_is_refused(arguments, tankfoot):
    with pytest.raises(SystemExit) as ended:
        tankfoot("words", *arguments)
    assert ended.value.code == 2

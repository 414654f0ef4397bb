"""What ``tankfoot words`` answers: what a language does not say yet, and what it says for nothing."""

import json
import re
import sys

from tankfoot.checklists import parsed
from tankfoot.office.commands import COULD_NOT, REFUSED
from tankfoot.site.sources import PACKAGE
from tankfoot.wording import IDS, words
from tankfoot.wording.compared import places, texts
from tankfoot.wording.languages import FIRST

TAG = re.compile(r"[a-z]{2,3}")  # source: BCP 47 (RFC 5646, 2.2.1), a language as ISO 639 names it
# Of lists, cards, stacks and regions, what is the same in all languages: ids, names of sums, numbers, days.
NO_WORDS = {"id", "name", "signal", "picture", "numbers", "inputs", "order", "dated", "number", "also", "standard"}
NOTHING = {"missing": "none_missing", "stray": "none_stray"}
RULES, REGIONS = "checklists/{}/rules.toml", "checklists/{}/regions.toml"


def told(options):
    """Prints it; the exit code: 0 where there is nothing to tell."""
    own = words("command")["words"]
    which, language = ("missing", options.missing) if options.stray is None else ("stray", options.stray)
    if not TAG.fullmatch(language):
        print(own["no_tag"].format(given=language), file=sys.stderr)
        return REFUSED
    found = list(missing(language) if which == "missing" else stray(language))
    if options.json:
        print(json.dumps({"language": language, which: found}, ensure_ascii=False))
    else:
        print("\n".join(_lines(found)) or own[NOTHING[which]].format(language=language))
    return COULD_NOT if found else 0


def _lines(found):
    file = None
    for each in found:
        if each["file"] != file:
            yield (file := each["file"])
        yield words("command")["words"][each.get("why", "line")].format(**each)


def missing(language):
    """The file, the key and the English text of each text that ``language`` does not say."""
    for file in _files(FIRST):
        own = _said(file, language)
        for key, text in _said(file, FIRST).items():
            if key not in own:
                yield {"file": file.format(language), "key": key, "text": text}


def stray(language):
    """The texts of ``language`` that the first language has not, or has with other places in braces."""
    for file in dict.fromkeys([*_files(FIRST), *_files(language)]):
        first = _said(file, FIRST)
        for key, text in _said(file, language).items():
            if key not in first:
                yield {"file": file.format(language), "key": key, "text": text, "why": "unknown"}
            elif file != RULES and places(text) != places(first[key]):
                yield {"file": file.format(language), "key": key, "text": text, "why": "places", "first": first[key]}


def _files(language):
    """The files of a language below the package, with a place for the language in their names."""
    for room in ("wording", "checklists"):
        for path in sorted((PACKAGE / room / language).rglob("*.toml")):
            yield f"{room}/{{}}/{path.relative_to(PACKAGE / room / language).as_posix()}"


def _said(file, language):
    """{key: text} of a file; nothing where the language has no such file."""
    path = PACKAGE / file.format(language)
    if not path.is_file():
        return {}
    data = parsed(path)
    if file == RULES:
        return {key: str(rule) for key, rule in data.items()}  # as many endings as the language has
    if file == REGIONS and language == FIRST:
        for region in data["regions"]:
            region["shown"] = region["name"]  # phones remember the name; another language says what it is called there
    return dict(texts(data, IDS if file.startswith("wording") else NO_WORDS))

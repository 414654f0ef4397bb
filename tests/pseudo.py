"""A language that nobody speaks, in a copy of the package: each text 40 % longer, every letter of it with an accent.

What is on a screen without such letters came from no wording file.
"""

import json
import math
import re
import string
import sys
from datetime import date

from package_copy import PackageCopy
from tankfoot.checklists import parsed
from tankfoot.quantities.units import TABLE
from tankfoot.site.left import NO_WORDS, PACKAGE
from tankfoot.wording import IDS
from tankfoot.wording.compared import counts
from tankfoot.wording.languages import CHOSEN_BY, FIRST

NAME = "qps"  # source: BCP 47 (RFC 5646): qaa to qtz are for private use, no language has them
# Its numbers, dates and plurals are of a script without a Latin letter, and with a decimal point (CLDR, th).
LOCALE = "th"
LONGER = 1.4  # a translation of a sentence out of English grows by as much. Common practice, no source
LETTERS = str.maketrans(
    string.ascii_letters, "āƀćđēƒģĥīĵķļṁńōƥɋŕšţūṽŵẋŷžĀƁĆĐĒƑĢĤĪĴĶĻṀŃŌƤɊŔŠŢŪṼŴẊŶŽ",
)
BEGINS, ENDS = "⟦", "⟧"
PLACE = re.compile(r"(\{[^{}]*\})")
HASH = re.compile(r"(?<!\w)[0-9a-f]{8}(?!\w)")  # a list's version, a build's
WORD = 9  # letters of the words that a text is lengthened by
TWICE = """

for _held in (LIST, PART, LINE, CARD):
    _held.update({name: 2 * most for name, most in _held.items()})
"""


def accented(text):
    """``text`` with other letters; what stands in braces stays.

    >>> accented("Shut {valve}")
    'Šĥūţ {valve}'
    """
    return "".join(part if PLACE.fullmatch(part) else part.translate(LETTERS) for part in PLACE.split(text))


def pseudo(text):
    """``text`` in that language. A word alone becomes a longer word.

    >>> pseudo("Tanks"), pseudo("Shut {valve}, then wait")
    ('⟦Ţāńķš⟧', '⟦Šĥūţ {valve}, ţĥēń ŵāīţ ōōōōōō⟧')
    """
    more = math.ceil(LONGER * len(PLACE.sub("...", text))) - len(PLACE.sub("...", text)) - 2
    words = [("" if " " not in text else " ") + "ō" * min(WORD, left) for left in range(more, 0, -WORD - 1)]
    return BEGINS + accented(text) + "".join(words) + ENDS


def foreign(text, names=()):
    """What of a text is said in no wording file; ``names``: what a person typed, and what is the same everywhere.

    >>> foreign("⟦Šĥūţ ţĥē valve⟧"), foreign("⟦Ƒļōŵ⟧ 12.5 gal/min of CO2, FV 1", ["FV 1"])
    (['valve'], ['of'])
    """
    known = sorted([*names, "Tankfoot", "CO2", *TABLE], key=len, reverse=True)
    left = re.sub("|".join(rf"(?<![A-Za-z]){re.escape(each)}(?![A-Za-z])" for each in known), " ", text)
    return re.findall(r"[A-Za-z]{2,}", HASH.sub(" ", left))


def _said(data, no_words):
    """All texts of ``data`` in that language."""
    if isinstance(data, dict) and counts(data):
        return {"other": pseudo(data["other"])}  # as in Thai
    if isinstance(data, dict):
        return {key: inner if key in no_words else _said(inner, no_words) for key, inner in data.items()}
    if isinstance(data, list):
        return [_said(inner, no_words) for inner in data]
    return pseudo(data) if isinstance(data, str) else data


def _rules(first):
    """How its lists and cards begin and end; what they may not say is looked for in English."""
    return first | {
        "condition": BEGINS + accented(first["condition"]), "completion": [ENDS],
        "never": [BEGINS + accented(begins) for begins in first["never"]],
        "defers": [accented(part) for part in first["defers"]],
        "words_in_a_card_act": 2 * first["words_in_a_card_act"],
    }


def _toml(value):
    """A value in TOML 1.0; a text in JSON is one there too."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {_toml(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return value.isoformat() if isinstance(value, date) else json.dumps(value, ensure_ascii=False)


class PseudoPackage(PackageCopy):
    """A copy of the package that speaks it."""

    def __init__(self, folder):
        super().__init__(folder)
        for path in sorted((PACKAGE / "wording" / FIRST).rglob("*.toml")):
            self._write(path, _said(parsed(path), IDS))
        for path in sorted((PACKAGE / "checklists" / FIRST).rglob("*.toml")):
            self._write(path, _rules(parsed(path)) if path.name == "rules.toml" else _said(parsed(path), NO_WORDS))
        self._write(PACKAGE / "wording" / FIRST / "language.toml", {"name": pseudo("Pseudo"), "locale": LOCALE})
        regions = self.package / "checklists" / NAME / "regions.toml"
        data = parsed(regions)
        named = [region | {"shown": pseudo(region["name"])} for region in data["regions"]]
        self._write(PACKAGE / "checklists" / FIRST / "regions.toml", data | {"regions": named})
        # What a list may hold is the record's own, for all languages; this one says more than a translation would.
        limits = self.package / "record" / "limits.py"
        limits.write_text(limits.read_text(encoding="utf-8") + TWICE, encoding="utf-8")

    def _write(self, path, data):
        """Puts ``data`` in the place that the first language's file at ``path`` has in this one."""
        room, _, *rest = path.relative_to(PACKAGE).parts
        own = self.package.joinpath(room, NAME, *rest)
        own.parent.mkdir(parents=True, exist_ok=True)
        lines = (f"{json.dumps(key)} = {_toml(value)}\n" for key, value in data.items())
        own.write_text("".join(lines), encoding="utf-8")

    def freeze(self, folder):
        """Writes its site into ``folder``."""
        made = self.run(sys.executable, "-m", "tankfoot.site.freezer", folder, "", environment={CHOSEN_BY: NAME})
        assert made.returncode == 0, made.stderr

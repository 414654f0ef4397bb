"""Every DANGER and WARNING claim and every line of a card with its source, as the tables that docs/safety.md shows.

``python -m tankfoot.checklists.claims docs/safety.md`` writes them anew there.
"""

import re
import sys
from pathlib import Path

from tankfoot.checklists import cards, checklists
from tankfoot.checklists.shown import shown, units_of

GRAVEST = ("DANGER", "WARNING")
HEADINGS = ("Signal", "List, line", "What happens", "Source")
CARD_HEADINGS = ("Card", "What it says", "Source")


def claims():
    """Rows of the table, gravest first, then in the order of the lists."""
    found = [(line, made) for made in checklists().values() for line in made.lines if line.signal in GRAVEST]
    ordered = sorted(found, key=lambda pair: GRAVEST.index(pair[0].signal))
    return [(line.signal, f"{made.id}, {line.id}", line.consequence, line.source) for line, made in ordered]


def claims_table():
    """The rows as a Markdown table."""
    return _table(HEADINGS, claims())


def cards_table():
    """Every line of every card as a Markdown table."""
    return _table(CARD_HEADINGS, [(made.id, *claim) for made in cards().values() for claim in made.claims])


def _table(headings, rows):
    """As a phone shows it on which no region is set."""
    filled = [[shown(text, "", units_of("metric")) for text in row] for row in rows]
    return "\n".join(f"| {' | '.join(row)} |" for row in [headings, ("---",) * len(headings), *filled])


def with_tables(page):
    """The text of a ``page`` with its two tables as they have to be; ValueError where it has no such table.

    >>> with_tables("no table")
    Traceback (most recent call last):
    ValueError: there is no table | Signal | List, line | What happens | Source |
    """
    for table in (claims_table(), cards_table()):
        head = table.partition("\n")[0]
        stale = re.search(rf"^{re.escape(head)}(?:\n\|.*)*", page, re.MULTILINE)
        if not stale:
            raise ValueError(f"there is no table {head}")
        page = page.replace(stale[0], table)
    return page


if __name__ == "__main__":
    file = Path(sys.argv[1])
    file.write_text(with_tables(file.read_text(encoding="utf-8")), encoding="utf-8")

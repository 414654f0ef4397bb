"""Every DANGER and WARNING claim with its source, as the table that docs/safety.md shows."""

from tankfoot.checklists import checklists

GRAVEST = ("DANGER", "WARNING")
HEADINGS = ("Signal", "List, line", "What happens", "Source")


def claims():
    """Rows of the table, gravest first, then in the order of the lists."""
    found = [(line, made) for made in checklists().values() for line in made.lines if line.signal in GRAVEST]
    ordered = sorted(found, key=lambda pair: GRAVEST.index(pair[0].signal))
    return [(line.signal, f"{made.id}, {line.id}", line.consequence, line.source) for line, made in ordered]


def claims_table():
    """The rows as a Markdown table."""
    rows = [HEADINGS, ("---",) * len(HEADINGS), *claims()]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


if __name__ == "__main__":
    print(claims_table())

"""Writes docs/formats.md and the JSON Schema from the shapes: ``python -m tankfoot.office.formats docs``."""

import json
import sys
from importlib.resources import files
from pathlib import Path
from string import Template

from tankfoot.office.csv_export import COLUMNS
from tankfoot.office.transfer import LARGEST, PART
from tankfoot.quantities.units import KINDS, SYSTEMS, offered
from tankfoot.record.bodies import BODIES
from tankfoot.record.canonical import DEEPEST
from tankfoot.record.entry import ENTRY, EXPORT_FILE, SCHEMA_VERSION
from tankfoot.record.json_schema import json_schema
from tankfoot.wording import shape_words


def documents():
    """{name: text} of the files that say what Tankfoot writes and reads."""
    schema = json.dumps(_in_words(json_schema()), indent=1, ensure_ascii=False)
    return {"formats.md": formats_md(), "record.schema.json": schema + "\n"}


def _in_words(schema):
    """The same shapes with what each value must be as its description."""
    if isinstance(schema, list):
        return [_in_words(inner) for inner in schema]
    if not isinstance(schema, dict):
        return schema
    is_shape = isinstance(schema.get("what", {}).get("what"), str)  # and no names of an object's members
    return dict(
        ("description", shape_words(inner)) if is_shape and key == "what" else (key, _in_words(inner))
        for key, inner in schema.items()
    )


def formats_md():
    """The text of formats.md: the page's words with a table for every shape."""
    page = Template((files(__package__) / "formats.md").read_text(encoding="utf-8"))
    return page.substitute(
        largest=LARGEST // 1_000_000, part=PART // 1_000_000,
        deepest=DEEPEST, schema_version=SCHEMA_VERSION, columns=_columns(),
        export_file=_table(EXPORT_FILE), entry=_table(ENTRY),
        **{kind.replace("-", "_"): _table(shape) for kind, shape in BODIES.items()},
    )


def _table(shape):
    return "\n".join(["| key | it must be |", "| --- | --- |", *_rows(_in_words(shape.described()), "")])


def _rows(schema, where):
    for name, inner in schema.get("properties", {}).items():
        path = f"{where}{name}"
        optional = "" if name in schema["required"] else "; may be left out"
        yield f"| `{path}` | {inner['description']}{optional} |"
        yield from _rows(inner, f"{path}.")
        yield from _rows(inner.get("items", {}), f"{path}[].")
        yield from _rows(inner.get("additionalProperties", {}), f"{path}.*.")


def _columns():
    rows = [f"| column | {' | '.join(SYSTEMS.values())} |", "| --- |" + " --- |" * len(SYSTEMS)]
    for name, _, kind in COLUMNS:
        symbols = [offered(kind, system)[0] if kind in KINDS and kind != "money" else "" for system in SYSTEMS]
        rows.append(f"| `{name}` | {' | '.join(symbols)} |")
    return "\n".join(rows)


if __name__ == "__main__":
    for name, text in documents().items():
        (Path(sys.argv[1]) / name).write_text(text, encoding="utf-8")

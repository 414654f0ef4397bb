"""The record's shapes as JSON Schema: for the browser as one JavaScript module, for others as one schema."""

import json

from tankfoot.office.csv_export import COLUMNS
from tankfoot.office.merge import WHY
from tankfoot.office.record import BODIES, ENTRY, EXPORT_FILE, FORMAT, SCHEMA_VERSION
from tankfoot.office.transfer import LARGEST, SENTENCES

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def described():
    """All that the browser is told, by the names it is exported under."""
    return {
        "FORMAT": FORMAT,
        "SCHEMA_VERSION": SCHEMA_VERSION,
        "LARGEST": LARGEST,
        "exportFile": EXPORT_FILE.described(),
        "entry": ENTRY.described(),
        "bodies": {kind: shape.described() for kind, shape in BODIES.items()},
        "sentences": SENTENCES,
        "why": WHY,
        "columns": COLUMNS,
    }


def shapes_js():
    """The text of ``js/office/shapes.js``."""
    lines = ["/** The record's shapes and sentences as declared in Python. Written by the build. */"]
    lines += [f"export const {name} = {_literal(value)};" for name, value in described().items()]
    return "\n".join(lines) + "\n"


def json_schema():
    """The export file as one JSON Schema; the body of an entry is of its kind, unless it was deleted."""
    of_kinds = [
        {
            "if": {"properties": {"kind": {"const": kind}, "deleted": {"const": False}}},
            "then": {"properties": {"body": here, "history": {"items": {"properties": {"body": here}}}}},
        }
        for kind in BODIES
        for here in [{"$ref": f"#/$defs/{kind}"}]
    ]
    file = EXPORT_FILE.described()
    entries = file["properties"]["entries"] | {"items": {"$ref": "#/$defs/entry"}}
    return {
        "$schema": DIALECT,
        **file,
        "properties": file["properties"] | {"entries": entries},
        "$defs": {
            "entry": ENTRY.described() | {"allOf": of_kinds},
            **{kind: shape.described() for kind, shape in BODIES.items()},
        },
    }


def _literal(value):
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))

"""The record's shapes as one JSON Schema, for whoever reads an export."""

from tankfoot.record.bodies import BODIES
from tankfoot.record.entry import ENTRY, EXPORT_FILE

DIALECT = "https://json-schema.org/draft/2020-12/schema"


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

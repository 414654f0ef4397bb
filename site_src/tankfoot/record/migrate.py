"""Entries of an earlier schema version as those of today. Each step is kept for good, and none is ever changed.

Version 2 says of a purge which table it was made with and whose initials stand in it, and of a tank what hangs under
it and how a cap is let down there; solids that are none of the others are "mixed", where version 1 said "routine".
Version 3 knows rounds; what version 2 held is as it was. Version 4 knows batches, readings, rules of what is due, what
was put off, and notes for the next shift; what version 3 held is as it was. Version 5 knows the
prices and the purges that a cost is held against; what version 4 held is as it was. Version 6 knows what a camera saw
of a run; what version 5 held is as it was. Version 7 knows the language of a site's own list, and by its id the list
that it was copied from; what version 6 held is as it was.
"""


def migrated(entry, version):
    """``entry``, any JSON value of schema ``version``, in the shapes of today; itself where nothing is to be changed.

    What is damaged stays so: an entry is judged after it was migrated, never here.

    >>> migrated({"kind": "purge", "deleted": False, "body": {"solids": "routine"}, "history": []}, 1)["body"]
    {'solids': 'mixed', 'table': '1', 'initials': None}
    """
    for step in STEPS[version - 1 :]:
        entry = step(entry)
    return entry


def _to_2(entry):
    if not isinstance(entry, dict) or not isinstance(entry.get("kind"), str) or entry["kind"] not in ADDED_IN_2:
        return entry
    added, changed = ADDED_IN_2[entry["kind"]], dict(entry)
    if "body" in entry:
        changed["body"] = _body_to_2(entry["body"], added)
    if isinstance(entry.get("history"), list):
        changed["history"] = [
            {**past, "body": _body_to_2(past["body"], added)} if isinstance(past, dict) and "body" in past else past
            for past in entry["history"]
        ]
    return changed


def _body_to_2(body, added):
    if not isinstance(body, dict) or not body:
        return body
    solids = {"solids": "mixed"} if body.get("solids") == "routine" else {}
    return {**body, **solids, **{key: value for key, value in added.items() if key not in body}}


def _to_3(entry):
    return entry


def _to_4(entry):
    return entry


def _to_5(entry):
    return entry


def _to_6(entry):
    return entry


def _to_7(entry):
    return entry


ADDED_IN_2 = {"purge": {"table": "1", "initials": None}, "tank": {"stack": None, "cap_way": None}}
STEPS = [_to_2, _to_3, _to_4, _to_5, _to_6, _to_7]


RANGES = {"migrated": ["old entry", [1, 2, 3, 4, 5, 6, 7]]}

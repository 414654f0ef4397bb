"""Why a tank is out of use: entries of kind "tank-hold", apart from the tank's own, so that no merge loses one."""


def open_holds(holds, tank):
    """Those of ``holds``, entries of the record, that keep the ``tank`` (its id) out of use, the latest first.

    >>> def hold(id, lifted):
    ...     return {"id": id, "created": id, "deleted": False, "body": {"tank": "t", "lifted": lifted}}
    >>> [each["id"] for each in open_holds([hold("a", None), hold("b", "2026-03-01"), hold("c", None)], "t")]
    ['c', 'a']
    """
    found = [hold for hold in holds if not hold["deleted"] and hold["body"]["tank"] == tank]
    return latest_first([hold for hold in found if hold["body"]["lifted"] is None])


def latest_first(entries):
    """``entries`` by the instant they were made; of one instant by their ids, so that every phone has one order."""
    return sorted(entries, key=lambda entry: (entry["created"], entry["id"]), reverse=True)


RANGES = {
    "open_holds": ["holds", ["FV 1", "FV 2"]],
    "latest_first": ["holds"],
}

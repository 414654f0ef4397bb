"""`tankfoot merge`: one file of what several phones exported, by the app's own law, in any order of the files."""

import itertools
import json

import pytest
from cellar import tank
from due_month import export, month
from records import current, sealed
from tankfoot.cli import main
from tankfoot.office import answer_merge
from tankfoot.office.transfer import in_parts, read_file


@pytest.fixture
def phones(tmp_path):
    """Three phones' files: one entry edited on two of them, one deleted on one, and what each has alone."""
    known, (first, second, *_) = current()["entries"], month()
    newer = first | {"edited": "2027-01-01T00:00:00.000Z", "body": first["body"] | {"name": "FV 10 b"}}
    gone = second | {"edited": "2027-01-01T00:00:00.000Z", "deleted": True}
    held = ([first, second, *known[:5]], [newer, tank("FV 7"), *known[3:9]], [gone, first, *known[9:]])
    return [export(tmp_path, entries, f"phone-{place}.json", f"2027-02-0{place + 1}T00:00:00.000Z")
            for place, entries in enumerate(held)]


def test_any_order_of_the_files_gives_the_same_file_to_the_byte(phones, tmp_path, capsys):
    written = set()
    for order in itertools.permutations(phones):
        assert main(["merge", *map(str, order), "-o", str(tmp_path / "all.json")]) == 0
        written.add((tmp_path / "all.json").read_bytes())
    assert "all.json is right: " in capsys.readouterr().out
    (text,) = written
    contents = read_file(text.decode())
    assert contents.problems == []
    # by hand: the newest edit wins, and a tombstone stays
    by_id = {entry["id"]: entry for entry in contents.entries}
    first, second, *_ = month()
    assert by_id[first["id"]]["body"]["name"] == "FV 10 b" and by_id[second["id"]]["deleted"] is True
    known = [*current()["entries"], first, second, tank("FV 7")]
    assert set(by_id) == {entry["id"] for entry in known}


def test_a_record_too_large_for_one_file_is_written_in_several_that_merge_again(phones, tmp_path, monkeypatch):
    monkeypatch.setattr(answer_merge, "in_parts", lambda sizes: in_parts(sizes, 4000))
    assert main(["merge", *map(str, phones), "-o", str(tmp_path / "all.json")]) == 0
    parts = sorted(tmp_path.glob("all-*.json"))
    assert len(parts) > 2 and not (tmp_path / "all.json").exists()
    monkeypatch.undo()
    assert main(["merge", *map(str, parts), "-o", str(tmp_path / "again.json")]) == 0
    assert main(["merge", *map(str, phones), "-o", str(tmp_path / "whole.json")]) == 0
    assert (tmp_path / "again.json").read_bytes() == (tmp_path / "whole.json").read_bytes()


def test_a_file_that_is_not_right_or_a_place_that_cannot_be_written_stops_it(phones, tmp_path, capsys):
    wrong = tmp_path / "wrong.json"
    wrong.write_text(json.dumps(sealed(current()) | {"count": 1}), encoding="utf-8")
    assert main(["merge", str(phones[0]), str(wrong), "-o", str(tmp_path / "all.json")]) == 2
    assert "wrong.json: count does not fit" in capsys.readouterr().err
    assert main(["merge", str(phones[0]), "-o", str(tmp_path / "none" / "all.json")]) == 1
    assert "cannot be written" in capsys.readouterr().err
    assert not (tmp_path / "all.json").exists()

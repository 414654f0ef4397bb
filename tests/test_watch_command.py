"""`tankfoot watch`: a series or a film goes in; what comes out, where, and with which exit code."""

import json
import sys

import pytest
from glass import series
from tankfoot.cli import main

HEAD = "t,r,g,b,reference_r,reference_g,reference_b"
SEED = "command 1"


def written(path, samples, bare=False):
    rows = [[one["t"], *one["glass"], *([] if bare else one["reference"] or ["", "", ""])] for one in samples]
    head = HEAD[:7] if bare else HEAD
    path.write_text("\n".join([head, *(",".join(map(str, row)) for row in rows)]) + "\n", encoding="utf-8")
    return path


@pytest.mark.parametrize("kind", ["trub to gold", "trub, yeast, gold", "fruit to gold", "no reference"])
def test_the_instant_of_the_change_is_told(tankfoot, tmp_path, kind):
    made, samples = series(kind, SEED)
    file = written(tmp_path / "run.csv", samples, bare=kind == "no reference")
    code, out, err = tankfoot("watch", file, "--json")
    assert (code, err, out.count("\n")) == (0, "", 1)
    told = json.loads(out)
    assert list(told) == ["turning_at", "beer_at", "unseen"]
    assert told["beer_at"] == pytest.approx(made.change, abs=0.3)
    assert told["turning_at"] <= told["beer_at"]
    code, out, _ = tankfoot("watch", file)
    assert (code, out.splitlines()[1]) == (
        0, f"More than half of it was beer from {told['beer_at']:.1f} s after opened.",
    )


def test_what_was_not_seen_is_told_with_its_reason(tankfoot, tmp_path):
    _, samples = series("lamp goes out", SEED)
    file = written(tmp_path / "run.csv", samples)
    _, out, _ = tankfoot("watch", file, "--json")
    assert [why for _, _, why in json.loads(out)["unseen"]] == ["dark"]
    assert ": it was too dark.\n" in tankfoot("watch", file)[1]


def test_nothing_seen_is_null(tankfoot, tmp_path):
    _, samples = series("never turns", SEED)
    file = written(tmp_path / "run.csv", samples)
    assert json.loads(tankfoot("watch", file, "--json")[1]) == {"turning_at": None, "beer_at": None, "unseen": []}
    assert tankfoot("watch", file)[1] == "No turn was seen.\nNo beer was seen.\n"


def test_more_samples_a_second_change_little(tankfoot, tmp_path):
    made, samples = series("trub to gold", SEED)
    often = [{**one, "t": one["t"] + 0.033 * n} for one in samples for n in range(5)]
    told = json.loads(tankfoot("watch", written(tmp_path / "run.csv", often), "--json")[1])
    assert told["beer_at"] == pytest.approx(made.change, abs=0.4)


REFUSED = {
    "": "has no column t, r, g, b: the first line names",
    "t,r,g\n0,1,2\n": "has no column b: the first line names",
    "t,r,g,b,reference_r\n0,1,2,3,4\n": "has no column reference_g, reference_b: the first line names",
    "t,r,g,b\n": "has no two samples",
    "t,r,g,b\n0,1,2,3\n": "has no two samples",
    "t,r,g,b\n0,1,2,3\n0.2,1,256,3\n": "Line 3 of {file} has 256 as g: give a number from 0 to 255.",
    "t,r,g,b\n0,1,2,3\n0.2,1,,3\n": "Line 3 of {file} has  as g: give a number from 0 to 255.",
    "t,r,g,b\n0,1,2,3\n0.2,1\n": "Line 3 of {file} has  as g: give a number from 0 to 255.",
    "t,r,g,b\n0,1,nan,3\n": "Line 2 of {file} has nan as g: give a number from 0 to 255.",
    "t,r,g,b\nsoon,1,2,3\n": "Line 2 of {file} has soon as t: give a number of seconds.",
    "t,r,g,b\ninf,1,2,3\n": "Line 2 of {file} has inf as t: give a number of seconds.",
    "t,r,g,b\n0,1,2,3\n0,1,2,3\n": "Line 3 of {file} is no later than the line before",
    "t,r,g,b\n0,1,2,3\n1,1,2,3\n2,1,2,3\n": "The samples of {file} are 1.00 s apart: give five a second.",
    't,r,g,b\n0,"1,2,3\n': "is no CSV file in UTF-8",
}


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_series_is_one_sentence(tankfoot, tmp_path, text):
    file = tmp_path / "run.csv"
    file.write_text(text, encoding="utf-8")
    code, out, err = tankfoot("watch", file, "--json")
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert REFUSED[text].format(file=file) in err


def test_bytes_that_are_no_text_are_refused(tankfoot, tmp_path):
    file = tmp_path / "run.csv"
    file.write_bytes(b"t,r,g,b\n\xff\xfe,1,2,3\n")
    assert tankfoot("watch", file) == (2, "", f"{file} is no CSV file in UTF-8: check what wrote it.\n")


def test_a_file_that_is_not_there_is_one_sentence(tankfoot, tmp_path):
    gone = tmp_path / "gone.csv"
    says = f"{gone} cannot be read: No such file or directory. Check the name.\n"
    assert tankfoot("watch", gone) == (1, "", says)


@pytest.mark.parametrize("given", ["", "1,2,3", "90,0,20,10", "0,0,0,0", "a,b,c,d", "nan,0,1,1"])
def test_a_place_out_of_the_picture_is_refused(capsys, given):
    with pytest.raises(SystemExit) as stopped:
        main(["watch", "film.mp4", "--glass", given])
    assert stopped.value.code == 2
    assert "is no place in a picture" in capsys.readouterr().err


def test_without_a_program_for_films_it_says_how_to_get_one(tankfoot, tmp_path, monkeypatch):
    for name in ("imageio", "imageio.v3", "imageio_ffmpeg", "cv2"):
        monkeypatch.setitem(sys.modules, name, None)
    film = tmp_path / "run.mp4"
    code, out, err = tankfoot("watch", film)
    assert (code, out, err) == (
        2, "", f"{film} is no .csv, and a film needs imageio: pip install -c constraints.txt -e '.[video]'.\n",
    )


# imageio leaves the pipes of its helper to the end of the program
@pytest.mark.filterwarnings("ignore::ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning")
def test_a_film_tells_the_same_as_its_colours(tankfoot, tmp_path):
    imageio = pytest.importorskip("imageio.v3")
    pytest.importorskip("imageio_ffmpeg", reason="a film needs it: pip install -e '.[video]'")
    numpy = pytest.importorskip("numpy")
    made, samples = series("trub to gold", SEED)
    pictures = numpy.full((len(samples), 64, 64, 3), 90, dtype=numpy.uint8)
    for picture, one in zip(pictures, samples, strict=True):
        picture[16:48, 24:40] = one["glass"]
        picture[16:48, 48:60] = one["reference"]
    film = tmp_path / "run.mp4"
    imageio.imwrite(film, pictures, plugin="FFMPEG", fps=5, quality=9, macro_block_size=16)
    places = ("--glass", "40,30,20,40", "--reference", "80,30,10,40")
    code, out, err = tankfoot("watch", film, *places, "--json")
    assert (code, err) == (0, "")
    assert json.loads(out)["beer_at"] == pytest.approx(made.change, abs=0.3)
    torn = tmp_path / "torn.mp4"
    torn.write_bytes(b"no film")
    assert tankfoot("watch", torn)[::2] == (
        2, f"{torn} cannot be read as a film: give MP4, MOV or AVI, or a series as CSV.\n",
    )

"""The small server: what is not there is said, whatever was asked for, and no folder is listed."""

import urllib.error
import urllib.request

import pytest

# Source: RFC 9110, 15.5.5: 404 is for what is not there, or for what a server would not tell of.
NOT_THERE = ["%00/", "%00", "assets/%00.css", "nowhere/", "a" * 5000, "%ff%fe", "..%2f..%2fetc%2fpasswd", "%0d%0a"]
FOLDERS = ["assets/", "js/", "assets/css/"]


@pytest.mark.parametrize("path", NOT_THERE + FOLDERS)
@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_what_is_not_there_is_answered_in_a_sentence(method, path, served, capfd):
    with pytest.raises(urllib.error.HTTPError) as answer:
        urllib.request.urlopen(urllib.request.Request(served.address + path, method=method))
    assert answer.value.code in (400, 404)
    body = answer.value.read().decode()
    assert "<li>" not in body
    assert bool(body) == (method == "GET")
    assert capfd.readouterr().err == ""


def test_a_folder_with_a_page_is_still_that_page(served):
    with urllib.request.urlopen(f"{served.address}emergency/") as answer:
        assert b"<h1" in answer.read()

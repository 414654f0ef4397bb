"""The small server: what is not there is said, whatever was asked for, and no folder is listed."""

import urllib.error
import urllib.request
from pathlib import Path

import pytest

DEPLOY = Path(__file__).parents[1] / "docs" / "deploy.md"

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


def test_the_camera_is_the_sites_own_and_nothing_else_of_a_phone_is_asked_for(served):
    # Source: W3C Permissions Policy, 2025, the header's structured syntax; deploy.md tells a host the same
    wanted = "camera=(self), microphone=(), geolocation=()"
    with urllib.request.urlopen(served.address) as answer:
        assert answer.headers["Permissions-Policy"] == wanted
    assert f"`Permissions-Policy: {wanted}`" in DEPLOY.read_text(encoding="utf-8")


def test_a_folder_with_a_page_is_still_that_page(served):
    with urllib.request.urlopen(f"{served.address}emergency/") as answer:
        assert b"<h1" in answer.read()

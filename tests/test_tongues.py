"""Where a page stands in each language, and what a machine or a sheet on the wall says of it."""

import pytest
from tankfoot import wording
from tankfoot.site import app, tongues
from tankfoot.wording.languages import languages, spoken


@pytest.mark.parametrize(
    ("language", "path", "roots"),
    [
        ("en", "/", {"en": "./", "es": "es/"}),
        ("en", "/tanks/tank/", {"en": "../../", "es": "../../es/"}),
        ("es", "/", {"en": "../", "es": "./"}),
        ("es", "/tanks/tank/", {"en": "../../../", "es": "../../"}),
    ],
)
def test_a_page_knows_the_roots_of_all_languages(language, path, roots, monkeypatch):
    monkeypatch.setattr(tongues, "LANGUAGE", language)
    assert tongues.roots(path) == roots


def test_a_code_on_paper_leads_to_the_page_in_the_sheets_language(monkeypatch):
    assert app.create_app("https://cellar.example/").jinja_env.globals["site_address"] == "https://cellar.example/"
    monkeypatch.setattr(app, "LANGUAGE", "es")
    assert app.create_app("https://cellar.example/").jinja_env.globals["site_address"] == "https://cellar.example/es/"


# Source: POSIX, Environment Variables, Internationalization: LC_ALL comes before LC_MESSAGES, and that before LANG.
@pytest.mark.parametrize(
    ("environment", "language"),
    [
        ({}, "en"), ({"LANG": "es"}, "es"), ({"LANG": "es_AR.UTF-8"}, "es"), ({"LANG": "fr_CA.UTF-8"}, "en"),
        ({"LANG": "en_US", "LC_MESSAGES": "es_US"}, "es"), ({"LC_ALL": "C", "LC_MESSAGES": "es_US"}, "en"),
        ({"LC_ALL": "es_US", "TANKFOOT_LANGUAGE": "en"}, "en"), ({"TANKFOOT_LANGUAGE": ""}, "en"),
    ],
)
def test_a_command_speaks_as_the_machine_does(environment, language):
    assert spoken(environment) == language


def test_a_language_says_its_name_and_locale_and_need_say_no_more(monkeypatch):
    fresh = {"name": "Deutsch", "locale": "de"}
    own = wording.said
    monkeypatch.setattr(wording, "said", lambda name, language: fresh if language == "de" else own(name, language))
    assert wording.of_language("de") == fresh | {"runs_long": False, "awaits_review": ""}


def test_english_is_the_first_language():
    assert languages()[0] == "en" and "es" in languages()

"""The language of a site's own list, and who reviewed the words of a language."""

import pytest
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.checklists import checklists
from tankfoot.record.entry import check_entry
from tankfoot.wording import said
from test_own_lists import CLAMP, copied, entries, fold, opened, save, tick_all
from test_reviews import paper, review

PUT = """async ([url, entry]) => {
    await (await import(url)).take("browser/storage/record.js").put(entry);
}"""
AWAITS = said("language", "es")["awaits_review"]


@pytest.fixture
def copy(phone, served):
    return copied(phone.new_page(), served, CLAMP)

@pytest.fixture
def spanish(chromium, served):
    """A page on a phone that speaks Spanish."""
    context = chromium.new_context(**PHONE, service_workers="block", locale="es-MX")
    yield context.new_page()
    context.close()


def test_an_own_list_says_its_language_and_a_voice_reads_its_words_in_it(copy, served):
    expect(copy.locator("[data-of=language]")).to_have_value("en")
    copy.locator("[data-of=language]").select_option("es")
    copy.get_by_label("Title", exact=True).fill("Antes de la abrazadera")
    save(copy)
    # WCAG 2.2, success criterion 3.1.2: the language of each passage can be told by a program.
    assert copy.locator("h1").get_attribute("lang") == "es"
    lines = copy.locator(".line :is(.act, .value, [data-why]), .pause, legend, .completion")
    assert set(lines.evaluate_all("all => all.map((one) => one.lang)")) == {"es"}
    assert copy.locator("[data-skip] button, [data-again]").first.evaluate("one => one.closest('[lang]').lang") == "en"
    expect(copy.locator("[data-based]")).to_contain_text("In Spanish.")
    tick_all(copy)
    opened(copy, served, "checklists/")
    tile = copy.locator("[data-own-lists] li")
    expect(tile).to_contain_text("In Spanish.")
    expect(tile.locator("strong")).to_have_attribute("lang", "es")
    opened(copy, served, "record/")
    copy.locator("[data-lists] summary").click()
    expect(copy.locator("[data-lists] li strong")).to_have_text("Antes de la abrazadera (this site's) In Spanish.")


def test_a_list_without_a_language_opens_and_is_changed_as_before(phone, served):
    page = copied(phone.new_page(), served, CLAMP)
    page.locator("[data-of=language]").select_option("")
    save(page)
    (entry,) = entries(page, "site-list")
    assert "language" not in entry["body"]["list"]
    assert page.locator("main [lang]:not([data-language])").count() == 0
    expect(page.locator("[data-based]")).not_to_contain_text("In ")


def test_a_list_in_a_language_that_tankfoot_does_not_speak_keeps_it(copy, served):
    save(copy)
    (entry,) = entries(copy, "site-list")
    entry["body"]["list"]["language"] = "fr"
    copy.evaluate(PUT, [served.script, entry])
    opened(copy, served, f"checklists/own/edit/#id={entry['id']}")
    expect(copy.locator("[data-of=language] option:checked")).to_have_text("French")
    copy.get_by_label("Title", exact=True).fill("Avant la bride")
    copy.locator("[data-save]").click()
    copy.wait_for_url("**/own/#id=*")
    (entry,) = entries(copy, "site-list")
    assert entry["body"]["list"]["language"] == "fr"


# "seguro" promises and "listo" says nothing, in Spanish alone: checklists/es/rules.toml, by the rule of docs/safety.md.
@pytest.mark.parametrize(("language", "promise", "empty"), [("en", "It is safe", "done"), ("es", "Es seguro", "listo")])
def test_what_a_line_should_not_say_is_judged_in_the_lists_language(language, promise, empty, copy):
    other = {"en": "es", "es": "en"}[language]
    box = fold(copy, CLAMP.lines[0].id)
    box.locator("[data-of=why]").fill(promise)
    box.locator("[data-of=value]").fill(empty)
    warnings = copy.locator("[data-warning-lines]")
    copy.locator("[data-of=language]").select_option(language)
    expect(warnings).to_contain_text(f"“{empty}” says nothing")
    expect(warnings).to_contain_text(f"(“{promise.split()[-1]}”)")
    copy.locator("[data-of=language]").select_option(other)
    expect(warnings).not_to_contain_text("says nothing")
    expect(warnings).not_to_contain_text("promises too much")


def test_a_copy_of_a_spanish_list_is_in_spanish_and_holds_no_word_of_the_app(spanish, served):
    page = copied(spanish, served, CLAMP, "es/")
    save(page)
    (entry,) = entries(page, "site-list")
    made = entry["body"]["list"]
    own = checklists("es")[CLAMP.id]
    assert made["language"] == "es" and made["copied_from"] == {"list": own.id, "version": own.version}
    assert set(made) == {"title", "condition", "completion", "language", "copied_from", "picture", "grows_old", "parts"}
    told = f"Copiada de “{own.title}”, versión {own.version} y luego cambiada."
    expect(page.locator("[data-based]")).to_have_text(told)


# Schema versions before 7 kept in words which list it was made from: docs/formats.md.
def test_what_an_older_list_said_of_where_it_is_from_is_shown_as_it_is(copy, served):
    save(copy)
    (entry,) = entries(copy, "site-list")
    del entry["body"]["list"]["copied_from"]
    entry["body"]["list"]["based_on"] = "“Clamp check”, version 01234567"
    copy.evaluate(PUT, [served.script, entry])
    copy.reload()
    expect(copy.locator("[data-based]")).to_have_text("Copied from “Clamp check”, version 01234567, then changed.")


# The project's own aim, no source: a translation says that nobody whose language it is has read it, until one did.
def test_a_spanish_list_awaits_its_review_until_one_is_there_and_so_does_its_sheet(spanish, served):
    page = opened(spanish, served, f"es/checklists/{CLAMP.id}/")
    expect(page.locator("main > [data-awaits-review]")).to_have_text(AWAITS)
    text, _ = paper(page)
    assert text.count(AWAITS) == 1
    fold = page.locator("[data-reviews]")
    fold.locator("summary").click()
    fold.locator("#reviewer").fill("A. Prueba, bodega")
    fold.locator("#reviewed-on").fill("2026-03-02")
    fold.locator("[data-review]").click()
    expect(fold.locator("[data-reviewed] li")).to_contain_text("Revisado por A. Prueba, bodega, 2 de marzo de 2026.")
    (kept,) = entries(page, "review")
    assert kept["body"]["version"] == checklists("es")[CLAMP.id].version and check_entry(kept) == []
    expect(page.locator("[data-awaits-review]:visible")).to_have_count(0)
    text, _ = paper(page)
    assert AWAITS not in text and "Revisado por A. Prueba, bodega" in text


def test_a_review_of_the_words_of_one_language_is_none_of_those_of_another(phone, served):
    page = opened(phone.new_page(), served, f"checklists/{CLAMP.id}/")
    assert page.locator("[data-awaits-review]").count() == 0
    fold = review(page, "J. Doe")
    expect(fold.locator("[data-reviewed] li")).to_contain_text("J. Doe")
    page.goto(f"{served.address}settings/")
    page.locator("[name=language][value=es]").check()
    page.wait_for_url("**/es/settings/")
    opened(page, served, f"es/checklists/{CLAMP.id}/")
    expect(page.locator("main > [data-awaits-review]")).to_have_text(AWAITS)
    (kept,) = entries(page, "review")
    told = f"Revisado por J. Doe, 2 de marzo de 2026, en otro idioma ({kept['body']['version']})."
    assert told in page.locator("[data-reviewed] li").text_content()

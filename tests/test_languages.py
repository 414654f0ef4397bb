"""Which language a phone opens, with signal and without; the sites of two languages keep out of each other's way."""

import json
import re
import shutil

import pytest
from browsers import PHONE
from playwright.sync_api import expect
from tankfoot.wording import words
from test_offline import ASK_FOR_A_NEW_VERSION

READY = {language: words("screens", language)["app"]["ready"] for language in ("en", "es")}
NOT_THERE = {language: words("screens", language)["app"]["not_this_language"] for language in ("en", "es")}
TODAY = {language: words("app", language)["places"]["today"] for language in ("en", "es")}
ENGLISH, SPANISH = "tankfoot-", "tankfoot-es-"  # how the caches' names begin
CACHES = """async () => Object.fromEntries(await Promise.all((await caches.keys()).sort().map(async (name) => {
  const requests = await (await caches.open(name)).keys();
  return [name, requests.map(({ url }) => new URL(url).pathname)];
})))"""
SCOPES = """async () => {
  const registrations = await navigator.serviceWorker.getRegistrations();
  return registrations.map(({ scope }) => new URL(scope).pathname).sort();
}"""


@pytest.fixture
def of(chromium):
    """Makes fresh phones that speak a language, as `es-MX`."""
    made = []

    def phone(locale):
        made.append(chromium.new_context(**PHONE, locale=locale))
        return made[-1].new_page()

    yield phone
    for context in made:
        context.close()


def speaks(page):
    """The language of the page that is shown, by its own word for the place and by what it says of itself."""
    language = page.locator("html").get_attribute("lang")
    expect(page.locator(".places .today")).to_contain_text(TODAY[language])
    return language


def keep(page, address, language):
    page.goto(address)
    expect(page.locator("[data-kept]").first).to_have_text(READY[language])
    assert speaks(page) == language


def choose(page, language):
    """By hand, in Settings."""
    page.locator(f"[name=language][value='{language}']").check()


def keep_both(page, root):
    """On a phone that speaks English: first that, then Spanish by hand, then as the phone speaks."""
    keep(page, root, "en")
    page.locator("[data-language=es]").click()
    page.wait_for_url("**/es/")
    expect(page.locator("[data-kept]").first).to_have_text(READY["es"])


def test_a_phone_that_speaks_spanish_lands_there_and_keeps_nothing_of_the_english_site(of, serve, site):
    server = serve(site)
    page = of("es-MX")
    keep(page, server.address, "es")
    assert page.url == f"{server.address}es/"
    assert page.evaluate(SCOPES) == ["/es/"]
    kept = page.evaluate(CACHES)
    assert len(kept) == 1 and all(path.startswith("/es/") for paths in kept.values() for path in paths)
    assert "/tankfoot.pack" not in server.asked and "/sw.js" not in server.asked


# A line may be slow: all that the English page would start has time before the Spanish one comes.
def test_it_keeps_nothing_english_where_the_spanish_page_is_slow_to_come(of, serve, site):
    server = serve(site)
    page = of("es-MX")
    page.route("**/es/", lambda route: (page.wait_for_timeout(1500), route.continue_()))
    page.goto(server.address, wait_until="commit")
    page.wait_for_url("**/es/")
    expect(page.locator("[data-kept]").first).to_have_text(READY["es"])
    assert page.evaluate(SCOPES) == ["/es/"]
    assert "/tankfoot.pack" not in server.asked and "/sw.js" not in server.asked


def test_each_page_of_the_root_has_its_own_in_spanish(of, served):
    page = of("es-AR")
    page.goto(f"{served.address}about/?x=1#limits")  # a page that writes nothing into its own address
    page.wait_for_url(f"{served.address}es/about/?x=1#limits")
    assert speaks(page) == "es"


def test_a_language_that_is_not_here_is_english(of, served):
    page = of("fr-CA")
    page.goto(served.address)
    assert (speaks(page), page.url) == ("en", served.address)


def test_a_card_in_english_opens_on_a_phone_that_speaks_spanish(of, served):
    page = of("es-MX")
    page.goto(f"{served.address}es/emergency/cold-soak/")
    page.locator(".tongue a").click()
    page.locator(".card h1").wait_for()
    assert page.url == f"{served.address}es/emergency/en/cold-soak/"
    assert page.locator("html").get_attribute("lang") == "en"
    page.locator(".tongue a").click()
    page.wait_for_url(f"{served.address}es/emergency/cold-soak/")


@pytest.mark.parametrize("hand", ["en", "es", ""])
def test_a_card_in_english_of_the_spanish_site_stays_where_it_is_whatever_was_chosen(hand, of, served):
    page = of("es-MX" if hand != "es" else "en-US")
    page.goto(f"{served.address}{'' if hand == 'es' else 'es/'}settings/")
    choose(page, hand)
    page.wait_for_url(f"{served.address}{'' if hand == 'en' else 'es/'}settings/")
    page.goto(f"{served.address}es/emergency/en/cold-soak/")
    expect(page.locator(".card h1")).to_be_visible()
    assert page.url == f"{served.address}es/emergency/en/cold-soak/"


def test_a_phone_that_was_set_to_english_stays_english(of, serve, site):
    server = serve(site)
    page = of("es-MX")
    keep(page, server.address, "es")
    page.goto(f"{server.address}es/settings/")
    choose(page, "en")
    page.wait_for_url(f"{server.address}settings/")
    keep(page, server.address, "en")
    page.goto(f"{server.address}es/tanks/")
    page.wait_for_url(f"{server.address}tanks/")
    server.stop()
    page.goto(f"{server.address}tanks/")
    assert speaks(page) == "en"
    server.start()


def test_a_phone_with_both_follows_the_setting_without_signal(of, serve, site):
    server = serve(site)
    page = of("en-US")
    keep_both(page, server.address)
    server.stop()
    for choice, speaking in (("en", "en"), ("es", "es"), ("", "en")):
        page.goto(f"{server.address}settings/")
        page.locator("[name=language]").first.wait_for()
        choose(page, choice)
        expect(page.locator(f"html[lang={speaking}]")).to_be_attached()
        for entrance in ("", "es/", "tanks/", "es/tanks/"):
            page.goto(server.address + entrance)
            expect(page.locator(f"html[lang={speaking}]")).to_be_attached()
            assert page.url == server.address + ("es/" if speaking == "es" else "") + entrance.removeprefix("es/")
            assert speaks(page) == speaking
    server.start()


@pytest.mark.parametrize(("locale", "only", "other"), [("en-US", "en", "es"), ("es-MX", "es", "en")])
def test_a_phone_that_keeps_one_language_never_leaves_it_without_signal(locale, only, other, of, serve, site):
    server = serve(site)
    page = of(locale)
    root = server.address + ("es/" if only == "es" else "")
    keep(page, root, only)
    server.stop()
    page.goto(f"{root}tanks/")
    link = page.locator(f"[data-language={other}]")
    for _ in range(2):
        link.click()
        expect(page.locator(".tongue")).to_contain_text(NOT_THERE[only])
    assert page.locator(".tongue").inner_text().count(NOT_THERE[only]) == 1
    assert page.url == f"{root}tanks/"
    page.goto(f"{root}settings/")
    page.locator("[name=language]").first.wait_for()
    page.locator(f"[name=language][value={other}]").dispatch_event("click")
    expect(page.locator("[data-no-language]")).to_have_text(NOT_THERE[only])
    expect(page.locator("[name=language]:checked")).to_have_value("")
    page.goto(f"{root}tanks/")
    assert (speaks(page), page.url) == (only, f"{root}tanks/")
    server.start()
    page.locator(f"[data-language={other}]").click()
    expect(page.locator(f"html[lang={other}]")).to_be_attached()
    assert speaks(page) == other


# The setting travels from the English site; the Spanish one may be gone by the time it is asked for.
def test_a_phone_whose_other_language_was_never_kept_whole_stays_in_the_one_it_has(of, serve, site):
    server = serve(site)
    page = of("en-US")
    keep(page, server.address, "en")
    server.faults |= {"/es/checklists/": 500, "/es/tankfoot.pack": 500}
    page.goto(f"{server.address}settings/")
    choose(page, "es")
    page.wait_for_url("**/es/settings/")
    server.stop()
    page.goto(f"{server.address}tanks/")
    assert (speaks(page), page.url) == ("en", f"{server.address}tanks/")
    server.start()


def test_the_page_of_a_language_says_kept_only_of_its_own_site(of, serve, site):
    server = serve(site)
    page = of("en-US")
    keep(page, server.address, "en")
    server.faults |= {"/es/checklists/": 500, "/es/tankfoot.pack": 500}
    page.locator("[data-language=es]").click()
    page.wait_for_url("**/es/")
    expect(page.locator("[data-kept]").first).to_have_text(words("screens", "es")["app"]["not_kept"])
    page.wait_for_timeout(500)
    assert READY["es"] not in page.locator("main").inner_text()
    assert "es" not in json.loads(page.evaluate("localStorage['tankfoot-languages']"))
    assert [name for name in page.evaluate(CACHES) if name.startswith(SPANISH)] == []


def test_neither_site_drops_what_the_other_keeps_and_an_update_of_one_leaves_the_other(of, serve, site, tmp_path):
    mixed = shutil.copytree(site, tmp_path / "mixed")
    server = serve(mixed)
    page = of("en-US")
    keep_both(page, server.address)
    before = page.evaluate(CACHES)
    english, spanish = sorted(before, key=lambda name: name.startswith(SPANISH))
    assert english.startswith(ENGLISH) and not any(path.startswith("/es/") for path in before[english])
    assert all(path.startswith("/es/") for path in before[spanish])
    change_version(mixed / "es")
    update(page, f"{server.address}es/")
    now = page.evaluate(CACHES)
    assert now[english] == before[english] and spanish not in now and len(now) == 2
    (newer,) = now.keys() - {english}
    assert newer.startswith(SPANISH)
    choose_on_page(page, server, "en")
    change_version(mixed)
    update(page, server.address)
    last = page.evaluate(CACHES)
    assert last[newer] == now[newer] and english not in last and len(last) == 2


def change_version(folder):
    """A deploy that brings another version of the one site."""
    worker = folder / "sw.js"
    text, count = re.subn(r'(VERSION ?= ?")[^"]+"', r'\1another"', worker.read_text(encoding="utf-8"))
    assert count == 1
    worker.write_text(text, encoding="utf-8")


def choose_on_page(page, server, language):
    page.goto(f"{server.address}es/settings/")
    choose(page, language)
    page.wait_for_url(f"{server.address}settings/")


def update(page, root):
    """Looks for a new version, takes it, and waits until it has cleared up."""
    page.goto(root)
    page.evaluate(ASK_FOR_A_NEW_VERSION)
    with page.expect_navigation():
        page.locator("[data-new-version] button").click()
    page.wait_for_function("async () => !(await navigator.serviceWorker.ready).waiting")
    page.wait_for_timeout(300)


# Service Workers (W3C), "match service worker registration": the longest scope that fits has the page.
def test_the_root_never_answers_for_the_spanish_site(of, serve, site):
    server = serve(site)
    page = of("en-US")
    keep_both(page, server.address)
    assert page.evaluate(SCOPES) == ["/", "/es/"]
    choose_on_page(page, server, "en")
    asked = server.asked.count("/es/about/")
    assert page.evaluate("async (address) => (await fetch(address)).ok", f"{server.address}es/about/")
    assert server.asked.count("/es/about/") == asked + 1
    server.stop()
    failed = page.evaluate("(address) => fetch(address).then(() => false, () => true)", f"{server.address}es/about/")
    assert failed
    server.start()

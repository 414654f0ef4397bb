"""Phones that speak a language, each at the site of it."""

from types import SimpleNamespace

from browsers import PHONE
from tankfoot.site.scripts import ALL


def speaker(chromium, served, locale):
    """A phone of a region, such as "es-MX": its page, its context, its language and the site of that."""
    context = chromium.new_context(**PHONE, service_workers="block", locale=locale)
    language = locale.split("-")[0]
    root = served.address + ("es/" if language == "es" else "")
    site = SimpleNamespace(address=root, script=root + ALL)
    return SimpleNamespace(context=context, page=context.new_page(), language=language, site=site)


def show(at, place):
    """The page at ``place``, loaded anew and ready as far as it says so."""
    at.page.goto("about:blank")
    at.page.goto(at.site.address + place)
    at.page.locator("main[data-ready], [data-settings], [data-calculator], [data-about], main").first.wait_for()
    return at.page

"""How numbers are written in a language, by Unicode CLDR: what a page must know before it asks Intl."""

COMMA = ","


def numerals(language):
    """Whether ``language`` has a decimal comma, its regions that write the other sign, and whether its digits are those
    of JavaScript. A point and such digits where CLDR knows it not.

    >>> english = numerals("en")
    >>> english["comma"], "GB" in english["others"], "ZA" in english["others"], english["latin"]
    (False, False, True, True)
    >>> numerals("fa")["latin"]
    False
    """
    from babel import Locale, localedata  # here, since it takes longer than most commands

    names = [name for name in localedata.locale_identifiers() if name.split("_")[0] == language]
    known = [Locale.parse(name) for name in names]
    commas = {locale.territory: locale.number_symbols["latn"]["decimal"] == COMMA for locale in known}
    usual = commas.get(None, False)
    return {
        "comma": usual,
        "others": sorted(region for region, has in commas.items() if region and has != usual),
        "latin": all(locale.default_numbering_system == "latn" for locale in known),
    }

"""Where numbers have a decimal comma and where a point, by Unicode CLDR."""

COMMA = ","


def decimal_signs(language):
    """Whether ``language`` has a comma, and its regions that write the other sign; a point where CLDR knows it not.

    >>> decimal_signs("en")["comma"], "GB" in decimal_signs("en")["others"], "ZA" in decimal_signs("en")["others"]
    (False, False, True)
    """
    from babel import Locale, localedata  # here, since it takes longer than most commands

    known = [Locale.parse(name) for name in localedata.locale_identifiers() if name.split("_")[0] == language]
    commas = {locale.territory: locale.number_symbols["latn"]["decimal"] == COMMA for locale in known}
    usual = commas.get(None, False)
    return {"comma": usual, "others": sorted(region for region, has in commas.items() if region and has != usual)}

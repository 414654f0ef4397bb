"""Where a page stands in each language: the first one's site at the root, any other's in a folder by its name."""

import posixpath

from tankfoot.wording import of_language
from tankfoot.wording.languages import FIRST, LANGUAGE, languages


def folder_of(language):
    """The folder of a language's site below the root, "" for the root itself.

    >>> folder_of("en"), folder_of("es")
    ('', 'es/')
    """
    return "" if language == FIRST else f"{language}/"


def roots(path):
    """{language: the root of its site}, relative to the page at ``path`` from the root of this one."""
    here = posixpath.dirname("/" + folder_of(LANGUAGE) + path.lstrip("/"))
    return {language: posixpath.relpath("/" + folder_of(language), here) + "/" for language in languages()}


def tongues(path):
    """The same page in the other languages: which one, what it is called in itself, where it is."""
    return [
        {"language": language, "name": of_language(language)["name"], "address": root + path.lstrip("/")}
        for language, root in roots(path).items() if language != LANGUAGE
    ]

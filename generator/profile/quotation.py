"""Typographic quotation marks round a value, as a word processor writes them.

YAML knows straight ones only, so these would stay in the text and on its page.
"""

from __future__ import annotations

import re

from generator.profile.excerpt import named
from generator.profile.finding import Finding, Place, Severity

_MARKS = "“”„‟«»‘’‚‛‹›"
_ENCLOSED = re.compile(
    "[“”„‟«»]([^“”„‟«»]+)[“”„‟«»]|[‘’‚‛‹›]([^‘’‚‛‹›]+)[‘’‚‛‹›]",
    re.DOTALL,
)


def within_marks(text: str) -> str:
    """What stands between the typographic marks that enclose a whole text; empty without them."""
    found = _ENCLOSED.fullmatch(text)
    return found[1] or found[2] if found else ""


def has_marks(text: str) -> bool:
    """Whether a typographic quotation mark, or an apostrophe, stands in a text."""
    return not text.isascii() and any(mark in text for mark in _MARKS)


def straight_mark(text: str) -> str:
    """The straight mark that encloses a text in YAML as it stands; empty where none does."""
    if '"' not in text and "\\" not in text:
        return '"'
    return "'" if "'" not in text else ""


def typographic_quotes(place: Place, text: str) -> Finding:
    """The notice about a value that typographic marks enclose, and that is read without them."""
    return Finding(
        "typographic-quotes",
        Severity.WARNING,
        place,
        f"The quotation marks of {named(text)} are not straight; they are left out.",
        "Write straight ones, or let `sondebook check --fix` do so. To show these on the page, put "
        "straight ones round them.",
    )

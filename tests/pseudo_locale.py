"""A made-up language: every message accented and a third longer, to see what was not translated.

Built like any translation, so that the same code reads it. It goes by the code of Esperanto, which
the theme of the hand-written pages knows.
"""

from __future__ import annotations

import re
from pathlib import Path

from generator.messages import mo_text, template
from generator.site.language import DOMAIN

LANGUAGE = "eo"
LONGER = 0.35
_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_MARKED = "äƀçďéƒĝħïĵķĺɱñöƥɋŕšťüṽŵẋýžÄƁÇĎÉƑĜĦÏĴĶĹṀÑÖƤɊŔŠŤÜṼŴẊÝŽ"
_MARKS = str.maketrans(_PLAIN, _MARKED)
# What a message hands on untouched: %(name)s, {name}, tags, entities
_KEPT = re.compile(r"(%\(\w+\)s|%%|\{\w*\}|<[^>]+>|&\w+;)")
_WORD = re.compile(r"[^\W\d_]+")
# The way numbers and dates are written is no sentence
_FORMS = ("decimal mark", "date, as strftime wants it")


def pseudo(message: str) -> str:
    """The message with accents, and longer by repeating the vowels of its words."""
    parts = _KEPT.split(message)
    return "".join(part if _KEPT.fullmatch(part) else _stretched(part) for part in parts)


def _stretched(part: str) -> str:
    return _WORD.sub(lambda word: _longer(word[0]), part).translate(_MARKS)


def _longer(word: str) -> str:
    more = round(len(word) * LONGER)
    middle = len(word) // 2
    return word[:middle] + "o" * more + word[middle:]


def write_pseudo(folder: Path) -> None:
    """Write the made-up language into a folder of translations."""
    catalog = template()
    for message in catalog:
        if not message.id:
            continue
        if message.context in _FORMS:
            message.string = message.id
        elif isinstance(message.id, str):
            message.string = pseudo(message.id)
        else:
            message.string = tuple(map(pseudo, message.id))
    path = folder / LANGUAGE / "LC_MESSAGES"
    path.mkdir(parents=True)
    (path / f"{DOMAIN}.mo").write_bytes(mo_text(catalog))

"""What several sensors of a pocket copy have in common, said once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

SHARED = "k"
"""What the names of shared pieces begin with; `pocket.js` follows links to them."""


class Shared:
    """Gives HTML once, and afterwards a link to where it stands."""

    def __init__(self, words: str) -> None:
        self._words = words
        self._known: dict[str, str] = {}

    def __call__(self, html: str) -> Markup:
        """The HTML with a name of its own, or the link to it."""
        known = self._known.get(html)
        if known:
            return Markup(f'<a href="#{known}">{self._words}</a>')
        name = f"{SHARED}{len(self._known)}"
        self._known[html] = name
        return Markup(f'<div id="{name}">{html}</div>')


def words_said_once(texts: Sequence[str]) -> tuple[str, list[str]]:
    """The words of texts that are nearly alike, and for each text which of them it is made of.

    Words are what stands between single spaces. Those of the first text come first, then what the
    second has besides, and so on. A text is a list of places in them, ``0-57 900 59-80``.
    """
    words = texts[0].split(" ") if texts else []
    first_of: dict[str, int] = {}
    for place, word in enumerate(words):
        first_of.setdefault(word, place)
    places = [" ".join(_runs(_places(text.split(" "), words, first_of))) for text in texts]
    return " ".join(words), places


def _places(text: list[str], words: list[str], first_of: dict[str, int]) -> Iterator[int]:
    """Where each word of a text stands; one that is not there yet is put at the end."""
    place = -1
    for word in text:
        place += 1
        if words[place : place + 1] == [word]:
            yield place
        elif word in first_of:
            place = first_of[word]
            yield place
        else:
            # Most often it stands in the place of another word, and the next ones go on after that
            first_of[word] = len(words)
            words.append(word)
            yield first_of[word]


def _runs(places: Iterator[int]) -> Iterator[str]:
    first = last = next(places)
    for place in places:
        if place != last + 1:
            yield f"{first}-{last}" if last > first else str(first)
            first = place
        last = place
    yield f"{first}-{last}" if last > first else str(first)

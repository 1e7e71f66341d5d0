"""What a YAML parser says of a text, in words for someone who has not read the YAML standard."""

from __future__ import annotations

import re
from typing import Any

import yaml

from generator.profile.finding import Place
from generator.profile.quotation import has_marks

DEEPEST = 20
"""How deep lists and mappings may nest."""
TOO_DEEP = (f"Nested deeper than {DEEPEST} levels.", "A profile needs at most six.")
_BEHIND_QUOTES = re.compile(r""":\s+(?:"[^"]*"|'[^']*')\s*$""")
_COMMENT_IN_BRACKETS = re.compile(r"""[\[{][^\]}"']*?[ \t]#""")
_NO_VALUE = re.compile(r"([?-])\s*(?:[,}\]].*|\s#.*)?")
_ENTRY = re.compile(r"-\s+\S.*")
_STRAIGHT_ONLY = "Only straight quotation marks count."
_SYNTAX_WORDS = (
    (
        "another document",
        "A profile is one document; `---` starts a second one.",
        "Use one file a vehicle.",
    ),
    (
        "mapping values are not allowed",
        "A colon with a space after it starts a value, and none can start here.",
        "Put text that holds a colon in quotes, or mend the indentation.",
    ),
    ("cannot start any token", "This character cannot begin a value.", "Put the value in quotes."),
    (
        "scanning an alias",
        "A value that begins with * repeats another value, and a profile has no aliases.",
        "Put the text in quotes.",
    ),
    (
        "scanning an anchor",
        "A value that begins with & names it for repeating, and a profile has no anchors.",
        "Put the text in quotes.",
    ),
    (
        "scanning a tag",
        "A value that begins with ! is a YAML tag, and a profile has none.",
        "Put the text in quotes.",
    ),
    (
        "tag handle",
        "A value that begins with ! is a YAML tag, and a profile has none.",
        "Put the text in quotes.",
    ),
    (
        "escape",
        "A backslash inside double quotes begins a code, and this is none.",
        "Put the text in single quotes, or write two backslashes.",
    ),
    ("nesting", *TOO_DEEP),
    ("quoted scalar", "A quotation mark is opened and never closed.", "Close it on the same line."),
    (
        "expected <block end>",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "did not find expected key",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "expected '-' indicator",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "flow",
        "A bracket is never closed, a comma is missing, or text holds a colon.",
        "Close the bracket, put the comma in, or put the text in quotes.",
    ),
)
"""A sign in the parser's own words -> what is wrong, and the mend."""


def syntax_words(error: yaml.MarkedYAMLError, place: Place) -> tuple[str, str]:
    """What is wrong, and the mend, for what a parser could not read at a place."""
    before, from_here = place.text[: place.column], place.text[place.column - 1 :]
    is_value = before[:-1].rstrip()[-1:] in tuple(":{,[")
    if is_value and (found := _NO_VALUE.fullmatch(from_here)):
        return f"`{found[1]}` is no value.", "Delete its key, too, if you do not know it."
    if "block sequence entries" in (error.problem or "") and _ENTRY.fullmatch(from_here):
        return (
            "`- ` begins an entry of a list, and that stands in a line of its own.",
            "Take `- ` away where one text is wanted; write a list in the lines below its key.",
        )
    if _BEHIND_QUOTES.search(before[:-1]) and from_here[:1].isalnum():
        return (
            "The text goes on behind its closing quotation mark.",
            "Take the quotation marks away, or let them enclose the whole value.",
        )
    if _COMMENT_IN_BRACKETS.match(place.text, place.column - 1) and "flow" in (error.context or ""):
        return (
            "The bracket is not closed before `#`, which begins a comment after a blank.",
            "Put text that holds a `#` in straight quotes.",
        )
    said = f"{error.problem} {error.context}"
    for sign, message, mend in _SYNTAX_WORDS:
        if sign in said:
            is_of_quotes = "quot" in f"{message} {mend}" and has_marks(place.text)
            return message, f"{mend} {_STRAIGHT_ONLY}" if is_of_quotes else mend
    return f"This is not YAML: {error.problem}.", "Look at this line and the one above it."


def mark_of(error: yaml.MarkedYAMLError) -> Any:
    """Where something was opened and not closed; otherwise where the parser stopped."""
    opened, stopped = error.context_mark, error.problem_mark
    is_open = "quoted scalar" in (error.context or "") or "flow" in (error.context or "")
    is_elsewhere = opened and stopped and opened.line != stopped.line
    return opened if is_open and is_elsewhere else stopped

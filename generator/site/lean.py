"""Style sheets and scripts of ours without what a browser does not need to read."""

from __future__ import annotations

import re
from collections.abc import Iterator, Set

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_AROUND = re.compile(r"\s*([{};,>])\s*")
_NAMED = re.compile(r"[.#]([a-zA-Z][\w-]*)")
_DROPPED = ("@page", "@media print")


def lean_style(css: str, names: Set[str]) -> str:
    """A style sheet without comments, without rules for print, and without rules for other names.

    A rule that selects by classes or ids stays when one of them is among the names. The sheet must
    have no braces, and no colon before a space, in strings.
    """
    return "".join(_kept(_COMMENT.sub("", css), names))


def _kept(css: str, names: Set[str]) -> Iterator[str]:
    for selector, body in _rules(css):
        if selector.startswith(_DROPPED):
            continue
        if selector.startswith("@"):
            within = "".join(_kept(body, names))
            if within:
                yield f"{selector}{{{within}}}"
            continue
        named = _NAMED.findall(selector)
        if not named or not names.isdisjoint(named):
            declared = _AROUND.sub(_tight, body).replace(": ", ":").rstrip(";")
            yield f"{_AROUND.sub(_tight, selector)}{{{declared}}}"


def _tight(found: re.Match[str]) -> str:
    return found[1]


def _rules(css: str) -> Iterator[tuple[str, str]]:
    """Selectors, or at-rules, each with what stands in its braces."""
    depth, start, opened = 0, 0, 0
    for at, character in enumerate(css):
        if character == "{":
            if depth == 0:
                opened = at
            depth += 1
        elif character == "}":
            depth -= 1
            if depth == 0:
                yield css[start:opened].strip(), css[opened + 1 : at].strip()
                start = at + 1


def lean_script(script: str) -> str:
    """A script without indentation and without lines that are comments.

    It must have no text that runs over several lines.
    """
    lines = (line.strip() for line in script.split("\n"))
    return "\n".join(line for line in lines if line and not line.startswith("//"))

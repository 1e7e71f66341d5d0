"""Pages, style sheets and scripts of ours without what a browser does not need to read."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set
from functools import lru_cache
from pathlib import Path
from string import ascii_letters

import minify

FOLDER = "assets"
HEAD_SCRIPT = f"{FOLDER}/choices.js"
"""Sets what the reader chose before anything is painted, so it stands in each page's head."""

FIRST_STYLE = f"{FOLDER}/sondebook.css"
"""Draws what a guide shows first, so it stands in each guide's head: painting waits for no file."""

SOURCES = ("worker.js", "pocket.js", "pocket.css")
"""What no page loads by these names: the build puts it into other files."""

_NAMED = re.compile(r"[.#]([a-zA-Z][\w-]*)")
_PROPERTY = re.compile(r"--[a-z][\w-]+")
_LETTERS = [f"--{letter}" for letter in ascii_letters]
_COMMA = re.compile(r",(?![^(]*\))")
_NOT = re.compile(r":not\([^)]*\)")
_SET_BY_HEAD_SCRIPT = re.compile(r"\[data-(?:light|scripted)")
_DROPPED = ("@page", "@media print")


class AssetFault(ValueError):
    """A style or script that no browser could read; the message is one sentence for a person."""


def write_lean_assets(theme: Sequence[Path], site: Path) -> None:
    """Write the styles and scripts that pages load, lean, from the first folder that has each.

    Raises:
        AssetFault: one of them has a fault.
        OSError: a file cannot be written.
    """
    sources = {path.name: path for folder in reversed(theme) for path in _sources(folder)}
    (site / FOLDER).mkdir(parents=True, exist_ok=True)
    for name, path in sorted(sources.items()):
        lean = lean_style if path.suffix == ".css" else lean_script
        try:
            content = lean(path.read_text("utf-8"))
        except AssetFault as fault:
            raise AssetFault(f"{FOLDER}/{name}: {fault}") from None
        (site / FOLDER / name).write_bytes(content.encode())


def head_script(theme: Sequence[Path]) -> str:
    """The script that stands in the head of each page, lean, from the first folder that has it.

    Raises:
        AssetFault: it has a fault.
        FileNotFoundError: no folder has it.
    """
    return lean_script(_source(theme, HEAD_SCRIPT))


def first_style(theme: Sequence[Path]) -> str:
    """The styles that stand in the head of each guide, lean, from the first folder that has them.

    Raises:
        AssetFault: they have a fault.
        FileNotFoundError: no folder has them.
    """
    return lean_style(_source(theme, FIRST_STYLE))


def lean_script(script: str) -> str:
    """A script without comments and needless space, its local names short.

    Raises:
        AssetFault: it is no JavaScript.
    """
    return _lean("application/javascript", script)


def lean_style(css: str, names: Set[str] | None = None) -> str:
    """A style sheet without comments and without space that means nothing.

    With names, also without rules for print, and without selectors that need a class or id that is
    not among the names, or a choice of the reader. The sheet must then have no braces in strings.

    Raises:
        AssetFault: it is no style sheet.
    """
    lean = _lean("text/css", css)
    return lean if names is None else "".join(_kept(lean, names))


def with_short_properties(css: str) -> str:
    """A style sheet with its own properties named ``--a``, ``--b`` ...; nothing else may read them.

    Those beyond the letters keep their names.
    """
    short = dict(zip(dict.fromkeys(_PROPERTY.findall(css)), _LETTERS, strict=False))
    return _PROPERTY.sub(lambda found: short.get(found[0], found[0]), css)


def _lean(kind: str, text: str) -> str:
    try:
        return str(minify.string(kind, text))
    except minify.MinifyError as error:
        # The lines after the first show the place
        raise AssetFault(f"{str(error).splitlines()[0]}.") from None


def _source(theme: Sequence[Path], path: str) -> str:
    for folder in theme:
        if (folder / path).is_file():
            return (folder / path).read_text("utf-8")
    raise FileNotFoundError(2, "each page has it in its head, but no theme holds it", path)


def _sources(folder: Path) -> Iterator[Path]:
    for path in (folder / FOLDER).glob("*.*"):
        if path.suffix in (".css", ".js") and path.name not in SOURCES:
            yield path


def _kept(css: str, names: Set[str]) -> Iterator[str]:
    for selector, body in _rules(css):
        if selector.startswith(_DROPPED):
            continue
        if selector.startswith("@"):
            within = "".join(_kept(body, names))
            if within:
                yield f"{selector}{{{within}}}"
            continue
        used = ",".join(part for part in _COMMA.split(selector) if _is_used(part, names))
        if used:
            yield f"{used}{{{body}}}"


def _is_used(selector: str, names: Set[str]) -> bool:
    """Whether a selector may match in a page that has these classes and ids, and no head script."""
    required = _NOT.sub("", selector)
    if _SET_BY_HEAD_SCRIPT.search(required):
        return False
    named = _NAMED.findall(required)
    if ":" in required:
        # Of the names in :is(), :where() and :has(), one is enough
        return not named or not names.isdisjoint(named)
    return all(name in names for name in named)


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
                yield css[start:opened], css[opened + 1 : at]
                start = at + 1


_TAG_WITH_VALUES = re.compile(r"(<[^<>=]*=[^>]*>)")
# A slash after a bare value would belong to it
_QUOTED = re.compile(r""" ([\w:-]+)="([^"\s'=<>`]+)"(?!/)""")
# Space before these means nothing where our templates break a line
_ON_NEW_LINE = re.compile(
    r"\n(?=</?(?:li|tr|p|div|dl|ul|ol|section|h[2-5]|figure|figcaption|svg|g|title|desc|path|rect|"
    r"circle|line|polyline|polygon|text|details|table|form|fieldset|legend|textarea|option|select|"
    r"output|main|nav|footer)\b)"
)
# End tags that may be left out, for what follows ends these elements
_NEEDLESS_END = re.compile(
    r"</(?:li|dt|dd|tr|th|td|option)>|</p>(?=</?(?:p|div|[uod]l|h[1-6]|section)\b)"
)


def lean_html(html: str) -> str:
    """HTML of our templates without needless quotes and end tags, and lines for a person alone.

    Every value in it is escaped, so that a tag ends at its first ``>``; it must hold no text whose
    line breaks count.
    """
    html = _NEEDLESS_END.sub("", _ON_NEW_LINE.sub("", html.replace("&#39;", "'")))
    pieces = _TAG_WITH_VALUES.split(html)
    pieces[1::2] = map(_bare, pieces[1::2])
    return "".join(pieces)


@lru_cache(maxsize=4096)
def _bare(tag: str) -> str:
    return _QUOTED.sub(r" \1=\2", tag)

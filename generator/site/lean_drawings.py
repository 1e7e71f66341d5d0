"""Drawings in a page, with short names of their own and without digits that say nothing."""

from __future__ import annotations

import re
from itertools import count

_DRAWING = re.compile(r"(<svg\b[^>]*>)(.*?)</svg>", re.DOTALL)
_OWN_NAME = re.compile(r' id="[^"]*"')
_LABELS = re.compile(r'aria-labelledby="([^"]*)"')
_TAG = re.compile(r"<[^>]*>")
_NO_DECIMAL = re.compile(r"(?<=\d)\.0(?=[^\d])")


def lean_drawings(html: str) -> str:
    """HTML whose drawings are named by titles that only they have: ``d0``, ``d1`` ...

    Our templates name drawing, title and description at length, and the same drawing has the same
    names wherever it stands. Only the drawing itself may refer to them.
    """
    number = count()

    def lean(found: re.Match[str]) -> str:
        start, inside = found.groups()
        if "text-anchor" not in start:
            inside = inside.replace(' text-anchor="start"', "")
        labels = _LABELS.search(start)
        names = {name: f"d{next(number)}" for name in labels[1].split()} if labels else {}
        for name, short in names.items():
            inside = inside.replace(f' id="{name}"', f' id="{short}"')
        start = _LABELS.sub(f'aria-labelledby="{" ".join(names.values())}"', start)
        drawing = f"{_OWN_NAME.sub('', start)}{inside}</svg>"
        return _TAG.sub(lambda tag: _NO_DECIMAL.sub("", tag[0]), drawing)

    return _DRAWING.sub(lean, html)

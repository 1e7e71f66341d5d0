"""The tables of a Markdown page, read into rows by the headings of their columns."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

Row = dict[str, str]
"""One row of a table: the text of each cell by the heading of its column."""


class Table(NamedTuple):
    """A table of a page, under the nearest heading above it."""

    heading: str
    columns: list[str]
    rows: list[Row]


def cells(line: str) -> list[str]:
    return [cell.strip() for cell in line.strip().strip("|").split("|")]


def tables(page: str) -> list[Table]:
    found: list[Table] = []
    heading = ""
    lines = page.splitlines()
    for above, line in pairwise(lines):
        if above.startswith("#"):
            heading = above.lstrip("# ")
        if line.startswith("| -"):
            found.append(Table(heading, cells(above), []))
        elif line.startswith("|") and above.startswith("|"):
            found[-1].rows.append(dict(zip(found[-1].columns, cells(line), strict=True)))
    return found

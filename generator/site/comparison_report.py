"""A comparison written for a terminal, for a comment on a change, and for another program."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain
from typing import Any, Final

from generator.profile.difference import ABSENT
from generator.profile.report import counting
from generator.profile.tree import Data
from generator.site.comparison import MOST_ALONE, Comparison, Effect, ValueChange, VehicleChange
from generator.site.page_change import Kind, PageChange

JSON_VERSION: Final = 1
MOST_LETTERS: Final = 160
LONGEST_COMMENT: Final = 60_000
"""Letters that a comment may have; forges take some 65,000 (common practice, no source)."""

_TOGETHER = "only together with other values"
_BACKTICKS = re.compile("`+")


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of a report: how deep it is set in, our own words with gaps, and what fills them."""

    depth: int
    words: str
    filled: tuple[str, ...] = ()

    def told(self, quoted: Callable[[str], str]) -> str:
        """The line with each gap filled by a text of someone else's, quoted."""
        return self.words.format(*map(quoted, self.filled))


def as_text(comparison: Comparison) -> str:
    """For a person at a terminal."""
    blocks = [
        "".join(f"{'  ' * line.depth}{line.told(_plain)}\n" for line in lines)
        for lines in _blocks(comparison)
    ]
    return "\n".join((*blocks, f"{_summary(comparison)}\n"))


def as_markdown(comparison: Comparison) -> str:
    """For a comment on a proposed change, in CommonMark.

    What others wrote stands in code spans, where it is no markup, no link, and calls nobody.
    """
    left = LONGEST_COMMENT
    blocks, cut = [], 0
    for lines in _blocks(comparison):
        head, *rest = (line.told(_quoted) for line in lines)
        depths = (line.depth for line in lines[1:])
        items = "".join(f"{'  ' * (n - 1)}- {each}\n" for n, each in zip(depths, rest, strict=True))
        block = f"### {head}\n\n{items}"
        left -= len(block)
        if left > 0:
            blocks.append(block)
        else:
            cut += 1
    if cut:
        blocks.append(f"{counting(cut, 'more part')} of this comparison did not fit here.\n")
    return "\n".join((*blocks, f"{_summary(comparison)}\n"))


def as_json(comparison: Comparison) -> str:
    """For another program: one object; a value that is not there is null."""
    data = {
        "version": JSON_VERSION,
        "old": comparison.old,
        "new": comparison.new,
        "profiles": comparison.profiles,
        "vehicles": [
            {
                "slug": each.slug,
                "was": each.was or None,
                "name": each.name,
                "change": each.kind.value,
                "values": [_value_data(value) for value in each.values],
                "effects": [_effect_data(effect) for effect in each.effects],
                "pages": [_page_data(page) for page in each.pages],
                "faults": list(each.faults),
                "warnings": [
                    {"rule": w.rule, "at": w.at, "message": w.message} for w in each.warnings
                ],
                "settled": [
                    {"rule": w.rule, "at": w.at, "message": w.message} for w in each.settled
                ],
            }
            for each in comparison.vehicles
        ],
        "pages": [_page_data(page) for page in comparison.pages],
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _value_data(value: ValueChange) -> dict[str, Any]:
    before, after = value.difference.before, value.difference.after
    return {
        "at": value.difference.at,
        "before": None if before is ABSENT else before,
        "after": None if after is ABSENT else after,
        "effects": [_effect_data(effect) for effect in value.effects],
        "pages": None if value.pages is None else list(value.pages),
    }


def _effect_data(effect: Effect) -> dict[str, str | None]:
    return {"what": effect.what, "before": effect.before or None, "after": effect.after or None}


def _page_data(page: PageChange) -> dict[str, Any]:
    return {
        "path": page.path,
        "title": page.title,
        "change": page.kind.value,
        "parts": list(page.parts),
    }


def _blocks(comparison: Comparison) -> Iterator[list[_Line]]:
    for vehicle in comparison.vehicles:
        yield list(_vehicle_lines(vehicle))
    if comparison.pages:
        yield [_Line(0, "Pages of no single vehicle"), *_page_lines(comparison.pages)]


def _vehicle_lines(vehicle: VehicleChange) -> Iterator[_Line]:
    yield _headline(vehicle)
    for fault in vehicle.faults:
        yield _Line(1, "{}", (fault,))
    for value in vehicle.values:
        yield from _value_lines(value, vehicle)
    if len(vehicle.values) > MOST_ALONE:
        yield _Line(1, f"More than {MOST_ALONE} values: what each does alone is not worked out.")
    alone = {effect for value in vehicle.values for effect in value.effects}
    if together := [effect for effect in vehicle.effects if effect not in alone]:
        yield _Line(1, "All together")
        yield from _effect_lines(together)
    for warning in vehicle.warnings:
        yield _Line(1, "new warning [{}] {}", (warning.rule, warning.message))
    for warning in vehicle.settled:
        yield _Line(1, "settled warning [{}] {}", (warning.rule, warning.message))
    if vehicle.pages:
        yield _Line(1, counting(len(vehicle.pages), "page"))
        yield from (_Line(2, line.words, line.filled) for line in _page_lines(vehicle.pages))
    elif not vehicle.faults:
        yield _Line(1, "No page changes.")


def _headline(vehicle: VehicleChange) -> _Line:
    name = (vehicle.name,) if vehicle.name else ()
    if vehicle.kind is Kind.RENAMED:
        words = "{}, before {}" + (": {}" if name else "") + " (renamed: its addresses change)"
        return _Line(0, words, (vehicle.slug, vehicle.was, *name))
    told = "" if vehicle.kind is Kind.CHANGED else f" ({vehicle.kind})"
    return _Line(0, "{}" + (": {}" if name else "") + told, (vehicle.slug, *name))


def _value_lines(value: ValueChange, vehicle: VehicleChange) -> Iterator[_Line]:
    difference = value.difference
    sides = [difference.before, difference.after]
    gaps = ["nothing" if side is ABSENT else "{}" for side in sides]
    texts = [_short(_flow(side)) for side in sides if side is not ABSENT]
    yield _Line(1, f"{{}}: {gaps[0]} → {gaps[1]}", (difference.at, *texts))
    yield from _effect_lines(value.effects)
    if value.pages:
        files = ", ".join(path.rpartition("/")[2].removesuffix(".html") for path in value.pages)
        yield _Line(2, "on {}", (files,))
    elif value.pages is not None:
        yield _Line(2, "on no page")
    elif not vehicle.faults and len(vehicle.values) <= MOST_ALONE:
        yield _Line(2, _TOGETHER)


def _effect_lines(effects: Iterator[Effect] | list[Effect] | tuple[Effect, ...]) -> Iterator[_Line]:
    for effect in effects:
        gaps = ["{}" if side else "nothing" for side in (effect.before, effect.after)]
        texts = [side for side in (effect.before, effect.after) if side]
        yield _Line(2, f"{effect.what}: {gaps[0]} → {gaps[1]}", tuple(texts))


def _page_lines(pages: tuple[PageChange, ...]) -> Iterator[_Line]:
    for page in pages:
        if page.kind is Kind.CHANGED:
            yield _Line(1, "{} {}: {}", (page.path, page.title, "; ".join(page.parts)))
        else:
            yield _Line(1, f"{{}} {{}} ({page.kind})", (page.path, page.title))


def _summary(comparison: Comparison) -> str:
    vehicles = comparison.vehicles
    if not vehicles and not comparison.pages:
        return f"Nothing changes in {counting(comparison.profiles, 'profile')}."
    pages = len(list(chain(comparison.pages, *(each.pages for each in vehicles))))
    failing = sum(each.fails for each in vehicles)
    said = (
        f"{counting(len(vehicles), 'vehicle')} of {comparison.profiles} with changes, "
        f"{counting(pages, 'page')}"
    )
    return f"{said}; {counting(failing, 'profile')} not built." if failing else f"{said}."


def _flow(data: Data) -> str:
    """A value on one line, as YAML's flow style has it."""
    if isinstance(data, dict):
        return "{" + ", ".join(f"{key}: {_flow(each)}" for key, each in data.items()) + "}"
    if isinstance(data, list):
        return "[" + ", ".join(map(_flow, data)) + "]"
    return data or ""


def _short(text: str) -> str:
    return text if len(text) <= MOST_LETTERS else f"{text[:MOST_LETTERS].rstrip()} …"


def _plain(text: str) -> str:
    """A text on one line, of which a terminal shows every character and acts on none."""
    line = " ".join(text.split()) or "nothing"
    return "".join(each if each.isprintable() else "?" for each in line)


def _quoted(text: str) -> str:
    """A text as a code span of CommonMark 0.31, section 6.1: its fence is longer than any in it."""
    line = _plain(text)
    longest = max(map(len, _BACKTICKS.findall(line)), default=0)
    fence = "`" * (longest + 1)
    space = " " if longest else ""
    return f"{fence}{space}{line}{space}{fence}"


FORMATS: Final[Mapping[str, Callable[[Comparison], str]]] = {
    "text": as_text,
    "markdown": as_markdown,
    "json": as_json,
}
"""What ``sondebook compare --format`` takes."""

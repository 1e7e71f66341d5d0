"""The profile to start from, as text: what is known, and every other key as a comment to open.

What each key means, and how it may look, is what the model says of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from generator.profile.examples import Example, examples_of
from generator.profile.model import Bank, Profile
from generator.profile.part import Part
from generator.profile.sensor_model import MOST_WIRES_WITHOUT_HEATER, Sensor
from generator.profile.yaml_text import block, flow
from generator.trade.sensor import SensorKind

Values = dict[str, Any]
Told = set[tuple[type[Part], str]]
"""The keys that have been explained; each is, once."""

MODELINE = "# yaml-language-server: $schema="
"""What the first line of a profile begins with, so that editors find the schema."""

_HEADER = """\
#
# {title}, written by `sondebook new`.
# Left and right are the vehicle's own, as seen from the driver's seat looking forward.
# To add a key, delete the hash and the space before it, and before the lines that belong to it.
# The values in such lines are examples of an invented vehicle: write what your source says.
"""
_REFERS_TO = {"source": "sources", "face": "connectors", "behind": "obstacles", "fuse": "fuses"}
_HEATED_ONLY = frozenset({"heater", "fuse", "supply_wire", "readings"})
_MOST_WORDS_TOLD = 4


def starter(values: Values, schema: str, remarks: Sequence[str] = ()) -> str:
    """A commented profile: the values given, and what else may be stated, each key once.

    ``schema`` is the path of the JSON Schema as seen from the file; ``remarks`` are sentences for
    the head of it.
    """
    vehicle = values["vehicle"]
    title = f"{vehicle['make']} {vehicle['model']} {values['engine']['name']}"
    head = _HEADER.format(title=title) + "".join(f"# {remark}\n" for remark in remarks)
    lines = "\n".join(_part_lines(Profile, values, set()))
    return f"{MODELINE}{schema}\n{head}\n{lines}\n"


def _part_lines(part: type[Part], values: Values, told: Told) -> Iterator[str]:
    for key, field in part.model_fields.items():
        is_new = (part, key) not in told
        if key in values:
            told.add((part, key))
            yield from _stated(key, field, values[key], told, _comment(field) if is_new else "")
        elif is_new and _fits(part, key, values):
            told.add((part, key))
            yield from _offered(key, field)


def _stated(key: str, field: FieldInfo, value: Any, told: Told, comment: str) -> Iterator[str]:
    """A key with its value, part by part, so that the keys of each part can be offered in it."""
    part = _part_within(field.annotation)
    if part is None:
        yield f"{key}: {flow(value)}{comment}"
        return
    yield f"{key}:{comment}"
    if isinstance(value, list):
        for number, item in enumerate(value):
            first, *rest = _part_lines(part, item, told)
            if number == 1 and part is Sensor:
                yield "  # What is offered in the first sensor may stand in each: copy its lines."
            yield f"  - {first}"
            yield from _indented(rest, 4)
    elif get_origin(field.annotation) is dict:
        for name, inner in value.items():
            yield f"  {name}:"
            yield from _indented(_part_lines(part, inner, told), 4)
    else:
        yield from _indented(_part_lines(part, value, told), 2)


def _offered(key: str, field: FieldInfo) -> Iterator[str]:
    """A key that may be added, as lines of comment with an example."""
    example = examples_of(field)[0]
    lines = block(example)
    is_short = not isinstance(example, list | dict) or lines[0].startswith(("[", "{"))
    first = f"{key}: {lines[0]}" if is_short else f"{key}:"
    rest = [] if is_short else _indented(lines, 2)
    yield f"# {first}{_comment(field, _needs(key, example))}"
    yield from (f"# {line}" for line in rest)


def _comment(field: FieldInfo, needs: Sequence[str] = ()) -> str:
    """What a key means, the words it takes where they are few, and what it needs beside it."""
    said = field.description or ""
    words = _words(field.annotation)
    if 1 < len(words) <= _MOST_WORDS_TOLD:
        said += f" One of {', '.join(words[:-1])} or {words[-1]}."
    needed = [f"`{key}`" for key in needs if f"`{key}`" not in said]
    return f"  # {said} Needs {' and '.join(needed)}." if needed else f"  # {said}"


def _needs(key: str, example: Example) -> list[str]:
    """The parts of the profile whose names an example refers to."""
    return sorted({_REFERS_TO[each] for each in {key, *_keys(example)} if each in _REFERS_TO})


def _keys(example: Example) -> Iterator[str]:
    if isinstance(example, dict):
        yield from (str(key) for key in example)
        example = list(example.values())
    if isinstance(example, list):
        for each in example:
            yield from _keys(each)


def _fits(part: type[Part], key: str, values: Values) -> bool:
    """Whether a key can be right beside the values there are."""
    if part is Bank:
        return key != "side"  # Left out on purpose: the exhausts join
    if part is Profile and key == "exceptions":
        return False  # Written once the check has warned
    if part is Profile and key == "fuses":
        return any(_is_heated(sensor) for sensor in values["sensors"])
    if part is not Sensor:
        return True
    if key == "curve":
        return bool(values["kind"] == SensorKind.WIDE_RANGE)
    return key not in _HEATED_ONLY or _is_heated(values)


def _is_heated(sensor: Values) -> bool:
    return bool(sensor["wires"] > MOST_WIRES_WITHOUT_HEATER)


def _part_within(kind: Any) -> type[Part] | None:
    """The part that a key holds, one or many of it."""
    if isinstance(kind, type) and issubclass(kind, Part):
        return kind
    if get_origin(kind) in (list, dict):
        return _part_within(get_args(kind)[-1])
    return None


def _words(kind: Any) -> list[str]:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return [word.value for word in kind]
    if get_origin(kind) in (Union, UnionType):
        inner = [each for each in get_args(kind) if each is not NoneType]
        return _words(inner[0]) if len(inner) == 1 else []
    return []


def _indented(lines: Sequence[str] | Iterator[str], spaces: int) -> Iterator[str]:
    return (f"{' ' * spaces}{line}" if line else line for line in lines)

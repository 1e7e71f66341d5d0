"""The reference of a profile's keys in Markdown, written from the model.

``python -m generator.profile.reference > docs/reference/profile.md`` writes the page anew.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Sequence
from datetime import date
from enum import StrEnum
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import Ge, Le
from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from generator.profile.dimension import DIMENSIONS
from generator.profile.examples import examples_of
from generator.profile.fields import Name, PhotoPath, Thread, Years
from generator.profile.model import Profile
from generator.profile.part import Part, Stated
from generator.profile.yaml_text import flow

Metadata = tuple[Any, ...]
"""What stands beside a type in ``Annotated``."""

INTRODUCTION = """\
# Keys of a profile

<!-- Written by `python -m generator.profile.reference`: change the model, not this page. -->

Every key that a vehicle profile may hold. [Send in a vehicle](../add-a-vehicle.md) shows where to
start. A key that is not marked needed may be left out; what is left out is said to be missing,
and nothing is put in its place. `NAME` stands for a name of your own, `NUMBER` for a number, and
`[]` for an entry of a list. [What is checked](rules.md) lists what the values are held to.
"""

OWN_KEYS = "keys of its own, below"

_WRITTEN_AS = {
    Years: "years, such as `2009 to 2014`",
    Thread: "a metric thread, such as `M18x1.5`",
    date: "a date, such as `2026-03-14`",
    float: "a number",
} | {each.value: f"a {each.name}, such as {each.examples}" for each in DIMENSIONS}
_NAME = get_args(Name)[1]
_PHOTO = get_args(PhotoPath)[1]


def key_reference() -> str:
    """The whole reference page: each part of a profile with its keys."""
    sections = (_section(path, part) for path, part in _parts("", Profile))
    return "\n".join([INTRODUCTION, *sections])


def _parts(path: str, part: type[Part]) -> Iterator[tuple[str, type[Part]]]:
    """A part and all parts within it, with the path that leads to each."""
    yield path, part
    for key, field in part.model_fields.items():
        way, kind = _inner(field.annotation)
        if isinstance(kind, type) and issubclass(kind, Part):
            yield from _parts(f"{path}.{key}{way}".lstrip("."), kind)


def _inner(kind: Any) -> tuple[str, Any]:
    """What lists and mappings are of, and the way into them: ``[]``, ``.NAME`` or ``.NUMBER``."""
    kind, _ = _unwrapped(kind)
    if get_origin(kind) is list:
        way, inner = _inner(get_args(kind)[0])
        return f"[]{way}", inner
    if get_origin(kind) is dict:
        key, value = get_args(kind)
        way, inner = _inner(value)
        return (".NUMBER" if _unwrapped(key)[0] is int else ".NAME") + way, inner
    return "", kind


def _unwrapped(kind: Any, metadata: Sequence[Any] = ()) -> tuple[Any, Metadata]:
    """A type without ``| None`` and ``Annotated``, and the metadata that stood beside it."""
    if get_origin(kind) is Annotated:
        inner, *more = get_args(kind)
        return _unwrapped(inner, (*metadata, *more))
    if get_origin(kind) in (Union, UnionType):
        (only,) = (each for each in get_args(kind) if each is not NoneType)
        return _unwrapped(only, metadata)
    return kind, tuple(metadata)


def _section(path: str, part: type[Part]) -> str:
    depth = "##" if path.count(".") + path.count("[]") < 2 else "###"
    title = f"`{path}`" if path else "The whole profile"
    entries = "\n".join(_entry(key, field) for key, field in part.model_fields.items())
    return f"{depth} {title}\n\n{inspect.getdoc(part)}\n\n{entries}\n"


def _entry(key: str, field: FieldInfo) -> str:
    needed = " (needed)" if field.is_required() else ""
    otherwise = (
        f" Left out, it is `{field.default}`." if isinstance(field.default, str | int) else ""
    )
    wanted = _wanted(field.annotation, field.metadata)
    example = flow(examples_of(field)[0])
    return (
        f"- `{key}`{needed}: {field.description}{otherwise}\n"
        f"  *Wanted:* {wanted}.\n  *Example:* `{example}`"
    )


def _wanted(annotation: Any, metadata: Sequence[Any] = ()) -> str:
    """What a contributor writes at a key, in words."""
    kind, beside = _unwrapped(annotation, metadata)
    if origin := get_origin(kind):
        return _composed_wanted(origin, get_args(kind))
    if issubclass(kind, Part):
        return _part_wanted(kind)
    if issubclass(kind, StrEnum):
        return _one_of([word.value for word in kind])
    return _WRITTEN_AS.get(kind) or _plain_wanted(kind, beside)


def _composed_wanted(origin: Any, inner: Sequence[Any]) -> str:
    if origin is Literal:
        return _one_of([str(word) for word in inner])
    words = [_wanted(each) for each in inner]
    if origin is tuple:
        return " and ".join(words)
    each = f"with {OWN_KEYS}" if words[-1] == OWN_KEYS else words[-1]
    return f"a list, each {each}" if origin is list else f"by {words[0]}, each {each}"


def _part_wanted(part: type[Part]) -> str:
    fields = part.model_fields
    has_short_form = issubclass(part, Stated) and not any(
        field.is_required() for key, field in fields.items() if key != "value"
    )
    if has_short_form:
        return f"{_wanted(fields['value'].annotation)}; or {OWN_KEYS}"
    return OWN_KEYS


def _plain_wanted(kind: type, beside: Metadata) -> str:
    if kind is int:
        low = next((each.ge for each in beside if isinstance(each, Ge)), None)
        high = next((each.le for each in beside if isinstance(each, Le)), None)
        return "a whole number" if low is None else f"a whole number, {low} to {high}"
    if _NAME in beside:
        return "a name"
    if _PHOTO in beside:
        return "the path of a file below the profile's folder"
    (limits,) = (each for each in beside if isinstance(each, StringConstraints))
    return f"text, at most {limits.max_length} characters"


def _one_of(words: list[str]) -> str:
    *others, last = (f"`{word}`" for word in words)
    return f"{', '.join(others)} or {last}" if others else last


if __name__ == "__main__":
    print(key_reference(), end="")

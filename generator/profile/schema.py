"""The JSON Schema of a profile, for editors and forms, written from the model.

Draft-07, which editors know. It never refuses what is read here, and cannot refuse all that is
refused here: ``sondebook check`` judges. Editors hand over numbers as numbers, so a key that takes
digits takes both; of several types the first is the one to write.
``sondebook schema > docs/reference/profile.schema.json`` writes the file anew.
"""

from __future__ import annotations

import inspect
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from enum import StrEnum
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import Ge, Le, MaxLen, MinLen
from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from generator.profile.dimension import DIMENSIONS, Dimension
from generator.profile.examples import examples_of
from generator.profile.fields import (
    DECIMAL_PATTERN,
    PHOTO_PATTERN,
    THREAD_PATTERN,
    YEARS_PATTERN,
    Name,
    PhotoPath,
    Thread,
    Years,
)
from generator.profile.model import Profile
from generator.profile.part import Part, Stated

Schema = dict[str, Any]
Metadata = tuple[Any, ...]

DIALECT = "http://json-schema.org/draft-07/schema#"
PATH = "docs/reference/profile.schema.json"
"""Where the schema stands, from the top of a project; the first line of a profile leads to it."""

_WHOLE_NUMBER = r"^\s*(0|[1-9][0-9]{0,8})\s*$"
_NAME_PATTERN = r"^\s*[a-z0-9]+(-[a-z0-9]+)*\s*$"
_NAME_WORDS = "Small letters, digits and single hyphens, such as engine-cover."
_PHOTO_WORDS = "A JPEG, PNG or WebP file below the profile's folder: photos/carrow-latch.jpg."
_NUMBER_WITH_UNIT = r"^(?![\s\S]*[0-9],[0-9])[\s\S]*[0-9][\s\S]*[^0-9\s.,/]"
_DAY = r"(0[1-9]|1[0-2])-?(0[1-9]|[12][0-9]|3[01])"
_DATE = rf"^\s*[0-9]{{4}}-?({_DAY}|W[0-9]{{2}}(-?[1-7])?)\s*$"
_ANY_SCALAR = ("string", "number", "boolean")
_OWN_TYPES: Mapping[type, tuple[Sequence[str], str, str]] = {
    Years: (("string", "integer"), rf"^\s*{YEARS_PATTERN}\s*$", "Years, such as 2009 to 2014."),
    Thread: (("string",), rf"^\s*{THREAD_PATTERN}\s*$", "A metric thread, such as M18x1.5."),
    date: (("string", "integer"), _DATE, "A date, such as 2026-03-14."),
    float: (("number", "string"), rf"^\s*{DECIMAL_PATTERN}\s*$", "A number, such as 0.85."),
    int: (("integer", "string"), _WHOLE_NUMBER, "A whole number."),
}
"""For each: types, the one to write first; pattern; and what is wanted."""
_NAME = get_args(Name)[1]
_PHOTO = get_args(PhotoPath)[1]


def profile_schema() -> Schema:
    """The schema of a whole profile, with a definition for each of its parts."""
    parts = {_definition_name(part): part for part in _parts(Profile)}
    return {
        "$schema": DIALECT,
        "title": "Vehicle profile",
        **_part(Profile),
        "definitions": {name: _part(parts[name]) for name in sorted(parts)},
    }


def schema_text() -> str:
    """The schema as the JSON text that is checked in and published."""
    return json.dumps(profile_schema(), indent=2, ensure_ascii=False) + "\n"


def refresh_schema(project: Path) -> bool:
    """Whether the schema in a project's folder was missing, or another version's, and is written.

    Raises:
        OSError: it cannot be written.
    """
    file, text = project / PATH, schema_text()
    if file.is_file() and file.read_bytes() == text.encode():
        return False
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text.encode())
    return True


def _parts(part: type[Part]) -> Iterator[type[Part]]:
    """Every part that a part leads to."""
    for field in part.model_fields.values():
        for inner in _parts_in(field.annotation):
            yield inner
            yield from _parts(inner)


def _parts_in(kind: Any) -> Iterator[type[Part]]:
    if isinstance(kind, type) and issubclass(kind, Part):
        yield kind
    for inner in get_args(kind):
        yield from _parts_in(inner)


def _definition_name(part: type[Part]) -> str:
    """The part's own name; what is stated of a quantity is named by the quantity too."""
    generic = part.__pydantic_generic_metadata__
    if generic["origin"] is None:
        return part.__name__
    (quantity,) = generic["args"]
    return f"{generic['origin'].__name__}{get_args(quantity)[0].__name__}"


def _part(part: type[Part]) -> Schema:
    fields = part.model_fields
    declared = part.__pydantic_generic_metadata__["origin"] or part
    return {
        "description": inspect.cleandoc(declared.__doc__ or ""),
        "type": "object",
        "properties": {key: _key(field) for key, field in fields.items()},
        "required": [key for key, field in fields.items() if field.is_required()],
        "additionalProperties": False,
    }


def _key(field: FieldInfo) -> Schema:
    """What may stand at a key, with what it means and how it may look."""
    said: Schema = {"description": field.description}
    if isinstance(field.default, str | int):
        said["default"] = field.default
    said["examples"] = examples_of(field)
    value = _value(field.annotation, tuple(field.metadata))
    # Draft-07 reads nothing that stands beside a reference
    return {**said, **({"allOf": [value]} if "$ref" in value else value)}


def _value(kind: Any, beside: Metadata = ()) -> Schema:
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _value(inner[0], (*beside, *inner[1:]))
    if origin in (Union, UnionType):
        (only,) = (each for each in inner if each is not NoneType)
        return _or_empty(_value(only, beside))
    if origin is not None:
        return _composed(origin, inner, beside)
    if issubclass(kind, Part):
        return _part_or_short_form(kind)
    if issubclass(kind, StrEnum):
        return {"type": "string", "enum": [word.value for word in kind]}
    return _plain(kind, beside)


def _or_empty(schema: Schema) -> Schema:
    """The same, or nothing: a key that may be left out may stand there without a value."""
    if "type" in schema:
        kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        words = {"enum": [*schema["enum"], None]} if "enum" in schema else {}
        return {**schema, **words, "type": [*kinds, "null"]}
    return {"anyOf": [*schema.get("anyOf", [schema]), {"type": "null"}]}


def _composed(origin: Any, inner: Sequence[Any], beside: Metadata) -> Schema:
    if origin is Literal:
        (number,) = inner
        return {"type": ["integer", "string"], "enum": [number, str(number)]}
    if origin is tuple:
        each = [_value(kind) for kind in inner]
        return {
            "type": "array",
            "items": each,
            "additionalItems": False,
            "minItems": len(each),
            "maxItems": len(each),
        }
    if origin is list:
        return {"type": "array", "items": _value(inner[0]), **_counted(beside, "Items")}
    return {"type": "object", **_mapping(*inner), **_counted(beside, "Properties")}


def _mapping(key: Any, value: Any) -> Schema:
    """Values by name, by number, or by one of a few words."""
    if isinstance(key, type) and issubclass(key, StrEnum):
        by_word = {word.value: _value(value) for word in key}
        return {"properties": by_word, "additionalProperties": False}
    pattern = _WHOLE_NUMBER if get_args(key)[0] is int else _NAME_PATTERN
    return {"additionalProperties": _value(value), "propertyNames": {"pattern": pattern}}


def _counted(beside: Metadata, what: str) -> Schema:
    limits: Schema = {}
    for each in beside:
        if isinstance(each, MinLen):
            limits[f"min{what}"] = each.min_length
        elif isinstance(each, MaxLen):
            limits[f"max{what}"] = each.max_length
    return limits


def _part_or_short_form(part: type[Part]) -> Schema:
    refer = {"$ref": f"#/definitions/{_definition_name(part)}"}
    fields = part.model_fields
    if issubclass(part, Stated) and not any(
        field.is_required() for key, field in fields.items() if key != "value"
    ):
        return {"anyOf": [_value(fields["value"].annotation), refer]}
    return refer


def _plain(kind: type, beside: Metadata) -> Schema:
    if dimension := next((each for each in DIMENSIONS if each.value is kind), None):
        return _quantity(dimension)
    if kind in _OWN_TYPES:
        return {**_text(*_OWN_TYPES[kind]), **_bounds(beside)}
    if _NAME in beside:
        return _text(_ANY_SCALAR, _NAME_PATTERN, _NAME_WORDS)
    if _PHOTO in beside:
        return _text(("string",), rf"^\s*{PHOTO_PATTERN}\s*$", _PHOTO_WORDS)
    assert any(isinstance(each, StringConstraints) for each in beside)
    return _text(_ANY_SCALAR, r"\S", "Text, and not only blanks.")


def _quantity(dimension: Dimension[Any]) -> Schema:
    """A number and a unit; a bare number only where the key says the unit."""
    wanted = quantity_wanted(dimension)
    if dimension.assumed:
        return _text(("string", "number"), "[0-9]", wanted)
    return _text(("string",), _NUMBER_WITH_UNIT, wanted)


def quantity_wanted(dimension: Dimension[Any]) -> str:
    """What is said of a text that is no such quantity."""
    examples = re.sub("`", "", dimension.examples)
    return f"A {dimension.name}, such as {examples}."


def _text(kinds: Sequence[str], pattern: str, wanted: str) -> Schema:
    """Text of a pattern; what is said when it does not fit is read by editors, not by the draft."""
    kind = kinds[0] if len(kinds) == 1 else list(kinds)
    return {"type": kind, "pattern": pattern, "patternErrorMessage": wanted}


def _bounds(beside: Metadata) -> Schema:
    bounds: Schema = {}
    for each in beside:
        if isinstance(each, Ge):
            bounds["minimum"] = each.ge
        elif isinstance(each, Le):
            bounds["maximum"] = each.le
    return bounds

"""What was meant by a value of another shape than its key wants, as a mend that the key takes."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import Annotated, Any, get_args

from pydantic import TypeAdapter, ValidationError

from generator.profile.examples import examples_of
from generator.profile.finding import Path, nearest
from generator.profile.model_walk import part_at
from generator.profile.part import Part
from generator.profile.quantity import resistance_and_temperature, unit_once
from generator.profile.yaml_text import flow

_IN_A_LIST = re.compile(r"\s*[\w-]+(, *[\w-]+)*\s*")
"""Words that a list needs nothing but brackets around to hold."""
_JOINT = re.compile(r"\s*(?:[,/&+]|\band\b)\s*")
_BOTH = frozenset({"both", "both sides", "either", "all"})
_LONGEST_EXAMPLE = 60
_SPAN = re.compile(r"([0-9]{1,2})\s*(?:-|–|to)\s*([0-9]{1,2})")


def list_meant(path: Path, text: str) -> str:
    """The sentences that lead from a text to the list its key takes; empty where none is near."""
    words = words_of_list(path)
    if _IN_A_LIST.fullmatch(text) and is_taken(path, items := _items(text)):
        return f"A list stands in brackets: `[{', '.join(items)}]`."
    numbers = _items(_SPAN.sub(_each_number, text))
    if all(each.isdecimal() for each in numbers) and is_taken(path, numbers):
        return f"A list stands in brackets: `[{', '.join(numbers)}]`."
    if every := every_word_meant(path, text):
        return every
    near = [nearest(each, words) or "" for each in _JOINT.split(text.strip())]
    return f"Did you mean `[{', '.join(near)}]`?" if words and all(near) else ""


def every_word_meant(path: Path, text: str) -> str:
    """The sentence that leads from `both` to a list of the two words there are."""
    words = words_of_list(path)
    is_both = text.strip().casefold() in _BOTH and len(words) == 2
    return f"Did you mean `[{', '.join(words)}]`?" if is_both else ""


def value_meant(path: Path, items: list[object]) -> str:
    """The sentence that leads from a list to the value, or the range of values, that it holds."""
    text = unit_once(" to ".join(str(each) for each in items))
    # Of two texts that are no quantities, "one to the other" says something else
    is_meant = len(items) == 1 or (len(items) == 2 and not is_taken(path, "any text"))
    is_text = all(isinstance(each, str) for each in items)
    return f"Write `{text}`." if is_meant and is_text and is_taken(path, text) else ""


def as_in(path: Path, given: object) -> str:
    """The sentence that shows how a part, or a list, is written; empty for other keys."""
    both = resistance_and_temperature(given) if isinstance(given, str) else None
    stated = {"resistance": {"value": both[0], "at": both[1]}} if both else None
    if stated and is_taken(path, stated):
        return f"Write `{flow(stated)}` as your source gives it."
    part, example = part_at(path), _example(path)
    if part and isinstance(example, dict):
        return f"It is written in keys, as in `{flow(example)}`."
    inner = part_at((*path, 0))
    if inner is None:
        is_entry = isinstance(given, str) and is_taken(path, [given])
        return "Begin it with `- `, in the line below its key." if is_entry else ""
    if isinstance(example, dict):
        name, first = next(iter(example.items()))
        return f"It is written as in `{flow({name: _in_short(inner, first)})}`."
    return f"An entry is a line below, as in `- {flow(_in_short(inner, example[0]))}`."


def _example(path: Path) -> Any:
    """What may stand at a key, of the invented vehicle."""
    above, part = part_at(path[:-1]), part_at(path)
    if above is not None:
        example = examples_of(above.model_fields[str(path[-1])])[0]
    else:
        example = next(iter(_entries(_example(path[:-1]))))
    return _in_short(part, example) if part else example


def _entries(example: Any) -> list[Any]:
    return list(example.values()) if isinstance(example, dict) else example


def _in_short(part: type[Part], example: Any) -> Any:
    """An example of a part, with the keys it needs alone where all would make it long."""
    needed = {key for key, field in part.model_fields.items() if field.is_required()}
    if len(flow(example)) <= _LONGEST_EXAMPLE or not needed or not isinstance(example, dict):
        return example
    return {key: value for key, value in example.items() if key in needed}


def words_of_list(path: Path) -> list[str]:
    """The words that a list's entries are taken from; empty where they are free."""
    part = part_at(path[:-1])
    field = part.model_fields.get(str(path[-1])) if part else None
    kind = next(reversed(get_args(field.annotation)), None) if field else None
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return [word.value for word in kind]
    return []


def text_with_colon(given: dict[str, object]) -> str:
    """The text that a colon made a mapping of; empty where it was none."""
    if not all(each is None or isinstance(each, str) for each in given.values()):
        return ""
    return " ".join(f"{key}: {value or ''}".strip() for key, value in given.items())


def quoted(text: str) -> str:
    """A text in double quotes, as YAML reads it back."""
    inner = " ".join(text.split()).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{inner}"'


def _items(text: str) -> list[str]:
    return [each.strip() for each in text.split(",")]


def _each_number(span: re.Match[str]) -> str:
    return ", ".join(str(each) for each in range(int(span[1]), int(span[2]) + 1))


def is_taken(path: Path, value: object) -> bool:
    """Whether the model takes a value where a path ends, a list's entry included."""
    while path and isinstance(path[-1], int):
        path, value = path[:-1], [value]
    part = part_at(path[:-1])
    if part is None or str(path[-1]) not in part.model_fields:
        return False
    try:
        _adapter(part, str(path[-1])).validate_python(value)
    except ValidationError:
        return False
    return True


@lru_cache(maxsize=256)
def _adapter(part: type[Part], key: str) -> TypeAdapter[Any]:
    field = part.model_fields[key]
    return TypeAdapter(Annotated[field.annotation, field])  # type: ignore[arg-type]

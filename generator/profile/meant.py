"""What was meant by a value of another shape than its key wants, as a mend that the key takes."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import Annotated, Any, get_args

from pydantic import TypeAdapter, ValidationError

from generator.profile.finding import Path, nearest
from generator.profile.model_walk import part_at
from generator.profile.part import Part

_IN_A_LIST = re.compile(r"\s*[\w-]+(, *[\w-]+)*\s*")
"""Words that a list needs nothing but brackets around to hold."""
_SPAN = re.compile(r"([0-9]{1,2})\s*(?:-|–|to)\s*([0-9]{1,2})")


def list_meant(path: Path, text: str) -> str:
    """The sentences that lead from a text to the list its key takes; empty where none is near."""
    words = words_of_list(path)
    if _IN_A_LIST.fullmatch(text) and is_taken(path, items := _items(text)):
        return f"A list stands in brackets: `[{', '.join(items)}]`."
    numbers = _items(_SPAN.sub(_each_number, text))
    if all(each.isdecimal() for each in numbers) and is_taken(path, numbers):
        return f"A list stands in brackets: `[{', '.join(numbers)}]`."
    near = [nearest(each, words) or "" for each in _items(text)]
    return f"Did you mean `[{', '.join(near)}]`?" if words and all(near) else ""


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

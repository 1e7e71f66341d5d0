"""A text that answers a question, read in the words of the check or refused in them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from generator.profile.finding import Path, did_you_mean
from generator.profile.model_walk import part_at
from generator.profile.source_text import Refused
from generator.profile.tree import read_tree
from generator.profile.value_fault import fault_of
from generator.profile.yaml_text import flow
from generator.trade.sensor import SensorKind
from generator.trade.sensor_wiring import WIRES

_SPAN = re.compile(r"([0-9]{1,2})(?:\s*(?:-|–|to)\s*([0-9]{1,2}))?")


class NotAnAnswer(Exception):
    """A text that answers nothing; the message says why, and what would."""


def field_at(path: Path) -> FieldInfo:
    """A key of the model."""
    part = part_at(path[:-1])
    assert part is not None
    return part.model_fields[str(path[-1])]


def read_at(path: Path, text: str) -> Any:
    """What the model reads at a key; NotAnAnswer in the words of the check."""
    field = field_at(path)
    try:
        adapter: TypeAdapter[Any] = TypeAdapter(Annotated[field.annotation, field])  # type: ignore[arg-type]
        return adapter.validate_python(text.strip())
    except ValidationError as error:
        _, fault = fault_of(error.errors(include_url=False)[0], path)
        raise NotAnAnswer(f"{fault.message} {fault.mend}".strip()) from None


def refuse_unwritable(text: str) -> None:
    """Refuse what no profile may hold, such as the control characters of an arrow key."""
    if "\n" in text or "\r" in text:
        raise NotAnAnswer("The answer is longer than one line.")
    try:
        read_tree("", f"answer: {flow(text)}\n# {text}\n".encode())
    except Refused as refused:
        raise NotAnAnswer(f"{refused.finding.message} {refused.finding.mend}".strip()) from None
    except UnicodeEncodeError:
        raise NotAnAnswer("This is not text.") from None


def read_word(text: str, choices: Sequence[str]) -> str:
    """One of a few words, by its number or itself."""
    said = text.strip().casefold()
    if said in choices:
        return said
    by_number = {str(number): word for number, word in enumerate(choices, start=1)}
    if said in by_number:
        return by_number[said]
    near = did_you_mean(said, choices)
    *others, last = choices
    words = f"{', '.join(others)} or {last}" if others else last
    raise NotAnAnswer(f"`{text.strip()}` is not one of them: {words}. {near}".strip())


def read_count(text: str, least: int, most: int, what: str) -> int:
    """How many there are of something, within what can be."""
    number = _whole_number(text)
    if not least <= number <= most:
        raise NotAnAnswer(f"`{number}` cannot be: there are {least} to {most} {what}.")
    return number


def read_wires(text: str, kind: SensorKind) -> int:
    """How many wires a sensor of a kind has; a number that its kind never has is refused."""
    span = WIRES[kind]
    count = _whole_number(text)
    if not span.fewest <= count <= span.most:
        raise NotAnAnswer(
            f"A {kind} sensor has {span.fewest} to {span.most} wires (common practice, no "
            "source). Count them again, or look at its kind."
        )
    return count


def _whole_number(text: str) -> int:
    number = text.strip()
    if not re.fullmatch("[0-9]{1,9}", number):
        raise NotAnAnswer(f"`{number}` is not a whole number. Write digits only.")
    return int(number)


def read_cylinders(text: str, most: int) -> tuple[int, ...]:
    """Cylinder numbers out of ``1, 2, 3``, ``1 2 3`` or ``1-3``."""
    rest = _SPAN.sub("", text)
    if not _SPAN.search(text) or rest.strip(" ,;[]\t"):
        raise NotAnAnswer(f"`{text.strip()}` is not a list of cylinders. Write `1, 2, 3` or `1-3`.")
    found: list[int] = []
    for span in _SPAN.finditer(text):
        low, high = int(span[1]), int(span[2] or span[1])
        found += range(low, high + 1) if low <= high else (low, high)
    for each in found:
        if not 1 <= each <= most:
            raise NotAnAnswer(f"There is no cylinder {each}: the engine has 1 to {most}.")
        if found.count(each) > 1:
            raise NotAnAnswer(f"Cylinder {each} is there twice.")
    return tuple(found)


def listed_cylinders(cylinders: Sequence[int]) -> str:
    """Cylinder numbers as they can be answered: ``1,2,3``."""
    return ",".join(str(each) for each in cylinders)

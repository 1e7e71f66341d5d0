"""Field types of a profile that are text outside and a small value inside."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainValidator, StringConstraints
from pydantic_core import PydanticCustomError

from generator.profile import dimension, quantity
from generator.profile.date_meant import mend_of_date
from generator.profile.dimension import Dimension
from generator.profile.quantity import NotAQuantity

_LONGEST_VALUE = 100
_LONGEST_NAME = 60


def fault(rule: str, message: str, mend: str = "") -> PydanticCustomError:
    """The error a validator raises: it becomes a finding of that rule at the value's place."""
    # Braces in contributed text must not be read as a template
    return PydanticCustomError(rule, "{message}", {"message": message, "mend": mend})


def _as_text(value: Any, wanted: str) -> str:
    if isinstance(value, str) and len(value) > _LONGEST_VALUE:
        raise fault("too-long", "The value is too long.", f"Write {wanted}.")
    if isinstance(value, str) and value.strip():
        return value.strip()
    if value is None or isinstance(value, str):
        raise fault(
            "empty-value",
            "The value is empty.",
            f"Write {wanted}, or delete it if it may be missing.",
        )
    shape = "a list" if isinstance(value, list) else "a mapping"
    raise fault("wrong-kind", f"{shape.capitalize()} stands here.", f"Write {wanted}.")


def _quantity(dimension: Dimension[Any]) -> PlainValidator:
    def read(value: Any) -> Any:
        if isinstance(value, dimension.value):  # type: ignore[arg-type]
            return value
        text = _as_text(value, f"a {dimension.name}, such as {dimension.examples}")
        try:
            return quantity.read_quantity(text, dimension)
        except NotAQuantity as error:
            raise fault(error.rule, error.message, error.mend) from None

    return PlainValidator(read, json_schema_input_type=str)


def _whole_number(value: Any) -> Any:
    if isinstance(value, int):
        return value
    text = _as_text(value, "a whole number")
    if not re.fullmatch(r"[0-9]{1,9}", text):
        raise fault("not-a-number", f"`{text}` is not a whole number.", "Write digits only.")
    # Banks 1 and 01 would be one bank, and the first of them lost
    if text != str(int(text)):
        raise fault("not-a-number", f"`{text}` begins with a zero.", f"Write `{int(text)}`.")
    return int(text)


def _plain(read: Callable[[str], Any], wanted: str, kind: type) -> PlainValidator:
    def validate(value: Any) -> Any:
        return value if isinstance(value, kind) else read(_as_text(value, wanted))

    return PlainValidator(validate, json_schema_input_type=str)


@dataclass(frozen=True, slots=True)
class Years:
    """Model years, both included; ``last`` is None while the model is still made."""

    first: int
    last: int | None
    text: str


YEARS_PATTERN = r"([0-9]{4})(?:\s*(?:to|-|–)\s*([0-9]{4})|\s+(on|onwards))?"


def _years(text: str) -> Years:
    match = re.fullmatch(YEARS_PATTERN, text)
    if match is None:
        raise fault(
            "not-years",
            f"`{text}` is not a span of years.",
            f"Write {_years_meant(text) or '`2009 to 2014`, `2009` or `2009 on`'}.",
        )
    first = int(match[1])
    last = None if match[3] else int(match[2] or first)
    if last is not None and last < first:
        raise fault(
            "reversed-range", f"The years `{text}` run backwards.", "Write the earlier year first."
        )
    return Years(first, last, text)


_OPEN_END = re.compile(
    r"""(?P<since>from|since)?\s*(?:[0-9]{1,2}[./])?(?P<first>(?:19|20)[0-9]{2})\s*
    (?P<open>[-–—+]|(?:[-–—]|to|until)?\s*(?:present|now|today|current)
    |(?:and\s+)?(?:on|onwards?|up|later|newer))?""",
    re.IGNORECASE | re.VERBOSE,
)
"""One year with a word or a mark that leaves the end open; of a year alone neither is there."""


def _years_meant(text: str) -> str:
    """A text with two years in it as a span, or one with an open end as a model still made.

    The second year may be its last two digits.
    """
    still = _OPEN_END.fullmatch(text)
    if still and (still["since"] or still["open"]):
        return f"`{still['first']} on`"
    years = [int(year) for year in re.findall(r"(?<![0-9])(?:19|20)[0-9]{2}(?![0-9])", text)]
    if len(years) == 1 and (end := re.fullmatch(r"([0-9]{4})\s*[-–/]\s*([0-9]{2})", text)):
        years.append(int(end[1]) // 100 * 100 + int(end[2]))
    if len(years) == 2 and years[0] < years[1]:
        return f"`{years[0]} to {years[1]}`"
    return ""


@dataclass(frozen=True, slots=True)
class Thread:
    """A metric thread (ISO 261): diameter and pitch in mm; pitch None where not stated."""

    diameter_mm: float
    pitch_mm: float | None
    text: str


THREAD_PATTERN = r"M\s?([0-9]{1,2}(?:\.[0-9]+)?)(?:\s?[x×X*]\s?([0-9](?:\.[0-9]+)?))?"


_LIKE_A_THREAD = "it like `M18x1.5`, or like `M8` where the pitch is not known"


def _thread(text: str) -> Thread:
    match = re.fullmatch(THREAD_PATTERN, text)
    if match is None:
        raise fault(
            "not-a-thread",
            f"`{text}` is not a metric thread.",
            f"Write {_thread_meant(text) or _LIKE_A_THREAD}.",
        )
    pitch = float(match[2]) if match[2] else None
    return Thread(float(match[1]), pitch, f"M{match[1]}" + (f"×{match[2]}" if match[2] else ""))


def _thread_meant(text: str) -> str:
    """The thread that two numbers behind an M make, whatever stands between them."""
    meant = re.fullmatch(r"[Mm]\s*([0-9]{1,2})[^0-9]+([0-9](?:[.,][0-9]+)?)\s*(?:mm)?", text)
    return f"`M{meant[1]}x{meant[2].replace(',', '.')}`" if meant else ""


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise fault("not-a-date", f"`{text}` is not a date.", mend_of_date(text)) from None


DECIMAL_PATTERN = "[-+\u2212]?[0-9]+(?:\\.[0-9]+)?"


def _decimal(value: Any) -> Any:
    if isinstance(value, int | float):
        return value
    text = _as_text(value, "a number")
    if not re.fullmatch(DECIMAL_PATTERN, text):
        raise fault("not-a-number", f"`{text}` is not a number.", "Write it as `0.85` or `-1.2`.")
    return float(text.replace("\u2212", "-"))


def _name(value: Any) -> Any:
    text = _as_text(value, "a short name")
    if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", text) or len(text) > _LONGEST_NAME:
        raise fault(
            "not-a-name",
            f"`{text}` is not a name for referring to.",
            f"Use small letters, digits and single hyphens, such as `{_name_meant(text)}`.",
        )
    return text


def _name_meant(text: str) -> str:
    """The name that a text becomes in small letters and hyphens."""
    meant = "-".join(re.findall("[a-z0-9]+", text.casefold()))
    return meant if meant and len(meant) <= _LONGEST_NAME else "cover"


_ADDRESS = re.compile(r"https?://[^\s<>\"'\\^`{|}@/?#]+(?:[/?#][^\s<>\"'\\^`{|}]*)?")


def _address(value: Any) -> Any:
    text = value.strip() if isinstance(value, str) else value
    if isinstance(text, str) and not _ADDRESS.fullmatch(text):
        raise fault(
            "not-an-address",
            f"`{text[:_LONGEST_VALUE]}` is not the address of a page.",
            "Write it whole, with http or https: `https://forum.example/thread/1`.",
        )
    return text


PHOTO_PATTERN = (
    r"([A-Za-z0-9_][A-Za-z0-9_.-]*/)*[A-Za-z0-9_][A-Za-z0-9_.-]*"
    r"\.([jJ][pP][eE]?[gG]|[pP][nN][gG]|[wW][eE][bB][pP])"
)
"""A path below the profile's folder: no way out of it, and a name that every machine keeps."""


def is_photo_name(text: str) -> bool:
    """Whether a text can name a photo below a profile's folder: no way out, nothing unusual."""
    return len(text) <= _LONGEST_VALUE and re.fullmatch(PHOTO_PATTERN, text) is not None


def _photo_path(value: Any) -> Any:
    text = _as_text(value, "the name of a photo's file")
    if not is_photo_name(text):
        raise fault(
            "photo-file",
            f"`{text}` is not the name of a photo beside the profiles.",
            "Name a JPEG, PNG or WebP file below the profile's folder in plain letters, digits, "
            "hyphens and points: `photos/carrow-latch.jpg`.",
        )
    return text


TorqueText = Annotated[dimension.Torque, _quantity(dimension.TORQUE)]
ResistanceText = Annotated[dimension.Resistance, _quantity(dimension.RESISTANCE)]
TemperatureText = Annotated[dimension.Temperature, _quantity(dimension.TEMPERATURE)]
LengthText = Annotated[dimension.Length, _quantity(dimension.LENGTH)]
CurrentText = Annotated[dimension.Current, _quantity(dimension.CURRENT)]
DurationText = Annotated[dimension.Duration, _quantity(dimension.DURATION)]
YearsText = Annotated[Years, _plain(_years, "years, such as `2009 to 2014`", Years)]
AreaText = Annotated[dimension.Area, _quantity(dimension.AREA)]
DateText = Annotated[date, _plain(_date, "a date, such as `2026-03-14`", date)]
DecimalNumber = Annotated[float, BeforeValidator(_decimal)]
ThreadText = Annotated[Thread, _plain(_thread, "a thread, such as `M18x1.5`", Thread)]
WholeNumber = Annotated[int, BeforeValidator(_whole_number)]
Name = Annotated[str, BeforeValidator(_name)]
Address = Annotated[str, BeforeValidator(_address), StringConstraints(max_length=500)]
PhotoPath = Annotated[str, BeforeValidator(_photo_path)]
Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200)]
Prose = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=2000)]

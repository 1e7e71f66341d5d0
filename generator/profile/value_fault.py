"""A value that the model does not take, in the words of a profile: what is wrong, and the mend."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from pydantic_core import ErrorDetails

from generator.profile import model, other_words
from generator.profile.excerpt import named
from generator.profile.finding import Fault, Path, did_you_mean
from generator.profile.meant import (
    as_in,
    every_word_meant,
    list_meant,
    quoted,
    text_with_colon,
    value_meant,
    words_of_list,
)
from generator.profile.mending import expected_words
from generator.profile.model import Profile
from generator.profile.model_walk import part_at
from generator.profile.not_known import is_not_known, mend_of_not_known


def fault_of(error: ErrorDetails, path: Path) -> tuple[str, Fault]:
    """A pydantic error in the words of a profile, and the rule it breaks."""
    context: dict[str, Any] = error.get("ctx", {})
    given = error["input"]
    at, at_key = path, "[key]" in error["loc"]
    match error["type"]:
        case "missing":
            at, at_key = path[:-1], True
            rule, mend = "missing-key", _meaning(path)
            message = f"{named(path[-1])} is missing here."
        case "extra_forbidden":
            at_key = True
            rule, message = "unknown-key", f"{named(path[-1])} is not a key of this part."
            known = _known_keys(path)
            mend = did_you_mean(str(path[-1]), known) or _other_place(path, known)
        case kind if "mend" in context:
            rule, message, mend = kind, context["message"], _own_mend(context["mend"], given, path)
        case _ if given is None:
            rule, what = "empty-value", "An entry of " if isinstance(path[-1], int) else ""
            message = f"{what}`{_key(path)}` is empty."
            mend = "Write its value, or delete it if it may be missing."
        case "enum" | "literal_error" if isinstance(given, str):
            words = expected_words(error) or [str(model.FORMAT)]
            rule, message = "unknown-word", f"{named(given)} is not a value for `{_key(path)}`."
            mend = _word_mend(given, words, path)
        case "greater_than_equal" | "less_than_equal":
            bound, side = (context["ge"], "least") if "ge" in context else (context["le"], "most")
            rule, message = "out-of-reach", f"{named(given)} cannot be."
            mend = f"`{_key(path)}` is at {side} {bound}."
        case "string_too_long":
            rule, message = "too-long", "The text is too long."
            mend = f"At most {context['max_length']} characters fit here."
        case "too_long":
            rule, message = "too-long", f"There are {context['actual_length']} entries here."
            mend = f"At most {context['max_length']} fit here."
        case "string_too_short" | "too_short":
            rule, message, mend = "empty-value", "There is nothing here.", _meaning(path)
        case kind:
            rule, (message, mend) = "wrong-kind", _of_other_shape(kind, given, path)
    return rule, Fault(at, message, mend, at_key)


def _own_mend(mend: str, given: object, path: Path) -> str:
    """The mend that a field gives, or a better one where the value's shape or meaning tells it."""
    if isinstance(given, str) and is_not_known(given):
        return mend_of_not_known(path)
    return (value_meant(path, given) if isinstance(given, list) else "") or mend


def _word_mend(given: str, words: list[str], path: Path) -> str:
    if isinstance(path[-1], int) and (every := every_word_meant(path[:-1], given)):
        return every
    mend = f"Expected {_listed(words)}. {did_you_mean(given, words)}".strip()
    if other_words.plain(given) in other_words.NEVER_NEAR:
        mend += " It is the vehicle's own side, as seen from the seat looking forward."
    return mend


def _of_other_shape(kind: str, given: object, path: Path) -> tuple[str, str]:
    """What is wrong with a value of another shape than its key wants, and the mend."""
    in_list = kind == "string_type" and isinstance(path[-1], int)
    if in_list and isinstance(given, dict) and (text := text_with_colon(given)):
        message = (
            f"The colon behind {named(next(iter(given)))} makes it a key, and a text is wanted."
        )
        return message, f"Write it in double quotes: `{quoted(text)}`."
    message = f"{_shape(given)} stands here, and {_wanted(kind)} is wanted."
    mend = _own_mend("", given, path)
    if not mend and kind == "list_type" and isinstance(given, str):
        words = words_of_list(path)
        near = list_meant(path, given) or (f"Expected {_listed(words)}." if words else "")
        mend = f"{near} {_meaning(path)}" if near else ""
    shown = as_in(path, given) if kind.startswith(("dict", "model", "list")) else ""
    return message, mend or f"{_meaning(path)} {shown}".strip()


def _wanted(kind: str) -> str:
    if kind.startswith("list"):
        return "a list, such as `[one, two]`,"
    return "a mapping of keys to values" if kind.startswith(("dict", "model")) else "a word or text"


def _shape(given: object) -> str:
    if isinstance(given, list):
        return "A list"
    return "A mapping" if isinstance(given, dict) else named(given)


def _listed(words: list[str], joint: str = "or") -> str:
    quoted = [f"`{word}`" for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} {joint} {quoted[-1]}"


def _key(path: Path) -> str:
    return next((step for step in reversed(path) if isinstance(step, str)), "this")


def _meaning(path: Path) -> str:
    """What the model says of the key a path ends at, with the words it takes if they are few."""
    while path and isinstance(path[-1], int):
        path = path[:-1]
    part = part_at(path[:-1])
    field = part.model_fields.get(str(path[-1])) if part else None
    if field is None:
        inner = part_at(path)
        return (inner.__doc__ or "").partition("\n")[0] if inner else ""
    kind = field.annotation
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return f"{field.description} Expected {_listed([word.value for word in kind])}."
    return field.description or ""


def _other_place(path: Path, known: list[str]) -> str:
    """Which keys there are here, and to which part beside or below this one the key belongs."""
    here = f"Keys here: {_listed(known, 'and')}."
    for above in (path[:-1], path[:-2]):
        part = part_at(above)
        for key in part.model_fields if part else ():
            inner = part_at((*above, key))
            if inner and str(path[-1]) in inner.model_fields:
                return f"It belongs under `{key}`: is that line there? {here}"
    if str(path[-1]) in Profile.model_fields:
        return f"It belongs at the very left, beside `sensors`. {here}"
    return here


def _known_keys(path: Path) -> list[str]:
    part = part_at(path[:-1])
    return list(part.model_fields) if part else []

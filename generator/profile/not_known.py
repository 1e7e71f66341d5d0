"""Words that stand for a value nobody knows, and what to do with the key that has one."""

from __future__ import annotations

import re
from typing import Final

from pydantic.fields import FieldInfo

from generator.profile.finding import Path
from generator.profile.model_walk import part_at

_WORDS: Final = frozenset(
    (
        *(
            "unknown",
            "not known",
            "unspecified",
            "not specified",
            "not stated",
            "n/a",
            "n.a.",
            "na",
        ),
        *("none", "nil", "nothing", "tbc", "tbd", "tba", "todo", "to do", "to be confirmed"),
        *("no idea", "don't know"),
    )
)
_NO_LETTERS = re.compile(r"[?\-–—_.*/]+")


def is_not_known(text: str) -> bool:
    """Whether a text only says that there is no value: `n/a`, `tbc`, `?`, `-`."""
    said = " ".join(text.casefold().split())
    return said in _WORDS or _NO_LETTERS.fullmatch(said) is not None


def mend_of_not_known(path: Path) -> str:
    """What leads from such a word to a profile without it, which is accepted."""
    if path[-1] == "value":
        path = path[:-1]  # A specification goes with its source
    key = path[-1]
    field = _field(path)
    if field is not None and isinstance(field.default, int | str):
        return f"Look it up: left out, `{key}` is `{field.default}`, and that would be printed."
    whole = path
    while whole and not _may_be_left_out(whole):
        whole = whole[:-1]
    if not whole:
        return f"`{key}` is needed: look it up, because a guess would be printed."
    left = f"entry {whole[-1] + 1}" if isinstance(whole[-1], int) else f"`{whole[-1]}`"
    if whole != path:
        return f"`{key}` is needed here: leave out {left} as a whole if you do not know it."
    return f"Delete {left} if you do not know it: the page then says that it is missing."


def _may_be_left_out(path: Path) -> bool:
    """Whether a profile can be without what a path leads to: a key, or an entry of such a key."""
    field = _field(path)
    if field is None:
        return len(path) > 1 and part_at(path[:-1]) is None and _may_be_left_out(path[:-1])
    return not field.is_required()


def _field(path: Path) -> FieldInfo | None:
    part = part_at(path[:-1])
    return part.model_fields.get(str(path[-1])) if part else None

"""Where two profiles differ, value by value, and what lies between the two."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import Enum
from typing import Final

from generator.profile.tree import Data
from generator.profile.way import way


class Absent(Enum):
    """What stands where there is no value."""

    ABSENT = "absent"


ABSENT: Final = Absent.ABSENT
Side = Data | Absent
"""A value on one side of a comparison."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that differs; ``at`` is the way to it, as findings name ways.

    An entry of a list goes by its number in the newer profile, one that is gone by its old one.
    """

    at: str
    before: Side
    after: Side


Choose = Callable[[Difference], Side]
"""Which side's value is taken."""


def differences(old: Data, new: Data) -> list[Difference]:
    """Every difference, in the order of the older profile, each as small as it has a meaning.

    A part that is there on one side only is one difference. So is a list of single words, such as
    the cylinders of a bank; entries of other lists are matched, so that one that was put in before
    them changes nothing. The order of keys and of sensors is none.
    """
    found: list[Difference] = []

    def noted(difference: Difference) -> Side:
        found.append(difference)
        return difference.before

    _mixed(old, new, (), noted)
    return found


def with_only(old: Data, new: Data, only: Difference) -> Data:
    """The older profile with one of its differences to the newer one made."""
    return _present(_mixed(old, new, (), lambda each: each.after if each == only else each.before))


def without(old: Data, new: Data, left_out: Difference) -> Data:
    """The newer profile with one of its differences to the older one undone."""
    return _present(
        _mixed(old, new, (), lambda each: each.before if each == left_out else each.after)
    )


def _present(side: Side) -> Data:
    assert side is not ABSENT
    return side


def _mixed(old: Data, new: Data, steps: tuple[str, ...], choose: Choose) -> Side:
    """Both sides as one, with the chosen side's value wherever they differ."""
    if old == new:
        return old
    old, new = _spelt_out(old, new), _spelt_out(new, old)
    if isinstance(old, dict) and isinstance(new, dict):
        return _mixed_parts(old, new, steps, choose)
    if isinstance(old, list) and isinstance(new, list):
        if steps == ("sensors",) and (both := _by_way(old, new)):
            return list(_mixed_parts(*both, steps, choose).values())
        if not (_is_words(old) and _is_words(new)):
            return _mixed_entries(old, new, steps, choose)
    return choose(Difference(".".join(steps), old, new))


def _spelt_out(one: Data, other: Data) -> Data:
    """A specification in its long form where the other side has it so."""
    is_short = isinstance(one, str) and isinstance(other, dict) and "value" in other
    return {"value": one} if is_short else one


def _mixed_parts(
    old: dict[str, Data], new: dict[str, Data], steps: tuple[str, ...], choose: Choose
) -> dict[str, Data]:
    mixed: dict[str, Data] = {}
    for key in _in_both_orders(old, new):
        at = (*steps, key)
        if key in old and key in new:
            side = _mixed(old[key], new[key], at, choose)
        else:
            side = choose(Difference(".".join(at), old.get(key, ABSENT), new.get(key, ABSENT)))
        if side is not ABSENT:
            mixed[key] = side
    return mixed


def _in_both_orders(old: Iterable[str], new: Iterable[str]) -> list[str]:
    """The old keys, and each new one behind that which it stands behind."""
    order, before = list(old), -1
    for key in new:
        if key in order:
            before = order.index(key)
        else:
            before += 1
            order.insert(before, key)
    return order


def _mixed_entries(
    old: list[Data], new: list[Data], steps: tuple[str, ...], choose: Choose
) -> list[Data]:
    mixed: list[Data] = []
    matched = SequenceMatcher(None, [*map(repr, old)], [*map(repr, new)], autojunk=False)
    for _, old_first, old_end, new_first, new_end in matched.get_opcodes():
        both = min(old_end - old_first, new_end - new_first)
        sides = [
            _mixed(old[old_first + n], new[new_first + n], _entry(steps, new_first + n), choose)
            for n in range(both)
        ]
        for n in range(old_first + both, old_end):
            sides.append(choose(Difference(".".join(_entry(steps, n)), old[n], ABSENT)))
        for n in range(new_first + both, new_end):
            sides.append(choose(Difference(".".join(_entry(steps, n)), ABSENT, new[n])))
        mixed.extend(each for each in sides if each is not ABSENT)
    return mixed


def _entry(steps: tuple[str, ...], index: int) -> tuple[str, ...]:
    return (*steps, str(index + 1))


def _by_way(old: list[Data], new: list[Data]) -> tuple[dict[str, Data], dict[str, Data]] | None:
    """The sensors of both sides by bank and position; None where they cannot be told apart."""
    both = tuple(
        {
            way(("sensors", n), {"sensors": each}).partition(".")[2]: each[n]
            for n in range(len(each))
        }
        for each in (old, new)
    )
    told = len(both[0]) == len(old) and len(both[1]) == len(new)
    named = all(name.startswith("bank-") for each in both for name in each)
    return (both[0], both[1]) if told and named else None


def _is_words(entries: list[Data]) -> bool:
    return all(isinstance(each, str) and " " not in each for each in entries)

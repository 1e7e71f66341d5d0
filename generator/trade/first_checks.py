"""What to check first: the order of checks that finds the cause soonest.

Exactly one cause is present. Each check takes its minutes, each thing in the way comes off once
and stays off, and the search stops at the check that reveals the cause. The order with the least
expected time is therefore no fixed list: it changes with the vehicle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from typing import Final

from generator.trade.access import removal_order

COMMON_PRACTICE: Final = "common practice, no source"
MOST_CHECKS: Final = 12
"""The exact search visits every subset of the checks: 4,096 of twelve."""


@dataclass(frozen=True, slots=True)
class Cause:
    """A possible cause and how likely it is, as a weight against the other causes."""

    name: str
    likelihood: float
    source: str = COMMON_PRACTICE


@dataclass(frozen=True, slots=True)
class Check:
    """A check: its own minutes, the causes it reveals, and what must be off to reach it."""

    name: str
    minutes: float
    reveals: frozenset[str]
    access: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Search:
    """A fault to find: its causes, the checks, the minutes each obstacle takes to come off.

    `under` names what lies on top of an obstacle and comes off before it.

    Raises ValueError: no cause, a likelihood that is not positive, negative minutes, a name used
    twice, an unknown cause or obstacle, obstacles in a circle.
    """

    causes: tuple[Cause, ...]
    checks: tuple[Check, ...]
    access_minutes: Mapping[str, float] = field(default_factory=dict)
    under: Mapping[str, Sequence[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        names = [cause.name for cause in self.causes]
        if not names or any(not cause.likelihood > 0 for cause in self.causes):
            raise ValueError("a search needs causes, each with a likelihood above nothing")
        _refuse_repeated(names)
        _refuse_repeated([check.name for check in self.checks])
        if any(not spent >= 0 for spent in self.access_minutes.values()):
            raise ValueError("access minutes cannot be negative")
        for check in self.checks:
            _refuse_impossible(self, check)

    def opened_by(self, checks: Iterable[Check]) -> frozenset[str]:
        """Everything that is off once these checks are done, what lies on top included."""
        wanted = frozenset().union(*(check.access for check in checks))
        return frozenset(removal_order(sorted(wanted), self.under)) if self.under else wanted

    def chance(self, names: frozenset[str]) -> float:
        """The chance, 0 to 1, that the cause is among these."""
        total = sum(cause.likelihood for cause in self.causes)
        return sum(cause.likelihood for cause in self.causes if cause.name in names) / total

    def chance_left(self, ruled_out: frozenset[str]) -> float:
        """The chance that the cause is none of these."""
        total = sum(cause.likelihood for cause in self.causes)
        left = sum(cause.likelihood for cause in self.causes if cause.name not in ruled_out)
        return left / total


class Reason(StrEnum):
    """Why a check stands where it stands; the first that holds, in this order."""

    LAST_LEFT = "last-left"
    QUICK_AND_LIKELY = "quick-and-likely"
    ACCESS_ALREADY_OPEN = "access-already-open"
    QUICK = "quick"
    LIKELY = "likely"
    MOST_FOR_ITS_MINUTES = "most-for-its-minutes"
    OPENS_THE_WAY = "opens-the-way"
    SHORTEST_AS_A_WHOLE = "shortest-as-a-whole"


@dataclass(frozen=True, slots=True)
class Step:
    """One check in an order: minutes with the access still to open, and its chances."""

    check: Check
    minutes: float
    chance_reached: float
    chance_found: float
    reason: Reason


@dataclass(frozen=True, slots=True)
class Plan:
    """Checks in order, their expected minutes, and the chance that none reveals the cause."""

    steps: tuple[Step, ...]
    expected_minutes: float
    chance_unrevealed: float


class Habit(StrEnum):
    """An order taken without computing; what the best order is compared with."""

    AS_LISTED = "as-listed"
    QUICKEST_FIRST = "quickest-first"


def best_order(search: Search, done: tuple[Check, ...] = ()) -> tuple[Check, ...]:
    """Give the order of checks with the least expected minutes, exactly.

    `done` checks found nothing: their causes are ruled out and their access is open. A check
    that can reveal nothing more is left out. Among equals the listed order stands. Dynamic
    programming over the subsets of the checks (M. Held and R. M. Karp, 1962, from memory), those
    that rule out and open the same taken as one.

    Raises:
        ValueError: more than twelve checks.
    """
    checks = search.checks
    if len(checks) > MOST_CHECKS:
        raise ValueError(f"the exact order is for up to {MOST_CHECKS} checks, not {len(checks)}")

    opens = [search.opened_by([check]) for check in checks]

    @cache
    def best_from(ruled_out: frozenset[str], opened: frozenset[str]) -> tuple[float, int]:
        left = search.chance_left(ruled_out)
        best, first = 0.0, -1
        for place, check in enumerate(checks):
            if check.reveals <= ruled_out:
                continue
            here = check.minutes + _to_come_off(search, opens[place] - opened)
            then = best_from(ruled_out | check.reveals, opened | opens[place])
            minutes = left * here + then[0]
            if first < 0 or minutes < best - 1e-9:
                best, first = minutes, place
        return best, first

    order: list[Check] = []
    ruled_out, opened = _revealed(done), search.opened_by(done)
    while (first := best_from(ruled_out, opened)[1]) >= 0:
        order.append(checks[first])
        ruled_out |= checks[first].reveals
        opened |= opens[first]
    return tuple(order)


def naive_order(search: Search, habit: Habit = Habit.AS_LISTED) -> tuple[Check, ...]:
    """Give the checks as listed, or the quickest first by their own minutes without access."""
    if habit is Habit.AS_LISTED:
        return search.checks
    return tuple(sorted(search.checks, key=lambda check: check.minutes))


def expected_minutes(search: Search, order: Sequence[Check], done: tuple[Check, ...] = ()) -> float:
    """Give the mean minutes until the cause is found, or all is done.

    The sum over the checks of the chance that none before revealed the cause, times the check's
    minutes with the access not yet open. `done` checks come before the order: their minutes are
    not counted, but what they open and rule out is, and so is the chance that they end the search.
    """
    total = 0.0
    before = done
    for check in order:
        not_found = search.chance_left(_revealed(before))
        total += not_found * _minutes(search, check, search.opened_by(before))
        before = (*before, check)
    return total


def replace_at_once_minutes(search: Search, replacement: Check) -> float:
    """Give the expected minutes of fitting a new sensor first, then the best order for the rest.

    `replacement.reveals` are the causes a new sensor cures, `replacement.minutes` its fitting
    and the run that shows whether it helped. Its price is not in it.

    Raises ValueError: more than twelve checks, or the replacement names what is not known.
    """
    _refuse_impossible(search, replacement)
    fitting = expected_minutes(search, [replacement])
    rest = best_order(search, done=(replacement,))
    return fitting + expected_minutes(search, rest, done=(replacement,))


def plan_of(search: Search, order: Sequence[Check]) -> Plan:
    """Give an order with each step's minutes, chances and reason."""
    steps = []
    for place, check in enumerate(order):
        before = tuple(order[:place])
        ruled_out = _revealed(before)
        steps.append(
            Step(
                check=check,
                minutes=_minutes(search, check, search.opened_by(before)),
                chance_reached=search.chance_left(ruled_out),
                chance_found=search.chance(check.reveals - ruled_out),
                reason=_reason(search, order, place),
            )
        )
    return Plan(
        steps=tuple(steps),
        expected_minutes=expected_minutes(search, order),
        chance_unrevealed=search.chance_left(_revealed(order)),
    )


def best_plan(search: Search) -> Plan:
    """Give the best order as a plan. Raises ValueError for more than twelve checks."""
    return plan_of(search, best_order(search))


def _reason(search: Search, order: Sequence[Check], place: int) -> Reason:
    if place == len(order) - 1:
        return Reason.LAST_LEFT
    check, left = order[place], order[place:]
    opened, ruled_out = search.opened_by(order[:place]), _revealed(order[:place])
    minutes = {other.name: _minutes(search, other, opened) for other in left}
    found = {other.name: search.chance(other.reveals - ruled_out) for other in left}
    quick = minutes[check.name] <= min(minutes.values())
    likely = found[check.name] >= max(found.values())
    mine = search.opened_by([check])
    most = all(
        found[check.name] * minutes[other.name] >= found[other.name] * minutes[check.name]
        for other in left
    )
    shares = bool((mine - opened) & search.opened_by(left[1:]))
    held = {
        Reason.QUICK_AND_LIKELY: quick and likely,
        Reason.ACCESS_ALREADY_OPEN: bool(mine) and mine <= opened,
        Reason.QUICK: quick,
        Reason.LIKELY: likely,
        Reason.MOST_FOR_ITS_MINUTES: most,
        Reason.OPENS_THE_WAY: shares,
        Reason.SHORTEST_AS_A_WHOLE: True,
    }
    return next(reason for reason, holds in held.items() if holds)


def _revealed(checks: Iterable[Check]) -> frozenset[str]:
    return frozenset().union(*(check.reveals for check in checks))


def _minutes(search: Search, check: Check, opened: frozenset[str]) -> float:
    return check.minutes + _to_come_off(search, search.opened_by([check]) - opened)


def _to_come_off(search: Search, items: frozenset[str]) -> float:
    # Most checks have nothing more to open
    return sum(search.access_minutes[item] for item in sorted(items)) if items else 0


def _refuse_impossible(search: Search, check: Check) -> None:
    if not check.minutes >= 0:
        raise ValueError(f"minutes of {check.name!r} cannot be negative")
    unknown = check.reveals - {cause.name for cause in search.causes}
    unknown |= search.opened_by([check]) - set(search.access_minutes)
    if unknown:
        raise ValueError(f"{check.name!r} names what is not known: {sorted(unknown)}")


def _refuse_repeated(names: Sequence[str]) -> None:
    repeated = sorted({name for name in names if names.count(name) > 1})
    if repeated:
        raise ValueError(f"named more than once: {repeated}")

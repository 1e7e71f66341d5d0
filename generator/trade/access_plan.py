"""The plan for any set of sensors: one order off, what is shared once, the time, the fasteners.

A sensor is a part like the parts in its way: it lies under them and comes off last.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.trade.access import removal_order

# Kind words of plastic fasteners that break on an old vehicle, and of metal ones that share a word
# with them: common practice, no source.
PLASTIC_WORDS = ("clip", "push rivet", "push pin")
METAL_WORDS = ("hose clip", "circlip", "spring clip", "steel clip", "metal clip", "wire clip")

# Kind words of what a tool turns, its size stated or not: common practice, no source.
TURNED_WORDS = ("bolt", "nut", "screw", "clamp", "quarter-turn", "quarter turn")


@dataclass(frozen=True, slots=True)
class Minutes:
    """A length of time in minutes, or its range. Raises ValueError unless 0 <= low <= high."""

    low_min: float
    high_min: float

    def __post_init__(self) -> None:
        if not 0 <= self.low_min <= self.high_min:
            raise ValueError(f"not a range of minutes: {self.low_min} to {self.high_min}")


@dataclass(frozen=True, slots=True)
class Fasteners:
    """Fasteners of one kind, by what they are called."""

    what: str
    count: int

    @property
    def break_easily(self) -> bool:
        """Whether they are plastic clips, of which one has spares: by their kind word."""
        return self._is_called(PLASTIC_WORDS) and not self._is_called(METAL_WORDS)

    @property
    def want_a_tool(self) -> bool:
        """Whether they are not undone by hand alone: by their kind word."""
        return not self.break_easily and self._is_called((*TURNED_WORDS, *METAL_WORDS))

    def _is_called(self, words: Iterable[str]) -> bool:
        named = self.what.casefold()
        return any(word in named for word in words)


@dataclass(frozen=True, slots=True)
class Part:
    """A part that comes off, obstacle or sensor: what lies on it, its time, what holds it."""

    under: tuple[str, ...] = ()
    minutes: Minutes | None = None
    fasteners: tuple[Fasteners, ...] = ()


@dataclass(frozen=True, slots=True)
class AccessPlan:
    """What comes off for a set of sensors, and what that takes.

    `minutes` is the sum over the timed parts, None when none is timed; `untimed` names the others.
    `fasteners` are counted by kind, in the order in which the kinds are met.
    """

    off: tuple[str, ...]
    minutes: Minutes | None
    untimed: tuple[str, ...]
    fasteners: tuple[Fasteners, ...]

    @property
    def on(self) -> tuple[str, ...]:
        """The order in which all goes back: the exact opposite."""
        return self.off[::-1]

    @property
    def spare_clips(self) -> int:
        """How many spare clips to have: one for each that may break."""
        return sum(each.count for each in self.fasteners if each.break_easily)


@dataclass(frozen=True, slots=True)
class ReachableToo:
    """Another sensor, once everything is off for a first: what they share, what is further."""

    sensor: str
    shared: tuple[str, ...]
    further: tuple[str, ...]


def access_plan(wanted: Sequence[str], parts: Mapping[str, Part]) -> AccessPlan:
    """The plan for getting at all wanted sensors, each shared part once.

    Every name wanted, or named in `under`, must be a key of `parts`. Raises ValueError as
    `removal_order` does, when parts lie under one another in a circle.
    """
    off = removal_order(wanted, _under(parts))
    timed = [minutes for name in off if (minutes := parts[name].minutes)]
    return AccessPlan(
        off=off,
        minutes=summed(timed),
        untimed=tuple(name for name in off if parts[name].minutes is None),
        fasteners=_counted(each for name in off for each in parts[name].fasteners),
    )


def reachable_too(
    sensor: str, others: Iterable[str], parts: Mapping[str, Part]
) -> tuple[ReachableToo, ...]:
    """The other sensors once this one can be reached, fewest further parts first.

    Raises ValueError as `access_plan` does.
    """
    under = _under(parts)
    already = removal_order([sensor], under)
    found = []
    for other in others:
        if other == sensor:
            continue
        in_its_way = removal_order([other], under)[:-1]
        found.append(
            ReachableToo(
                other,
                tuple(name for name in in_its_way if name in already),
                tuple(name for name in in_its_way if name not in already),
            )
        )
    return tuple(sorted(found, key=lambda each: len(each.further)))


def summed(minutes: Sequence[Minutes]) -> Minutes | None:
    """Minutes added up, shortest to shortest and longest to longest; None when there are none."""
    if not minutes:
        return None
    return Minutes(sum(each.low_min for each in minutes), sum(each.high_min for each in minutes))


def _under(parts: Mapping[str, Part]) -> dict[str, tuple[str, ...]]:
    return {name: part.under for name, part in parts.items()}


def _counted(fasteners: Iterable[Fasteners]) -> tuple[Fasteners, ...]:
    counts: dict[str, int] = {}
    for each in fasteners:
        counts[each.what] = counts.get(each.what, 0) + each.count
    return tuple(Fasteners(what, count) for what, count in counts.items())

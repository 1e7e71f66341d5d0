"""The order in which things in the way come off, and go back on."""

from collections.abc import Mapping, Sequence
from graphlib import CycleError, TopologicalSorter


def removal_order(wanted: Sequence[str], under: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Everything to take off to get at what is wanted, in order, each thing once.

    `under[thing]` names what lies on top of that thing and comes off before it. Things come in
    order of mention, each straight after what lies on top of it. A name that `under` does not
    hold has nothing on top. Raises ValueError when what is wanted lies under a circle of things
    that lie under one another.
    """
    off: dict[str, None] = {}
    # A stack and not recursion: a profile may nest deeper than Python's call stack.
    path = list(reversed(wanted))
    # Without a circle everything is mentioned on the path at most as often as it is here
    longest = len(path) + sum(map(len, under.values()))
    while path:
        on_top = [above for above in under.get(path[-1], ()) if above not in off]
        if not on_top:
            off[path.pop()] = None
        elif len(path) > longest:
            raise ValueError(
                "these lie under one another in a circle: "
                + " under ".join(under_circle(under) or ())
            )
        else:
            path.extend(reversed(on_top))
    return tuple(off)


def refit_order(wanted: Sequence[str], under: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The removal order turned round, exactly. Raises ValueError as `removal_order` does."""
    return removal_order(wanted, under)[::-1]


def under_circle(under: Mapping[str, Sequence[str]]) -> tuple[str, ...] | None:
    """A circle of things that lie under one another, or None.

    Each lies under the next, and the last is the first again: (a, b, a).
    """
    try:
        TopologicalSorter(under).prepare()
    except CycleError as error:
        # graphlib gives the circle the other way round: each on top of the next.
        return tuple(reversed(error.args[1]))
    return None

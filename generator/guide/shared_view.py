"""Views that several pages of a vehicle share: each is made once, and so rendered once too."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import Any, TypeVar, TypeVarTuple

from generator.guide.vehicle import Vehicle
from generator.profile.part import Part

Given = TypeVarTuple("Given")
View = TypeVar("View")


def shared_by_pages(
    made: Callable[[Vehicle, *Given], View],
) -> Callable[[Vehicle, *Given], View]:
    """Let a view be made once for a vehicle and what else it is made from.

    A part of the profile is known by its identity, all else by value, so it must be hashable. Only
    the last vehicle's views are kept: pages are made vehicle by vehicle.
    """

    @lru_cache(maxsize=1)
    def known_of(_vehicle: Vehicle) -> dict[tuple[Any, ...], tuple[Any, View]]:
        return {}

    @wraps(made)
    def shared(vehicle: Vehicle, *given: *Given) -> View:
        known = known_of(vehicle)
        key = tuple([id(each) if isinstance(each, Part) else each for each in given])
        if key not in known:
            # What it was given is kept, so that nothing else can come to have its identity
            known[key] = given, made(vehicle, *given)
        return known[key][1]

    return shared

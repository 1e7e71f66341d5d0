"""What a page says of a fuse."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures
from generator.guide.vehicle import Vehicle
from generator.profile.model import Fuse
from generator.trade.fuse import fuse_colour

Fact = tuple[str, str] | tuple[str, str, str]
"""A term, what is said of it, and where that comes from (empty: source not stated)."""


@dataclass(frozen=True, slots=True)
class FuseView:
    """One fuse: which it is, and what is said of it."""

    title: str
    facts: list[Fact]


def fuse_title(vehicle: Vehicle, fuse: Fuse) -> str:
    """Which fuse, in which box."""
    return vehicle.t.gettext("Fuse %(number)s, %(box)s") % {"number": fuse.number, "box": fuse.box}


def fuse_facts(vehicle: Vehicle, fuse: Fuse) -> list[Fact]:
    """A fuse's rating with its colour in words (ISO 8820-3), and what it feeds."""
    _ = vehicle.t.gettext
    colour = fuse_colour(fuse.rating.value.low_a)
    rating = figures.stated(fuse.rating.value.text, vehicle.t) + (
        ", " + _(colour) if colour else ""
    )
    facts: list[Fact] = [(_("Rating"), rating, vehicle.source(fuse.rating))]
    if fuse.feeds:
        facts.append((_("Feeds"), ", ".join(fuse.feeds)))
    return facts

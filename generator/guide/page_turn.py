"""The page under a plan of the vehicle, turned as the reader sees the vehicle."""

from __future__ import annotations

from dataclasses import dataclass

from generator.trade.bay_spots import Point
from generator.trade.place import Side, Standpoint
from generator.trade.standpoint import Vector


@dataclass(frozen=True, slots=True)
class PageTurn:
    """Which way of the vehicle points to the right of the page, and which up the page."""

    right: Vector
    up: Vector

    def at(self, point: Point) -> Point:
        """A place in the vehicle, (x forward, y left), as (x right, y down) on the page."""
        x, y = point
        across = x * self.right[0] + y * self.right[1]
        down = -(x * self.up[0] + y * self.up[1])
        return across, down

    def turned_from(self, other: PageTurn) -> str:
        """The transformation, as SVG writes it, of a drawing turned by another into this one."""
        # A turn's inverse is its transpose
        (a, c), (b, d) = (
            [sum(one * two for one, two in zip(row, by, strict=True)) for by in other._rows]
            for row in self._rows
        )
        return f"matrix({a} {b} {c} {d} 0 0)"

    @property
    def _rows(self) -> tuple[tuple[int, int], tuple[int, int]]:
        return (self.right[0], self.right[1]), (-self.up[0], -self.up[1])

    def way(self, side: Side) -> Point:
        """The way to a side of the vehicle on the page, as (right, down), each -1, 0 or 1."""
        return self.at(side.outward[:2])


def page_turn(standpoint: Standpoint) -> PageTurn:
    """The turn of the page for a reader at a standpoint.

    The reader's right hand is the right of the page. Who stands or sits looks up the page; who
    lies underneath, looking up, has the head at its top, and so sees left and right as they are
    from below.
    """
    frame = standpoint.frame
    lies = frame.facing[2] != 0
    return PageTurn(frame.right_hand, frame.head_up if lies else frame.facing)

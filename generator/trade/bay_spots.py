"""What a plan of an engine bay is made of: places of cylinders, banks, pipes and their pieces.

Points are (x, y): x forward, y left (ISO 8855, from memory), the middle of the engine at (0, 0).
Lengths are the drawing's own units: a plan shows order and sides, not distances.
"""

from dataclasses import dataclass
from typing import TypeAlias

from generator.trade.exhaust_line import Piece
from generator.trade.standpoint import Side

Point: TypeAlias = tuple[float, float]

CYLINDER_RADIUS = 12
PIECE_HALF_WIDTH = 11
CLEAR = 8


@dataclass(frozen=True, slots=True)
class CylinderSpot:
    """A cylinder; its number is None where the profile does not tell which row holds it."""

    number: int | None
    bank: int
    at: Point


@dataclass(frozen=True, slots=True)
class BankSpot:
    """A bank: where it is pointed at, and where its label begins, outward from there."""

    bank: int
    at: Point
    label_at: Point
    outward: Side


@dataclass(frozen=True, slots=True)
class PieceSpot:
    """A sensor or catalyst in its pipe, and where its label begins, outward from there."""

    bank: int
    piece: Piece
    at: Point
    label_at: Point
    outward: Side


@dataclass(frozen=True, slots=True)
class Pipe:
    """A pipe of a bank, point by point, with the gas."""

    bank: int
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Manifold:
    """The cylinders of one bank that exhaust on one side."""

    bank: int
    side: Side
    spots: tuple[CylinderSpot, ...]

    @property
    def rearmost(self) -> float:
        """x of its rearmost cylinder."""
        return min(spot.at[0] for spot in self.spots)

    @property
    def foremost(self) -> float:
        """x of its foremost cylinder."""
        return max(spot.at[0] for spot in self.spots)

    @property
    def rightmost(self) -> float:
        """y of its cylinder furthest to the right."""
        return min(spot.at[1] for spot in self.spots)

    @property
    def leftmost(self) -> float:
        """y of its cylinder furthest to the left."""
        return max(spot.at[1] for spot in self.spots)


@dataclass(frozen=True, slots=True)
class Exhausts:
    """All pipes of an engine, from the cylinders to the way out."""

    stubs: tuple[tuple[Point, Point], ...]
    pipes: tuple[Pipe, ...]
    pieces: tuple[PieceSpot, ...]
    banks: tuple[BankSpot, ...]


def sign(side: Side) -> int:
    """1 to the front and left, where x and y grow; -1 to the rear and right."""
    return sum(side.outward)

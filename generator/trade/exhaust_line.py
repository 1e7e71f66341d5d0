"""What the gas of one bank passes on its way out, in order: sensors and catalysts."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


class PieceKind(StrEnum):
    """What sits in an exhaust."""

    SENSOR = "sensor"
    CATALYST = "catalyst"


@dataclass(frozen=True, slots=True)
class Piece:
    """A sensor by its position, or a catalyst by its count; both count along the exhaust."""

    kind: PieceKind
    number: int


@dataclass(frozen=True, slots=True)
class ExhaustLine:
    """The exhaust of one bank: its sensors' positions, and how many catalysts it has."""

    bank: int
    positions: tuple[int, ...]
    catalysts: int = 1

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The sensors and catalysts in the order in which the gas passes them.

        Position 1 is ahead of the first catalyst, position 2 behind it, position 3 behind the
        second where there is one (SAE J1979, from memory). Positions beyond the catalysts follow
        at the end; catalysts beyond the positions too.
        """
        return tuple(self._with_the_gas())

    def _with_the_gas(self) -> Iterator[Piece]:
        for step in range(1, max((*self.positions, self.catalysts), default=0) + 1):
            if step in self.positions:
                yield Piece(PieceKind.SENSOR, step)
            if step <= self.catalysts:
                yield Piece(PieceKind.CATALYST, step)

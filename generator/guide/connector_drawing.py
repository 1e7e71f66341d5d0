"""The geometry of a connector's face, looking into the terminals of one half."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from generator.profile.model import Connector
from generator.trade.connector import ConnectorFace, Latch, Side, positions, seen_from

CELL, GAP, EDGE, LATCH = 44, 12, 16, 14


@dataclass(frozen=True, slots=True)
class Cavity:
    """One terminal: its number, its square, and whether the meter's lead goes there."""

    number: int
    x: int
    y: int
    centre_x: int
    centre_y: int
    is_touched: bool


@dataclass(frozen=True, slots=True)
class ConnectorDrawing:
    """A face as it is drawn: the housing, the latch, and the terminals."""

    id: str
    title: str
    description: str
    width: int
    height: int
    housing: tuple[int, int, int, int]
    latch: tuple[int, int, int, int]
    cavities: list[Cavity]
    cell: int = CELL


def connector_drawing(
    connector: Connector, side: Side, touched: Collection[int], *, title: str, description: str
) -> ConnectorDrawing:
    """The face of one half; ``touched`` are the terminals for the meter."""
    face = seen_from(connector.as_face, side)
    left, top = _inner_corner(face)
    inner_width = face.columns * (CELL + GAP) - GAP + 2 * EDGE
    inner_height = face.rows * (CELL + GAP) - GAP + 2 * EDGE
    cavities = []
    for number, (row, column) in positions(connector.as_face, side).items():
        if number in connector.pins:
            x = left + EDGE + (column - 1) * (CELL + GAP)
            y = top + EDGE + (row - 1) * (CELL + GAP)
            half = CELL // 2
            cavities.append(Cavity(number, x, y, x + half, y + half, number in touched))
    across = face.latch in (Latch.LEFT, Latch.RIGHT)
    return ConnectorDrawing(
        id=f"connector-{side.value}",
        title=title,
        description=description,
        width=inner_width + (LATCH if across else 0) + 2,
        height=inner_height + (0 if across else LATCH) + 2,
        housing=(left, top, inner_width, inner_height),
        latch=_latch(face, left, top, inner_width, inner_height),
        cavities=cavities,
    )


def _inner_corner(face: ConnectorFace) -> tuple[int, int]:
    left = 1 + (LATCH if face.latch is Latch.LEFT else 0)
    top = 1 + (LATCH if face.latch is Latch.TOP else 0)
    return left, top


def _latch(
    face: ConnectorFace, left: int, top: int, width: int, height: int
) -> tuple[int, int, int, int]:
    """The latch as (x, y, width, height), on the middle of its edge."""
    if face.latch in (Latch.TOP, Latch.BOTTOM):
        y = 1 if face.latch is Latch.TOP else top + height
        return left + width // 2 - CELL // 2, y, CELL, LATCH
    x = 1 if face.latch is Latch.LEFT else left + width
    return x, top + height // 2 - CELL // 2, LATCH, CELL

"""The geometry of a bay map as one reader sees it: the plan turned, its texts upright."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.guide.bay_sheet import LINE, Bar, Sheet
from generator.guide.page_turn import PageTurn
from generator.trade.bay_layout import BayLayout
from generator.trade.bay_spots import CYLINDER_RADIUS, PIECE_HALF_WIDTH, PieceSpot, Point, sign
from generator.trade.exhaust_line import PieceKind
from generator.trade.place import Side

_HEXAGON_RADIUS = 10
_HEXAGON = ((0, -10), (8.7, -5), (8.7, 5), (0, 10), (-8.7, 5), (-8.7, -5))
_CATALYST_HALF_LENGTH, _CATALYST_BAND = 14, 8
_ARROW, _ARROW_HALF = 9, 6
_LEADER_GAP = 4
# From the middle of a line of text to its foot
_FOOT = 4.5


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text: the foot of its anchor, and SVG's word for where it is anchored."""

    x: float
    y: float
    anchor: str
    text: str


@dataclass(frozen=True, slots=True)
class CylinderMark:
    """A cylinder's middle; the number is empty where its place is not told."""

    x: float
    y: float
    number: str


@dataclass(frozen=True, slots=True)
class SensorMark:
    """A sensor: its middle, its hexagon, and its name's place."""

    x: float
    y: float
    points: str
    name: Text


@dataclass(frozen=True, slots=True)
class BayDrawing:
    """One drawing, ready for its template; paths and points are SVG's.

    `dashed` says that the profile does not tell the side of the exhaust.
    """

    key: str
    label: str
    title: str
    description: str
    left: float
    top: float
    width: float
    height: float
    body: str
    bars: str
    bumper: tuple[float, float, float, float] | None
    engine: tuple[float, float, float, float]
    pipes: str
    arrows: str
    dashed: bool
    catalysts: str
    leaders: str
    cylinders: tuple[CylinderMark, ...]
    radius: int
    sensors: tuple[SensorMark, ...]
    wheels: tuple[tuple[str, float, float], ...]
    texts: tuple[Text, ...]

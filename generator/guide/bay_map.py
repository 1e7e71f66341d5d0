"""The bay map: engine, exhaust and sensors in their bay, turned as the reader sees them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import words
from generator.guide.bay_drawing import BayDrawing, bay_drawing
from generator.guide.bay_words import BayWords, piece_name, sensor_name
from generator.guide.vehicle import Vehicle
from generator.profile.model import Reach, Sensor
from generator.trade.bay_layout import BayLayout, bay_layout
from generator.trade.bay_sheet import sheet_of
from generator.trade.exhaust_line import ExhaustLine, PieceKind
from generator.trade.place import Bank, Bay, Engine, Standpoint, Wheel, standpoints


@dataclass(frozen=True, slots=True)
class BayMap:
    """The bay from every standpoint; `shown` is the one to begin with.

    `about` is the name of the sensor that is filled, or empty.
    """

    drawings: tuple[BayDrawing, ...]
    shown: str
    about: str
    caption: str


def bay_map(vehicle: Vehicle, sensor: Sensor | None = None) -> BayMap:
    """The bay map of a vehicle, with one sensor filled.

    It begins where one stands: at the bumper, or underneath for a sensor reached from there.
    """

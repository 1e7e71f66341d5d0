"""The bay map: engine, exhaust and sensors from above or below, turned as the reader sees them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import words
from generator.guide.bay_sheet import FIRST_LINE, LINE, Sheet, Text, letters_width, sheet_of
from generator.guide.page_turn import PageTurn
from generator.guide.vehicle import Vehicle
from generator.profile.model import Profile, Reach, Sensor
from generator.trade import place
from generator.trade.bay_layout import BayLayout, bay_layout
from generator.trade.bay_spots import CYLINDER_RADIUS, PIECE_HALF_WIDTH, PieceSpot, Point
from generator.trade.exhaust_line import ExhaustLine, PieceKind
from generator.trade.place import Side, Standpoint, Wheel

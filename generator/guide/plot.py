"""The ground of a chart: values to places in the drawing, and ticks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from gettext import NullTranslations
from math import ceil, floor, log10

from generator.guide import figures

# At most 420 wide, so that text of 16 is at least 11 px on a phone of 360
WIDTH, HEIGHT = 400, 220
LEFT, RIGHT, TOP, BOTTOM = 52, 24, 22, 32
_LETTER = 10


@dataclass(frozen=True, slots=True)
class Plot:
    """The values at the edges of a chart, and where others lie between them."""

    x_low: float
    x_high: float
    y_low: float
    y_high: float

    def x(self, value: float) -> float:
        """Where a value lies across the drawing."""
        share = (value - self.x_low) / (self.x_high - self.x_low)
        return round(LEFT + share * (WIDTH - LEFT - RIGHT), 1)

    def y(self, value: float) -> float:
        """Where a value lies down the drawing."""
        share = (value - self.y_low) / (self.y_high - self.y_low)
        return round(TOP + (1 - share) * (HEIGHT - TOP - BOTTOM), 1)

    def points(self, pairs: Iterable[tuple[float, float]]) -> list[str]:
        """The places of (x, y) pairs, each as SVG wants it."""
        return [f"{self.x(x)},{self.y(y)}" for x, y in pairs]

    def x_ticks(
        self, values: Iterable[float], unit: str, t: NullTranslations
    ) -> list[tuple[float, float, str]]:
        """(x, y, label) of each value; the last carries the unit."""
        labels = _labels(values, unit, t)
        # The last one moves inwards where it would be cut off
        return [
            (min(self.x(value), WIDTH - len(label) * _LETTER / 2), HEIGHT - 8, label)
            for value, label in labels
        ]

    def y_ticks(
        self, values: Iterable[float], unit: str, t: NullTranslations
    ) -> list[tuple[float, float, float, float, str]]:
        """(x1, x2, y, where the label ends, label) of each value; the last carries the unit.

        A label has room for five letters; a longer unit, left empty here, goes elsewhere.
        """
        labels = _labels(values, unit, t)
        return [(LEFT, WIDTH - RIGHT, self.y(value), LEFT - 8, label) for value, label in labels]


def _labels(values: Iterable[float], unit: str, t: NullTranslations) -> list[tuple[float, str]]:
    *others, last = values
    return [
        *((value, figures.short(value, t)) for value in others),
        (last, f"{figures.short(last, t)} {unit}".rstrip()),
    ]


def tick_step(span: float, most: int) -> float:
    """The smallest of 1, 2, 5, 10 ... that divides a span into no more parts than ``most``."""
    power = floor(log10(span / most))
    steps = (float(f"{digit}e{power}") for digit in (1, 2, 5, 10))
    return next(step for step in steps if span / step <= most)


def ticks(low: float, high: float, step: float) -> list[float]:
    """Every multiple of a step from low to high, both included."""
    # A hair of room: 0.9 / 0.05 is not quite 18
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return [index * step for index in range(first, last + 1)]

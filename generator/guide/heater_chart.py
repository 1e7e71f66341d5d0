"""The geometry of a heater's band over temperature, computed so that the drawing only draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from generator.trade.heater import ResistanceRange

WIDTH, HEIGHT = 400, 220
LEFT, RIGHT, TOP, BOTTOM = 52, 12, 22, 32
X_TICKS_C = (-20, 0, 20, 40)
Y_STEPS_OHM = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
MOST_Y_TICKS = 5


@dataclass(frozen=True, slots=True)
class HeaterChart:
    """A drawing's view: points as SVG wants them, ticks, and the marker of one temperature."""

    id: str
    title: str
    description: str
    band_points: str
    low_points: str
    high_points: str
    x_ticks: list[tuple[float, float, str]]
    y_ticks: list[tuple[float, float, float, float, str]]
    marker: tuple[float, float, float, str, float]
    width: int = WIDTH
    height: int = HEIGHT


def heater_chart(
    band: Sequence[tuple[float, ResistanceRange]],
    marked_c: float,
    *,
    title: str,
    description: str,
    marker_label: str,
) -> HeaterChart:
    """The chart of (temperature in °C, range) pairs, in rising order of temperature."""
    coldest, hottest = band[0][0], band[-1][0]
    step = _step(max(each.high_ohm for _, each in band))
    top_ohm = ceil(max(each.high_ohm for _, each in band) / step) * step

    def x(t_c: float) -> float:
        return round(LEFT + (t_c - coldest) / (hottest - coldest) * (WIDTH - LEFT - RIGHT), 1)

    def y(ohm: float) -> float:
        return round(TOP + (1 - ohm / top_ohm) * (HEIGHT - TOP - BOTTOM), 1)

    low = [f"{x(t_c)},{y(each.low_ohm)}" for t_c, each in band]
    high = [f"{x(t_c)},{y(each.high_ohm)}" for t_c, each in band]
    ticks = [index * step for index in range(round(top_ohm / step) + 1)]
    return HeaterChart(
        id="heater-band",
        title=title,
        description=description,
        band_points=" ".join(low + high[::-1]),
        low_points=" ".join(low),
        high_points=" ".join(high),
        x_ticks=[(x(t_c), HEIGHT - 8, _degrees(t_c)) for t_c in X_TICKS_C],
        y_ticks=[
            (LEFT, WIDTH - RIGHT, y(ohm), LEFT - 8, f"{ohm:g}" + (" Ω" if ohm == top_ohm else ""))
            for ohm in ticks
        ],
        marker=(x(marked_c), TOP - 18, HEIGHT - BOTTOM, marker_label, x(marked_c) + 6),
    )


def _step(highest_ohm: float) -> float:
    return next(
        (step for step in Y_STEPS_OHM if highest_ohm / step <= MOST_Y_TICKS), Y_STEPS_OHM[-1]
    )


def _degrees(t_c: int) -> str:
    sign = "−" if t_c < 0 else ""
    return f"{sign}{abs(t_c)}" + (" °C" if t_c == X_TICKS_C[-1] else "")

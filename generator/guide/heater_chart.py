"""The geometry of a heater's band over temperature, computed so that the drawing only draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from gettext import NullTranslations
from math import ceil

from generator.guide import figures
from generator.guide.plot import BOTTOM, HEIGHT, TOP, WIDTH, Plot, tick_step, ticks
from generator.trade.heater import ResistanceRange

X_TICKS_C = (-20, 0, 20, 40)
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
    t: NullTranslations,
    *,
    title: str,
    description: str,
) -> HeaterChart:
    """The chart of (temperature in °C, range) pairs, in rising order of temperature."""
    highest_ohm = max(each.high_ohm for _, each in band)
    step_ohm = tick_step(highest_ohm, MOST_Y_TICKS)
    top_ohm = ceil(highest_ohm / step_ohm) * step_ohm
    plot = Plot(band[0][0], band[-1][0], 0, top_ohm)
    low = plot.points((t_c, each.low_ohm) for t_c, each in band)
    high = plot.points((t_c, each.high_ohm) for t_c, each in band)
    marked_x = plot.x(marked_c)
    label = f"{figures.short(marked_c, t)} °C"
    return HeaterChart(
        id="heater-band",
        title=title,
        description=description,
        band_points=" ".join(low + high[::-1]),
        low_points=" ".join(low),
        high_points=" ".join(high),
        x_ticks=plot.x_ticks(X_TICKS_C, "°C", t),
        y_ticks=plot.y_ticks(ticks(0, top_ohm, step_ohm), "Ω", t),
        marker=(
            marked_x,
            TOP - 18,
            HEIGHT - BOTTOM,
            label,
            marked_x + 6,
        ),
    )

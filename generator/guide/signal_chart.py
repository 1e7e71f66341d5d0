"""The geometry of a sensor's signal over lambda, computed so that the drawing only draws."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from gettext import NullTranslations
from itertools import pairwise
from math import ceil, floor

from generator.guide import figures
from generator.guide.plot import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Plot, tick_step, ticks
from generator.trade.signal import (
    LEAN_BELOW_V,
    MIDDLE_V,
    RICH_ABOVE_V,
    pump_current_ma,
    switching_emf_v,
)
from generator.trade.stoichiometry import Formula

COOL_TIP_K, HOT_TIP_K = 900.0, 1100.0
LAMBDA_RICH, LAMBDA_LEAN = 0.9, 1.1
# Room for a label over the curves
TOP_V = 1.2
# The volts fall within 0.1 % of lambda 1, which is a third of a unit of the drawing
_STEPS_FROM_ONE = (0.1, 0.08, 0.06, 0.045, 0.03, 0.02, 0.012, 0.007, 0.004, 0.002, 0.001, 0.0004)
_LAMBDAS = (*(1 - step for step in _STEPS_FROM_ONE), 1.0, *(1 + s for s in _STEPS_FROM_ONE[::-1]))
_PIECES_A_STRETCH = 6
_MOST_Y_TICKS = 6
# A label of x such as 1.25 is 36 units wide
_MOST_X_TICKS = 6

Label = tuple[float, float, str]
"""Where a label stands, and "start" or "end": which of its ends that is."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One curve and what is written at it."""

    points: str
    is_dashed: bool
    label: str
    label_at: Label


@dataclass(frozen=True, slots=True)
class SignalGeometry:
    """Everything of a chart but its words; the same for every sensor of a kind on a fuel.

    ``level`` is the value that parts rich from lean, with its label; ``bands`` are rectangles;
    ``lambda_1`` is the upright line at lambda 1, or None where it is not drawn.
    """

    x_ticks: list[tuple[float, float, str]]
    y_ticks: list[tuple[float, float, float, float, str]]
    bands: list[tuple[float, float, float, float]]
    curves: list[Curve]
    dots: list[tuple[float, float]]
    level: float
    level_label: str
    lambda_1: float | None
    rich_at: Label | None
    lean_at: Label | None
    y_unit: str = ""
    left: int = LEFT
    right: int = WIDTH - RIGHT
    top: int = TOP
    bottom: int = HEIGHT - BOTTOM
    width: int = WIDTH
    height: int = HEIGHT


@dataclass(frozen=True, slots=True)
class SignalChart:
    """A drawing's view: geometry and words."""

    geometry: SignalGeometry
    title: str
    description: str
    rich: str
    lean: str
    id: str = "signal-chart"


@cache
def switching_chart(formula: Formula, t: NullTranslations) -> SignalGeometry:
    """Volts of a switching sensor over lambda, for a cool and a hot tip."""
    plot = Plot(LAMBDA_RICH, LAMBDA_LEAN, 0, TOP_V)
    cool, hot = (
        [(each, switching_emf_v(each, tip_k, formula)) for each in _LAMBDAS]
        for tip_k in (COOL_TIP_K, HOT_TIP_K)
    )
    at = plot.x(LAMBDA_RICH) + 8
    bands = [(RICH_ABOVE_V[0], TOP_V), (0.0, LEAN_BELOW_V[1])]
    return SignalGeometry(
        x_ticks=plot.x_ticks(ticks(LAMBDA_RICH, LAMBDA_LEAN, 0.05), "λ", t),
        y_ticks=plot.y_ticks(ticks(0, TOP_V, 0.2), "V", t),
        bands=[
            (LEFT, plot.y(high), WIDTH - LEFT - RIGHT, round(plot.y(low) - plot.y(high), 1))
            for low, high in bands
        ],
        curves=[
            _tip(plot, cool, COOL_TIP_K, (at, plot.y(1.05), "start"), t),
            _tip(plot, hot, HOT_TIP_K, (at, plot.y(0.65), "start"), t),
        ],
        dots=[],
        level=plot.y(MIDDLE_V),
        level_label=figures.with_unit(figures.short(MIDDLE_V, t), "V"),
        lambda_1=None,
        rich_at=(WIDTH - RIGHT - 8, plot.y(0.85), "end"),
        lean_at=(at, plot.y(0.05), "start"),
    )


def _tip(
    plot: Plot, volts: list[tuple[float, float]], tip_k: float, at: Label, t: NullTranslations
) -> Curve:
    is_hot = tip_k == HOT_TIP_K
    return Curve(" ".join(plot.points(volts)), is_hot, celsius(tip_k, t), at)


def celsius(kelvin: float, t: NullTranslations) -> str:
    """A tip's temperature as it is shown."""
    return figures.with_unit(figures.number(kelvin - 273.15, 0, t), "°C")


@lru_cache(maxsize=256)
def pump_chart(points: tuple[tuple[float, float], ...], t: NullTranslations) -> SignalGeometry:
    """Pump current in mA over lambda, through the points that a profile states.

    Raises:
        ValueError: the points have faults.
    """
    lambdas, currents = zip(*points, strict=True)
    # A curve may lie on one side of lambda 1; the line of 0 mA belongs to it all the same
    least_ma, most_ma = min(0.0, currents[0]), max(0.0, currents[-1])
    step_ma = tick_step(most_ma - least_ma, _MOST_Y_TICKS)
    low_ma, high_ma = floor(least_ma / step_ma) * step_ma, ceil(most_ma / step_ma) * step_ma
    plot = Plot(lambdas[0], lambdas[-1], low_ma, high_ma)
    step_lambda = tick_step(lambdas[-1] - lambdas[0], _MOST_X_TICKS)
    level = plot.y(0)
    # To the side that the curve leaves free near 0 mA
    beside = (WIDTH - RIGHT - 8, "end") if lambdas[-1] > 1 else (LEFT + 8, "start")
    return SignalGeometry(
        x_ticks=plot.x_ticks(ticks(lambdas[0], lambdas[-1], step_lambda), "λ", t),
        y_ticks=plot.y_ticks(ticks(low_ma, high_ma, step_ma), "", t),
        y_unit="mA",
        bands=[],
        curves=[Curve(" ".join(plot.points(_between(points))), False, "", (LEFT, TOP, "start"))],
        dots=[(plot.x(lambda_), plot.y(current)) for lambda_, current in points],
        level=level,
        level_label="",
        lambda_1=plot.x(1) if lambdas[0] <= 1 <= lambdas[-1] else None,
        rich_at=(beside[0], level + 18, beside[1]) if currents[0] < 0 else None,
        lean_at=(beside[0], level - 7, beside[1]) if currents[-1] > 0 else None,
    )


def _between(points: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    """The points with others between them, close enough to draw the smooth curve."""
    lambdas = [
        start + (end - start) * piece / _PIECES_A_STRETCH
        for (start, _), (end, _) in pairwise(points)
        for piece in range(_PIECES_A_STRETCH)
    ]
    return [(each, pump_current_ma(points, each)) for each in (*lambdas, points[-1][0])]

"""Volts of a switching sensor and the curve of a wide-range one."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from generator.trade.signal import (
    Points,
    lambda_from_pump_current,
    nernst_emf_v,
    pump_current_ma,
    pump_curve_faults,
    switching_emf_v,
)

# An invented curve: no sensor's data.
CURVE = ((0.7, -1.6), (0.85, -0.75), (1.0, 0.0), (1.3, 0.5), (1.9, 1.0), (4.0, 1.7))
kelvins = st.floats(800, 1200)


@st.composite
def curves(draw: st.DrawFn) -> Points:
    """Any rising curve through lambda 1 and 0 mA, in steps of very different size."""
    steps = st.floats(0.01, 0.5)
    rich = draw(st.lists(st.tuples(steps, steps), max_size=4))
    lean = draw(st.lists(st.tuples(steps, steps), min_size=max(0, 2 - len(rich)), max_size=5))
    below, above = [(1.0, 0.0)], [(1.0, 0.0)]
    for width, rise in rich:
        below.append((below[-1][0] - width / 4, below[-1][1] - rise))
    for width, rise in lean:
        above.append((above[-1][0] + width, above[-1][1] + rise))
    return (*reversed(below[1:]), *above)


@given(curves(), st.floats(0, 1))
def test_the_curve_is_the_one_of_scipy(points: Points, along: float) -> None:
    xs, ys = zip(*points, strict=True)
    lambda_ = min(xs[-1], xs[0] + along * (xs[-1] - xs[0]))
    assert pump_curve_faults(points) == ()
    expected = float(PchipInterpolator(xs, ys)(lambda_))
    assert pump_current_ma(points, lambda_) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(curves())
def test_the_curve_rises_and_meets_its_points(points: Points) -> None:
    lambdas = np.linspace(points[0][0], points[-1][0], 101)
    currents = [pump_current_ma(points, float(lambda_)) for lambda_ in lambdas]
    assert all(b > a - 1e-12 for a, b in pairwise(currents))
    for lambda_, current in points:
        assert pump_current_ma(points, lambda_) == pytest.approx(current, abs=1e-12)


@given(st.floats(-1.6, 1.7))
def test_lambda_from_the_current_and_back(current: float) -> None:
    lambda_ = lambda_from_pump_current(CURVE, current)
    assert pump_current_ma(CURVE, lambda_) == pytest.approx(current, abs=1e-9)
    assert (lambda_ > 1 + 1e-9) <= (current > 0), "positive lean"
    assert (lambda_ < 1 - 1e-9) <= (current < 0), "negative rich"


@pytest.mark.parametrize(
    ("points", "faults"),
    [
        (CURVE, ()),
        (CURVE[2:4], ("2 points; a curve needs three or more",)),
        (((0.8, -1.0), (1.0, 0.0), (1.0, 0.1)), ("lambda 1 does not come after 1",)),
        (
            ((0.8, -1.0), (1.0, 0.0), (1.5, 0.0)),
            ("the current does not rise from lambda 1 (0 mA) to 1.5 (0 mA)",),
        ),
        (((0.8, -1.0), (1.0, 0.1), (1.5, 1.0)), ("no point says 0 mA at lambda 1",)),
        (((0.8, float("nan")), (1.0, 0.0), (1.5, 1.0)), ("a point is not a number",)),
        (
            ((0.8, 1.0), (1.1, 0.5)),
            (
                "2 points; a curve needs three or more",
                "the current does not rise from lambda 0.8 (1 mA) to 1.1 (0.5 mA)",
                "no point says 0 mA at lambda 1",
            ),
        ),
    ],
)
def test_faults_of_a_curve(points: Points, faults: tuple[str, ...]) -> None:
    assert pump_curve_faults(points) == faults


def test_a_curve_is_not_extended_and_a_faulty_one_not_used() -> None:
    with pytest.raises(ValueError, match=r"beyond the curve, 0\.7 to 4"):
        pump_current_ma(CURVE, 4.1)
    with pytest.raises(ValueError, match=r"beyond the curve, -1\.6 to 1\.7 mA"):
        lambda_from_pump_current(CURVE, -2)
    for falling in (CURVE[::-1], CURVE[:2]):
        with pytest.raises(ValueError, match=r"curve needs|does not come after"):
            pump_current_ma(falling, 0.8)
        with pytest.raises(ValueError, match=r"curve needs|does not come after"):
            lambda_from_pump_current(falling, -1)


@given(st.floats(0.8, 0.999), st.floats(1.001, 3), kelvins)
def test_rich_is_high_and_lean_is_low(rich: float, lean: float, kelvin: float) -> None:
    assert switching_emf_v(rich, kelvin) > 0.45
    assert switching_emf_v(lean, kelvin) < 0.25


@given(st.floats(0.8, 2.9), st.floats(0.001, 0.1), kelvins)
def test_leaner_always_reads_lower(lambda_: float, more: float, kelvin: float) -> None:
    assert switching_emf_v(lambda_ + more, kelvin) < switching_emf_v(lambda_, kelvin)


@pytest.mark.parametrize("bad", [(0, 0.1, 0.2), (900, 0, 0.2), (900, 0.1, -1)])
def test_a_cell_needs_warmth_and_oxygen(bad: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="above zero"):
        nernst_emf_v(*bad)

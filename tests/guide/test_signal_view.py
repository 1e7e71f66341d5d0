"""The signal on a test page: volts, pump current or words, and the air-fuel ratio."""

from __future__ import annotations

import re
from collections.abc import Callable
from gettext import NullTranslations
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import yaml
from scipy.interpolate import PchipInterpolator

from generator.guide import signal_view as signal_views
from generator.guide.plot import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, tick_step, ticks
from generator.guide.signal_chart import TOP_V, Curve, SignalGeometry, pump_chart, switching_chart
from generator.guide.signal_view import SignalView, signal_view
from generator.guide.vehicle import Vehicle, page_file
from generator.trade.sensor import SensorKind
from generator.trade.stoichiometry import FUELS, PETROL

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]
GAS: dict[str, Any] = yaml.safe_load(
    (Path(__file__).parents[1] / "published/gas.yml").read_text("utf-8")
)
SVG = "{http://www.w3.org/2000/svg}"
# An invented curve: no sensor's data.
CURVE = [[0.75, -1.62], [0.85, -0.93], [1.0, 0.0], [1.05, 0.13], [1.4, 0.78], [2.0, 1.35]]
WIDE = {
    "sources": {"book": {"title": "Brae workshop literature", "kind": "maker"}},
    "sensors.0.kind": "wide-range",
    "sensors.0.wires": 5,
}
STATED = {**WIDE, "sensors.0.curve": {"points": CURVE, "source": "book"}}


def view_of(vehicle: Vehicle) -> SignalView:
    return signal_view(vehicle, vehicle.sensors[0])


def chart_of(view: SignalView) -> SignalGeometry:
    assert view.chart is not None
    return view.chart.geometry


def places(curve: Curve) -> list[tuple[float, float]]:
    pairs = (point.split(",") for point in curve.points.split())
    return [(float(x), float(y)) for x, y in pairs]


def across(x: float, low: float, high: float) -> float:
    """The value that is drawn at x."""
    return low + (x - LEFT) / (WIDTH - LEFT - RIGHT) * (high - low)


def down(y: float, low: float, high: float) -> float:
    """The value that is drawn at y."""
    return high - (y - TOP) / (HEIGHT - TOP - BOTTOM) * (high - low)


def text(page: Any) -> str:
    return " ".join("".join(page.find("body").itertext()).split())


# ---- switching


@pytest.mark.parametrize("kelvin", [900, 1100])
def test_the_curve_runs_through_the_published_volts(kelvin: int) -> None:
    curve = switching_chart(PETROL.formula, NullTranslations()).curves[kelvin == 1100]
    drawn = {round(across(x, 0.9, 1.1), 3): down(y, 0, TOP_V) for x, y in places(curve)}
    (petrol,) = (fuel for fuel in GAS["equilibrium"]["fuels"] if fuel["hydrogen"] == 1.87)
    compared = 0
    for lambda_, (_oxygen, emf_mv) in petrol["rows"][kelvin].items():
        if lambda_ in drawn and lambda_ != 1:
            # A tenth of a unit of the drawing is 0.6 mV
            assert drawn[lambda_] * 1000 == pytest.approx(emf_mv, abs=0.8)
            compared += 1
    assert compared >= 4


@pytest.mark.parametrize("fuel", FUELS, ids=lambda fuel: fuel.name)
def test_both_curves_fall_all_the_way_and_cross_the_middle_at_lambda_1(fuel: Any) -> None:
    chart = switching_chart(fuel.formula, NullTranslations())
    assert down(chart.level, 0, TOP_V) == pytest.approx(0.45, abs=0.001)
    for curve in chart.curves:
        drawn = places(curve)
        assert all(below[1] >= above[1] for above, below in pairwise(drawn))
        above, below = (
            next(pair for pair in pairwise(drawn) if pair[0][1] <= chart.level < pair[1][1])[side]
            for side in (0, 1)
        )
        assert across(above[0], 0.9, 1.1) == pytest.approx(1, abs=0.001)
        assert across(below[0], 0.9, 1.1) == pytest.approx(1, abs=0.001)


def test_the_bands_hold_the_curves_away_from_lambda_1() -> None:
    """The computed volts agree with the trade's bands, and are told apart without colour."""
    chart = switching_chart(PETROL.formula, NullTranslations())
    (_, rich_top, _, rich_height), (_, lean_top, _, lean_height) = chart.bands
    for curve in chart.curves:
        for x, y in places(curve):
            lambda_ = across(x, 0.9, 1.1)
            if lambda_ < 0.99:
                assert rich_top <= y <= rich_top + rich_height
            if lambda_ > 1.01:
                assert lean_top <= y <= lean_top + lean_height
    assert [curve.is_dashed for curve in chart.curves] == [False, True]
    assert len({curve.label for curve in chart.curves}) == 2


def test_no_line_runs_through_a_label_of_the_volts() -> None:
    chart = switching_chart(PETROL.formula, NullTranslations())
    lines = [*(y for _, _, y, _, _ in chart.y_ticks), chart.level]
    labels = [chart.rich_at, chart.lean_at, *(curve.label_at for curve in chart.curves)]
    for label in labels:
        assert label is not None
        x, y, _ = label
        assert not any(y - 12 <= line <= y for line in lines)
        for curve in chart.curves:
            beside = [at for at_x, at in places(curve) if abs(at_x - x) < 60]
            assert not any(y - 12 <= at <= y for at in beside)


def test_upstream_swings_and_downstream_does_not(small: Small) -> None:
    upstream, downstream = (view_of(small({"sensors.0.position": position})) for position in (1, 2))
    assert "crosses 0.45" in upstream.behaviour
    assert "several times in 10 seconds" in upstream.behaviour
    assert "nearly steady" in downstream.behaviour
    assert "crosses" not in downstream.behaviour
    for view in (upstream, downstream):
        assert "common practice, no source" in view.behaviour
        assert [said.replace("\u2060", "") for _, said in view.bands] == [
            "falls below 0.2–0.3\u00a0V",
            "rises over 0.6–0.8\u00a0V",
        ]


def test_the_volts_of_the_table_are_the_published_ones(small: Small) -> None:
    rich, falls, lean = (row[2].replace("\u2060", "") for row in view_of(small()).rows)
    (petrol,) = (fuel for fuel in GAS["equilibrium"]["fuels"] if fuel["hydrogen"] == 1.87)
    for shown, lambda_ in ((rich, 0.9), (lean, 1.1)):
        published = sorted(petrol["rows"][kelvin][lambda_][1] / 1000 for kelvin in (900, 1100))
        assert shown == "–".join(f"{volts:.2f}" for volts in published)
    assert falls == "falls", "the model is least sure at lambda 1"


# ---- wide-range


def test_without_a_curve_the_plain_truth_and_no_number(small: Small, page_of: PageOf) -> None:
    vehicle = small(WIDE)
    view = view_of(vehicle)
    assert view.chart is None
    assert "not stated" in view.missing
    assert "0 at lambda 1, positive when lean and negative when rich" in view.behaviour
    assert [row[2] for row in view.rows] == ["negative", "0", "positive"]
    page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
    (section,) = (each for each in page.iter("section") if each.get("id") == "signal")
    assert section.find(f".//{SVG}svg") is None
    assert not re.search(r"\d\s*mA", "".join(section.itertext()))


def test_a_stated_curve_is_drawn_through_its_points(small: Small) -> None:
    view = view_of(small(STATED))
    chart = chart_of(view)
    assert not view.missing
    assert view.source == "Brae workshop literature"
    low, high = (float(chart.y_ticks[end][4].replace("−", "-")) for end in (0, -1))
    stated = [(across(x, 0.75, 2.0), down(y, low, high)) for x, y in chart.dots]
    assert stated == [pytest.approx(point, abs=0.01) for point in CURVE]
    smooth = PchipInterpolator(*zip(*CURVE, strict=True))
    (curve,) = chart.curves
    drawn = places(curve)
    assert len(drawn) > 4 * len(CURVE)
    for x, y in drawn:
        lambda_ = min(2.0, max(0.75, across(x, 0.75, 2.0)))
        assert down(y, low, high) == pytest.approx(float(smooth(lambda_)), abs=0.03)
    assert down(chart.level, low, high) == pytest.approx(0, abs=0.01)
    assert chart.lambda_1 is not None
    assert across(chart.lambda_1, 0.75, 2.0) == pytest.approx(1, abs=0.001)
    assert [row[2] for row in view.rows] == [
        f"{float(smooth(0.9)):.2f}".replace("-", "−"),
        "0",
        f"{float(smooth(1.1)):.2f}",
    ]


def test_nothing_is_said_beyond_the_curve(small: Small) -> None:
    points = [[0.95, -0.3], [1.0, 0.0], [1.2, 0.4]]
    view = view_of(small({**STATED, "sensors.0.curve": {"points": points}}))
    at_lean = float(PchipInterpolator(*zip(*points, strict=True))(1.1))
    assert [row[2] for row in view.rows] == ["–", "0", f"{at_lean:.2f}"]
    assert view.source == "", "and the page says that no source is stated"


@pytest.mark.parametrize(
    "points",
    [
        ((0.7, -2.0), (0.85, -0.9), (1.0, 0.0)),
        ((1.0, 0.0), (1.5, 0.7), (9.0, 2.3)),
        ((0.6, -125.0), (1.0, 0.01), (4.0, 127.0)),
        ((0.99, -0.02), (1.0, 0.0), (1.01, 0.02)),
        ((1.05, 0.1), (1.2, 0.4), (1.4, 0.7)),
    ],
    ids=["rich only", "lean only", "large", "small", "beside lambda 1"],
)
def test_any_curve_is_drawn_inside_the_drawing(points: tuple[tuple[float, float], ...]) -> None:
    chart = pump_chart(points, NullTranslations())
    assert 3 <= len(chart.y_ticks) <= 9
    assert 2 <= len(chart.x_ticks) <= 8
    assert TOP <= chart.level <= HEIGHT - BOTTOM, "0 mA is always shown"
    for x, y in [*places(chart.curves[0]), *chart.dots]:
        assert LEFT <= x <= WIDTH - RIGHT
        assert TOP <= y <= HEIGHT - BOTTOM
    assert (chart.rich_at is None) is (points[0][1] >= 0)
    assert (chart.lambda_1 is None) is (points[0][0] > 1)
    assert_labels_fit(chart, "rich: negative", "lean: positive")


# ---- titania, fuels, drawings


def test_titania_has_words_and_no_volts(small: Small, page_of: PageOf) -> None:
    vehicle = small({"sensors.0.kind": "titania"})
    view = view_of(vehicle)
    assert view.chart is None
    assert "resistance is low in rich gas" in view.behaviour
    assert all(len(row) == 2 for row in view.rows), "lambda and air-fuel ratio"
    page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
    (section,) = (each for each in page.iter("section") if each.get("id") == "signal")
    assert not re.search(r"\d\s*(V|mV|mA)\b", "".join(section.itertext()))


@pytest.mark.parametrize("kind", SensorKind)
@pytest.mark.parametrize("name", ["petrol", "e10", "e85", "lpg", "methane"])
def test_the_air_fuel_ratio_is_the_fuels(small: Small, kind: SensorKind, name: str) -> None:
    vehicle = small({"engine.fuel": name, "sensors.0.kind": kind.value})
    view = view_of(vehicle)
    published = {
        "petrol": GAS["stoichiometric_afr"]["values"]["CH1.87"]["air_21_79"],
        "methane": GAS["stoichiometric_afr"]["values"]["methane"]["air_21_79"],
        "e10": GAS["blends_afr"]["values"]["E10"],
        "lpg": GAS["blends_afr"]["values"]["LPG"],
        # From the same densities, and the published 8.9464 and 14.5089 for its parts
        "e85": (0.85 * 0.789 * 8.9464 + 0.15 * 0.745 * 14.5089) / (0.85 * 0.789 + 0.15 * 0.745),
    }[name]
    lambdas = [0.9, 1.0, 1.1]
    assert [row[0] for row in view.rows] == ["0.9 rich", "1.0", "1.1 lean"]
    assert [row[1] for row in view.rows] == [f"{each * published:.1f}" for each in lambdas]
    assert f"Lambda 1 is {published:.1f} kg of air" in view.ratio
    assert "21\u00a0% oxygen and 79\u00a0% nitrogen" in view.ratio


def assert_labels_fit(chart: SignalGeometry, rich: str, lean: str) -> None:
    """No text leaves the drawing: at 16 units, a letter is at most 10 wide."""
    starts = [(at, words) for at, words in ((chart.rich_at, rich), (chart.lean_at, lean)) if at]
    starts += [(curve.label_at, curve.label) for curve in chart.curves if curve.label]
    for (x, y, anchor), words in starts:
        width = 10 * len(words)
        assert (x - width if anchor == "end" else x) >= 0
        assert (x if anchor == "end" else x + width) <= WIDTH
        assert 14 <= y <= HEIGHT
    for _x1, _x2, _y, ends_at, label in chart.y_ticks:
        assert ends_at - 9 * len(label) >= -1, f"{label} is cut off"
    for x, _y, label in chart.x_ticks:
        assert x + 4.6 * len(label) <= WIDTH + 2
    xs = [x for x, _, _ in chart.x_ticks]
    assert all(right - left >= 36 for left, right in pairwise(xs)), "ticks run together"


def test_the_labels_of_every_demo_fit(demo: dict[str, Vehicle]) -> None:
    seen = set()
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            if chart := signal_view(vehicle, sensor).chart:
                assert_labels_fit(chart.geometry, chart.rich, chart.lean)
                seen.add(sensor.kind)
    assert seen == {SensorKind.SWITCHING, SensorKind.WIDE_RANGE}


def test_a_drawing_is_told_in_words_and_not_by_colour(small: Small, page_of: PageOf) -> None:
    for changes in ({}, STATED):
        vehicle = small(changes)
        page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
        (svg,) = (each for each in page.iter(f"{SVG}svg") if each.get("id") == "signal-chart")
        named = {each.get("id"): "".join(each.itertext()) for each in svg if each.get("id")}
        assert list(named) == svg.get("aria-labelledby").split()
        assert all(len(words) > 10 for words in named.values())
        assert not any(each.get("style") for each in svg.iter())
        dashes = [each.get("stroke-dasharray") for each in svg.iter(f"{SVG}polyline")]
        assert len(set(dashes)) == len(dashes)
        assert "rich" in "".join(svg.itertext())
        assert "lean" in "".join(svg.itertext())


def test_the_signal_follows_the_live_data(demo: dict[str, Vehicle], page_of: PageOf) -> None:
    order = [
        "The terminals",
        "Measure the heater",
        "What the reading says",
        "Supply and control",
        "The fuse",
        "Live data",
        "The signal",
    ]
    longest = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            page = page_of(vehicle, page_file(sensor, "test"))
            headings = ["".join(each.itertext()).strip() for each in page.iter("h2")]
            found = [each for each in headings if each in order]
            assert found == [each for each in order if each in headings]
            assert found[-2:] == order[-2:]
            longest = max(longest, len(found))
    assert longest == len(order)


def test_the_equilibrium_is_solved_once_for_a_fuel(
    small: Small, monkeypatch: pytest.MonkeyPatch
) -> None:
    view_of(small())

    def solved_again(*_: object) -> float:
        raise AssertionError("a second vehicle on the same fuel must not solve it again")

    monkeypatch.setattr("generator.guide.signal_chart.switching_emf_v", solved_again)
    monkeypatch.setattr(signal_views, "switching_emf_v", solved_again)
    again = small({"vehicle.model": "Moor", "sensors.0.position": 2})
    assert view_of(again).chart is not None
    with pytest.raises(AssertionError, match="must not solve"):
        switching_chart.__wrapped__(PETROL.formula, NullTranslations())


@pytest.mark.parametrize(
    ("span", "most", "step"), [(3.2, 5, 1), (5.1, 5, 2), (0.3, 6, 0.05), (252, 6, 50), (1, 5, 0.2)]
)
def test_steps_are_round_and_few(span: float, most: int, step: float) -> None:
    assert tick_step(span, most) == pytest.approx(step)
    assert ticks(-step, 2 * step, step) == pytest.approx([-step, 0, step, 2 * step])

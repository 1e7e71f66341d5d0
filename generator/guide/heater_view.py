"""The cold heater on a test page: the number wanted, and the range at every temperature."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import choice, figures
from generator.guide.heater_chart import HeaterChart, heater_chart
from generator.guide.terminal_view import heater_pins_of
from generator.guide.vehicle import ColdHeater, Vehicle
from generator.profile.dimension import Resistance
from generator.profile.model import Connector
from generator.profile.sensor_model import Sensor
from generator.trade.heater import (
    AMBIENT_HIGHEST_C,
    AMBIENT_LOWEST_C,
    THERMOMETER_TOLERANCE_K,
    ResistanceRange,
    expected_range,
)
from generator.trade.heater_current import (
    SUPPLY_HIGH_V,
    SUPPLY_LOW_V,
    cold_current_a,
    hot_current_a,
)

SHOWN_FIRST_C = 20
TABLE_STEP_K = 5
REACH_C = range(int(AMBIENT_LOWEST_C), int(AMBIENT_HIGHEST_C) + 1)
# The same ends in degrees Fahrenheit, by its definition t_F = 1.8 t_C + 32; both are whole numbers
REACH_F = range(round(AMBIENT_LOWEST_C * 1.8 + 32), round(AMBIENT_HIGHEST_C * 1.8 + 32) + 1)


@dataclass(frozen=True, slots=True)
class FahrenheitView:
    """The same range by degree Fahrenheit, for readers whose thermometer shows those."""

    label: str
    by_degree: str
    coldest_f: int
    hottest_f: int
    shown_f: int


@dataclass(frozen=True, slots=True)
class HeaterView:
    """The cold heater: its number, what it rests on, and the range at every temperature.

    `computed_from` is for a script that computes the range itself: what is stated, low and high in
    ohm, at how many degC, of which element, in which steps of ohm (0: not stated), and the
    thermometer's tolerance in kelvin.
    """

    number: str
    by_degree: str
    coldest_c: int
    hottest_c: int
    shown_c: int
    fahrenheit: FahrenheitView
    table: list[tuple[str, str, str]]
    chart: HeaterChart
    current: str
    computed_from: str
    caption: str = ""
    basis: str = ""
    source: str = ""
    is_specified: bool = False


def heater_view(
    vehicle: Vehicle, sensor: Sensor, heater: ColdHeater, connector: Connector | None
) -> HeaterView:
    """What the test page says of a sensor's cold heater."""
    t = vehicle.t
    stated = sensor.cold_resistance
    step_ohm = figures.stated_step_ohm(stated.value) if stated else None
    return replace(
        _ranges(t, heater, step_ohm),
        caption=heater_caption(vehicle, connector),
        basis=_basis(vehicle, sensor, heater),
        source=vehicle.source(stated),
        is_specified=stated is not None,
    )


def _basis(vehicle: Vehicle, sensor: Sensor, heater: ColdHeater) -> str:
    """What the number rests on, in a sentence or two."""
    _ = vehicle.t.gettext
    stated = sensor.cold_resistance
    if stated:
        return _("Specified: %(range)s at %(temperature)s.") % {
            "range": figures.stated(stated.value.text, vehicle.t),
            "temperature": figures.stated(stated.at.text, vehicle.t),
        }
    if heater.measured:
        return _(
            "Read on sensors known to work; not a specification. The rule of thumb, 2 to 4 Ω at "
            "20 °C, misleads on this vehicle. Its own figure is not stated; look for it in the "
            "workshop literature."
        )
    return _(
        "Rule of thumb, not a specification: 2 to 4 Ω at 20 °C, common practice. This vehicle's "
        "own figure is not stated; look for it in the workshop literature."
    )


@lru_cache(maxsize=256)
def _ranges(t: NullTranslations, heater: ColdHeater, step_ohm: float | None) -> HeaterView:
    """What depends on the specification alone; sensors of one specification share it."""
    _ = t.gettext
    shown = shown_by_degree(heater, step_ohm, t)
    at = dict(zip(REACH_C, shown, strict=True))
    return HeaterView(
        number=at[SHOWN_FIRST_C],
        by_degree=" ".join(shown),
        coldest_c=REACH_C[0],
        hottest_c=REACH_C[-1],
        shown_c=SHOWN_FIRST_C,
        fahrenheit=_fahrenheit(t, heater, step_ohm),
        table=[
            (_degrees(t_c, "°C", t), _degrees(round(t_c * 1.8 + 32), "°F", t), at[t_c])
            for t_c in REACH_C[::TABLE_STEP_K]
        ],
        chart=heater_chart(
            [(float(t_c), _range_at(heater, t_c)) for t_c in REACH_C[::TABLE_STEP_K]],
            SHOWN_FIRST_C,
            t,
            title=_("Cold resistance of the heater over the temperature of the air"),
            description=_(
                "From %(cold)s ohm at %(coldest)s °C to %(hot)s ohm at %(hottest)s °C; "
                "it rises with temperature."
            )
            % {
                "cold": at[REACH_C[0]],
                "coldest": REACH_C[0],
                "hot": at[REACH_C[-1]],
                "hottest": REACH_C[-1],
            },
        ),
        current=_current_words(t, heater.expected),
        computed_from=_computed_from(heater, step_ohm),
    )


def _computed_from(heater: ColdHeater, step_ohm: float | None) -> str:
    low_ohm, high_ohm = heater.expected.low_ohm, heater.expected.high_ohm
    figures_of = (low_ohm, high_ohm, heater.reference_c, heater.element.value)
    return " ".join(map(str, (*figures_of, step_ohm or 0, THERMOMETER_TOLERANCE_K)))


def number_at_first(heater: ColdHeater, stated: Resistance | None, t: NullTranslations) -> str:
    """The range that a test page opens with, without its unit."""
    step_ohm = figures.stated_step_ohm(stated) if stated else None
    return shown_by_degree(heater, step_ohm, t)[SHOWN_FIRST_C - REACH_C[0]]


@lru_cache(maxsize=1024)
def shown_by_degree(
    heater: ColdHeater, step_ohm: float | None, t: NullTranslations
) -> tuple[str, ...]:
    """The range as it is shown at every degree; sensors of one specification share it."""
    return tuple(figures.resistance(_range_at(heater, t_c), step_ohm, t) for t_c in REACH_C)


@lru_cache(maxsize=1024)
def shown_by_fahrenheit(
    heater: ColdHeater, step_ohm: float | None, t: NullTranslations
) -> tuple[str, ...]:
    """The range as it is shown at every degree Fahrenheit."""
    return tuple(
        figures.resistance(_range_at(heater, (t_f - 32) * 5 / 9), step_ohm, t) for t_f in REACH_F
    )


def _fahrenheit(t: NullTranslations, heater: ColdHeater, step_ohm: float | None) -> FahrenheitView:
    _ = t.gettext
    beside = _("or in °F")
    return FahrenheitView(
        label=choice.by_units(beside, beside, _("Air and sensor, °F")),
        by_degree=" ".join(shown_by_fahrenheit(heater, step_ohm, t)),
        coldest_f=REACH_F[0],
        hottest_f=REACH_F[-1],
        shown_f=round(SHOWN_FIRST_C * 1.8 + 32),
    )


def _range_at(heater: ColdHeater, t_c: float) -> ResistanceRange:
    return expected_range(heater.expected, heater.reference_c, float(t_c), heater.element)


def _degrees(value: int, unit: str, t: NullTranslations) -> str:
    return figures.with_unit(figures.number(value, 0, t), unit)


def heater_caption(vehicle: Vehicle, connector: Connector | None) -> str:
    """Across which two terminals the cold heater is measured, where they are known."""
    _ = vehicle.t.gettext
    pins = heater_pins_of(connector)
    if pins is None:
        return _("Heater, cold, across its two terminals")
    return _("Heater, cold, between terminals %(first)s and %(second)s") % {
        "first": min(pins),
        "second": max(pins),
    }


def _current_words(t: NullTranslations, cold: ResistanceRange) -> str:
    first = cold_current_a(cold)
    hot = hot_current_a(first)
    return t.gettext(
        "Cold it draws %(first)s at %(low)s to %(high)s, the most at switch-on; once hot, about a "
        "minute later, %(hot)s (hot resistance 3 to 4 times cold: common practice, no source)."
    ) % {
        "first": _amperes(first.low_a, first.high_a, t),
        "hot": _amperes(hot.low_a, hot.high_a, t),
        "low": figures.number(SUPPLY_LOW_V, 1, t),
        "high": figures.with_unit(figures.number(SUPPLY_HIGH_V, 1, t), "V"),
    }


def _amperes(low_a: float, high_a: float, t: NullTranslations) -> str:
    return figures.with_unit(
        figures.span(figures.number(low_a, 1, t), figures.number(high_a, 1, t), t), "A"
    )

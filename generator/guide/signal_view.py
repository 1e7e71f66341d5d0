"""A sensor's signal on a test page: what it gives for a mixture, and the air-fuel ratio."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from gettext import NullTranslations

from generator.guide import figures, words
from generator.guide.signal_chart import (
    COOL_TIP_K,
    HOT_TIP_K,
    LAMBDA_LEAN,
    LAMBDA_RICH,
    SignalChart,
    celsius,
    pump_chart,
    switching_chart,
)
from generator.guide.vehicle import Vehicle
from generator.profile.model import FuelName
from generator.profile.sensor_model import Sensor
from generator.trade.sensor import SensorKind
from generator.trade.signal import (
    LEAN_BELOW_V,
    MIDDLE_V,
    RICH_ABOVE_V,
    TITANIA_BEHAVIOUR,
    Points,
    pump_current_ma,
    switching_emf_v,
)
from generator.trade.stoichiometry import (
    E10,
    E85,
    LPG,
    METHANE,
    PETROL,
    Fuel,
    afr_from_lambda,
    stoichiometric_afr,
)

FUELS = {
    FuelName.PETROL: PETROL,
    FuelName.E10: E10,
    FuelName.E85: E85,
    FuelName.LPG: LPG,
    FuelName.METHANE: METHANE,
}
LAMBDAS = (LAMBDA_RICH, 1.0, LAMBDA_LEAN)


@dataclass(frozen=True, slots=True)
class SignalView:
    """What the test page says of a signal; ``source`` is None where no curve is stated."""

    behaviour: str
    head: list[str]
    rows: list[list[str]]
    ratio: str
    bands: tuple[tuple[str, str], ...] = ()
    missing: str = ""
    chart: SignalChart | None = None
    caption: str = ""
    source: str | None = None


def signal_view(vehicle: Vehicle, sensor: Sensor) -> SignalView:
    """What the test page says of a sensor's signal."""
    t, fuel = vehicle.t, FUELS[vehicle.profile.engine.fuel]
    if sensor.kind is SensorKind.SWITCHING:
        return _switching(t, fuel, is_upstream=sensor.position == 1)
    if sensor.kind is SensorKind.TITANIA:
        return _titania(t, fuel)
    plain = _wide_range(t, fuel)
    if sensor.curve is None:
        return plain
    points = tuple(sensor.curve.points)
    stated = vehicle.profile.sources.get(sensor.curve.source or "")
    return replace(
        plain,
        missing="",
        rows=_rows(fuel, [_milliamperes(points, each, t) for each in LAMBDAS], t),
        chart=_pump_chart(vehicle, points),
        caption=t.gettext("This sensor's own curve: dots as stated, smooth between them."),
        source=words.source(stated, t) if stated else "",
    )


@cache
def _switching(t: NullTranslations, fuel: Fuel, *, is_upstream: bool) -> SignalView:
    _ = t.gettext
    tips = {"cool": celsius(COOL_TIP_K, t), "hot": celsius(HOT_TIP_K, t)}
    volts = [_volts(each, fuel, t) or _("falls") for each in LAMBDAS]
    return SignalView(
        behaviour=_switching_behaviour(t, is_upstream=is_upstream),
        bands=(
            (_("Lean"), _("falls below %(volts)s") % {"volts": _volt_span(LEAN_BELOW_V, t)}),
            (_("Rich"), _("rises over %(volts)s") % {"volts": _volt_span(RICH_ABOVE_V, t)}),
        ),
        chart=SignalChart(
            switching_chart(fuel.formula, t),
            title=_("Volts of the cell over lambda"),
            description=_(
                "About %(rich)s V at lambda 0.9, %(lean)s V at lambda 1.1, and a steep fall at "
                "lambda 1; a hot tip gives less when rich and more when lean."
            )
            % {"rich": volts[0], "lean": volts[-1]},
            rich=_("rich"),
            lean=_("lean"),
        ),
        caption=_(
            "Computed for a tip at %(cool)s (solid) and %(hot)s (dashed). A real sensor falls "
            "short of it: about 0.1–0.9 V (common practice, no source)."
        )
        % tips,
        head=[*_ratio_head(t), _("Cell, V")],
        rows=_rows(fuel, volts, t),
        ratio=_ratio_words(fuel, t),
    )


def _switching_behaviour(t: NullTranslations, *, is_upstream: bool) -> str:
    _ = t.gettext
    if is_upstream:
        return _(
            "A healthy one crosses %(middle)s several times in 10 seconds, warm, at 2,500 rpm "
            "(common practice, no source)."
        ) % {"middle": figures.with_unit(figures.short(MIDDLE_V, t), "V")}
    return _(
        "Behind a good catalyst it is nearly steady. If it swings between lean and rich again "
        "and again at a steady speed, look at the catalyst and for leaks before you blame this "
        "sensor (common practice, no source)."
    )


@cache
def _wide_range(t: NullTranslations, fuel: Fuel) -> SignalView:
    """A sensor whose curve is not stated."""
    _ = t.gettext
    return SignalView(
        behaviour=_(
            "The pump current is 0 at lambda 1, positive when lean and negative when rich, in the "
            "sign of SAE J1979."
        ),
        head=[*_ratio_head(t), _("Pump, mA")],
        rows=_rows(fuel, [_("negative"), "0", _("positive")], t),
        ratio=_ratio_words(fuel, t),
        missing=_("How many mA at which lambda is not stated for this sensor; sensors differ."),
    )


def _pump_chart(vehicle: Vehicle, points: tuple[tuple[float, float], ...]) -> SignalChart:
    _, t = vehicle.t.gettext, vehicle.t
    (first, least), (last, most) = points[0], points[-1]
    return SignalChart(
        pump_chart(points, t),
        title=_("Pump current over lambda"),
        description=_(
            "Rises from %(least)s mA at lambda %(first)s to %(most)s mA at lambda %(last)s."
        )
        % {
            "least": figures.short(least, t),
            "first": figures.short(first, t),
            "most": figures.short(most, t),
            "last": figures.short(last, t),
        },
        rich=_("rich: negative"),
        lean=_("lean: positive"),
    )


@cache
def _titania(t: NullTranslations, fuel: Fuel) -> SignalView:
    return SignalView(
        behaviour=t.gettext(TITANIA_BEHAVIOUR),
        head=_ratio_head(t),
        rows=_rows(fuel, [], t),
        ratio=_ratio_words(fuel, t),
    )


def _ratio_head(t: NullTranslations) -> list[str]:
    return ["λ", t.gettext("Air-fuel ratio")]


def _rows(fuel: Fuel, signal: list[str], t: NullTranslations) -> list[list[str]]:
    """A row for each lambda: lambda, air-fuel ratio, and the signal where there is one."""
    _ = t.gettext
    names = (_("rich"), "", _("lean"))
    cells = [[each] for each in signal] or [[] for _ in LAMBDAS]
    return [
        [f"{figures.number(lambda_, 1, t)} {name}".strip(), _afr(lambda_, fuel, t), *cell]
        for lambda_, name, cell in zip(LAMBDAS, names, cells, strict=True)
    ]


@cache
def _afr(lambda_: float, fuel: Fuel, t: NullTranslations) -> str:
    return figures.number(afr_from_lambda(lambda_, fuel), 1, t)


@cache
def _volts(lambda_: float, fuel: Fuel, t: NullTranslations) -> str:
    """Volts for a cool and a hot tip; nothing at lambda 1, where the volts fall upright."""
    if lambda_ == 1:
        return ""
    tips = (switching_emf_v(lambda_, tip_k, fuel.formula) for tip_k in (COOL_TIP_K, HOT_TIP_K))
    low, high = sorted(tips)
    return figures.unbroken(figures.span(figures.number(low, 2, t), figures.number(high, 2, t), t))


def _volt_span(ends_v: tuple[float, float], t: NullTranslations) -> str:
    low, high = ends_v
    return figures.with_unit(figures.span(figures.short(low, t), figures.short(high, t), t), "V")


def _milliamperes(points: Points, lambda_: float, t: NullTranslations) -> str:
    """The current on the stated curve, in hundredths; a dash where the curve does not reach."""
    if not points[0][0] <= lambda_ <= points[-1][0]:
        return "–"
    current_ma = round(pump_current_ma(points, lambda_), 2)
    return figures.number(current_ma, 2, t) if current_ma else "0"


def _ratio_words(fuel: Fuel, t: NullTranslations) -> str:
    _ = t.gettext
    made_of = {
        PETROL.name: _("petrol"),
        E10.name: _("E10 petrol"),
        E85.name: _("E85 of 85 % ethanol"),
        LPG.name: _("LPG of 60 % propane, 40 % butane"),
        METHANE.name: _("methane"),
    }[fuel.name]
    return _(
        "Lambda 1 is %(ratio)s kg of air to 1 kg of %(fuel)s, air taken as 21\u00a0%% oxygen and "
        "79\u00a0%% nitrogen. A scan tool may reckon with another figure; lambda stays the same."
    ) % {"ratio": figures.number(stoichiometric_afr(fuel), 1, t), "fuel": made_of}

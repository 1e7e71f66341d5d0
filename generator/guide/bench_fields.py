"""What is written down on a bench sheet: its fields, in the order of the work."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import figures
from generator.guide.cautions import Caution, Said
from generator.guide.choice import us_unit
from generator.guide.vehicle import ColdHeater, Vehicle, torque_range
from generator.profile.sensor_model import Sensor
from generator.trade.hazard import Hazard
from generator.trade.heater import (
    AMBIENT_HIGHEST_C,
    AMBIENT_LOWEST_C,
    THERMOMETER_TOLERANCE_K,
    ResistanceRange,
)
from generator.trade.heater_current import SUPPLY_HIGH_V, SUPPLY_LOW_V, cold_current_a
from generator.trade.torque import TorqueRange, TorqueUnit
from generator.trade.verdict import LEAD_ZERO_HIGHEST_OHM, LEAD_ZERO_LOWEST_OHM

WIDEST_THERMOMETER_K = 10

Unit = tuple[str, str]
"""A unit as it is shown, and as the text of a sheet writes it, in ASCII."""

OHM: Unit = ("Ω", "ohm")
PERCENT: Unit = ("%", "%")
KELVIN: Unit = ("K", "K")
VOLT: tuple[Unit, ...] = (("V", "V"),)


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to write down.

    `key` is its fixed English name in the text of a sheet. `kind` is number, text, date, tick or
    prose; a number is kept between `lowest` and `highest`, in the first of its units. `us_unit` is
    the one that a reader of US customary units writes in, where it is not the first. `fault` is
    what is said of an entry that cannot be.
    """

    key: str
    label: str
    kind: str = "number"
    units: tuple[Unit, ...] = ()
    us_unit: str = ""
    hint: str = ""
    value: str = ""
    fault: str = ""
    lowest: str = ""
    highest: str = ""
    is_whole: bool = False

    @property
    def id(self) -> str:
        """The key as the name of an element."""
        return self.key.replace(" ", "-")

    @property
    def may_be_negative(self) -> bool:
        """Whether it needs a minus, which not every keypad of digits has."""
        return self.lowest.startswith("-")

    @property
    def is_wide(self) -> bool:
        """Whether it needs a row of its own on a phone."""
        return self.kind != "number" or len(self.units) > 1 or self.key == "reading"


@dataclass(frozen=True, slots=True)
class Group:
    """Fields of one stage of the work, after what can hurt there.

    `name` is meter, heater or empty: the meter's fields stay for the next sheet, and the verdict
    stands under those of the heater.
    """

    title: str
    fields: list[Field]
    cautions: tuple[Caution, ...] = ()
    name: str = ""


def groups(vehicle: Vehicle, sensor: Sensor, said: Said) -> list[Group]:
    """The groups of a sensor's sheet; `said` holds the cautions that the page has said already."""
    heater = vehicle.heater(sensor)
    of_sensor = _heater_groups(vehicle, heater, said) if heater else [_signal(vehicle.t, said)]
    torque = torque_range(sensor.torque) if sensor.torque else None
    afterwards = _afterwards(vehicle.t, torque, is_heated=sensor.is_heated)
    return [_start(vehicle.t), *of_sensor, afterwards]


# Sheets have most fields in common: each list of fields is one object, so that it is rendered once


@lru_cache
def _start(t: NullTranslations) -> Group:
    _ = t.gettext
    return Group(
        _("Before you start"),
        [
            Field("date", _("Date"), "date"),
            Field(
                "distance",
                _("Distance on the vehicle"),
                "text",
                units=(("km", "km"), (_("miles"), "miles")),
                us_unit="miles",
            ),
        ],
    )


def _heater_groups(vehicle: Vehicle, heater: ColdHeater, said: Said) -> list[Group]:
    _ = vehicle.t.gettext
    never = said.first([Hazard.SENSING_CELL])
    running = said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS])
    return [
        Group(_("Your meter"), _meter_fields(vehicle.t), name="meter"),
        Group(_("The heater, cold"), _reading_fields(vehicle.t), never, name="heater"),
        Group(_("Supply"), _supply_fields(vehicle.t, heater.expected), running),
    ]


@lru_cache
def _meter_fields(t: NullTranslations) -> list[Field]:
    _ = t.gettext
    number = _("Write a number from 0 to 10, such as %(example)s.")
    return [
        Field(
            "meter percent",
            _("% of reading"),
            units=(PERCENT,),
            hint=_("From its booklet: in “%(limit)s” this is the 1.")
            % {"limit": figures.unbroken("±\u2060(1 % + 3)")},
            fault=number % {"example": figures.marked("0.9", t)},
            lowest="0",
            highest="10",
        ),
        Field(
            "meter counts",
            _("Counts, or digits"),
            hint=_("The 3."),
            fault=_("Write a whole number, such as 3: it counts steps of the last digit."),
            lowest="0",
            is_whole=True,
        ),
        Field(
            "meter resolution",
            _("Last digit"),
            units=(OHM,),
            hint=_("What its step is worth: 0.1 where it shows 2.4."),
            fault=_("Write what one step of the last digit is worth, such as 0.1."),
            lowest="0.000001",
            highest="1",
        ),
    ]


@lru_cache
def _reading_fields(t: NullTranslations) -> list[Field]:
    _ = t.gettext
    ohms = _("Write ohms as a number, such as %(example)s.")
    return [
        Field(
            "air",
            _("Air and sensor"),
            units=(("°C", "degC"), ("°F", "degF")),
            us_unit="degF",
            fault=_("Write degrees as a number, from −20 to 50 °C or −4 to 122 °F."),
            lowest=repr(AMBIENT_LOWEST_C),
            highest=repr(AMBIENT_HIGHEST_C),
        ),
        Field(
            "thermometer",
            _("Thermometer ±"),
            units=(KELVIN,),
            value=figures.short(THERMOMETER_TOLERANCE_K, t),
            hint=_("1 K is 1.8 °F. Common practice, no source."),
            fault=_("Write a number from 0 to 10, such as 1."),
            lowest="0",
            highest=str(WIDEST_THERMOMETER_K),
        ),
        Field(
            "meter zero",
            _("Meter zero"),
            units=(OHM,),
            hint=_("Leads held together."),
            fault=_(
                "Write ohms as a number, such as %(example)s. Leads that read more than %(most)s "
                "are worn out."
            )
            % {
                "example": figures.marked("0.2", t),
                "most": figures.with_unit(figures.short(LEAD_ZERO_HIGHEST_OHM, t), "Ω"),
            },
            lowest=repr(LEAD_ZERO_LOWEST_OHM),
            highest=repr(LEAD_ZERO_HIGHEST_OHM),
        ),
        Field(
            "reading",
            _("Reading"),
            units=(OHM,),
            hint=_("As the meter shows it, leads not taken off."),
            fault=ohms % {"example": figures.marked("2.5", t)},
        ),
        Field("over range", _("The meter shows over range (OL, or a lone 1)"), "tick"),
    ]


@lru_cache(maxsize=256)
def _supply_fields(t: NullTranslations, cold: ResistanceRange) -> list[Field]:
    _ = t.gettext
    first = cold_current_a(cold)
    number = _("Write a number, such as %(example)s.")
    return [
        Field(
            "supply",
            _("Supply"),
            units=VOLT,
            hint=_("%(low)s to %(high)s (common practice, no source).")
            % {
                "low": figures.short(SUPPLY_LOW_V, t),
                "high": figures.with_unit(figures.short(SUPPLY_HIGH_V, t), "V"),
            },
            fault=number % {"example": figures.marked("12.4", t)},
            lowest="0",
            highest="32",
        ),
        Field(
            "current",
            _("Heater current"),
            units=(("A", "A"),),
            hint=_("If measured. Cold, at switch-on: %(first)s; then it falls.")
            % {
                "first": figures.with_unit(
                    figures.span(
                        figures.number(first.low_a, 1, t),
                        figures.number(first.high_a, 1, t),
                        t,
                    ),
                    "A",
                )
            },
            fault=number % {"example": figures.marked("4.5", t)},
            lowest="0",
            highest="30",
        ),
    ]


def _signal(t: NullTranslations, said: Said) -> Group:
    """What can be written down of a sensor without a heater: how far its signal swings."""
    cautions = said.first([Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS])
    return Group(t.gettext("The signal, warm"), _signal_fields(t), cautions)


@lru_cache
def _signal_fields(t: NullTranslations) -> list[Field]:
    _ = t.gettext
    fault = _("Write a number, such as %(example)s.")
    return [
        Field(
            "signal lowest",
            _("Lowest"),
            units=VOLT,
            hint=_("On live data, engine warm, held at 2,500 rpm."),
            fault=fault % {"example": figures.marked("0.1", t)},
            lowest="0",
        ),
        Field(
            "signal highest",
            _("Highest"),
            units=VOLT,
            hint=_("What a healthy one shows stands on the test page."),
            fault=fault % {"example": figures.marked("0.8", t)},
            lowest="0",
        ),
    ]


@lru_cache(maxsize=256)
def _afterwards(t: NullTranslations, stated: TorqueRange | None, *, is_heated: bool) -> Group:
    _ = t.gettext
    fields = [
        Field(
            "torque",
            _("Torque set"),
            units=tuple((unit.value, _written(unit)) for unit in TorqueUnit),
            us_unit=_written(_us_unit(stated)),
            hint=_torque_hint(t, stated),
            fault=_("Write a number, such as 44."),
            lowest="0",
        ),
        Field("notes", _("Notes"), "prose"),
    ]
    if is_heated:
        known = _("This sensor is known to work: live data right, no code came back")
        fields.insert(1, Field("known to work", known, "tick"))
    return Group(_("Afterwards"), fields)


def _written(unit: TorqueUnit) -> str:
    return unit.value.replace("·", ".")


def _us_unit(stated: TorqueRange | None) -> TorqueUnit:
    return us_unit(stated) if stated else TorqueUnit.POUND_FORCE_FOOT


def _torque_hint(t: NullTranslations, stated: TorqueRange | None) -> str:
    _ = t.gettext
    if stated is None:
        return _("Not stated in this guide: see the workshop literature.")
    units = (TorqueUnit.NEWTON_METRE, _us_unit(stated))
    shown = (figures.with_unit(figures.torque(stated, unit, t), unit.value) for unit in units)
    return _("Specified: %(torque)s.") % {"torque": ", ".join(shown)}

"""One sensor of a profile: where it sits, its plug, heater, thread, wire and readings."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from pydantic import Field, model_validator

from generator.profile import examples, quantity
from generator.profile.dimension import RESISTANCE
from generator.profile.fields import (
    AreaText,
    DateText,
    DecimalNumber,
    DurationText,
    LengthText,
    Name,
    Prose,
    ResistanceText,
    TemperatureText,
    ThreadText,
    TorqueText,
    WholeNumber,
    Words,
    fault,
)
from generator.profile.part import Part, Stated
from generator.trade.hazard import Hazard
from generator.trade.heater import Element
from generator.trade.sensor import SensorKind

MOST_BANKS = 4
MOST_WIRES_WITHOUT_HEATER = 2


class Reach(StrEnum):
    """From where a hand and a wrench get to the sensor."""

    ABOVE = "above"
    BELOW = "below"
    WHEEL_ARCH = "wheel-arch"


class Where(Part):
    """Where a sensor sits."""

    where: Words = Field(
        description="In words, such as `in the rear manifold`.", examples=["in the front manifold"]
    )
    reach: Reach = Field(description="From where one gets to it.", examples=["above"])


class Plug(Part):
    """Where a sensor's connector is and how it comes apart."""

    face: Name = Field(
        description="The connector, by its name under `connectors`.", examples=["upstream"]
    )
    where: Words = Field(
        description="Where it hangs.", examples=["on the end of the cylinder head"]
    )
    holder: Words | None = Field(
        None,
        description="What holds its housing to the vehicle.",
        examples=["push clip on the bracket"],
    )
    latch: Words | None = Field(
        None, description="How its two halves are released.", examples=["press the tab, then pull"]
    )


def _resistance_meant(text: str) -> str:
    """A resistance in braces, as it was meant, or as an example where the text states none."""
    pointed = quantity.with_points(text).strip()
    if both := quantity.resistance_and_temperature(pointed):
        return f"`{{value: {both[0]}, at: {both[1]}}}` as your source gives it"
    try:
        quantity.read_quantity(pointed, RESISTANCE)
    except quantity.NotAQuantity:
        # A comma left in it, or a missing unit, would be the next fault
        example = examples.RESISTANCE["value"]
        return (
            f"it as in `{{value: {example}, at: 20 °C}}`, with the value and the temperature "
            "your source gives"
        )
    return f"`{{value: {pointed}, at: 20 °C}}` with the temperature your source gives"


class HeaterResistance(Stated[ResistanceText]):
    """The heater's cold resistance and the temperature it is specified at."""

    at: TemperatureText = Field(
        description="The temperature the range is for.", examples=["20 °C", "68 °F"]
    )

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, data: Any) -> Any:
        if isinstance(data, str):
            raise fault(
                "missing-key",
                "A cold resistance needs its temperature.",
                f"Write {_resistance_meant(data)}; if it gives no temperature, leave the "
                "specification out.",
            )
        return data


class Heater(Part):
    """The heating element; a 1- or 2-wire sensor has none."""

    resistance: HeaterResistance | None = Field(
        None, description="Specified cold resistance.", examples=[examples.RESISTANCE]
    )
    element: Element = Field(
        Element.UNKNOWN, description="What the element is made of.", examples=["platinum"]
    )


class ThreadState(StrEnum):
    """The state of the thread that a torque is meant for."""

    AS_DELIVERED = "as-delivered"
    DRY = "dry"
    ANTI_SEIZE = "anti-seize"


class SensorTorque(Stated[TorqueText]):
    """The sensor's torque and the state of the thread it is meant for."""

    thread_state: ThreadState | None = Field(
        None, description="State the torque is meant for.", examples=["as-delivered"]
    )


class Curve(Part):
    """A wide-range sensor's pump current over lambda."""

    points: list[tuple[DecimalNumber, DecimalNumber]] = Field(
        min_length=2,
        max_length=60,
        description="Pairs of lambda and pump current in mA, rising.",
        examples=[examples.CURVE["points"]],
    )
    source: Name | None = Field(
        None, description="The source, by its name under `sources`.", examples=["manual"]
    )


class KnownGood(Part):
    """A reading of a sensor that was known to work, cold, across its heater."""

    resistance: ResistanceText = Field(description="What the meter showed.", examples=["5.9 ohm"])
    air: TemperatureText = Field(
        description="Temperature of the air and the sensor.", examples=["18 °C"]
    )
    meter_zero: ResistanceText | None = Field(
        None,
        description="What the leads read held together; left out when it was taken off.",
        examples=["0.2 ohm"],
    )
    date: DateText | None = Field(None, description="When it was read.", examples=["2026-03-14"])
    distance: Words | None = Field(
        None, description="Distance on the vehicle, with its unit.", examples=["88 000 km"]
    )


class Conductor(Part):
    """The wire that feeds a heater."""

    size: AreaText = Field(
        description="Cross-section of the copper, such as `0.75 mm²`.", examples=["0.75 mm²"]
    )
    length: LengthText = Field(description="Length one way, such as `3 m`.", examples=["3 m"])
    source: Name | None = Field(
        None, description="The source, by its name under `sources`.", examples=["manual"]
    )


class Sensor(Part):
    """One sensor: where it sits, what is in the way, what it should read, how tight it goes."""

    bank: WholeNumber = Field(
        ge=1, le=MOST_BANKS, description="The bank whose exhaust it sits in.", examples=[1]
    )
    position: WholeNumber = Field(
        ge=1, le=4, description="Position, counted along the exhaust.", examples=[1]
    )
    kind: SensorKind = Field(description="Kind of sensor.", examples=["switching"])
    wires: WholeNumber = Field(ge=1, le=6, description="How many wires it has.", examples=[4])
    place: Where = Field(description="Where it sits.", examples=[examples.PLACE])
    behind: list[Name] = Field(
        [],
        description="What is in the way, by name under `obstacles`.",
        examples=[["engine-cover"]],
    )
    connector: Plug | None = Field(None, description="Its connector.", examples=[examples.PLUG])
    heater: Heater | None = Field(
        None, description="Its heater; `{}` if nothing is specified.", examples=[examples.HEATER]
    )
    fuse: Name | None = Field(
        None, description="Fuse of its heater, by name under `fuses`.", examples=["heaters"]
    )
    thread: ThreadText | None = Field(
        None, description="Thread, such as `M18x1.5`.", examples=["M18x1.5"]
    )
    hex: LengthText | None = Field(
        None, description="Across flats, such as `22 mm`.", examples=["22 mm", "7/8 in"]
    )
    torque: SensorTorque | None = Field(
        None, description="Torque from the vehicle's source.", examples=[examples.TORQUE, "44 N·m"]
    )
    minutes: DurationText | None = Field(
        None, description="Time to unplug and unscrew it.", examples=["5 to 10 min"]
    )
    curve: Curve | None = Field(
        None, description="Pump current over lambda, wide-range only.", examples=[examples.CURVE]
    )
    supply_wire: Conductor | None = Field(
        None, description="The wire that feeds its heater.", examples=[examples.SUPPLY_WIRE]
    )
    readings: list[KnownGood] = Field(
        [], description="Readings of sensors known to be good.", examples=[examples.READINGS]
    )
    cautions: list[Hazard] = Field(
        [], description="What can hurt at this sensor.", examples=[["hot-exhaust"]]
    )
    notes: list[Prose] = Field(
        [], description="What the next owner should know.", examples=[["A short socket is needed."]]
    )

    @property
    def is_heated(self) -> bool:
        """Whether it has a heater: sensors of one or two wires have none (common practice)."""
        return self.wires > MOST_WIRES_WITHOUT_HEATER

    @property
    def cold_resistance(self) -> HeaterResistance | None:
        """The specified cold resistance of its heater, if one is stated."""
        return self.heater.resistance if self.heater else None

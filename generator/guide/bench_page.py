"""The bench sheet of a sensor: what is written down at the vehicle, in the order of the work."""

from __future__ import annotations

from dataclasses import dataclass

from generator.guide import figures
from generator.guide.bench_fields import Group, groups
from generator.guide.cautions import Caution, Said
from generator.guide.heater_view import (
    REACH_C,
    TABLE_STEP_K,
    heater_caption,
    number_at_first,
    shown_by_degree,
)
from generator.guide.page import Row
from generator.guide.vehicle import (
    ColdHeater,
    Vehicle,
    hazards_on_the_way,
    page_file,
)
from generator.guide.verdict_words import VerdictWords, verdict_words
from generator.profile.sensor_model import Sensor
from generator.profile.sheet_text import LAST_LINE, first_line


@dataclass(frozen=True, slots=True)
class HeaterData:
    """What the script judges a reading by, as text for attributes, and the words it chooses from.

    `low_ohm` and `high_ohm` are empty without a specification.
    """

    caption: str
    basis: tuple[str, str]
    source: str | None
    low_ohm: str
    high_ohm: str
    reference_c: str
    element: str
    step_ohm: str
    verdicts: list[VerdictWords]
    by_air: list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class BenchView:
    """What the bench sheet says."""

    slug: str
    vehicle: str
    sensor: str
    decimal_mark: str
    first_line: str
    last_line: str
    cautions: tuple[Caution, ...]
    heater: HeaterData | None
    groups: list[Group]
    test_href: str


def bench_row(vehicle: Vehicle, sensor: Sensor) -> Row:
    """The way to the bench sheet from a page of the same sensor."""
    _ = vehicle.t.gettext
    detail = (
        _("Write the readings down; the verdict comes at once, and stays on this phone.")
        if sensor.is_heated
        else _("Write down what you found; it stays on this phone.")
    )
    return Row(_("Fill in the bench sheet"), page_file(sensor, "bench"), detail)


def bench(vehicle: Vehicle, sensor: Sensor) -> BenchView:
    """The bench sheet of a sensor; one without a heater has no heater fields."""
    said = Said(vehicle.t)
    heater = vehicle.heater(sensor)
    first = said.first(hazards_on_the_way(vehicle, sensor))
    return BenchView(
        slug=vehicle.slug,
        vehicle=f"{vehicle.name}, {vehicle.years}",
        sensor=f"bank {sensor.bank}, position {sensor.position}",
        decimal_mark=figures.decimal_mark(vehicle.t),
        first_line=first_line(vehicle.slug, sensor.bank, sensor.position),
        last_line=LAST_LINE,
        cautions=first,
        heater=_heater_data(vehicle, sensor, heater) if heater else None,
        groups=groups(vehicle, sensor, said),
        test_href=page_file(sensor, "test"),
    )


def _heater_data(vehicle: Vehicle, sensor: Sensor, heater: ColdHeater) -> HeaterData:
    _, t = vehicle.t.gettext, vehicle.t
    stated = sensor.cold_resistance
    step_ohm = figures.stated_step_ohm(stated.value) if stated else None
    plug = sensor.connector
    connector = vehicle.profile.connectors[plug.face] if plug else None
    basis = (_("Rule of thumb"), _("2 to 4 Ω at 20 °C: common practice, no specification."))
    if stated:
        basis = (
            _("Specified"),
            f"{figures.stated(stated.value.text, t)}, {figures.stated(stated.at.text, t)}",
        )
    elif heater.measured:
        spread = figures.with_unit(number_at_first(heater, None, t), "Ω")
        basis = (
            _("Sensors known to work"),
            _(
                "%(spread)s at 20\u00a0°C: as read, no specification. "
                "The rule of thumb misleads here."
            )
            % {"spread": spread},
        )
    shown = dict(zip(REACH_C, shown_by_degree(heater, step_ohm, t), strict=True))
    return HeaterData(
        caption=heater_caption(vehicle, connector),
        basis=basis,
        source=vehicle.source(stated) if stated else None,
        low_ohm=repr(heater.specified.low_ohm) if heater.specified else "",
        high_ohm=repr(heater.specified.high_ohm) if heater.specified else "",
        reference_c=repr(heater.reference_c),
        element=heater.element.value,
        step_ohm="" if step_ohm is None else repr(step_ohm),
        verdicts=verdict_words(vehicle, sensor, heater),
        by_air=[
            (figures.with_unit(figures.number(t_c, 0, vehicle.t), "°C"), shown[t_c])
            for t_c in REACH_C[::TABLE_STEP_K]
        ],
    )

"""The fault codes of a vehicle: which sensor each names, what it is not, what to check first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.guide import figures
from generator.guide.cautions import Caution, Said
from generator.guide.code_groups import (
    BankCodes,
    PartCodes,
    SymptomCodes,
    bank_groups,
    exchanged_groups,
    part_groups,
    sensor_groups,
    sensor_matrix,
)
from generator.guide.code_matrix import CodeMatrix
from generator.guide.diagnosis_words import before_standard_codes
from generator.guide.first_checks_view import CheckOrder, Job, check_order, job_on
from generator.guide.frame import stage_names
from generator.guide.heater_view import SHOWN_FIRST_C, heater_caption, number_at_first
from generator.guide.page import Row
from generator.guide.vehicle import STAGES, Vehicle, page_file
from generator.profile.sensor_model import Reach, Sensor
from generator.trade.default_checks import PROOF_MIN, UNTIMED_OBSTACLE_MIN
from generator.trade.hazard import Hazard
from generator.trade.likely_causes import Symptom
from generator.trade.vehicle_codes import FittedSensor


@dataclass(frozen=True, slots=True)
class CodeGroup:
    """Codes with one symptom, and the order of checks that holds for all of them."""

    told: SymptomCodes
    order: CheckOrder
    number: Row | None = None
    after_work: CheckOrder | None = None


@dataclass(frozen=True, slots=True)
class SensorCodes:
    """One sensor and its codes by symptom."""

    title: str
    located: str
    getting_there: str
    ways: list[tuple[str, str]]
    groups: list[CodeGroup]


@dataclass(frozen=True, slots=True)
class BankGroup:
    """One bank's codes, and the order of checks for its catalyst where a sensor tells of it."""

    told: BankCodes
    catalyst: CodeGroup | None


@dataclass(frozen=True, slots=True)
class CodesView:
    """What the page of a vehicle's fault codes says.

    `of_vehicle` is what can hurt on this vehicle above others, said again before each order of
    checks: a link leads straight there.
    """

    older: str
    cautions: tuple[Caution, ...]
    of_vehicle: tuple[Caution, ...]
    matrix: CodeMatrix
    sensors: list[SensorCodes]
    exchanged: list[CodeGroup]
    mixture: list[BankGroup]
    strangers: Sequence[PartCodes]


def codes(vehicle: Vehicle) -> CodesView:
    """The page of a vehicle's fault codes."""
    t, sensors = vehicle.t, fitted_sensors(vehicle)
    return CodesView(
        older=before_standard_codes(vehicle),
        cautions=Said(t).first(_hazards(vehicle)),
        of_vehicle=Said(t).first(vehicle.profile.vehicle.hazards),
        matrix=sensor_matrix(t, sensors),
        sensors=[_sensor(vehicle, sensor, sensors) for sensor in vehicle.sensors],
        exchanged=_exchanged(vehicle, sensors),
        mixture=_banks(vehicle, sensors),
        strangers=part_groups(t),
    )


def codes_row(vehicle: Vehicle) -> Row:
    """The way from the overview to the codes."""
    _ = vehicle.t.gettext
    return Row(
        _("Start from a fault code"),
        page_file(stage="codes"),
        _("Which sensor it names, what it is not, and what to check first."),
    )


def fitted_sensors(vehicle: Vehicle) -> tuple[FittedSensor, ...]:
    """The sensors of a vehicle as far as their codes depend on them, by bank and position."""
    return tuple(_fitted(sensor) for sensor in vehicle.sensors)


def banks_of(vehicle: Vehicle) -> tuple[int, ...]:
    """The numbers of a vehicle's banks, in order."""
    return tuple(sorted(vehicle.profile.banks))


def _fitted(sensor: Sensor) -> FittedSensor:
    return FittedSensor(sensor.bank, sensor.position, sensor.kind, sensor.is_heated)


def _hazards(vehicle: Vehicle) -> list[Hazard]:
    """What can hurt in any of the checks; each sensor's own pages say what is peculiar to it."""
    below = any(sensor.place.reach is Reach.BELOW for sensor in vehicle.sensors)
    return [
        *vehicle.profile.vehicle.hazards,
        *([Hazard.UNDER_VEHICLE] if below else []),
        Hazard.HOT_EXHAUST,
        Hazard.EXHAUST_GAS,
        Hazard.MOVING_PARTS,
    ]


def _sensor(vehicle: Vehicle, sensor: Sensor, sensors: tuple[FittedSensor, ...]) -> SensorCodes:
    job, names = job_on(vehicle, [sensor]), stage_names(vehicle)
    return SensorCodes(
        title=vehicle.called(sensor),
        located=vehicle.located(sensor),
        getting_there=_getting_there(vehicle, sensor, job),
        ways=[(names[stage], page_file(sensor, stage)) for stage in STAGES],
        groups=[
            _group(vehicle, sensor, job, told)
            for told in sensor_groups(vehicle.t, _fitted(sensor), sensors)
        ],
    )


def _getting_there(vehicle: Vehicle, sensor: Sensor, job: Job) -> str:
    """The minutes that every check behind the same things counts once."""
    _ = vehicle.t.gettext
    if job.is_open:
        return _("Nothing is in the way.") + f" {_new_sensor(vehicle, sensor, job)}"
    told = _("To get to it and its plug: %(minutes)s, counted once.") % {
        "minutes": _minutes(vehicle, job.way_in_minutes)
    }
    if job.has_untimed:
        told += " " + _(
            "A thing in the way that has not been timed counts as %(minutes)s (common practice, no "
            "source)."
        ) % {"minutes": _minutes(vehicle, round(UNTIMED_OBSTACLE_MIN))}
    return f"{told} {_new_sensor(vehicle, sensor, job)}"


def _new_sensor(vehicle: Vehicle, sensor: Sensor, job: Job) -> str:
    """What fitting a new sensor counts for, and which of its minutes are assumed."""
    _ = vehicle.t.gettext
    minutes = {
        "fitting": _minutes(vehicle, job.fitting_minutes),
        "proof": _minutes(vehicle, round(PROOF_MIN)),
    }
    if sensor.minutes is None:
        return (
            _(
                "To fit a new one: %(fitting)s, as it has not been timed; to prove it: %(proof)s "
                "(both common practice, no source)."
            )
            % minutes
        )
    return (
        _("To fit a new one: %(fitting)s; to prove it: %(proof)s (common practice, no source).")
        % minutes
    )


def _minutes(vehicle: Vehicle, minutes: int) -> str:
    return figures.with_unit(str(minutes), vehicle.t.gettext("min"))


def _group(vehicle: Vehicle, sensor: Sensor, job: Job, told: SymptomCodes) -> CodeGroup:
    after_work = None
    if told.symptom is Symptom.STUCK_LEAN:
        after_work = check_order(vehicle, job, Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK)
    number = _number(vehicle, sensor) if told.symptom is Symptom.HEATER_CIRCUIT else None
    return CodeGroup(told, check_order(vehicle, job, told.symptom), number, after_work)


def _number(vehicle: Vehicle, sensor: Sensor) -> Row | None:
    """The number wanted and between which terminals, as a way to the test page."""
    heater = vehicle.heater(sensor)
    if heater is None:
        return None
    _ = vehicle.t.gettext
    connector = None
    if sensor.connector:
        connector = vehicle.profile.connectors[sensor.connector.face]
    stated = sensor.cold_resistance
    number = number_at_first(heater, stated.value if stated else None, vehicle.t)
    basis = _("%(number)s at %(at)s")
    if heater.measured:
        basis = _("%(number)s at %(at)s, as measured")
    elif heater.specified is None:
        basis = _("%(number)s at %(at)s, a rule of thumb")
    wanted = basis % {
        "number": figures.with_unit(number, "Ω"),
        "at": figures.with_unit(str(SHOWN_FIRST_C), "°C"),
    }
    return Row(wanted, page_file(sensor, "test"), heater_caption(vehicle, connector))


def _exchanged(vehicle: Vehicle, sensors: tuple[FittedSensor, ...]) -> list[CodeGroup]:
    return [
        _group_at(vehicle, each.places, each.group) for each in exchanged_groups(vehicle.t, sensors)
    ]


def _banks(vehicle: Vehicle, sensors: tuple[FittedSensor, ...]) -> list[BankGroup]:
    return [
        BankGroup(
            each,
            _group_at(vehicle, [(each.bank, 2)], each.catalyst) if each.catalyst else None,
        )
        for each in bank_groups(vehicle.t, banks_of(vehicle), sensors)
    ]


def _group_at(vehicle: Vehicle, places: Sequence[tuple[int, int]], told: SymptomCodes) -> CodeGroup:
    """Codes that the sensors at some places tell of, with the order of checks there."""
    by_place = {(sensor.bank, sensor.position): sensor for sensor in vehicle.sensors}
    job = job_on(vehicle, [by_place[place] for place in places])
    return CodeGroup(told, check_order(vehicle, job, told.symptom))

"""The fault codes of a vehicle: which sensor each names, what it is not, what to check first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.guide import code_words, figures
from generator.guide.cautions import Caution, Said
from generator.guide.code_matrix import CodeMatrix, code_matrix
from generator.guide.first_checks_view import CheckOrder, check_order, way_in
from generator.guide.heater_view import SHOWN_FIRST_C, heater_caption, number_at_first
from generator.guide.page import Row
from generator.guide.vehicle import Vehicle, cold_heater, hazards_on_the_way, page_file
from generator.profile.model import Sensor
from generator.trade.default_checks import UNTIMED_OBSTACLE_MIN
from generator.trade.fault_code_table import FAULT_CODES, FaultCode, Subject
from generator.trade.fault_codes import related_codes
from generator.trade.hazard import Hazard
from generator.trade.likely_causes import Symptom, symptom_of
from generator.trade.sensor import SensorPlace
from generator.trade.vehicle_codes import (
    FittedSensor,
    codes_on,
    exchanged_codes,
    sensor_codes,
    strangers_near,
)


@dataclass(frozen=True, slots=True)
class CodeRow:
    """A code of its own line: its anchor, its own page, what it says, and where to go on."""

    code: str
    href: str
    text: str
    onward: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class CodeGroup:
    """Codes with one symptom: the order of checks holds for all of them."""

    title: str
    codes: list[CodeRow]
    mistaken: list[tuple[str, str]]
    number: Row | None
    order: CheckOrder
    after_work: CheckOrder | None = None


@dataclass(frozen=True, slots=True)
class SensorCodes:
    """One sensor's codes by symptom; without any, the sentence that says so."""

    title: str
    located: str
    getting_there: str
    access_href: str
    groups: list[CodeGroup]


@dataclass(frozen=True, slots=True)
class CodesView:
    """What the page of a vehicle's fault codes says."""

    cautions: tuple[Caution, ...]
    matrix: CodeMatrix
    sensors: list[SensorCodes]
    exchanged: list[CodeGroup]
    mixture: list[CodeRow]
    strangers: list[CodeRow]


def codes(vehicle: Vehicle) -> CodesView:
    """The page of a vehicle's fault codes."""
    _ = vehicle.t.gettext
    sensors = vehicle.sensors
    own = [code for sensor in sensors for code in sensor_codes(fitted(sensor))]
    hazards = [each for sensor in sensors for each in hazards_on_the_way(vehicle, sensor)]
    return CodesView(
        cautions=Said(vehicle.t).first([*hazards, Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS]),
        matrix=code_matrix(
            _("Codes by sensor"),
            [SensorPlace(sensor.bank, sensor.position) for sensor in sensors],
            own,
            lambda code: f"#{code}",
            vehicle.t,
        ),
        sensors=[_sensor(vehicle, sensor) for sensor in sensors],
        exchanged=[_exchanged(vehicle, code) for code in exchanged_codes(_all_fitted(vehicle))],
        mixture=[_mixture_row(vehicle, code) for code in _mixture_codes(vehicle)],
        strangers=[_code_row(vehicle, code) for code in _strangers()],
    )


def fitted(sensor: Sensor) -> FittedSensor:
    """A sensor as far as its codes depend on it."""
    return FittedSensor(sensor.bank, sensor.position, sensor.kind, sensor.is_heated)


def codes_told(vehicle: Vehicle) -> frozenset[str]:
    """Every code that has a place on the vehicle's page of codes."""
    told = {code.code for code in (*_mixture_codes(vehicle), *_strangers())}
    return codes_on(_all_fitted(vehicle)) | told


def _all_fitted(vehicle: Vehicle) -> frozenset[FittedSensor]:
    return frozenset(fitted(sensor) for sensor in vehicle.profile.sensors)


def _mixture_codes(vehicle: Vehicle) -> list[FaultCode]:
    return [code for bank in sorted(vehicle.profile.banks) for code in related_codes(bank)]


def _strangers() -> list[FaultCode]:
    return [code for code in FAULT_CODES.values() if code.subject is Subject.FALSE_FRIEND]


def _sensor(vehicle: Vehicle, sensor: Sensor) -> SensorCodes:
    by_symptom: dict[Symptom, list[FaultCode]] = {}
    for code in sensor_codes(fitted(sensor)):
        symptom = symptom_of(code)
        if symptom is not None:
            by_symptom.setdefault(symptom, []).append(code)
    return SensorCodes(
        title=vehicle.called(sensor),
        located=vehicle.located(sensor),
        getting_there=_getting_there(vehicle, sensor),
        access_href=page_file(sensor, "access"),
        groups=[
            _group(vehicle, sensor, symptom, by_symptom[symptom])
            for symptom in Symptom
            if symptom in by_symptom
        ],
    )


def _getting_there(vehicle: Vehicle, sensor: Sensor) -> str:
    """The minutes that every check behind the same things counts once."""
    _ = vehicle.t.gettext
    way = way_in(vehicle, [sensor])
    if not sensor.behind:
        return _("Nothing is in the way.")
    told = _("Getting to it, and to its plug, is counted as %(minutes)s min, once.") % {
        "minutes": round(way.minutes)
    }
    if way.has_untimed:
        told += " " + _(
            "A thing in the way that has not been timed counts as %(minutes)s min (common "
            "practice, no source)."
        ) % {"minutes": round(UNTIMED_OBSTACLE_MIN)}
    return told


def _group(
    vehicle: Vehicle, sensor: Sensor, symptom: Symptom, its_codes: list[FaultCode]
) -> CodeGroup:
    after = Symptom.STUCK_LEAN_AFTER_EXHAUST_WORK
    return CodeGroup(
        title=code_words.symptom_words(vehicle.t)[symptom],
        codes=[_code_row(vehicle, code) for code in its_codes],
        mistaken=_mistaken(vehicle, sensor, its_codes),
        number=_number(vehicle, sensor) if symptom is Symptom.HEATER_CIRCUIT else None,
        order=check_order(vehicle, symptom, [sensor]),
        after_work=(
            check_order(vehicle, after, [sensor]) if symptom is Symptom.STUCK_LEAN else None
        ),
    )


def _number(vehicle: Vehicle, sensor: Sensor) -> Row | None:
    """The number wanted and between which terminals, as a way to the test page."""
    heater = cold_heater(sensor)
    if heater is None:
        return None
    connector = None
    if sensor.connector:
        connector = vehicle.profile.connectors[sensor.connector.face]
    _ = vehicle.t.gettext
    stated = sensor.cold_resistance
    number = number_at_first(heater, stated.value if stated else None)
    at = figures.with_unit(str(SHOWN_FIRST_C), "°C")
    basis = (
        _("%(number)s at %(at)s")
        if heater.specified
        else _("%(number)s at %(at)s, a rule of thumb")
    )
    ohms = figures.with_unit(number, "Ω")
    return Row(
        basis % {"number": ohms, "at": at},
        page_file(sensor, "test"),
        heater_caption(vehicle, connector),
    )


def _mistaken(
    vehicle: Vehicle, sensor: Sensor, its_codes: Sequence[FaultCode]
) -> list[tuple[str, str]]:
    """What these codes are not: the same at another bank, and numbers of other parts nearby."""
    said = {(code.circuit, code.noticed) for code in its_codes}
    t = vehicle.t
    told = []
    for twin in vehicle.sensors:
        if twin.position == sensor.position and twin.bank != sensor.bank:
            same = [
                code for code in sensor_codes(fitted(twin)) if (code.circuit, code.noticed) in said
            ]
            place = code_words.place_words(twin.bank, twin.position, t)
            told.append((code_words.listed_runs(same), place))
    near = code_words.drawn_together(strangers_near(tuple(its_codes)), t)
    return [each for each in told if each[0]] + near


def _exchanged(vehicle: Vehicle, code: FaultCode) -> CodeGroup:
    two = [
        sensor
        for sensor in vehicle.sensors
        if SensorPlace(sensor.bank, sensor.position) in code.sensors
    ]
    return CodeGroup(
        title=_two_places(vehicle, code),
        codes=[_code_row(vehicle, code)],
        mistaken=[],
        number=None,
        order=check_order(vehicle, Symptom.SENSORS_SWAPPED, two),
    )


def _two_places(vehicle: Vehicle, code: FaultCode) -> str:
    _ = vehicle.t.gettext
    first, second = (code_words.place_words(*place, vehicle.t) for place in code.sensors)
    told = _("%(first)s, and %(second)s") % {"first": first, "second": second}
    return code_words.first_capital(told)


def _code_row(vehicle: Vehicle, code: FaultCode) -> CodeRow:
    href = f"../../{code_words.CODES}/{code_words.code_file(code.code)}"
    return CodeRow(code.code, href, code_words.short_words(code, vehicle.t))


def _mixture_row(vehicle: Vehicle, code: FaultCode) -> CodeRow:
    """A code about a bank's mixture or catalyst, and the order of checks that holds for it."""
    row = _code_row(vehicle, code)
    symptom = symptom_of(code)
    for sensor in vehicle.sensors:
        if sensor.bank != code.bank or sensor.position != 1 or symptom is None:
            continue
        for same in sensor_codes(fitted(sensor)):
            if symptom_of(same) is symptom:
                return replace(row, onward=(f"#{same.code}", _onward_words(vehicle, sensor)))
    return row


def _onward_words(vehicle: Vehicle, sensor: Sensor) -> str:
    place = code_words.place_words(sensor.bank, sensor.position, vehicle.t)
    return vehicle.t.gettext("What to check first: %(place)s") % {"place": place}

"""The codes of a set of sensors, grouped and in words.

Vehicles with the same sensors have the same codes, so each set is put together once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import code_words
from generator.guide.code_matrix import CodeMatrix, code_matrix
from generator.trade.fault_code_table import FAULT_CODES, FaultCode, Subject
from generator.trade.fault_codes import related_codes
from generator.trade.likely_causes import Symptom, symptom_of
from generator.trade.sensor import SensorPlace
from generator.trade.vehicle_codes import (
    FittedSensor,
    codes_on,
    exchanged_codes,
    sensor_codes,
    strangers_near,
)

Sensors = tuple[FittedSensor, ...]
"""The sensors of a vehicle, by bank and position."""


@dataclass(frozen=True, slots=True)
class CodeRow:
    """A code: its anchor, its own page, and what it says."""

    code: str
    href: str
    text: str


@dataclass(frozen=True, slots=True)
class PartCodes:
    """The codes about one other part."""

    part: str
    codes: list[CodeRow]


@dataclass(frozen=True, slots=True)
class BankCodes:
    """A bank's codes of its mixture, and the orders of checks that hold for some.

    `catalyst` are those of its catalyst; None where no sensor stands behind it.
    """

    bank: int
    title: str
    onward: list[tuple[str, str]]
    codes: list[CodeRow]
    catalyst: SymptomCodes | None


@dataclass(frozen=True, slots=True)
class SymptomCodes:
    """A sensor's codes with one symptom, and what they are not: other codes, each with its part."""

    symptom: Symptom
    title: str
    codes: list[CodeRow]
    mistaken: list[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class ExchangedCodes:
    """A code for two exchanged sensors, and the two."""

    places: tuple[SensorPlace, ...]
    group: SymptomCodes


@lru_cache(maxsize=512)
def sensor_groups(
    t: NullTranslations, sensor: FittedSensor, sensors: Sensors
) -> tuple[SymptomCodes, ...]:
    """The codes of one sensor of a vehicle by symptom; none where the standard has none."""
    by_symptom: dict[Symptom, list[FaultCode]] = {}
    for code in sensor_codes(sensor):
        symptom = symptom_of(code)
        if symptom is None:
            raise ValueError(f"no causes are listed for {code.code}")
        by_symptom.setdefault(symptom, []).append(code)
    return tuple(
        SymptomCodes(
            symptom,
            code_words.symptom_words(t)[symptom],
            [code_row(code, t) for code in by_symptom[symptom]],
            _mistaken(t, sensor, sensors, by_symptom[symptom]),
        )
        for symptom in Symptom
        if symptom in by_symptom
    )


def _mistaken(
    t: NullTranslations, sensor: FittedSensor, sensors: Sensors, its_codes: Sequence[FaultCode]
) -> list[tuple[str, str]]:
    """The same at another bank, and numbers of other parts nearby."""
    said = {(code.circuit, code.noticed) for code in its_codes}
    told = []
    for twin in sensors:
        if twin.position == sensor.position and twin.bank != sensor.bank:
            same = [code for code in sensor_codes(twin) if (code.circuit, code.noticed) in said]
            if same:
                place = code_words.place_words(*twin.place, t)
                told.append((code_words.listed_runs(same), place))
    return told + code_words.drawn_together(strangers_near(tuple(its_codes)), t)


@lru_cache(maxsize=512)
def exchanged_groups(t: NullTranslations, sensors: Sensors) -> tuple[ExchangedCodes, ...]:
    """The codes for two exchanged sensors of which the vehicle has both."""
    return tuple(
        ExchangedCodes(
            code.sensors,
            SymptomCodes(
                Symptom.SENSORS_SWAPPED, _two_places(code, t), [code_row(code, t)], mistaken=[]
            ),
        )
        for code in exchanged_codes(frozenset(sensors))
    )


def _two_places(code: FaultCode, t: NullTranslations) -> str:
    first, second = (code_words.place_words(*place, t) for place in code.sensors)
    told = t.gettext("%(first)s, and %(second)s") % {"first": first, "second": second}
    return code_words.first_capital(told)


@lru_cache(maxsize=512)
def sensor_matrix(t: NullTranslations, sensors: Sensors) -> CodeMatrix:
    """The codes of all sensors of a vehicle in one table, each leading down its page."""
    return code_matrix(
        t.gettext("Codes by sensor"),
        [sensor.place for sensor in sensors],
        [code for sensor in sensors for code in sensor_codes(sensor)],
        lambda code: f"#{code}",
        t,
    )


@lru_cache(maxsize=512)
def bank_groups(
    t: NullTranslations, banks: tuple[int, ...], sensors: Sensors
) -> tuple[BankCodes, ...]:
    """The mixture and catalyst codes of those banks that the standard's list has codes for."""
    return tuple(_bank_group(t, bank, sensors) for bank in banks if _related(bank, sensors))


def _bank_group(t: NullTranslations, bank: int, sensors: Sensors) -> BankCodes:
    codes, symptom = _related(bank, sensors), Symptom.CATALYST_EFFICIENCY
    of_catalyst = [code_row(code, t) for code in codes if symptom_of(code) is symptom]
    title = code_words.symptom_words(t)[symptom]
    return BankCodes(
        bank,
        t.gettext("Bank %(bank)s") % {"bank": bank},
        _onward(t, bank, sensors),
        [code_row(code, t) for code in codes if symptom_of(code) is not symptom],
        SymptomCodes(symptom, title, of_catalyst, mistaken=[]) if of_catalyst else None,
    )


def _related(bank: int, sensors: Sensors) -> tuple[FaultCode, ...]:
    is_seen_behind = any(sensor.place == (bank, 2) for sensor in sensors)
    return related_codes(bank, is_seen_behind=is_seen_behind)


def _onward(t: NullTranslations, bank: int, sensors: Sensors) -> list[tuple[str, str]]:
    """The ways to the checks for a bank's mixture, which are its first sensor's."""
    _ = t.gettext
    words = {
        Symptom.STUCK_LEAN: _("Lean: as for %(code)s"),
        Symptom.STUCK_RICH: _("Rich: as for %(code)s"),
    }
    return [
        (f"#{code.code}", words[symptom] % {"code": code.code})
        for sensor in sensors
        if sensor.place == (bank, 1)
        for code in sensor_codes(sensor)
        if (symptom := symptom_of(code)) in words
    ]


@lru_cache(maxsize=8)
def part_groups(t: NullTranslations) -> tuple[PartCodes, ...]:
    """The codes numbered among the sensors', by the part they are about."""
    by_part: dict[str, list[CodeRow]] = {}
    for code in _strangers():
        row = code_row(code, t)
        by_part.setdefault(row.text, []).append(row)
    return tuple(PartCodes(part, rows) for part, rows in by_part.items())


@lru_cache(maxsize=512)
def codes_about(banks: tuple[int, ...], sensors: Sensors) -> frozenset[str]:
    """Every code about these sensors, or about the mixture and the catalysts of these banks."""
    of_banks = {code.code for bank in banks for code in _related(bank, sensors)}
    return codes_on(frozenset(sensors)) | of_banks


@lru_cache(maxsize=512)
def codes_told(banks: tuple[int, ...], sensors: Sensors) -> frozenset[str]:
    """Every code that has a place on the page of a vehicle with these banks and sensors."""
    return codes_about(banks, sensors) | {code.code for code in _strangers()}


def _strangers() -> list[FaultCode]:
    return [code for code in FAULT_CODES.values() if code.subject is Subject.FALSE_FRIEND]


def code_row(code: FaultCode, t: NullTranslations) -> CodeRow:
    """A code as a vehicle's page lists it."""
    href = f"../../{code_words.CODES}/{code_words.code_file(code.code)}"
    return CodeRow(code.code, href, code_words.short_words(code, t))

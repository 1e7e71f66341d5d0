"""The guides as data: a catalogue, one JSON file a vehicle, and the JSON Schema of both."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter

from generator.guide.job import plan_parts, sensor_name
from generator.guide.known_good import sensor_pool
from generator.guide.photo_view import picture_path, pictures, published_photos
from generator.guide.vehicle import (
    DATA,
    STAGES,
    ColdHeater,
    Vehicle,
    cold_heater,
    data_path,
    page_path,
    torque_range,
)
from generator.profile.model import Connector, Fastener, Obstacle
from generator.profile.part import Stated
from generator.profile.sensor_model import Curve, KnownGood, Sensor
from generator.site.data_format import (
    Catalogue,
    ComputedSensor,
    ConnectorData,
    CurveData,
    CurvePoint,
    FastenerData,
    FuseData,
    GuideData,
    HeaterBasis,
    ObstacleData,
    OhmByAir,
    PhotoData,
    PinData,
    PooledReadings,
    ReadingData,
    SensorData,
    SourceData,
    StatedRange,
    StatedSensor,
    TorqueIn,
    Unit,
    VehicleData,
    VehicleRow,
)
from generator.trade.access_plan import Part, access_plan
from generator.trade.heater import expected_range
from generator.trade.heater_current import cold_current_a
from generator.trade.pooled_readings import REFERENCE_C
from generator.trade.torque import TorqueUnit, converted

CATALOGUE_FILE = f"{DATA}/vehicles.json"
SCHEMA_FILE = f"{DATA}/schema.json"
AIR_C = range(-20, 51, 5)
_FIGURES = 6
_ENDS: dict[Unit, str] = {"ohm": "ohm", "N·m": "nm", "mm": "mm", "A": "a", "min": "min", "°C": "c"}
"""How the names of a quantity's two ends end, in a profile."""


def schema_text() -> str:
    """The JSON Schema (2020-12) of both kinds of file."""
    either = TypeAdapter(Catalogue | VehicleData).json_schema(mode="serialization")
    return _text({"$schema": "https://json-schema.org/draft/2020-12/schema", **either})


def catalogue_text(vehicles: Iterable[Vehicle]) -> str:
    """The catalogue as JSON, in order of slug."""
    rows = sorted(map(_row, vehicles), key=lambda row: row.slug)
    return _text(Catalogue(vehicles=rows).model_dump(mode="json", by_alias=True))


def vehicle_text(vehicle: Vehicle) -> str:
    """One vehicle as JSON."""
    profile = vehicle.profile
    parts = plan_parts(vehicle)
    data = VehicleData(
        vehicle=_row(vehicle),
        guide=GuideData(**profile.guide.model_dump()),
        hazards=sorted(profile.vehicle.hazards),
        fuel=profile.engine.fuel,
        cylinders=profile.engine.cylinders,
        arrangement=profile.engine.arrangement,
        mounting=profile.engine.mounting,
        bay=profile.engine.bay,
        steering=list(profile.steering),
        banks={number: bank.cylinders for number, bank in sorted(profile.banks.items())},
        sources={
            name: SourceData(
                title=each.title, kind=each.kind, edition=each.edition, locator=each.locator
            )
            for name, each in profile.sources.items()
        },
        obstacles={name: _obstacle(each) for name, each in profile.obstacles.items()},
        connectors={name: _connector(each) for name, each in profile.connectors.items()},
        fuses={
            name: FuseData(
                box=each.box,
                number=each.number,
                rating=_range(each.rating.value, "A", each.rating.source),
                corner=each.corner,
            )
            for name, each in profile.fuses.items()
        },
        sensors=[_sensor(vehicle, sensor, parts) for sensor in vehicle.sensors],
        photos=list(_photos(vehicle)),
        notes=list(profile.notes),
    )
    return f"{data.model_dump_json(by_alias=True)}\n"


def _row(vehicle: Vehicle) -> VehicleRow:
    profile = vehicle.profile
    return VehicleRow(
        slug=vehicle.slug,
        make=profile.vehicle.make,
        model=profile.vehicle.model,
        engine=profile.engine.name,
        first_year=profile.vehicle.years.first,
        last_year=profile.vehicle.years.last,
        sensors=len(profile.sensors),
        data=data_path(vehicle.slug).rpartition("/")[2],
        guide=_from_here(page_path(vehicle.slug)),
    )


def _photos(vehicle: Vehicle) -> Iterator[PhotoData]:
    for photo, file in published_photos(vehicle):
        largest = pictures(file)[-1]
        yield PhotoData(
            file=_from_here(picture_path(vehicle.slug, largest.name)),
            width_px=largest.width_px,
            height_px=largest.height_px,
            at=photo.at,
            caption=photo.caption,
            shows=photo.shows,
        )


def _sensor(vehicle: Vehicle, sensor: Sensor, parts: Mapping[str, Part]) -> SensorData:
    return SensorData(
        bank=sensor.bank,
        position=sensor.position,
        kind=sensor.kind,
        cautions=sorted(sensor.cautions),
        pages={
            stage: _from_here(page_path(vehicle.slug, sensor, stage))
            for stage in (*STAGES, "bench")
        },
        stated=_stated_of(sensor),
        computed=computed_of(sensor, parts),
    )


def _stated_of(sensor: Sensor) -> StatedSensor:
    resistance = sensor.cold_resistance
    return StatedSensor(
        wires=sensor.wires,
        where=sensor.place.where,
        reach=sensor.place.reach,
        thread=sensor.thread.text if sensor.thread else None,
        hex=_range(sensor.hex, "mm") if sensor.hex else None,
        torque=_stated(sensor.torque, "N·m"),
        torque_thread_state=sensor.torque.thread_state if sensor.torque else None,
        heater_resistance=_stated(resistance, "ohm"),
        heater_resistance_at=_range(resistance.at, "°C") if resistance else None,
        minutes=_range(sensor.minutes, "min") if sensor.minutes else None,
        connector=sensor.connector.face if sensor.connector else None,
        fuse=sensor.fuse,
        curve=_curve(sensor.curve) if sensor.curve else None,
        readings=[_reading(each) for each in sensor.readings],
        notes=list(sensor.notes),
    )


def computed_of(sensor: Sensor, parts: Mapping[str, Part]) -> ComputedSensor:
    """What follows for a sensor from what is stated, given the parts of its job."""
    heater = cold_heater(sensor)
    current = cold_current_a(heater.expected) if heater else None
    name = sensor_name(sensor)
    plan = access_plan([name], parts)
    return ComputedSensor(
        heater_basis=_basis(heater) if heater else None,
        heater_by_air=_by_air(heater) if heater else [],
        heater_first_current_low_a=_figures(current.low_a) if current else None,
        heater_first_current_high_a=_figures(current.high_a) if current else None,
        readings=_pooled(sensor) if sensor.readings and sensor.is_heated else None,
        torque=_torques(sensor),
        off_in_order=list(plan.off[:-1]),
        job_minutes_low=plan.minutes.low_min if plan.minutes else None,
        job_minutes_high=plan.minutes.high_min if plan.minutes else None,
        untimed=["sensor" if each == name else each for each in plan.untimed],
    )


# Sensors of one kind are alike, on a vehicle and from one to the next
@lru_cache(maxsize=256)
def _by_air(heater: ColdHeater) -> list[OhmByAir]:
    return [_at_air(heater, float(air_c)) for air_c in AIR_C]


def _at_air(heater: ColdHeater, air_c: float) -> OhmByAir:
    at = expected_range(heater.expected, heater.reference_c, air_c, heater.element)
    return OhmByAir(air_c=air_c, low_ohm=_figures(at.low_ohm), high_ohm=_figures(at.high_ohm))


def _basis(heater: ColdHeater) -> HeaterBasis:
    if heater.specified:
        return "specified"
    return "readings" if heater.measured else "rule-of-thumb"


def _pooled(sensor: Sensor) -> PooledReadings:
    pool, _ = sensor_pool(sensor)
    within = pool.tolerance
    return PooledReadings(
        at_air_c=REFERENCE_C,
        kept_ohm=[_figures(ohm) for ohm in pool.kept_ohm],
        left_out_ohm=None if pool.left_out_ohm is None else _figures(pool.left_out_ohm),
        low_ohm=_figures(within.low_ohm) if within else None,
        high_ohm=_figures(within.high_ohm) if within else None,
    )


def _torques(sensor: Sensor) -> list[TorqueIn]:
    if sensor.torque is None:
        return []
    shown = (converted(torque_range(sensor.torque), unit) for unit in TorqueUnit)
    return [TorqueIn(unit=each.unit, low=str(each.low), high=str(each.high)) for each in shown]


def _obstacle(obstacle: Obstacle) -> ObstacleData:
    return ObstacleData(
        name=obstacle.name,
        under=list(obstacle.under),
        held_by=[_fastener(each) for each in obstacle.undo],
        minutes=_range(obstacle.minutes, "min") if obstacle.minutes else None,
        cautions=sorted(obstacle.cautions),
        steps=list(obstacle.steps),
        refit_steps=list(obstacle.refit_steps),
    )


def _fastener(fastener: Fastener) -> FastenerData:
    return FastenerData(
        what=fastener.what,
        count=fastener.count,
        thread=fastener.thread.text if fastener.thread else None,
        hex=_range(fastener.hex, "mm") if fastener.hex else None,
        torque=_stated(fastener.torque, "N·m"),
    )


def _curve(curve: Curve) -> CurveData:
    points = [CurvePoint(**{"lambda": at}, pump_current_ma=ma) for at, ma in curve.points]
    return CurveData(points=points, source=curve.source)


def _reading(reading: KnownGood) -> ReadingData:
    return ReadingData(
        resistance=_range(reading.resistance, "ohm"),
        air=_range(reading.air, "°C"),
        leads=_range(reading.meter_zero, "ohm") if reading.meter_zero else None,
        read_on=reading.date,
        distance=reading.distance,
    )


def _connector(connector: Connector) -> ConnectorData:
    return ConnectorData(
        rows=connector.rows,
        columns=connector.columns,
        latch=connector.latch,
        pins={
            number: PinData(job=pin.job, sensor_wire=pin.sensor_wire, harness_wire=pin.harness_wire)
            for number, pin in sorted(connector.pins.items())
        },
        source=connector.source,
    )


def _stated(stated: Stated[Any] | None, unit: Unit) -> StatedRange | None:
    return _range(stated.value, unit, stated.source) if stated else None


def _range(value: Any, unit: Unit, source: str | None = None) -> StatedRange:
    """A quantity of a profile as its source has it."""
    ends = (getattr(value, f"{end}_{_ENDS[unit]}") for end in ("low", "high"))
    low, high = map(_figures, ends)
    return StatedRange(text=value.text, low=low, high=high, unit=unit, source=source)


def _figures(value: float) -> float:
    """A converted number without the dust of its conversion."""
    return float(f"{value:.{_FIGURES}g}")


def _from_here(path: str) -> str:
    return "../" * (DATA.count("/") + 1) + path


def _text(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n"

"""The format of the guides as data, version 1; the JSON Schema is written from these classes.

What a source stated stands under ``stated``, what follows from it under ``computed``. A number's
unit is in its name, or beside it. The version changes when a key goes or changes its meaning; a new
key does not change it.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Unit = Literal["ohm", "N·m", "mm", "A", "min", "°C"]


class _Data(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class StatedRange(_Data):
    """A range as its source has it, and its two ends; equal when it is one value."""

    text: str = Field(description="As it is written, with its unit.")
    low: float
    high: float
    unit: Unit = Field(description="Of low and high.")
    source: str | None = Field(None, description="Name under `sources`; null: not stated.")


class FastenerData(_Data):
    """Fasteners of one kind that hold an obstacle."""

    what: str
    count: int
    thread: str | None
    hex: StatedRange | None
    torque: StatedRange | None = Field(description="For putting it back; null: not stated.")


class ObstacleData(_Data):
    """What is in the way of sensors."""

    name: str
    under: list[str] = Field(description="Names under `obstacles`: they come off before it.")
    held_by: list[FastenerData]
    minutes: StatedRange | None = Field(description="To take it off; null: nobody timed it.")
    cautions: list[str] = Field(description="What can hurt; it comes before the steps.")
    steps: list[str] = Field(description="Taking it off.")
    refit_steps: list[str] = Field(description="Putting it back.")


class CurvePoint(_Data):
    """A wide-range sensor's pump current at a lambda; it is negative when rich."""

    lambda_: float = Field(alias="lambda", description="A ratio, without a unit.")
    pump_current_ma: float


class CurveData(_Data):
    """Pump current over lambda, as its source has it."""

    points: list[CurvePoint]
    source: str | None = Field(description="Name under `sources`; null: not stated.")


class ReadingData(_Data):
    """What a meter showed on the cold heater of a sensor known to work."""

    resistance: StatedRange
    air: StatedRange = Field(description="Temperature of the air and the sensor.")
    leads: StatedRange | None = Field(description="To take off; null: taken off already.")
    read_on: date | None
    distance: str | None = Field(description="On the vehicle, as it is written, with its unit.")


class StatedSensor(_Data):
    """What is stated of a sensor; null is not stated."""

    wires: int
    where: str
    reach: str
    thread: str | None
    hex: StatedRange | None
    torque: StatedRange | None
    torque_thread_state: str | None
    heater_resistance: StatedRange | None
    heater_resistance_at: StatedRange | None
    minutes: StatedRange | None
    connector: str | None = Field(description="Name under `connectors`.")
    fuse: str | None = Field(description="Name under `fuses`.")
    curve: CurveData | None
    readings: list[ReadingData]
    notes: list[str]


class OhmByAir(_Data):
    """The cold resistance of a good heater at a temperature of the air."""

    air_c: float
    low_ohm: float
    high_ohm: float


class TorqueIn(_Data):
    """The stated torque in a unit, rounded into the stated range to steps of a wrench."""

    unit: str
    low: str
    high: str


class PooledReadings(_Data):
    """The readings of sensors known to work, at one temperature; never a specification."""

    at_air_c: float
    kept_ohm: list[float] = Field(description="In order of size.")
    left_out_ohm: float | None = Field(description="An outlier, by Grubbs' test at 5 %.")
    low_ohm: float | None = Field(
        description="Of a tolerance interval, ISO 16269-6: 95 % of good sensors, with 90 % "
        "confidence, if they are normally distributed; null: under eight readings."
    )
    high_ohm: float | None


HeaterBasis = Literal["specified", "readings", "rule-of-thumb"]


class ComputedSensor(_Data):
    """What follows from what is stated; formulas in the site's `reference/numbers.html`."""

    heater_basis: HeaterBasis | None = Field(
        description="Rule of thumb: common practice, no source; it never condemns a sensor. "
        "Readings: of sensors known to work, where they contradict the rule of thumb."
    )
    heater_by_air: list[OhmByAir]
    heater_first_current_low_a: float | None
    heater_first_current_high_a: float | None
    readings: PooledReadings | None = Field(description="Null: there are none.")
    torque: list[TorqueIn]
    off_in_order: list[str] = Field(description="Names under `obstacles`, first off first.")
    job_minutes_low: float | None = Field(description="Sum over the parts that are timed.")
    job_minutes_high: float | None
    untimed: list[str] = Field(description="Parts of the job that nobody timed.")


class SensorData(_Data):
    """One sensor, by bank and position; bank 1 is the one that holds cylinder 1."""

    bank: int
    position: int
    kind: str
    cautions: list[str]
    pages: dict[str, str] = Field(description="Pages of the guide, relative to this file.")
    stated: StatedSensor
    computed: ComputedSensor


class SourceData(_Data):
    """A source that stated values refer to by name."""

    title: str
    kind: str
    edition: str | None
    locator: str | None


class PinData(_Data):
    """One terminal of a connector; colours are codes of IEC 60757."""

    job: str
    sensor_wire: str | None
    harness_wire: str | None


class ConnectorData(_Data):
    """A connector, looking into the terminals of the sensor's half."""

    rows: int
    columns: int
    latch: str = Field(description="The edge of that face with the latch.")
    pins: dict[int, PinData] = Field(description="Terminals by number.")
    source: str | None = Field(description="Name under `sources`; null: not stated.")


class FuseData(_Data):
    """A fuse that feeds heaters."""

    box: str
    number: str
    rating: StatedRange
    corner: str | None = Field(description="Of the engine bay; null: not stated, or elsewhere.")


class GuideData(_Data):
    """Who stands behind the guide; null is not stated."""

    checked_on: date | None = Field(description="When it was last checked on a vehicle.")
    confirmed_by: str | None = Field(description="A second person.")
    credits: list[str]
    licence: str | None = Field(description="Of what the guide says.")
    discussion: str | None


class PhotoData(_Data):
    """A photo or a drawing, and what it belongs to."""

    file: str = Field(description="JPEG, relative to this file.")
    width_px: int
    height_px: int
    at: str = Field(description="The way to what it shows, as a profile has it.")
    caption: str
    shows: str = Field(description="What is to be seen on it.")


class VehicleRow(_Data):
    """One vehicle in the catalogue."""

    slug: str
    make: str
    model: str
    engine: str
    first_year: int
    last_year: int | None = Field(description="Null: still made.")
    sensors: int
    data: str = Field(description="Its own file, relative to this one.")
    guide: str = Field(description="Its guide, relative to this file.")


class Catalogue(_Data):
    """Every vehicle of the site."""

    schema_: Literal["schema.json#/$defs/Catalogue"] = Field(
        "schema.json#/$defs/Catalogue", alias="$schema"
    )
    version: Literal[1] = 1
    vehicles: list[VehicleRow]


class VehicleData(_Data):
    """One vehicle. The vehicle's own literature outranks every value here."""

    schema_: Literal["schema.json#/$defs/VehicleData"] = Field(
        "schema.json#/$defs/VehicleData", alias="$schema"
    )
    version: Literal[1] = 1
    vehicle: VehicleRow
    guide: GuideData
    hazards: list[str]
    fuel: str
    cylinders: int
    arrangement: str
    mounting: str
    bay: str
    steering: list[str]
    banks: dict[int, list[int]] = Field(description="Cylinders by number of the bank.")
    sources: dict[str, SourceData]
    obstacles: dict[str, ObstacleData] = Field(description="What is in the way, by name.")
    connectors: dict[str, ConnectorData]
    fuses: dict[str, FuseData]
    sensors: list[SensorData]
    photos: list[PhotoData] = []
    notes: list[str]

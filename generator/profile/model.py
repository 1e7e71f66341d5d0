"""The profile: with `sensor_model` and `guide_model`, the only declaration of the format.

Everything else that speaks of keys (checks, schema, reference) derives from these classes.
Left and right are the vehicle's own, as seen from the driver's seat looking forward.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from generator.profile import examples
from generator.profile.fields import (
    CurrentText,
    DecimalNumber,
    DurationText,
    LengthText,
    Name,
    Prose,
    ThreadText,
    TorqueText,
    WholeNumber,
    Words,
    YearsText,
)
from generator.profile.finding import Path
from generator.profile.guide_model import Exempted, Guide, Photo, Source, Status
from generator.profile.part import Part, Stated
from generator.profile.sensor_model import MOST_BANKS, Conductor, Curve, Sensor
from generator.trade import place
from generator.trade.connector import Along, ConnectorFace, Corner, Latch, PinJob
from generator.trade.hazard import Hazard
from generator.trade.likely_causes import Symptom
from generator.trade.place import Arrangement, Bay, BayCorner, Mounting, Side, Wheel

MOST_PHOTOS = 60
FORMAT = 2
"""The version of the format that is declared here; `migrations` reads older ones."""


class Vehicle(Part):
    """Which vehicle the guide is for."""

    make: Words = Field(description="Make, such as `Fenwright`.", examples=["Fenwright"])
    model: Words = Field(description="Model, such as `Carrow`.", examples=["Carrow"])
    years: YearsText = Field(
        description="Model years: `2009 to 2014`, `2009` or `2009 on`.",
        examples=["2009 to 2014", "2009 on"],
    )
    hazards: list[Hazard] = Field(
        [], description="What can hurt on this vehicle as a whole.", examples=[["high-voltage"]]
    )


class FuelName(StrEnum):
    """A fuel with a published composition."""

    PETROL = "petrol"
    E10 = "e10"
    E85 = "e85"
    LPG = "lpg"
    METHANE = "methane"


class Engine(Part):
    """The engine and how it stands in the vehicle."""

    name: Words = Field(
        description="What owners call it, such as `3.2 V6 petrol`.", examples=["1.6 petrol"]
    )
    cylinders: WholeNumber = Field(ge=1, le=16, description="How many cylinders.", examples=[4])
    arrangement: Arrangement = Field(
        description="How the cylinders stand to one another.", examples=["inline"]
    )
    mounting: Mounting = Field(
        description="Crankshaft across the vehicle, or along it.", examples=["transverse"]
    )
    fuel: FuelName = Field(FuelName.PETROL, description="What it burns.", examples=["e10"])
    bay: Bay = Field(description="Where in the vehicle the engine is.", examples=["front"])


class Bank(Part):
    """A bank of cylinders; bank 1 is the one that holds cylinder 1."""

    cylinders: list[WholeNumber] = Field(
        description="The cylinders whose exhaust it collects.", examples=[[1, 2, 3, 4]]
    )
    catalysts: WholeNumber = Field(
        1, ge=0, le=3, description="Catalysts in its exhaust.", examples=[1]
    )
    side: Side | None = Field(
        None, description="Its side; left out where the banks merge.", examples=["front"]
    )


class Fastener(Part):
    """Fasteners of one kind that hold an obstacle."""

    what: Words = Field(description="Nut, bolt, screw, push clip ...", examples=["bolt"])
    count: WholeNumber = Field(1, ge=1, le=99, description="How many.", examples=[4])
    thread: ThreadText | None = Field(
        None, description="Thread, such as `M8x1.25`.", examples=["M8x1.25", "M6"]
    )
    hex: LengthText | None = Field(
        None, description="Across flats, such as `13 mm`.", examples=["13 mm"]
    )
    torque: Stated[TorqueText] | None = Field(
        None, description="Torque for putting it back.", examples=["10 N·m", examples.TORQUE]
    )

    @property
    def is_turned(self) -> bool:
        """Whether it is known to be turned, and so to a torque; a clip is not."""
        return self.thread is not None or self.hex is not None


class Obstacle(Part):
    """Something that is in the way of a sensor."""

    name: Words = Field(
        description="What it is, such as `plastic engine cover`.", examples=["plastic engine cover"]
    )
    under: list[Name] = Field(
        [], description="What must come off before it.", examples=[["strut-brace"]]
    )
    undo: list[Fastener] = Field([], description="What holds it.", examples=[examples.FASTENERS])
    steps: list[Prose] = Field(
        [],
        description="Taking it off, one action a step.",
        examples=[["Lift the cover off its rubber feet."]],
    )
    refit_steps: list[Prose] = Field(
        [],
        description="Putting it back, one action a step.",
        examples=[["Press the cover on until it clicks."]],
    )
    cautions: list[Hazard] = Field(
        [], description="What can hurt here.", examples=[["hot-exhaust"]]
    )
    minutes: DurationText | None = Field(
        None, description="Time to take it off.", examples=["1 to 2 min"]
    )


class Pin(Part):
    """One terminal of a connector."""

    job: PinJob = Field(
        description="What it does; `pump` and `reference` are a wide-range sensor's two cells, "
        "`pump-return` what they share, `trim` the trimming resistor.",
        examples=["heater-supply"],
    )
    sensor_wire: Words | None = Field(
        None, description="Colour on the sensor's side, IEC 60757.", examples=["WH"]
    )
    harness_wire: Words | None = Field(
        None, description="Colour on the harness, IEC 60757.", examples=["RDBU"]
    )


class Connector(Part):
    """A connector, looking into the terminals of the sensor's half, and what they do."""

    rows: WholeNumber = Field(ge=1, le=6, description="Rows of terminals.", examples=[1])
    columns: WholeNumber = Field(ge=1, le=8, description="Columns of terminals.", examples=[4])
    latch: Latch = Field(description="The edge of that face with the latch.", examples=["top"])
    first: Corner = Field(
        Corner.TOP_LEFT, description="The corner where terminal 1 sits.", examples=["top-left"]
    )
    along: Along = Field(
        Along.ROWS, description="Numbers run along the rows or the columns.", examples=["rows"]
    )
    source: Name | None = Field(
        None, description="Source of the terminal numbers.", examples=["manual"]
    )
    pins: dict[WholeNumber, Pin] = Field(
        min_length=1, description="Terminals by number.", examples=[examples.PINS]
    )

    @property
    def as_face(self) -> ConnectorFace:
        """Its face as the trade computes with it."""
        return ConnectorFace(self.rows, self.columns, self.latch, self.first, self.along)


class Fuse(Part):
    """A fuse that feeds sensor heaters."""

    box: Words = Field(
        description="Which fuse box, and where it is.", examples=["in the engine bay, on the left"]
    )
    number: Words = Field(description="The fuse's number or letter in that box.", examples=["12"])
    rating: Stated[CurrentText] = Field(
        description="Its rating.", examples=["15 A", examples.RATING]
    )
    feeds: list[Words] = Field(
        [], description="What it feeds.", examples=[["heaters of both sensors"]]
    )
    corner: BayCorner | None = Field(
        None,
        description="The corner of the engine bay that its box stands in, for the drawing; left "
        "out where the box is elsewhere.",
        examples=["front-left"],
    )


class Likelihoods(Part):
    """How likely the causes of a symptom are on this vehicle, as weights against one another."""

    causes: dict[Name, DecimalNumber] = Field(
        min_length=1,
        description="Weight by cause; what is left out keeps its own.",
        examples=[examples.CAUSES],
    )
    source: Name | None = Field(
        None, description="The source, by its name under `sources`.", examples=["manual"]
    )


class DriveCycle(Part):
    """The vehicle's own cycle for its readiness monitors."""

    steps: list[Prose] = Field(
        min_length=1, description="One action a step.", examples=[examples.DRIVE_CYCLE["steps"]]
    )
    source: Name | None = Field(
        None, description="The source, by its name under `sources`.", examples=["manual"]
    )


def _format_number(value: Any) -> Any:
    return FORMAT if value == str(FORMAT) else value


class Profile(Part):
    """Everything the guides of one vehicle are made from."""

    format: Annotated[Literal[2], BeforeValidator(_format_number)] = Field(
        description="Version of this format: `2`.", examples=[2]
    )
    status: Status = Field(
        Status.PUBLISHED,
        description="As `draft`, while it is being written, its pages say what is missing.",
        examples=["draft"],
    )
    vehicle: Vehicle = Field(
        description="Which vehicle: make, model, years.", examples=[examples.VEHICLE]
    )
    engine: Engine = Field(description="Its engine and how it stands.", examples=[examples.ENGINE])
    steering: list[Wheel] = Field(
        min_length=1,
        description="On which sides the steering wheel was built, such as `[left, right]`.",
        examples=[["left", "right"]],
    )
    banks: dict[WholeNumber, Bank] = Field(
        min_length=1,
        max_length=MOST_BANKS,
        description="Banks by number, each with its cylinders.",
        examples=[examples.BANKS],
    )
    sources: dict[Name, Source] = Field(
        {}, description="Sources by name.", examples=[examples.SOURCES]
    )
    obstacles: dict[Name, Obstacle] = Field(
        {}, description="What is in the way, by name.", examples=[examples.OBSTACLES]
    )
    connectors: dict[Name, Connector] = Field(
        {}, description="Connectors by name.", examples=[examples.CONNECTORS]
    )
    fuses: dict[Name, Fuse] = Field({}, description="Fuses by name.", examples=[examples.FUSES])
    sensors: list[Sensor] = Field(
        min_length=1, description="The sensors, one entry each.", examples=[examples.SENSORS]
    )
    likelihoods: dict[Symptom, Likelihoods] = Field(
        {},
        description="Likelihoods of causes by symptom, where this vehicle differs.",
        examples=[examples.LIKELIHOODS],
    )
    drive_cycle: DriveCycle | None = Field(
        None, description="Its own readiness cycle.", examples=[examples.DRIVE_CYCLE]
    )
    guide: Guide = Field(
        Guide(),
        description="Who stands behind the guide, and where it is discussed.",
        examples=[examples.GUIDE],
    )
    photos: list[Photo] = Field(
        [],
        max_length=MOST_PHOTOS,
        description="Photos and drawings, each beside the step it belongs to.",
        examples=[examples.PHOTOS],
    )
    notes: list[Prose] = Field(
        [],
        description="Notes on the vehicle as a whole.",
        examples=[["Written on a car without air conditioning."]],
    )
    exceptions: list[Exempted] = Field(
        [],
        description="Warnings of the check that are wrong here, each with its reason.",
        examples=[examples.EXCEPTIONS],
    )

    @property
    def is_draft(self) -> bool:
        """Whether it is still being written."""
        return self.status is Status.DRAFT

    @property
    def engine_layout(self) -> place.Engine:
        """The engine as the trade computes with it."""
        engine = self.engine
        return place.Engine(engine.cylinders, engine.arrangement, engine.mounting, engine.bay)

    @property
    def bank_layout(self) -> tuple[place.Bank, ...]:
        """The banks as the trade computes with them."""
        return tuple(
            place.Bank(number, tuple(bank.cylinders), bank.side)
            for number, bank in self.banks.items()
        )

    @cached_property
    def under(self) -> dict[str, list[str]]:
        """For each obstacle, what lies on top of it."""
        return {name: obstacle.under for name, obstacle in self.obstacles.items()}

    def specifications(self) -> Iterator[tuple[Path, Stated[Any]]]:
        """Every specification of the profile with its path."""
        for name, obstacle in self.obstacles.items():
            for index, fastener in enumerate(obstacle.undo):
                if fastener.torque:
                    yield ("obstacles", name, "undo", index, "torque"), fastener.torque
        for name, fuse in self.fuses.items():
            yield ("fuses", name, "rating"), fuse.rating
        for index, sensor in enumerate(self.sensors):
            if sensor.cold_resistance:
                yield ("sensors", index, "heater", "resistance"), sensor.cold_resistance
            if sensor.torque:
                yield ("sensors", index, "torque"), sensor.torque

    def source_references(self) -> Iterator[tuple[Path, str]]:
        """Every source referred to, with the path of the reference."""
        for path, stated in self.specifications():
            if stated.source:
                yield (*path, "source"), stated.source
        for path, part in self._sourced_parts():
            if part is not None and part.source:
                yield (*path, "source"), part.source

    def _sourced_parts(
        self,
    ) -> Iterator[tuple[Path, Connector | Curve | Conductor | Likelihoods | DriveCycle | None]]:
        for name, connector in self.connectors.items():
            yield ("connectors", name), connector
        for index, sensor in enumerate(self.sensors):
            yield ("sensors", index, "curve"), sensor.curve
            yield ("sensors", index, "supply_wire"), sensor.supply_wire
        for symptom, likelihoods in self.likelihoods.items():
            yield ("likelihoods", symptom.value), likelihoods
        yield ("drive_cycle",), self.drive_cycle

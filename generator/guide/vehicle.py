"""One vehicle as its guide's pages see it: the profile, its addresses, and answers asked often."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from gettext import NullTranslations
from typing import Any

from generator.guide import choice, figures, words
from generator.guide.known_good import against_rule_of_thumb, element_of
from generator.profile.model import Obstacle, Profile
from generator.profile.part import Stated
from generator.profile.photo_file import PhotoFile
from generator.profile.sensor_model import Reach, Sensor
from generator.trade.access import removal_order
from generator.trade.hazard import Hazard
from generator.trade.heater import (
    RULE_OF_THUMB,
    RULE_OF_THUMB_REFERENCE_C,
    Element,
    ResistanceRange,
)
from generator.trade.torque import TorqueRange
from generator.trade.vehicle_codes import FittedSensor

GUIDES = "guides"
DATA = "data/v1"
STAGES = ("access", "test", "refit")


@dataclass(frozen=True, eq=False)
class Vehicle:
    """A profile with its slug, which is its place in the site, and the words to tell it in.

    A vehicle is equal to itself only, so what is asked often of one can be kept.
    """

    slug: str
    profile: Profile
    t: NullTranslations
    edit_href: str | None = None
    has_pocket: bool = False
    photos: Mapping[str, PhotoFile] = field(default_factory=dict)
    """Those of its photos that may be published, by the name of their file."""
    report_uri: str = ""

    @cached_property
    def name(self) -> str:
        """Make, model and engine."""
        vehicle = self.profile.vehicle
        return f"{vehicle.make} {vehicle.model} {self.profile.engine.name}"

    @cached_property
    def years(self) -> str:
        """The model years: ``2009–2014``, ``2009`` or ``2009 on``."""
        years = self.profile.vehicle.years
        if years.last is None:
            return self.t.gettext("%(year)s on") % {"year": years.first}
        return figures.span(str(years.first), str(years.last), self.t)

    @property
    def titled(self) -> str:
        """Name and model years as a heading says them: the years stay on one line."""
        return f"{self.name}, {figures.unbroken(self.years)}"

    @cached_property
    def sensors(self) -> list[Sensor]:
        """The sensors by bank and position."""
        return sorted(self.profile.sensors, key=lambda each: (each.bank, each.position))

    @cached_property
    def sources(self) -> tuple[str, ...]:
        """The sources of this vehicle, each in one line, in the order of the profile."""
        return tuple(words.source(source, self.t) for source in self.profile.sources.values())

    def source(self, stated: Stated[Any] | None) -> str:
        """Where a specification comes from, in one line; empty where that is not stated."""
        if stated is None or stated.source is None:
            return ""
        return words.source(self.profile.sources[stated.source], self.t)

    def mark(self, stated: Stated[Any]) -> str:
        """The number under which a page lists a specification's source: ``[2]``."""
        if stated.source is None:
            return self.t.gettext("(source not stated)")
        return f"[{list(self.profile.sources).index(stated.source) + 1}]"

    def obstacles(self, sensor: Sensor) -> list[Obstacle]:
        """What comes off to get at a sensor, in the order in which it comes off."""
        return self._obstacles[sensor.bank, sensor.position]

    @cached_property
    def _obstacles(self) -> dict[tuple[int, int], list[Obstacle]]:
        under = self.profile.under
        return {
            (sensor.bank, sensor.position): [
                self.profile.obstacles[name] for name in removal_order(sensor.behind, under)
            ]
            for sensor in self.profile.sensors
        }

    def heater(self, sensor: Sensor) -> ColdHeater | None:
        """What a sensor's cold heater should read, or None for a sensor that has none."""
        return self._heaters[sensor.bank, sensor.position]

    @cached_property
    def _heaters(self) -> dict[tuple[int, int], ColdHeater | None]:
        return {(each.bank, each.position): cold_heater(each) for each in self.profile.sensors}

    def called(self, sensor: Sensor) -> str:
        """A sensor by bank and position."""
        return self._called[sensor.bank, sensor.position]

    @cached_property
    def _called(self) -> dict[tuple[int, int], str]:
        return {(each.bank, each.position): self._call(each) for each in self.profile.sensors}

    def _call(self, sensor: Sensor) -> str:
        bank = self.t.gettext("Bank %(bank)s,") % {"bank": sensor.bank}
        position = self.t.gettext("position %(position)s") % {"position": sensor.position}
        return f"{figures.unbroken(bank)} {figures.unbroken(position)}"

    def located(self, sensor: Sensor) -> str:
        """What a sensor is and where it sits, in one line."""
        return self._located[sensor.bank, sensor.position]

    @cached_property
    def _located(self) -> dict[tuple[int, int], str]:
        return {(each.bank, each.position): self._locate(each) for each in self.profile.sensors}

    def _locate(self, sensor: Sensor) -> str:
        kind = words.sensor_kind(sensor.kind, self.t)
        catalysts = self.profile.banks[sensor.bank].catalysts
        along = words.along_exhaust(sensor.position, self.t, catalysts)
        return choice.by_wheel(
            self.profile.steering,
            lambda steering: (
                f"{kind}: {words.bank_place(self.profile, sensor.bank, self.t, steering)}, {along}"
            ),
        )


def page_path(slug: str, sensor: Sensor | None = None, stage: str = "") -> str:
    """Where a page of a vehicle stands in the site; without a sensor, its overview."""
    return f"{GUIDES}/{slug}/{page_file(sensor, stage)}"


def page_file(sensor: Sensor | FittedSensor | None = None, stage: str = "") -> str:
    """A page's file name inside its vehicle's folder: ``bank-1-position-1-test.html``."""
    if sensor is None:
        return f"{stage}.html" if stage else "index.html"
    return f"bank-{sensor.bank}-position-{sensor.position}-{stage}.html"


def pocket_path(slug: str) -> str:
    """The path, relative to the site's root, of a vehicle's one-file copy."""
    return f"pocket/{slug}.html"


def data_path(slug: str) -> str:
    """The path, relative to the site's root, of a vehicle's file of data; two names are taken."""
    return f"{DATA}/{slug}{'_' if slug in ('vehicles', 'schema') else ''}.json"


def make_file(slug: str) -> str:
    """The file name, inside the guides' folder, of the page that lists one make's vehicles."""
    return f"make-{slug}.html"


def hazards_on_the_way(vehicle: Vehicle, sensor: Sensor) -> list[Hazard]:
    """What can hurt before anything is undone: the vehicle, heat, this sensor, the way in."""
    found = [*vehicle.profile.vehicle.hazards, Hazard.HOT_EXHAUST, *sensor.cautions]
    if sensor.place.reach is Reach.BELOW:
        found.append(Hazard.UNDER_VEHICLE)
    return found


@dataclass(frozen=True, slots=True)
class ColdHeater:
    """What a sensor's cold heater should read: a specification, or None for what stands in for it.

    ``measured`` are the readings of sensors known to work, where there is no specification and
    they contradict the rule of thumb.
    """

    specified: ResistanceRange | None
    reference_c: float
    element: Element
    measured: ResistanceRange | None = None

    @property
    def expected(self) -> ResistanceRange:
        """What to expect at the reference temperature, whatever it rests on."""
        return self.specified or self.measured or RULE_OF_THUMB


def cold_heater(sensor: Sensor) -> ColdHeater | None:
    """The heater of a sensor, or None for a sensor that has none."""
    if not sensor.is_heated:
        return None
    element = element_of(sensor)
    stated = sensor.cold_resistance
    if stated is None:
        measured = against_rule_of_thumb(sensor)
        return ColdHeater(None, RULE_OF_THUMB_REFERENCE_C, element, measured)
    value = ResistanceRange(stated.value.low_ohm, stated.value.high_ohm)
    return ColdHeater(value, stated.at.low_c, element)


def torque_range(stated: Stated[Any]) -> TorqueRange:
    """A stated torque as the trade computes with it."""
    value = stated.value
    return TorqueRange(value.low_nm, value.high_nm)


def job_torques_nm(vehicle: Vehicle, sensor: Sensor) -> list[float]:
    """Every torque met in putting a sensor and what was in its way back, low and high ends."""
    stated: Iterable[Stated[Any] | None] = [
        sensor.torque,
        *(each.torque for obstacle in vehicle.obstacles(sensor) for each in obstacle.undo),
    ]
    ranges = [torque_range(each) for each in stated if each]
    return [end for each in ranges for end in (each.low_nm, each.high_nm)]

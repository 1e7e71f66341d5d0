"""What to check first on one sensor of a vehicle: the computed order, in words and with links."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import words
from generator.guide.check_words import cause_words, check_words, reason_words
from generator.guide.vehicle import Vehicle, page_file
from generator.profile.model import Sensor
from generator.trade.access import removal_order
from generator.trade.default_checks import (
    UNTIMED_OBSTACLE_MIN,
    UNTIMED_SENSOR_MIN,
    CheckName,
    FirstChecks,
    first_checks_for,
)
from generator.trade.first_checks import Cause, Step
from generator.trade.likely_causes import Symptom


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One check: what to do and where it is told, its minutes, what it finds, why it is here."""

    text: str
    href: str | None
    minutes: str
    finds: str
    why: str


@dataclass(frozen=True, slots=True)
class CheckOrder:
    """The checks in the order with the least expected minutes, and what it is measured against."""

    rows: tuple[CheckRow, ...]
    average: str
    basis: str


@dataclass(frozen=True, slots=True)
class WayIn:
    """The minutes to clear the way to some sensors, and whether a part of them is a guess."""

    minutes: float
    has_untimed: bool


def way_in(vehicle: Vehicle, sensors: Sequence[Sensor]) -> WayIn:
    """Everything in front of some sensors, each thing once, at the middle of its stated time."""
    wanted = [name for sensor in sensors for name in sensor.behind]
    profile = vehicle.profile
    spent = [profile.obstacles[name].minutes for name in removal_order(wanted, profile.under)]
    timed = [(each.low_min + each.high_min) / 2 for each in spent if each]
    untimed = len(spent) - len(timed)
    return WayIn(sum(timed) + untimed * UNTIMED_OBSTACLE_MIN, untimed > 0)


def check_order(vehicle: Vehicle, symptom: Symptom, sensors: Sequence[Sensor]) -> CheckOrder:
    """What to check first for a symptom of one sensor, or of two that may be exchanged."""
    sensor = sensors[0]
    stated = vehicle.profile.likelihoods.get(symptom)
    own = stated and tuple(Cause(name, weight) for name, weight in sorted(stated.causes.items()))
    source = stated and stated.source
    order = _order(
        vehicle.t,
        symptom,
        round(way_in(vehicle, sensors).minutes, 1),
        _fitting_minutes(sensor),
        all(each.is_heated for each in sensors),
        own or (),
        _Links(
            page_file(sensor, "access"),
            page_file(sensor, "test"),
            page_file(sensor, "refit"),
            has_fuse=sensor.fuse is not None,
            has_face=sensor.connector is not None,
        ),
    )
    if own is None:
        return order
    told = vehicle.t.gettext("source not stated")
    if source:
        told = words.source(vehicle.profile.sources[source], vehicle.t)
    basis = vehicle.t.gettext("Likelihoods stated for this vehicle: %(source)s.")
    return CheckOrder(order.rows, order.average, basis % {"source": told})


def _fitting_minutes(sensor: Sensor) -> float:
    """Out, and as long again for the new one to go in."""
    if sensor.minutes is None:
        return 2 * UNTIMED_SENSOR_MIN
    return sensor.minutes.low_min + sensor.minutes.high_min


@dataclass(frozen=True, slots=True)
class _Links:
    """A sensor's pages, and which sections its test page has."""

    access: str
    test: str
    refit: str
    has_fuse: bool
    has_face: bool


@lru_cache(maxsize=4096)
def _order(
    t: NullTranslations,
    symptom: Symptom,
    way_in_minutes: float,
    fitting_minutes: float,
    is_heated: bool,
    own: tuple[Cause, ...],
    links: _Links,
) -> CheckOrder:
    """The order in words; sensors of many vehicles share it."""
    found = first_checks_for(symptom, way_in_minutes, fitting_minutes, is_heated, own)
    ruled_out = frozenset[str]()
    rows = []
    for step in found.plan.steps:
        rows.append(_row(t, step, ruled_out, _href(links, CheckName(step.check.name))))
        ruled_out |= step.check.reveals
    return CheckOrder(tuple(rows), _average(t, found), "")


def _row(t: NullTranslations, step: Step, ruled_out: frozenset[str], href: str | None) -> CheckRow:
    _ = t.gettext
    causes = cause_words(t)
    way_in_minutes = step.minutes - step.check.minutes
    minutes = _("%(minutes)s min") % {"minutes": round(step.minutes)}
    if round(way_in_minutes) > 0:
        minutes = _("%(minutes)s min, %(way_in)s of them to get there") % {
            "minutes": round(step.minutes),
            "way_in": round(way_in_minutes),
        }
    return CheckRow(
        text=check_words(t)[CheckName(step.check.name)],
        href=href,
        minutes=minutes,
        finds=_("%(causes)s: %(chance)s in 100")
        % {
            "causes": ", ".join(causes[name] for name in sorted(step.check.reveals - ruled_out)),
            "chance": round(100 * step.chance_found) or _("under 1"),
        },
        why=reason_words(t)[step.reason],
    )


def _average(t: NullTranslations, found: FirstChecks) -> str:
    """The mean minutes to the cause, against two other ways of going about it."""
    _ = t.gettext
    best, quickest, new = (
        round(each)
        for each in (
            found.plan.expected_minutes,
            found.quickest_first_minutes,
            found.new_sensor_minutes,
        )
    )
    if quickest == best:
        return _("On average %(best)s min to the cause; with a new sensor at once, %(new)s.") % {
            "best": best,
            "new": new,
        }
    return _(
        "On average %(best)s min to the cause; the quickest check first, %(quickest)s; with a new "
        "sensor at once, %(new)s."
    ) % {"best": best, "quickest": quickest, "new": new}


def _href(links: _Links, check: CheckName) -> str | None:
    """The section of the access, test or refit page that tells how, where there is one."""
    plug = f"{links.access}#connector"
    live_data = f"{links.test}#live-data"
    supply = f"{links.test}#supply"
    return {
        CheckName.LIVE_DATA: live_data,
        CheckName.COLD_START: live_data,
        CheckName.TRIMS_AND_AIR_METER: live_data,
        CheckName.FUSE: f"{links.test}#fuse" if links.has_fuse else supply,
        CheckName.HEATER_RESISTANCE: links.test,
        CheckName.SUPPLY_LAMP: supply,
        CheckName.HEATER_CONTROL: supply,
        CheckName.WIRE_THROUGH: f"{links.test}#terminals" if links.has_face else plug,
        CheckName.LOOK_AT_WIRING: plug,
        CheckName.WIGGLE: plug,
        CheckName.UNPLUG_AND_WATCH: plug,
        CheckName.TIP: f"{links.access}#tip",
        CheckName.SENSOR_TIGHT: links.refit,
        CheckName.EXHAUST_LEAK: f"{links.refit}#proof",
    }.get(check)

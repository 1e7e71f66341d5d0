"""What to check first on one sensor of a vehicle: the computed order, in words and with links."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.guide import words
from generator.guide.check_words import cause_words, check_words, reason_words
from generator.guide.vehicle import Vehicle, page_file
from generator.profile.model import Likelihoods
from generator.profile.sensor_model import Sensor
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
class Job:
    """The work on one sensor, or on two that may be exchanged, as far as checks depend on it.

    Minutes are whole ones: they rest on the middle of what a profile states as a range.
    """

    way_in_minutes: int
    has_untimed: bool
    is_open: bool
    fitting_minutes: int
    is_heated: bool
    links: _Links


@dataclass(frozen=True, slots=True)
class _Links:
    """A sensor's pages, and which sections its test page has."""

    access: str
    test: str
    refit: str
    has_fuse: bool
    has_face: bool


def job_on(vehicle: Vehicle, sensors: Sequence[Sensor]) -> Job:
    """The work on some sensors: what is in front of them comes off once."""
    profile, sensor = vehicle.profile, sensors[0]
    wanted = list(dict.fromkeys(name for each in sensors for name in each.behind))
    spent = [profile.obstacles[name].minutes for name in removal_order(wanted, profile.under)]
    timed = [(each.low_min + each.high_min) / 2 for each in spent if each]
    untimed = len(spent) - len(timed)
    return Job(
        way_in_minutes=round(sum(timed) + untimed * UNTIMED_OBSTACLE_MIN),
        has_untimed=untimed > 0,
        is_open=not spent,
        fitting_minutes=_fitting_minutes(sensor),
        is_heated=all(each.is_heated for each in sensors),
        links=_links(sensor),
    )


def _fitting_minutes(sensor: Sensor) -> int:
    """Out, and as long again for the new one to go in."""
    if sensor.minutes is None:
        return round(2 * UNTIMED_SENSOR_MIN)
    return round(sensor.minutes.low_min + sensor.minutes.high_min)


def _links(sensor: Sensor) -> _Links:
    return _Links(
        page_file(sensor, "access"),
        page_file(sensor, "test"),
        page_file(sensor, "refit"),
        has_fuse=sensor.fuse is not None,
        has_face=sensor.connector is not None,
    )


def check_order(vehicle: Vehicle, job: Job, symptom: Symptom) -> CheckOrder:
    """What to check first for a symptom, with a vehicle's own likelihoods where it states some."""
    own: tuple[Cause, ...] = ()
    basis = ""
    stated = vehicle.profile.likelihoods.get(symptom)
    if stated:
        own = tuple(Cause(name, weight) for name, weight in sorted(stated.causes.items()))
        basis = _basis(vehicle, stated)
    found = first_checks_for(symptom, job.way_in_minutes, job.is_heated, own)
    rows = _rows(vehicle.t, found, job.links)
    return CheckOrder(rows, _average(vehicle.t, found, job.fitting_minutes), basis)


def _basis(vehicle: Vehicle, stated: Likelihoods) -> str:
    _ = vehicle.t.gettext
    source = _("source not stated")
    if stated.source:
        source = words.source(vehicle.profile.sources[stated.source], vehicle.t)
    return _("Likelihoods stated for this vehicle: %(source)s.") % {"source": source}


@lru_cache(maxsize=4096)
def _rows(t: NullTranslations, found: FirstChecks, links: _Links) -> tuple[CheckRow, ...]:
    """The order in words; sensors of many vehicles share it."""
    ruled_out = frozenset[str]()
    rows = []
    for step in found.plan.steps:
        rows.append(_row(t, step, ruled_out, _href(links, CheckName(step.check.name))))
        ruled_out |= step.check.reveals
    return tuple(rows)


def _row(t: NullTranslations, step: Step, ruled_out: frozenset[str], href: str | None) -> CheckRow:
    _ = t.gettext
    causes = cause_words(t)
    way_in_minutes = step.minutes - step.check.minutes
    minutes = _("%(minutes)s min")
    if round(way_in_minutes) > 0:
        minutes = _("%(minutes)s min, %(way_in)s of them to get there")
    return CheckRow(
        text=check_words(t)[CheckName(step.check.name)],
        href=href,
        minutes=minutes % {"minutes": round(step.minutes), "way_in": round(way_in_minutes)},
        finds=_("Finds it in %(chance)s of 100: %(causes)s.")
        % {
            "chance": round(100 * step.chance_found) or _("under 1"),
            "causes": ", ".join(causes[name] for name in sorted(step.check.reveals - ruled_out)),
        },
        why=_("Here because: %(reason)s.") % {"reason": reason_words(t)[step.reason]},
    )


def _average(t: NullTranslations, found: FirstChecks, fitting_minutes: int) -> str:
    """The mean minutes to the cause, against two other ways of going about it."""
    _ = t.gettext
    best, quickest, new = (
        round(each)
        for each in (
            found.plan.expected_minutes,
            found.quickest_first_minutes,
            found.new_sensor_minutes(fitting_minutes),
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
    # The top of the page: what can hurt and what comes off stand before the plug and the tip
    plug = links.access
    live_data = f"{links.test}#live-data"
    supply = f"{links.test}#supply"
    return {
        CheckName.LIVE_DATA: live_data,
        CheckName.COLD_START: live_data,
        CheckName.BOTH_SIGNALS: live_data,
        CheckName.TRIMS_AND_AIR_METER: live_data,
        CheckName.FUSE: f"{links.test}#fuse" if links.has_fuse else supply,
        CheckName.HEATER_RESISTANCE: links.test,
        CheckName.SUPPLY_LAMP: supply,
        CheckName.HEATER_CONTROL: supply,
        CheckName.WIRE_THROUGH: f"{links.test}#terminals" if links.has_face else plug,
        CheckName.LOOK_AT_WIRING: plug,
        CheckName.WIGGLE: plug,
        CheckName.UNPLUG_AND_WATCH: plug,
        CheckName.TIP: links.access,
        CheckName.SENSOR_TIGHT: links.refit,
        CheckName.EXHAUST_LEAK: f"{links.refit}#proof",
    }.get(check)

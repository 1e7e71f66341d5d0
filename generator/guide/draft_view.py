"""What a draft still misses, and what each missing value would bring to its pages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from gettext import NullTranslations

from generator.guide.vehicle import Vehicle
from generator.profile.completeness import Lack, Missing, missing


@dataclass(frozen=True, slots=True)
class MissingGroup:
    """What is missing of one sensor, of one thing in the way, or of the vehicle.

    ``rows`` are pairs: what is missing, and what it would bring.
    """

    title: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class DraftView:
    """What the overview of a draft says of its gaps."""

    lead: str
    groups: tuple[MissingGroup, ...]


def draft_view(vehicle: Vehicle) -> DraftView | None:
    """What a draft still misses; None for a profile that is published."""
    if not vehicle.profile.is_draft:
        return None
    _ = vehicle.t.gettext
    groups = missing_groups(vehicle)
    lead = _("Whoever has one of these values at hand can send it in.")
    return DraftView(lead if groups else _("Every value that a page waits for is there."), groups)


def draft_notice(vehicle: Vehicle) -> str:
    """What every page of a draft says of it; empty for a profile that is published."""
    if not vehicle.profile.is_draft:
        return ""
    return vehicle.t.gettext("This guide is still being written: values may be wrong or missing.")


def missing_groups(vehicle: Vehicle) -> tuple[MissingGroup, ...]:
    """What a profile does not state, under what it belongs to."""
    told = _words(vehicle.t)
    groups: dict[str, dict[str, str]] = {}
    for each in missing(vehicle.profile):
        # Two bolts of one part without a torque are one row
        what, brings = told[each.lack]
        groups.setdefault(_title(vehicle, each), {})[what] = brings
    return tuple(MissingGroup(title, tuple(rows.items())) for title, rows in groups.items())


def _title(vehicle: Vehicle, each: Missing) -> str:
    if each.sensor:
        return vehicle.called(each.sensor)
    if each.obstacle:
        return each.obstacle.name[:1].upper() + each.obstacle.name[1:]
    return vehicle.t.gettext("The vehicle")


def _words(t: NullTranslations) -> Mapping[Lack, tuple[str, str]]:
    _ = t.gettext
    return {
        Lack.COLD_RESISTANCE: (
            _("Cold resistance of the heater"),
            _("the range for today's temperature on its test page, in place of a rule of thumb"),
        ),
        Lack.CONNECTOR: (
            _("Connector"),
            _("where it hangs, its drawing, and which terminals to touch, on its test page"),
        ),
        Lack.WIRE_COLOURS: (
            _("Wire colours of the connector"),
            _("the colours beside the terminals on its test page"),
        ),
        Lack.FUSE: (
            _("Fuse of the heater"),
            _("which fuse to look at, and its load, on its test page and in the overview"),
        ),
        Lack.CURVE: (
            _("Pump current over lambda"),
            _("how many mA at which lambda, with a chart, on its test page"),
        ),
        Lack.TORQUE: (_("Torque of the sensor"), _("the torque in every unit on its refit page")),
        Lack.THREAD_STATE: (
            _("Thread state that the torque is for"),
            _("whether the torque is for a dry thread or one with compound, on its refit page"),
        ),
        Lack.THREAD: (_("Thread of the sensor"), _("the thread on its access page")),
        Lack.HEX: (
            _("Hex of the sensor"),
            _("the size of the slotted socket in its list of tools"),
        ),
        Lack.MINUTES: (
            _("Minutes to unscrew the sensor"),
            _("the time of the whole job on its access page and in the plan"),
        ),
        Lack.OBSTACLE_STEPS: (
            _("Steps to take it off"),
            _("its steps on the access page, in place of one general sentence"),
        ),
        Lack.OBSTACLE_MINUTES: (
            _("Minutes to take it off"),
            _("the time of every job that it is in the way of"),
        ),
        Lack.FASTENER_SIZE: (
            _("Size across flats of what holds it"),
            _("the socket in the list of tools"),
        ),
        Lack.FASTENER_TORQUE: (
            _("Torque of what holds it"),
            _("the torque for putting it back on the refit page"),
        ),
        Lack.DRIVE_CYCLE: (
            _("Readiness cycle"),
            _("the vehicle's own cycle on the refit pages, in place of the common one"),
        ),
        Lack.CHECKED_ON: (
            _("Date of the last check on a vehicle"),
            _("how fresh the guide is, in the overview"),
        ),
        Lack.CONFIRMED_BY: (
            _("A second person who did the job by it"),
            _("the overview no longer warns that nobody has confirmed it"),
        ),
    }

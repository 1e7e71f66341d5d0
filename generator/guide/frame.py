"""The frame of a vehicle's pages: breadcrumbs, stages of the job, previous and next."""

from __future__ import annotations

from functools import lru_cache
from gettext import NullTranslations

from generator.guide import choice
from generator.guide.draft_view import draft_notice
from generator.guide.page import Frame, Stage, Turn
from generator.guide.report import report_href
from generator.guide.vehicle import (
    STAGES,
    Vehicle,
    make_file,
    page_file,
    page_path,
    pocket_path,
    torque_range,
)
from generator.profile.sensor_model import Sensor

Spot = tuple[Sensor | None, str]
"""One page of a vehicle: a sensor and a stage. (None, "") is the overview, (None, "codes") the
fault codes."""


def frame(
    vehicle: Vehicle, spot: Spot, description: str, make_slug: str, linked_data: str = ""
) -> Frame:
    """The frame of one page of a vehicle."""
    _ = vehicle.t.gettext
    sensor, stage = spot
    trail: list[tuple[str, str | None]] = [
        (_("Guides"), "../index.html"),
        (vehicle.profile.vehicle.make, f"../{make_file(make_slug)}"),
    ]
    if sensor is not None or stage:
        trail.append((vehicle.titled, page_file()))
    before, after = _neighbours(vehicle, spot)
    return Frame(
        title=_title(vehicle, spot),
        description=description,
        breadcrumbs=tuple(trail),
        previous=_turn(vehicle, before, _("Before")) if before else None,
        next=_turn(vehicle, after, _("Next")) if after else None,
        edit_href=vehicle.edit_href,
        report_href=_report_href(vehicle, spot),
        sources=vehicle.sources,
        slug=vehicle.slug,
        pocket_href=f"../../{pocket_path(vehicle.slug)}" if vehicle.has_pocket else None,
        draft=draft_notice(vehicle),
        unconfirmed=unconfirmed(vehicle) if sensor or stage else "",
        linked_data=linked_data,
        about=f"{vehicle.name}, {vehicle.years}" if sensor else "",
    )


def unconfirmed(vehicle: Vehicle) -> str:
    """The notice on a guide that no second person has confirmed; empty on one that is."""
    if vehicle.profile.guide.confirmed_by:
        return ""
    return vehicle.t.gettext(
        "No second person has confirmed this guide on a vehicle yet: take nothing in it on trust."
    )


def stages(vehicle: Vehicle, sensor: Sensor) -> tuple[Stage, ...]:
    """The stages of the job on one sensor, each with its truth in one line; none is current."""
    names = stage_names(vehicle)
    truths = {
        "access": _access_truth(vehicle, sensor),
        "test": _test_truth(vehicle, sensor),
        "refit": refit_truth(vehicle, sensor),
    }
    return tuple(
        Stage(names[stage], truths[stage], page_file(sensor, stage), current=False)
        for stage in STAGES
    )


def at_stage(all_stages: tuple[Stage, ...], stage: str) -> tuple[Stage, ...]:
    """The stages with one of them current, or none on a page beside them."""
    return tuple(
        Stage(each.name, each.truth, each.href, current=True) if name == stage else each
        for name, each in zip(STAGES, all_stages, strict=True)
    )


def stage_names(vehicle: Vehicle) -> dict[str, str]:
    """What the stages, and the pages beside them, are called."""
    return _stage_names(vehicle.t)


@lru_cache
def _stage_names(t: NullTranslations) -> dict[str, str]:
    _ = t.gettext
    return {
        "access": _("Access"),
        "test": _("Test"),
        "refit": _("Refit"),
        "bench": _("Bench sheet"),
        "codes": _("Fault codes"),
    }


def stage_titles(vehicle: Vehicle) -> dict[str, str]:
    """The same, as they stand behind a colon."""
    return _stage_titles(vehicle.t)


@lru_cache
def _stage_titles(t: NullTranslations) -> dict[str, str]:
    _ = t.gettext
    return {
        "access": _("access"),
        "test": _("test"),
        "refit": _("refit"),
        "bench": _("bench sheet"),
        "codes": _("fault codes"),
    }


def _access_truth(vehicle: Vehicle, sensor: Sensor) -> str:
    obstacles = vehicle.obstacles(sensor)
    parts = vehicle.t.ngettext(
        "%(count)s part in the way", "%(count)s parts in the way", len(obstacles)
    ) % {"count": len(obstacles)}
    return parts if obstacles else vehicle.t.gettext("nothing in the way")


def _test_truth(vehicle: Vehicle, sensor: Sensor) -> str:
    _ = vehicle.t.gettext
    return _("heater, supply, live data") if sensor.is_heated else _("live data")


def refit_truth(vehicle: Vehicle, sensor: Sensor) -> str:
    """The torque of a sensor, or that it is not stated."""
    if sensor.torque is None:
        return vehicle.t.gettext("torque not stated")
    return choice.torque_text(torque_range(sensor.torque), vehicle.t)


def _report_href(vehicle: Vehicle, spot: Spot) -> str:
    if not vehicle.report_uri:
        return ""
    sensor, stage = spot
    return report_href(
        vehicle.report_uri,
        f"{vehicle.name}, {vehicle.years}",
        _title(vehicle, spot) if sensor or stage else vehicle.t.gettext("Overview"),
        page_path(vehicle.slug, sensor, stage),
        vehicle.t,
    )


def _title(vehicle: Vehicle, spot: Spot) -> str:
    sensor, stage = spot
    if sensor is None:
        name = vehicle.titled
        return f"{name}: {stage_titles(vehicle)[stage]}" if stage else name
    return f"{vehicle.called(sensor)}: {stage_titles(vehicle)[stage]}"


def _neighbours(vehicle: Vehicle, spot: Spot) -> tuple[Spot | None, Spot | None]:
    order = _order(vehicle)
    at = next((index for index, each in enumerate(order) if _is_same(each, spot)), None)
    if at is None:
        return _beside(vehicle, spot)
    return (
        order[at - 1] if at else None,
        order[at + 1] if at + 1 < len(order) else None,
    )


@lru_cache(maxsize=1)
def _order(vehicle: Vehicle) -> list[Spot]:
    return [(None, ""), *((sensor, stage) for sensor in vehicle.sensors for stage in STAGES)]


def _is_same(one: Spot, other: Spot) -> bool:
    # By identity: comparing two profiles' parts value by value costs more than the whole page
    return one[1] == other[1] and one[0] is other[0]


def _beside(vehicle: Vehicle, spot: Spot) -> tuple[Spot, Spot]:
    """The way on from a page that is no stage: codes from the overview, bench sheet in test."""
    sensor, _stage = spot
    if sensor is None:
        return (None, ""), (vehicle.sensors[0], STAGES[0])
    return (sensor, "test"), (sensor, "refit")


def _turn(vehicle: Vehicle, spot: Spot, label: str) -> Turn:
    sensor, stage = spot
    title = _title(vehicle, spot) if sensor else vehicle.t.gettext("Overview")
    return Turn(label, title, page_file(sensor, stage))

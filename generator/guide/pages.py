"""All pages of one vehicle."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from generator.guide.access_page import access
from generator.guide.bench_page import bench
from generator.guide.catalogue import make_slug
from generator.guide.codes_page import codes
from generator.guide.frame import at_stage, frame, stages
from generator.guide.linked_data import how_to
from generator.guide.overview_page import overview
from generator.guide.page import Page
from generator.guide.refit_page import refit
from generator.guide.test_page import test
from generator.guide.vehicle import Vehicle, page_path
from generator.profile.sensor_model import Sensor

_STAGE_VIEWS: dict[str, Callable[[Vehicle, Sensor], Any]] = {
    "access": access,
    "test": test,
    "refit": refit,
    "bench": bench,
}


def vehicle_pages(vehicle: Vehicle) -> Iterator[Page]:
    """Every page of a vehicle: its overview, then access, test, refit and bench sheet of each."""
    _ = vehicle.t.gettext
    make = make_slug(vehicle.profile.vehicle.make)
    lead = _("Where its banks and sensors are, and how to get at, test and refit each.")
    yield Page(
        page_path(vehicle.slug),
        "guide/overview.html",
        frame(vehicle, (None, ""), lead, make),
        overview(vehicle),
    )
    lead = _("Which sensor each code names, what it is not, and what to check first.")
    yield Page(
        page_path(vehicle.slug, stage="codes"),
        "guide/codes.html",
        frame(vehicle, (None, "codes"), lead, make),
        codes(vehicle),
    )
    for sensor in vehicle.sensors:
        located, all_stages = vehicle.located(sensor), stages(vehicle, sensor)
        for stage, view_of in _STAGE_VIEWS.items():
            view = view_of(vehicle, sensor)
            linked = how_to(vehicle, sensor, stage, view)
            yield Page(
                page_path(vehicle.slug, sensor, stage),
                f"guide/{stage}.html",
                frame(vehicle, (sensor, stage), located, make, linked),
                view,
                at_stage(all_stages, stage),
            )

"""The look of a tip: its cause and its cure, before a new sensor goes in."""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from typing import Any

from generator.guide.fouling_view import fouling_view
from generator.guide.refit_page import refit
from generator.guide.vehicle import Vehicle, page_file
from generator.trade.fouling import FOULING, Look

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]
VIEW = fouling_view(NullTranslations())


def text(element: Any) -> str:
    return " ".join("".join(element.itertext()).split())


def test_every_look_has_its_cause_and_its_cure() -> None:
    told = {look.lower(): (cause, cure) for look, cause, cure in VIEW.rows}
    assert set(told) == {look.value for look in Look}
    for look, found in FOULING.items():
        cause, cure = told[look.value]
        assert cause.lower() == found.cause
        assert cure.lower().startswith(found.cure_first.lower())
        assert ("comes clean by itself" in cure) is found.sensor_recovers


def test_a_clean_tip_points_at_nothing() -> None:
    cause, cure = next(row[1:] for row in VIEW.rows if row[0].lower() == Look.CLEAN.value)
    assert cause.startswith("Nothing")
    assert "worn out" in cause
    assert cure == "–"


def test_every_cause_has_checks_to_confirm_it() -> None:
    checks = dict(VIEW.confirm)
    assert [cause for _, cause, _ in VIEW.rows[:-1]] == list(checks)
    for found in FOULING.values():
        said = checks[found.cause[:1].upper() + found.cause[1:]]
        assert all(check.lower() in said.lower() for check in found.confirm)


def test_every_access_page_says_it_once_the_sensor_is_out(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            page = page_of(vehicle, page_file(sensor, "access"))
            (section,) = (each for each in page.iter("section") if each.get("id") == "tip")
            told = text(section)
            for word in ("White, like a glaze", "Common practice, no source", "never proof"):
                assert word in told
            body = text(page.find("body"))
            assert body.index("Look at the tip before you wipe it") < body.index(told)


def test_the_cause_is_cured_before_the_new_sensor_goes_in(small: Small, page_of: PageOf) -> None:
    vehicle = small()
    (sensor,) = vehicle.sensors
    steps = [step.text for step in refit(vehicle, sensor).sensor_in]
    assert "Cure what fouled it first" in steps[0]
    assert steps[1].startswith("New sensor")
    page = page_of(vehicle, page_file(sensor, "refit"))
    (href,) = (each.get("href") for each in page.iter("a") if "old tip" in text(each))
    file, _, anchor = href.partition("#")
    target = page_of(vehicle, file)
    assert [each.get("id") for each in target.iter("section")].count(anchor) == 1


def test_the_vehicles_own_cycle_outranks_the_pattern(small: Small, page_of: PageOf) -> None:
    steps = ["Start below 30 °C and idle for 3 minutes.", "Cruise at 80 km/h for 10 minutes."]
    own = small(
        {
            "sources": {"book": {"title": "Brae workshop literature", "kind": "maker"}},
            "drive_cycle": {"steps": steps, "source": "book"},
        }
    )
    view = refit(own, own.sensors[0])
    assert [step.text for step in view.readiness[:-1]] == steps
    assert "Read the monitors" in view.readiness[-1].text
    assert "common practice" not in view.readiness_basis
    assert "outrank" in view.readiness_basis, "its literature still does"
    assert view.readiness_source == "Brae workshop literature"
    page = page_of(own, page_file(own.sensors[0], "refit"))
    assert "Cold start, after a night outdoors" not in text(page.find("body"))


def test_without_its_own_cycle_the_pattern_is_called_one(small: Small) -> None:
    view = refit(vehicle := small(), vehicle.sensors[0])
    assert "common practice, no source" in view.readiness_basis
    assert "the vehicle's own cycle" in view.readiness_basis
    assert view.readiness_source is None
    assert len(view.readiness) == 5


def test_a_cycle_without_a_source_says_so(small: Small, page_of: PageOf) -> None:
    vehicle = small({"drive_cycle": {"steps": ["Drive."]}})
    assert refit(vehicle, vehicle.sensors[0]).readiness_source == ""
    page = page_of(vehicle, page_file(vehicle.sensors[0], "refit"))
    assert "source not stated" in [text(each) for each in page.iter("small")]

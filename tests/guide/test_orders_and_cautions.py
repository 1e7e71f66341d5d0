"""What comes off first, what goes back last, and what can hurt: once, and before its step."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest

from generator.guide.access_page import access
from generator.guide.cautions import sentences
from generator.guide.refit_page import refit
from generator.guide.test_page import test as heater_test
from generator.guide.vehicle import Vehicle, hazards_on_the_way, page_file
from generator.trade.hazard import Hazard

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]

CARROW = "fenwright-carrow-3-2-v6"


def obstacles_named(view: Any) -> list[str]:
    return [each.name for each in view.obstacles]


def test_what_lies_on_top_comes_off_first(demo: dict[str, Vehicle]) -> None:
    carrow = demo[CARROW]
    off = obstacles_named(access(carrow, carrow.sensors[0]))
    assert off == [
        "Plastic engine cover",
        "Brace between the strut towers",
        "Air duct between the filter box and the throttle",
        "Heat shield over the rear manifold",
    ]


def test_nothing_comes_off_before_what_lies_on_it(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            off = vehicle.obstacles(sensor)
            known = {each.name: at for at, each in enumerate(off)}
            assert len(known) == len(off), "each thing comes off once"
            for at, obstacle in enumerate(off):
                above = [vehicle.profile.obstacles[name].name for name in obstacle.under]
                assert all(known[name] < at for name in above)


def test_refit_is_the_exact_reverse(demo: dict[str, Vehicle]) -> None:
    longest = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            off = obstacles_named(access(vehicle, sensor))
            assert obstacles_named(refit(vehicle, sensor)) == off[::-1]
            longest = max(longest, len(off))
    assert longest >= 3, "an order of one thing would prove nothing"


def test_nothing_in_the_way_is_said(small: Small, page_of: PageOf) -> None:
    vehicle = small()
    assert access(vehicle, vehicle.sensors[0]).obstacles == []
    page = page_of(vehicle, page_file(vehicle.sensors[0], "access"))
    assert "nothing in the way" in "".join(page.itertext())


def told(view: Any) -> Iterator[tuple[str, str]]:
    """The cautions and the steps of a view, in the order of the page: ("said" or "step", text)."""
    for _word, said in view.cautions:
        yield from (("said", sentence) for sentence in said)
    for name in ("obstacles", "plug", "sensor_out", "measure", "sensor_in", "proof", "readiness"):
        for part in getattr(view, name, ()):
            for _word, said in part.cautions:
                yield from (("said", sentence) for sentence in said)
            for step in getattr(part, "steps", (part,)):
                yield ("step", step.text)


@pytest.mark.parametrize("stage", [access, heater_test, refit], ids=["access", "test", "refit"])
def test_a_caution_is_said_once_a_page(
    demo: dict[str, Vehicle], stage: Any, page_of: PageOf
) -> None:
    every = sentences(next(iter(demo.values())).t)
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            name = {access: "access", refit: "refit"}.get(stage, "test")
            page = page_of(vehicle, page_file(sensor, name))
            text = [" ".join("".join(p.itertext()).split()) for p in page.iter("p")]
            counts = {hazard: text.count(sentence) for hazard, sentence in every.items()}
            for hazard in (Hazard.EXHAUST_GAS, Hazard.MOVING_PARTS):
                # The codes lead straight to the live data, past what is said of the supply
                twice = sensor.is_heated or hazard in sensor.cautions
                counts[hazard] -= stage is heater_test and twice
            assert max(counts.values()) == 1, counts
            assert counts[Hazard.HOT_EXHAUST] == 1, "every page of the job warns of heat"


def said_on(view: Any, vehicle: Vehicle) -> set[Hazard]:
    by_sentence = {sentence: hazard for hazard, sentence in sentences(vehicle.t).items()}
    return {by_sentence[text] for kind, text in told(view) if kind == "said"}


def test_what_a_sensor_and_its_obstacles_warn_of_is_said(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            own = {*sensor.cautions, *vehicle.profile.vehicle.hazards}
            on_the_way = {hazard for each in vehicle.obstacles(sensor) for hazard in each.cautions}
            assert own | on_the_way <= said_on(access(vehicle, sensor), vehicle)
            # What was soaked to come off goes on dry
            going_back = on_the_way - {Hazard.PENETRATING_FLUID}
            assert own | going_back <= said_on(refit(vehicle, sensor), vehicle)
            assert own <= said_on(heater_test(vehicle, sensor), vehicle)


@pytest.mark.parametrize("hazard", Hazard)
def test_any_hazard_of_a_sensor_is_said_before_the_first_step(small: Small, hazard: Hazard) -> None:
    vehicle = small({"sensors.0.cautions": [hazard.value]})
    for stage in (access, refit, heater_test):
        order = list(told(stage(vehicle, vehicle.sensors[0])))
        first_step = next(at for at, (kind, _) in enumerate(order) if kind == "step")
        assert ("said", sentences(vehicle.t)[hazard]) in order[:first_step]


def test_underneath_is_warned_of_whenever_the_reach_is_from_below(small: Small) -> None:
    for reach, warned in (("below", True), ("above", False), ("wheel-arch", False)):
        vehicle = small({"sensors.0.place.reach": reach})
        for stage in (access, refit, heater_test):
            found = said_on(stage(vehicle, vehicle.sensors[0]), vehicle)
            assert (Hazard.UNDER_VEHICLE in found) is warned


def test_the_ohmmeter_is_warned_of_before_it_touches(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for sensor in filter(lambda each: each.is_heated, vehicle.sensors):
            steps = heater_test(vehicle, sensor).measure
            touch = next(at for at, step in enumerate(steps) if "put the leads on" in step.text)
            warned = next(
                at
                for at, step in enumerate(steps)
                if any(
                    sentences(vehicle.t)[Hazard.SENSING_CELL] in said for _, said in step.cautions
                )
            )
            assert warned <= touch


def test_an_obstacles_hazard_stands_before_its_first_step(small: Small, page_of: PageOf) -> None:
    vehicle = small(
        {
            "obstacles": {
                "cover": {"name": "cover", "steps": ["Lift it."]},
                "brace": {
                    "name": "brace",
                    "under": ["cover"],
                    "steps": ["Undo it."],
                    "refit_steps": ["Do it up."],
                    "cautions": ["load-carrying"],
                },
            },
            "sensors.0.behind": ["brace"],
        }
    )
    sentence = sentences(vehicle.t)[Hazard.LOAD_CARRYING]
    for stage, before, after in (("access", "Lift it.", "Undo it."), ("refit", "", "Do it up.")):
        page = page_of(vehicle, page_file(vehicle.sensors[0], stage))
        text = " ".join("".join(page.find("body").itertext()).split())
        assert text.index(before) < text.index(sentence) < text.index(after)


def test_the_strongest_word_comes_first(demo: dict[str, Vehicle]) -> None:
    strength = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    seen = set()
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            ranks = [strength.index(word) for word, _ in refit(vehicle, sensor).cautions]
            assert ranks == sorted(ranks)
            seen.update(ranks)
    assert len(seen) >= 3


def test_the_time_is_the_sum_of_what_is_timed(small: Small) -> None:
    changes = {
        "obstacles": {"cover": {"name": "cover", "minutes": "2 to 4"}, "duct": {"name": "duct"}},
        "sensors.0.behind": ["cover", "duct"],
        "sensors.0.minutes": "90 s",
    }
    view = access(small(changes), small(changes).sensors[0])
    assert view.minutes is not None
    assert view.minutes.replace("\u2060", "").split("–") == ["4", "6"]
    assert view.minutes_note, "the duct is not timed"
    untimed = small()
    assert access(untimed, untimed.sensors[0]).minutes is None


def test_what_the_codes_lead_to_says_what_hurts_first(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    """A link to a section passes what stands above it; so the section itself must say it."""
    checked = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            page = page_of(vehicle, page_file(sensor, "test"))
            running = sentences(vehicle.t)[Hazard.EXHAUST_GAS]
            live = "".join(page.find(".//*[@id='live-data']").itertext())
            assert 0 <= live.index(running) < live.index("snap of the throttle")
            checked += 1
        codes = page_of(vehicle, "codes.html")
        links = [each.get("href") for each in codes.iter("a")]
        assert not [href for href in links if href.endswith(("-access.html#connector", "#tip"))]
        assert codes.find(".//*[@id='hurts']//*[@role='note']") is not None
        assert "#hurts" in links
    assert checked > 15


def test_what_must_be_known_stands_before_the_plug_comes_apart(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    vehicle = demo["fenwright-carrow-3-2-v6"]
    page = page_of(vehicle, page_file(vehicle.sensors[0], "access"))
    text = "".join(page.itertext())
    assert text.index("Mark them before unplugging") < text.index("Grip both halves")
    assert text.index("no taller than 60 mm") < text.index("slotted sensor socket")
    assert text.index("overnight") < text.index("Turn the sensor out"), "the vehicle's notes too"
    assert text.index("Ignition off") < text.index("Lift the rear edge first")


def test_the_engine_starts_only_on_its_wheels_with_nothing_left_inside(
    demo: dict[str, Vehicle],
) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            steps = [step.text for step in refit(vehicle, sensor).proof]
            start = steps.index("Start the engine and let it warm up.")
            assert steps.index("Look whether a tool, a rag or a cap is left behind.") < start
            down = "Take the vehicle down from its stands." in steps[:start]
            assert down is (Hazard.UNDER_VEHICLE in hazards_of_job(vehicle, sensor))
            run = [step for step in heater_test(vehicle, sensor).live.notes if "rag" in step]
            assert bool(run) is bool(vehicle.obstacles(sensor))


def hazards_of_job(vehicle: Vehicle, sensor: Any) -> set[Hazard]:
    parts = {hazard for each in vehicle.obstacles(sensor) for hazard in each.cautions}
    return parts | set(hazards_on_the_way(vehicle, sensor))

"""Torque: as stated, in every unit, or plainly missing; never a number nobody stated."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest

from generator.guide.refit_page import refit
from generator.guide.vehicle import Vehicle, page_file, torque_range
from generator.profile.completeness import Lack, missing

Small = Callable[..., Vehicle]
PageOf = Callable[[Vehicle, str], Any]

# Exact by definition: NIST SP 811, appendix B.8
NM_PER = {"N·m": 1.0, "lbf·ft": 1.3558179483314, "lbf·in": 0.1129848290276, "kgf·m": 9.80665}
TORQUE = re.compile(r"[0-9][0-9.–⁠]*\s*(?:N·m|lbf|kgf)")


def text_of(page: Any) -> str:
    """What a reader sees who has chosen nothing."""

    def told(element: Any) -> str:
        if element.get("hidden") is not None:
            return element.tail or ""
        return "".join([element.text or "", *map(told, element), element.tail or ""])

    return " ".join(told(page.find("body")).split())


def without_torque(vehicle: Vehicle) -> list[Any]:
    return [sensor for sensor in vehicle.sensors if sensor.torque is None]


def test_a_missing_torque_leaves_no_number_on_the_page(small: Small, page_of: PageOf) -> None:
    vehicle = small()
    page = page_of(vehicle, page_file(vehicle.sensors[0], "refit"))
    text = text_of(page)
    assert "The torque of this sensor is not stated" in text
    assert "workshop literature" in text
    assert TORQUE.findall(text) == []
    captions = ["".join(each.itertext()) for each in page.iter("caption")]
    assert captions == ["A healthy sensor shows"], "nothing to convert"
    assert "torque wrench" not in text.casefold(), "no wrench for a torque nobody states"


def test_a_missing_torque_beside_stated_ones_shows_only_those(
    demo: dict[str, Vehicle], page_of: PageOf
) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    (sensor,) = without_torque(carrow)
    view = refit(carrow, sensor)
    assert view.torque is None
    assert not any(re.search(r"\d", step.text) for step in view.sensor_in)
    shown = TORQUE.findall(text_of(page_of(carrow, page_file(sensor, "refit"))))
    others = TORQUE.findall(
        " ".join(
            [
                *(tool.name for tool in view.tools),
                *(held for each in view.obstacles for held in each.held_by),
            ]
        )
    )
    assert [each.split() for each in shown] == [each.split() for each in others]
    assert len(others) >= 2, "its obstacles do have a torque"


def test_the_stages_say_that_a_torque_is_missing(small: Small, page_of: PageOf) -> None:
    vehicle = small()
    for stage in ("access", "test", "refit"):
        page = page_of(vehicle, page_file(vehicle.sensors[0], stage))
        stages = page.find(".//ol[@class='stages']")
        assert "torque not stated" in "".join(stages.itertext())


def test_a_fastener_without_a_torque_says_so(small: Small) -> None:
    vehicle = small(
        {
            "obstacles": {
                "tray": {
                    "name": "tray",
                    "undo": [
                        {"what": "bolt", "count": 3, "thread": "M8x1.25", "hex": "13 mm"},
                        {"what": "push clip", "count": 2},
                    ],
                }
            },
            "sensors.0.behind": ["tray"],
        }
    )
    bolts, clips = refit(vehicle, vehicle.sensors[0]).obstacles[0].held_by
    assert bolts.startswith("3 × bolt, M8×1.25, 13 mm hex")
    assert "torque not stated" in bolts
    assert clips == "2 × push clip", "nobody tightens a clip"


@pytest.mark.parametrize(
    "fastener",
    [
        {"thread": "M8x1.25", "hex": "13 mm"},
        {"thread": "M8x1.25"},
        {"hex": "10 mm"},
        {"hex": "10 mm", "torque": "9 N·m"},
        {},
    ],
    ids=" ".join,
)
def test_a_torque_that_the_page_misses_is_listed_as_missing(
    small: Small, fastener: dict[str, str]
) -> None:
    tray = {"name": "tray", "undo": [{"what": "bolt", **fastener}]}
    vehicle = small({"obstacles": {"tray": tray}, "sensors.0.behind": ["tray"]})
    (held_by,) = refit(vehicle, vehicle.sensors[0]).obstacles[0].held_by
    listed = [each.path for each in missing(vehicle.profile) if each.lack is Lack.FASTENER_TORQUE]
    told = [("obstacles", "tray", "undo", 0, "torque")] if "torque not stated" in held_by else []
    assert listed == told


def numbers(shown: str) -> list[float]:
    return [float(each) for each in re.findall(r"[0-9.]+", shown)]


def test_every_unit_stays_inside_the_stated_range(demo: dict[str, Vehicle]) -> None:
    compared = 0
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            torque = refit(vehicle, sensor).torque
            if torque is None:
                continue
            stated = torque_range(sensor.torque)
            assert [unit for unit, _ in torque.units] == list(NM_PER)
            for unit, shown in torque.units:
                low, *rest = numbers(shown)
                high = rest[0] if rest else low
                assert stated.low_nm - 1e-9 <= low * NM_PER[unit] < high * NM_PER[unit]
                assert high * NM_PER[unit] <= stated.high_nm + 1e-9
                compared += 1
    assert compared >= 20


def test_the_offset_adapter_lowers_the_setting_by_the_ratio_of_the_levers(
    demo: dict[str, Vehicle],
) -> None:
    carrow = demo["fenwright-carrow-3-2-v6"]
    torque = refit(carrow, carrow.sensors[0]).torque
    assert torque is not None
    levers = [numbers(head)[0] for head in torque.adapter_head[1:]]
    for offset_text, *cells in torque.adapter_rows:
        offset = numbers(offset_text)[0]
        for lever, cell in zip(levers, cells, strict=True):
            low, high = numbers(cell)
            # T L / (L + E), never outside the stated 40 to 48 N·m once the adapter is on
            assert 40 <= low * (lever + offset) / lever <= 48
            assert 40 <= high * (lever + offset) / lever <= 48
            assert low < 40


@pytest.mark.parametrize("state", ["as-delivered", "dry", "anti-seize", None])
def test_the_state_of_the_thread_is_told(small: Small, state: str | None) -> None:
    torque = {"value": "44 N·m", **({"thread_state": state} if state else {})}
    view = refit(vehicle := small({"sensors.0.torque": torque}), vehicle.sensors[0])
    assert view.torque is not None
    word = {"as-delivered": "delivered", "dry": "dry", "anti-seize": "anti-seize"}.get(
        state or "", "does not say"
    )
    assert word in view.torque.thread
    assert any(view.torque.thread in step.details for step in view.sensor_in)


def test_the_number_of_the_card_is_in_the_step(demo: dict[str, Vehicle]) -> None:
    for vehicle in demo.values():
        for sensor in vehicle.sensors:
            view = refit(vehicle, sensor)
            if view.torque:
                wanted = f"Tighten to {view.torque.number}"
                assert (
                    sum(
                        wanted in step.text.replace("\u2060", "").replace("\u00a0", " ")
                        for step in view.sensor_in
                    )
                    == 1
                )


def test_the_codes_are_noted_before_they_are_cleared(small: Small) -> None:
    vehicle = small()
    proof = [step.text for step in refit(vehicle, vehicle.sensors[0]).proof]
    noted, cleared = (
        next(at for at, text in enumerate(proof) if text.startswith(word))
        for word in ("Note the stored codes", "Clear the codes")
    )
    assert noted < cleared

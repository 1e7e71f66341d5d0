"""The planner in the browser answers as Python does, for every set of sensors."""

from __future__ import annotations

import random
from collections.abc import Callable
from gettext import NullTranslations
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from generator.guide.job import (
    in_planning_order,
    obstacle_works,
    plan_parts,
    sensor_name,
    sensor_work,
)
from generator.guide.pages import vehicle_pages
from generator.guide.planner import OF_A_PART, minutes_text
from generator.guide.tools_view import tool_name
from generator.guide.vehicle import Vehicle, hazards_on_the_way
from generator.profile.sensor_model import Sensor
from generator.trade.access_plan import access_plan
from generator.trade.tools import ToolKind, tools
from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser

CARROW = "guides/fenwright-carrow-3-2-v6/index.html"
MOST_SETS = 64

READ = """keys => {
  for (const tick of document.querySelectorAll(".picks input")) {
    tick.checked = keys.includes(tick.value);
  }
  document.querySelector(".picks").dispatchEvent(new Event("change", {bubbles: true}));
  const plan = document.getElementById("plan");
  const shown = selector => [...plan.querySelectorAll(selector)].filter(
    each => each.checkVisibility()
  );
  const text = each => {
    const copy = each.cloneNode(true);
    copy.querySelectorAll("[hidden], small, p + p").forEach(inner => inner.remove());
    return copy.textContent.replace(/[\\s\\u00a0]+/g, " ").trim();
  };
  const count = name => shown(`[data-sum=${name}] b`).map(text).join("");
  return {
    off: shown("[data-order=off] > li").map(text),
    on: shown("[data-order=on] > li").map(text),
    minutes: shown("[data-sum=minutes]").map(text).join(""),
    untimed: count("untimed") || "0",
    clips: count("clips") || "0",
    fasteners: shown("[data-kind]").map(text),
    tools: shown("dd li:not([data-kind]):not([data-sum])").map(text),
    cautions: shown("[data-panel] [data-needed]").map(text),
  };
}"""


def said(text: str) -> str:
    return " ".join(str(text).replace("\u00a0", " ").split())


def name_of(vehicle: Vehicle, name: str) -> str:
    sensors = {sensor_name(each): each for each in vehicle.sensors}
    if name in sensors:
        return said(vehicle.called(sensors[name]))
    told = vehicle.profile.obstacles[name].name
    return said(told[:1].upper() + told[1:])


def worked_out(vehicle: Vehicle, chosen: list[Sensor]) -> dict[str, Any]:
    """What Python says of a set of sensors, in the shape in which the page is read."""
    plan = access_plan([sensor_name(each) for each in chosen], plan_parts(vehicle))
    obstacles = [
        vehicle.profile.obstacles[name] for name in plan.off if name in vehicle.profile.obstacles
    ]
    found = tools(obstacle_works(vehicle, obstacles), [sensor_work(each) for each in chosen])
    hazards = {(h, "") for each in chosen for h in hazards_on_the_way(vehicle, each)}
    hazards |= {
        (h, each.name if h in OF_A_PART else "") for each in obstacles for h in each.cautions
    }
    return {
        "off": [name_of(vehicle, name) for name in plan.off],
        "on": [name_of(vehicle, name) for name in plan.on],
        "minutes": said(minutes_text(plan.minutes, NullTranslations())) if chosen else "",
        "untimed": str(len(plan.untimed)),
        "clips": str(plan.spare_clips),
        "fasteners": {f"{each.count} × {each.what}" for each in plan.fasteners},
        "tools": {
            said(tool_name(vehicle, each)) for each in found if each.kind != ToolKind.SPARE_CLIPS
        },
        "cautions": len(hazards),
    }


def shown(page: Page, chosen: list[Sensor]) -> dict[str, Any]:
    read = page.evaluate(READ, [f"{each.bank}-{each.position}" for each in chosen])
    return {
        **read,
        "fasteners": set(read["fasteners"]),
        "tools": set(read["tools"]),
        "cautions": len(read["cautions"]),
    }


def sets_of(vehicle: Vehicle) -> list[list[Sensor]]:
    sensors = in_planning_order(vehicle)
    found = [
        list(chosen) for size in range(len(sensors) + 1) for chosen in combinations(sensors, size)
    ]
    return found if len(found) <= MOST_SETS else random.Random(7).sample(found, MOST_SETS)


def test_every_set_of_every_demo_is_planned_as_python_plans_it(
    opened: Any, site: Path, demo: dict[str, Vehicle]
) -> None:
    compared = 0
    for slug, vehicle in demo.items():
        page = opened.go(site / f"guides/{slug}/index.html")
        for chosen in sets_of(vehicle):
            assert shown(page, chosen) == worked_out(vehicle, chosen), (slug, chosen)
            compared += 1
        assert [fault for fault in opened.faults if "mark.svg" not in fault] == []
    assert compared >= 60


def random_profile(seed: int) -> dict[str, Any]:
    """A profile whose obstacles lie under one another at random, timed or not, held or not."""
    pick = random.Random(seed)
    obstacles = {
        f"part-{place}": {
            "name": f"part {place}",
            "under": pick.sample([f"part-{above}" for above in range(place)], min(place, 2)),
            "undo": [
                {
                    "what": pick.choice(["nut", "bolt", "push clip", "hose clip"]),
                    "count": pick.randint(1, 9),
                    "torque": f"{pick.choice([0.4, 1, 4.5, 9, 24, 47, 130, 350])} N·m",
                }
                for _ in range(pick.randint(0, 2))
            ],
            **(
                {"minutes": pick.choice(["0.5", "1.5 to 2.5", "3 to 7"])}
                if pick.random() < 0.8
                else {}
            ),
        }
        for place in range(7)
    }
    sensors = [
        {
            "bank": bank,
            "position": position,
            "kind": "switching",
            "wires": pick.choice([1, 4]),
            "place": {"where": "there", "reach": pick.choice(["above", "below", "wheel-arch"])},
            "behind": pick.sample(list(obstacles), pick.randint(0, 3)),
            "torque": f"{pick.choice([38, 44, 60])} N·m",
        }
        for bank, position in ((1, 1), (1, 2), (2, 1), (2, 2))
    ]
    return {
        "format": 2,
        "vehicle": {"make": "Tarnhelm", "model": "Brae", "years": "2004 on"},
        "engine": {
            "name": "3.0 petrol",
            "cylinders": 6,
            "arrangement": "vee",
            "mounting": "longitudinal",
            "bay": "front",
        },
        "steering": ["left", "right"],
        "banks": {
            1: {"cylinders": [1, 2, 3], "side": "left"},
            2: {"cylinders": [4, 5, 6], "side": "right"},
        },
        "obstacles": obstacles,
        "sensors": sensors,
    }


def test_any_pile_of_parts_is_planned_as_python_plans_it(
    opened: Any,
    site: Path,
    tmp_path: Path,
    from_data: Callable[[dict[str, Any]], Vehicle],
    html: Callable[[Any], str],
) -> None:
    (tmp_path / "assets").symlink_to(site / "assets")
    file = tmp_path / "guides" / "small" / "index.html"
    file.parent.mkdir(parents=True)
    for seed in range(12):
        vehicle = from_data(random_profile(seed))
        overview = next(page for page in vehicle_pages(vehicle) if page.path.endswith("index.html"))
        file.write_text(html(overview), encoding="utf-8")
        page = opened.go(file)
        for chosen in sets_of(vehicle):
            assert shown(page, chosen) == worked_out(vehicle, chosen), seed


def test_ticking_updates_at_once_and_the_address_keeps_it(opened: Any, site: Path) -> None:
    page = opened.go(site / CARROW)
    assert not page.locator(".planned").is_visible()
    page.get_by_role("checkbox", name="Bank 1, position 1").check()
    assert page.locator("[data-sum=minutes]").inner_text() == "31–58"
    page.get_by_role("checkbox", name="Bank 2, position 1").check()
    assert page.url.endswith("#plan=1-1,2-1")
    assert page.locator("[data-order=off] > li:visible").count() == 6
    shared = page.url
    opened.page.goto("about:blank")
    page.goto(shared)
    assert page.get_by_role("checkbox", name="Bank 2, position 1").is_checked()
    assert page.locator("[data-order=off] > li:visible").count() == 6
    page.get_by_role("checkbox", name="Bank 1, position 1").uncheck()
    page.get_by_role("checkbox", name="Bank 2, position 1").uncheck()
    assert not page.locator(".planned").is_visible()
    assert [fault for fault in opened.faults if "mark.svg" not in fault] == []


@pytest.mark.parametrize("hash_", ["#plan=", "#plan=9-9", "#plan=<b>", "#plan=1-1,,x", "#plan"])
def test_an_odd_address_does_no_harm(opened: Any, site: Path, hash_: str) -> None:
    page = opened.page
    page.goto("about:blank")
    opened.faults.clear()
    page.goto((site / CARROW).as_uri() + hash_)
    assert page.locator(".picks").is_visible()
    assert [fault for fault in opened.faults if "mark.svg" not in fault] == []


def test_the_links_of_the_plan_lead_to_the_pages(opened: Any, site: Path) -> None:
    page = opened.go(site / CARROW)
    page.get_by_role("checkbox", name="Bank 1, position 1").check()
    page.locator("[data-order=off]").get_by_role("link", name="Refit").click()
    assert page.url.endswith("bank-1-position-1-refit.html")


def test_what_is_tapped_is_large_enough_for_a_glove(opened: Any, site: Path) -> None:
    page = opened.go(site / CARROW)
    page.get_by_role("checkbox", name="Bank 1, position 1").check()
    targets = page.locator(".picks label, .planner .ways a:visible")
    assert targets.count() >= 7
    for target in targets.all():
        assert (target.bounding_box() or {})["height"] >= 44


def test_without_a_script_the_whole_plan_is_there(
    browser: Browser, site: Path, demo: dict[str, Vehicle]
) -> None:
    context = a_phone(browser, java_script_enabled=False)
    page = context.new_page()
    for slug, vehicle in demo.items():
        page.goto((site / f"guides/{slug}/index.html").as_uri())
        assert not page.locator(".picks").is_visible()
        everything = worked_out(vehicle, in_planning_order(vehicle))
        lines = page.locator("[data-order=off] > li")
        assert lines.count() == len(everything["off"])
        assert lines.first.is_visible() and lines.last.is_visible()
        assert page.locator("[data-sum=minutes]").inner_text() == everything["minutes"]
        found = {said(text) for text in page.locator("[data-wrench]:visible").all_inner_texts()}
        assert found == {name for name in everything["tools"] if name.startswith("torque wrench")}
    context.close()

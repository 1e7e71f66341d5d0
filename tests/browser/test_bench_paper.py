"""The bench sheet on paper: one page, lines to write on, and what can hurt."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from generator.guide.vehicle import Vehicle, page_path
from tests.browser.bench_sheets import COARSE, GOOD, fill, outcome
from tests.browser.pictures import PAPERS

pytestmark = pytest.mark.browser


def pages_printed(page: Page, paper: str) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper)))


def test_every_sheet_is_one_page_of_paper(
    context: BrowserContext, sheet_folder: Path, demo: dict[str, Vehicle]
) -> None:
    page = context.new_page()
    for slug, vehicle in demo.items():
        for sensor in vehicle.sensors:
            page.goto((sheet_folder / page_path(slug, sensor, "bench")).as_uri())
            where = (slug, sensor.bank, sensor.position)
            assert [pages_printed(page, paper) for paper in PAPERS] == [1, 1], where


def test_a_full_sheet_is_one_page_with_its_verdict(
    open_sheet: Callable[..., Page], demo: dict[str, Vehicle]
) -> None:
    slug = max(demo, key=lambda each: len(demo[each].profile.vehicle.hazards))
    for sensor in demo[slug].sensors:
        page = open_sheet(slug, sensor.bank, sensor.position)
        fill(page, {**COARSE, "air": "-8", "meter-zero": "0.2", "reading": "3.4"})
        fill(page, {"notes": "a line\n" * 4, "supply": "12.4", "torque": "44"})
        assert outcome(page)
        assert [pages_printed(page, paper) for paper in PAPERS] == [1, 1]


def test_on_paper_there_are_lines_cautions_and_no_navigation(
    open_sheet: Callable[..., Page],
) -> None:
    page = open_sheet()
    page.emulate_media(media="print")
    for hidden in (".head", ".stages", ".crumbs", ".turn", "#buttons", "#air-unit", ".hint"):
        assert page.locator(f"{hidden}:visible").count() == 0, hidden
    for visible in (".signal", ".on-paper", ".verdict-line", ".by-air"):
        assert page.locator(f"{visible}:visible").count() > 0, visible
    line = page.evaluate(
        """() => {
            const input = getComputedStyle(document.getElementById("reading"));
            const entry = getComputedStyle(document.getElementById("reading").parentElement);
            return [input.borderTopWidth, entry.borderTopWidth, entry.borderBottomStyle];
        }"""
    )
    assert line == ["0px", "0px", "solid"]
    invisible = "rgba(0, 0, 0, 0)"
    colour = "getComputedStyle(document.getElementById('date')).color"
    assert page.evaluate(colour) == invisible, "a sheet nobody has begun has no date yet"
    page.emulate_media(media="screen")
    fill(page, GOOD)
    page.emulate_media(media="print")
    assert page.evaluate(colour) != invisible
    assert page.locator("#verdict:visible").count() == 1
    assert page.locator(".verdict-line:visible").count() == 0

"""Bench sheets to open and to fill in."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from tests.browser.opened import Opened
from tests.browser.storage import settled, visit

CARROW = "fenwright-carrow-3-2-v6"
FINE = {"meter-percent": "0.5", "meter-counts": "2", "meter-resolution": "0.01"}
COARSE = {"meter-percent": "1", "meter-counts": "3", "meter-resolution": "0.1"}
GOOD = {**FINE, "air": "8", "meter-zero": "0.2", "reading": "2.60"}


@pytest.fixture(scope="session")
def sheet_folder(
    tmp_path_factory: pytest.TempPathFactory,
    demo: dict[str, Vehicle],
    html: Callable[..., str],
    root: Path,
) -> Path:
    """The bench sheets of the demo vehicles, with what they load."""
    made = tmp_path_factory.mktemp("sheets")
    shutil.copytree(root / "overrides/assets", made / "assets")
    for vehicle in demo.values():
        for page in vehicle_pages(vehicle):
            if page.path.endswith("-bench.html"):
                path = made / page.path
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(html(page), encoding="utf-8")
    return made


@pytest.fixture
def open_sheet(as_new: Opened, sheet_folder: Path) -> Iterator[Callable[..., Page]]:
    """Opens the sheet of a sensor as from a memory card; any fault fails the test.

    In one tab, unless another is asked for: that may be given what the first keeps late, or never.
    Another one is opened too for a script that is to run before those of the page.
    """
    tabs: list[Opened] = []

    def another(script: str) -> Opened:
        made = Opened(as_new.page.context.new_page())
        made.page.add_init_script(script)
        return made

    def go(
        slug: str = CARROW,
        bank: int = 1,
        position: int = 1,
        *,
        in_new_tab: bool = False,
        before: str = "",
    ) -> Page:
        sheet = sheet_folder / f"guides/{slug}/bank-{bank}-position-{position}-bench.html"
        if tabs and not (in_new_tab or before):
            visit(tabs[-1].page, sheet.as_uri())
        else:
            if tabs:
                settled(tabs[-1].page)
            tabs.append(another(before) if in_new_tab or before else as_new)
            tabs[-1].page.goto(sheet.as_uri())
        return tabs[-1].page

    yield go
    for tab in tabs:
        assert tab.faults == []
        assert [each for each in tab.requests if "file:" not in each] == []
        if tab is not as_new:
            tab.page.close()


def fill(page: Page, values: dict[str, str]) -> None:
    if page.locator("#meter:not([open])").count():
        page.click("#meter summary")
    for name, value in values.items():
        page.fill(f"#{name}", value)


def outcome(page: Page) -> str | None:
    told = page.locator("[data-outcome]:visible")
    return told.get_attribute("data-outcome") if told.count() else None


def shown(page: Page, name: str) -> str:
    return (page.locator(f"#{name}").text_content() or "").replace("\u00a0", " ")


def copied(page: Page) -> str:
    """The text as it is given where there is no clipboard."""
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.click("#copy")
    return page.input_value("#text")

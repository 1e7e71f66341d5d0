"""The whole site from a folder, as from a memory card: without a host."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.keeping import PIP, paths, wait_for
from tests.browser.opened import given_up

pytestmark = pytest.mark.browser


def test_from_a_folder_it_says_that_nothing_can_be_kept(
    site: Path, page: Page, faults: list[str]
) -> None:
    page.goto((site / f"guides/{PIP}/index.html").as_uri())
    wait_for(page, "file")
    expect(page.locator("#keeping [data-is=keep]")).to_be_hidden()
    page.goto((site / "kept.html").as_uri())
    wait_for(page, "file")
    assert faults == []


def test_the_whole_site_works_from_a_folder(site: Path, page: Page, faults: list[str]) -> None:
    outside: list[str] = []
    page.on("request", lambda each: outside.append(each.url) if "file:" not in each.url else None)
    page.on("requestfailed", lambda each: given_up(each) or faults.append(each.url))
    page.goto((site / "index.html").as_uri())
    page.fill("#finder-vehicle", "pip")
    page.fill("#finder-code", "P0135")
    page.locator("#finder-found a").first.click()
    page.wait_for_url(re.compile(rf"{PIP}/codes\.html#P0135$"))
    for path in paths(site, PIP):
        page.goto((site / path).as_uri())
        for drawing in page.locator("main figure svg").all():
            box = drawing.bounding_box()
            assert box is None or (box["width"] > 50 and box["height"] > 50), path
    page.goto((site / f"guides/{PIP}/bank-1-position-1-bench.html").as_uri())
    page.check("#over-range")
    assert (outside, faults) == ([], [])

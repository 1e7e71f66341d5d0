"""The link to a place in a guide: the address online, with its section, landing there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser

TEST = "guides/fenwright-carrow-3-2-v6/bank-1-position-2-test.html"
CODES = "guides/fenwright-carrow-3-2-v6/codes.html"
ONLINE = "https://sondebook.example/"
NO_SHEET = "delete Navigator.prototype.share;"
COPIES = """navigator.clipboard.writeText = text => {
  window.copied = text;
  return Promise.resolve();
};"""
REFUSES = """navigator.clipboard.writeText = () =>
  Promise.reject(new DOMException("", "NotAllowedError"));"""
SHARES = """Navigator.prototype.share = what => {
  window.shared = what;
  return Promise.resolve();
};"""
Opened = Callable[..., Page]


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Opened]:
    """Opens an address in a browser of a phone's size, after a script of the test's own."""
    contexts = []

    def open_one(address: str, script: str, **how: Any) -> Page:
        context = a_phone(browser, **how)
        contexts.append(context)
        context.add_init_script(script)
        page = context.new_page()
        page.goto(address)
        return page

    yield open_one
    for context in contexts:
        context.close()


def press(page: Page, section: str = "") -> str:
    button = page.locator(f"#{section or 'share'} > button")
    button.click()
    page.wait_for_function("document.querySelector('button + output').textContent || window.shared")
    told = page.locator("button + output")
    assert window_of(page) or told.bounding_box(), "it is told where it was asked for"
    return told.inner_text()


def window_of(page: Page) -> Any:
    return page.evaluate("window.shared")


@pytest.mark.parametrize("section", ["terminals", "supply", "live-data"])
def test_a_link_carries_bank_position_and_section(
    open_page: Opened, site: Path, section: str
) -> None:
    page = open_page((site / TEST).as_uri(), NO_SHEET + COPIES)
    said = press(page, section)
    assert page.evaluate("window.copied") == f"{ONLINE}{TEST}#{section}"
    assert said == f"Copied: {ONLINE}{TEST}#{section}"


def test_at_the_end_the_page_is_meant(open_page: Opened, site: Path) -> None:
    page = open_page((site / TEST).as_uri(), NO_SHEET + COPIES)
    press(page)
    assert page.evaluate("window.copied") == f"{ONLINE}{TEST}"


def test_a_phone_is_asked_for_its_own_sheet(open_page: Opened, site: Path) -> None:
    page = open_page((site / TEST).as_uri(), COPIES + SHARES, is_mobile=True, has_touch=True)
    press(page, "supply")
    shared = page.evaluate("window.shared")
    assert shared["url"] == f"{ONLINE}{TEST}#supply"
    assert shared["title"].startswith("Bank\u00a01, position\u00a02: test")
    assert page.evaluate("window.copied") is None


def test_a_browser_that_does_not_copy_shows_the_address(open_page: Opened, site: Path) -> None:
    page = open_page((site / TEST).as_uri(), NO_SHEET + REFUSES)
    assert press(page, "fuse").endswith(f"the address is {ONLINE}{TEST}#fuse")


def test_a_file_that_knows_no_address_offers_none(
    open_page: Opened, site: Path, tmp_path: Path
) -> None:
    html = (site / TEST).read_text()
    assert '<link rel="canonical"' in html
    page = tmp_path / "guides/carrow/page.html"
    page.parent.mkdir(parents=True)
    page.write_text(html.replace('<link rel="canonical"', '<link rel="none"'))
    (tmp_path / "assets").symlink_to(site / "assets")
    opened = open_page(page.as_uri(), NO_SHEET + COPIES)
    opened.wait_for_selector("#keeping:not([hidden])")
    assert not opened.locator("#share").is_visible()


@pytest.mark.parametrize("section", ["measure", "supply", "signal"])
def test_a_link_lands_on_its_section(open_page: Opened, site: Path, section: str) -> None:
    page = open_page(f"{(site / TEST).as_uri()}#{section}", "")
    heading = page.locator(f"#{section} h2")
    on_top = """heading => {
      const box = heading.getBoundingClientRect();
      return document.elementFromPoint(box.left + 2, box.top + box.height / 2) === heading;
    }"""
    # The page rolls there
    page.wait_for_function(
        "name => document.getElementById(name).getBoundingClientRect().top < 100", arg=section
    )
    assert heading.evaluate(on_top), "nothing covers it"


def test_a_closed_group_opens_for_its_code(open_page: Opened, site: Path) -> None:
    page = open_page(f"{(site / CODES).as_uri()}#P0036", "")
    assert page.locator("details.group[open] #P0036").is_visible()

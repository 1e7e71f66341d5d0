"""One Chromium for all browser tests, and the pages to look at."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from gettext import NullTranslations
from importlib.resources import files
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

from generator.guide.catalogue import by_make
from generator.guide.vehicle import Vehicle
from generator.site.collection import Collection
from generator.site.pdf import CHROMIUM, installed_chromium
from tests.browser.bench_sheets import open_sheet, sheet_folder  # noqa: F401 - fixtures
from tests.browser.keeping import (  # noqa: F401 - fixtures
    host_of_guides,
    page_without_fault,
    phone_that_keeps,
    script_faults,
    two_builds,
)
from tests.browser.opened import Opened, a_phone

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def chromium() -> str:
    """Where Chromium is; without one, the tests are skipped unless a browser is required."""
    found = installed_chromium()
    if found is None:
        reason = f"no Chromium is installed under any of the names {', '.join(CHROMIUM)}"
        if os.environ.get("SONDEBOOK_REQUIRE_BROWSER"):
            pytest.fail(reason)
        pytest.skip(reason)
    return found


@pytest.fixture(scope="session")
def playwright_() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def browser(playwright_: Playwright) -> Iterator[Browser]:
    """The one browser."""
    running = playwright_.chromium.launch(executable_path=chromium(), args=ARGUMENTS)
    yield running
    running.close()


@pytest.fixture(scope="session")
def large_text_browser(playwright_: Playwright) -> Iterator[Browser]:
    """A browser whose reader has set letters of twice the size."""
    arguments = [*ARGUMENTS, "--blink-settings=defaultFontSize=32,defaultFixedFontSize=26"]
    running = playwright_.chromium.launch(executable_path=chromium(), args=arguments)
    yield running
    running.close()


@pytest.fixture(scope="module")
def opened(browser: Browser) -> Iterator[Opened]:
    """A page of the one browser, at the size of a phone."""
    context = a_phone(browser)
    yield Opened(context.new_page())
    context.close()


AS_NEW = """if (window === top && location.protocol === "file:" && window.name !== "used") {
  localStorage.clear();
  sessionStorage.clear();
  window.name = "used";
}"""


@pytest.fixture(scope="module")
def tab(browser: Browser) -> Iterator[Opened]:
    """The one tab of `as_new`: a tab of its own for each test costs more than most tests do."""
    context = a_phone(browser)
    page = context.new_page()
    page.add_init_script(AS_NEW)
    yield Opened(page)
    context.close()


@pytest.fixture
def as_new(tab: Opened) -> Opened:
    """A tab as on a phone that has kept nothing: the first page that it opens finds nothing kept.

    It is emptied by a script that runs before the page's own, so nothing can come late.
    """
    tab.begin()
    tab.page.evaluate("window.name = ''")
    return tab


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[BrowserContext]:
    """A phone for tabs in which nothing is kept; one for each test costs twice what a tab does."""
    context = a_phone(browser)
    yield context
    context.close()


@pytest.fixture
def new_tab(reader: BrowserContext) -> Iterator[Page]:
    """A tab of its own for a test that keeps nothing on the phone."""
    page = reader.new_page()
    yield page
    page.close()


@pytest.fixture
def new_phone(browser: Browser) -> Iterator[Opened]:
    """A page on a phone that has kept nothing yet; to clear one that has is not sure to last."""
    context = a_phone(browser)
    yield Opened(context.new_page())
    context.close()


@pytest.fixture(scope="session")
def guide_pages(demo: dict[str, Vehicle]) -> list[str]:
    """Guide pages to look at: in each folder, the first page of every kind."""
    found: dict[tuple[str, str], str] = {}
    for page in Collection(by_make(demo.values()), NullTranslations()).pages():
        found.setdefault((page.path.rpartition("/")[0], page.template), page.path)
    chosen = list(found.values())
    assert len(chosen) > 20
    return chosen


@pytest.fixture(scope="session")
def all_pages(guide_pages: list[str], root: Path) -> list[str]:
    """The guide pages, and every hand-written page."""
    docs = root / "docs"
    written = [
        path.relative_to(docs).with_suffix(".html").as_posix() for path in docs.rglob("*.md")
    ]
    assert {"index.html", "cautions.html", "reference/numbers.html"} <= set(written)
    return [*sorted(written), *guide_pages]


OVERFLOW = """() => {
  const root = document.documentElement;
  const width = root.clientWidth;
  const hides = [root, document.body].some(each => getComputedStyle(each).overflowX !== "visible");
  if (root.scrollWidth <= width && !hides) { return []; }
  const scrolls = each => {
    for (let up = each.parentElement; up; up = up.parentElement) {
      const style = getComputedStyle(up);
      if (up !== document.body && /auto|scroll|hidden|clip/.test(style.overflowX)) { return true; }
    }
    return false;
  };
  const wide = [...document.body.querySelectorAll("*")].filter(each => {
    const box = each.getBoundingClientRect();
    return box.width && box.right > width + 0.5 && !scrolls(each);
  });
  const said = wide.slice(0, 3).map(each => each.outerHTML.slice(0, 120));
  return root.scrollWidth > width || wide.length
    ? [root.scrollWidth + " of " + width, ...said] : [];
}"""


@pytest.fixture(scope="session")
def overflow() -> Callable[[Page], list[str]]:
    """What sticks out of a page on the right; what scrolls by itself may be wider."""
    return lambda page: list(page.evaluate(OVERFLOW))


@pytest.fixture(scope="session")
def axe() -> str:
    """axe-core as a script; the package only carries it, and nothing is fetched."""
    return (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that has never seen the site."""
    made = a_phone(browser)
    yield made
    made.close()


@pytest.fixture
def form(as_new: Opened, site: Path) -> Iterator[Page]:
    """The page with nothing filled in; whatever goes wrong on it fails the test."""
    page = as_new.go(site / "build-a-profile.html")
    yield page
    assert as_new.faults == []
    assert all(request.startswith(("file:", "blob:")) for request in as_new.requests)

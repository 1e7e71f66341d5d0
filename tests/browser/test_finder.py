"""The finder in Chromium, from files: the same answers as Python, links that lead, inert names."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from generator.guide.catalogue import by_make
from generator.guide.vehicle import Vehicle
from generator.site.collection import Collection
from generator.site.edition import Edition
from generator.site.renderer import Renderer
from generator.site.writer import write_guides
from generator.trade.fault_code_table import FAULT_CODES
from generator.trade.fault_codes import MakerSpecific, Unknown, Unreadable, look_up, normalised
from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser

HOSTILE = "<img src=x onerror=document.title='hit'>{text}"
TYPED = [
    "P0135", "p135", "P0135 ", "0135", "135", " p 0135", "P-0135", "P0135-13", "p0135:1f", "PO135",
    "p2a00", "2A00", "u0100", "C1234", "b0001", "P1135", "P3012", "P3401", "P0001", "P4000", "P01",
    "P01355", "", "  ", "x135", "P0 135", "P\u20110135", "P\u22120135", "\uff300\uff1135",
    "P0135-", "P0135-1", "pp135", "0O35", "P 1O35", "\tp135\n", "P0135\u00a0", "13", "ABC", "fff",
    "{text}", "<b>", "P013\u0661", "\u0131135", "P\u2014135",
]  # fmt: skip
"""What people type, and worse; Python says what each means, and the script must agree."""


@pytest.fixture(scope="module")
def folder(
    tmp_path_factory: pytest.TempPathFactory,
    root: Path,
    demo: dict[str, Vehicle],
    small: Callable[..., Vehicle],
) -> Path:
    """The demo vehicles and a hostile one as files."""
    site = tmp_path_factory.mktemp("finder")
    hostile = small({"vehicle.make": HOSTILE, "vehicle.model": HOSTILE, "sensors.0.wires": 1})
    vehicles = [*demo.values(), replace(hostile, slug="hostile")]
    t = NullTranslations()
    renderer = Renderer([root / "overrides"], "Sondebook", "en", t)
    theme = (root / "overrides",)
    edition = Edition("Sondebook", "en", theme, "2026-01-01", "", has_pocket=False)
    write_guides(Collection(by_make(vehicles), t), renderer, site, edition)
    shutil.copytree(root / "overrides/assets", site / "assets", dirs_exist_ok=True)
    return site


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = a_phone(browser, has_touch=True)
    yield context
    context.close()


@pytest.fixture
def page(phone: BrowserContext, folder: Path) -> Iterator[Page]:
    """The page of all guides, with every fault it has."""
    opened = phone.new_page()
    faults: list[str] = []
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.on("requestfailed", lambda request: faults.append(request.url))
    opened.goto((folder / "guides/index.html").as_uri())
    yield opened
    opened.close()
    assert faults == []


def fill(page: Page, vehicle: str = "", code: str = "") -> list[str]:
    """Type into the finder; the titles found."""
    page.get_by_label("Vehicle", exact=True).fill(vehicle)
    page.get_by_label("Fault code", exact=True).fill(code)
    return page.locator("#finder-found strong").all_inner_texts()


def said(page: Page) -> str:
    return page.locator("#finder-said").inner_text()


def test_codes_are_read_as_python_reads_them(page: Page) -> None:
    def by_python(text: str) -> str | None:
        try:
            return normalised(text)
        except ValueError:
            return None

    answers: list[str | None] = page.evaluate(
        "typed => typed.map(each => window.sondebookFinder.normalised(each))", TYPED
    )
    assert dict(zip(TYPED, answers, strict=True)) == {text: by_python(text) for text in TYPED}
    assert None in answers and "P0135" in answers


def test_each_kind_of_wrong_code_gets_its_sentence(page: Page) -> None:
    kinds = set()
    for text in filter(str.strip, TYPED):
        found = look_up(text)
        fill(page, code=text)
        if isinstance(found, Unreadable | MakerSpecific | Unknown):
            kinds.add(type(found))
            assert " ".join(found.sentence.split()) in " ".join(said(page).split()), text
        else:
            assert said(page) == "1 result", text
    assert kinds == {Unreadable, MakerSpecific, Unknown}


def test_three_taps_from_a_code_to_the_terminals(page: Page) -> None:
    fill(page, "carrow", "p135")
    page.locator("#finder-found a").first.tap()  # one
    page.wait_for_url("**/fenwright-carrow-3-2-v6/codes.html#P0135")
    step = page.locator("details[open] .checks a").first
    expect(page.locator("#P0135")).to_be_in_viewport()
    step.tap()  # two
    page.wait_for_url("**/bank-1-position-1-test.html*")
    assert "between terminals 1 and 2" in page.locator(".wanted").inner_text()
    assert page.locator("#range").inner_text().startswith("2.1")


def test_only_a_vehicle_or_only_a_code(page: Page) -> None:
    assert fill(page, "kestrin") == ["Kestrin Moor 2.0 flat-four petrol"]
    assert page.locator("#finder-found a").get_attribute("href") == (
        "../guides/kestrin-moor-2-0-flat/index.html"
    )
    assert fill(page, code="0155") == ["P0155: what it means, and which vehicles have that sensor"]
    assert fill(page) == []
    assert said(page) == ""


def test_words_years_and_accents_in_any_order(page: Page) -> None:
    wanted = ["Fenwright Carrow 3.2 V6 petrol"]
    for typed in ("v6 fen", "CARROW 2011", "2009 fenwright", "  cárrow  ", "3.2 carrow 2014"):
        assert fill(page, typed) == wanted, typed
    assert fill(page, "carrow 2008") == []
    assert said(page).startswith("No vehicle here is called “carrow 2008”")


def test_a_vehicle_without_that_sensor_is_told_so(page: Page, demo: dict[str, Vehicle]) -> None:
    assert not any(sensor.bank == 2 for sensor in demo["lowmere-pip-1-4"].sensors)
    titles = fill(page, "pip", "P0155")
    assert titles[0] == "Lowmere Pip 1.4 four-cylinder petrol"
    row = page.locator("#finder-found a").first
    assert "P0155 does not fit this vehicle: Heater: fault, bank 2, position 1" in row.inner_text()
    assert row.get_attribute("href") == "../guides/lowmere-pip-1-4/index.html"


def test_every_result_leads_to_a_file_and_an_anchor(page: Page, folder: Path) -> None:
    hrefs: list[str] = page.evaluate(
        """() => window.sondebookFinder.codes.flatMap(code =>
          ["e", "hostile"].flatMap(name => window.sondebookFinder.find(name, code).rows))
          .map(row => row.href)"""
    )
    pages = {}
    for href in set(hrefs):
        path, _, anchor = href.partition("#")
        text = pages.setdefault(path, (folder / path).read_text())
        assert not anchor or f'id="{anchor}"' in text, href
    assert {path.split("/")[0] for path in pages} == {"guides", "codes"}


def test_hostile_names_stay_words(page: Page) -> None:
    titles = fill(page, "<img src=x", "P0130")
    assert titles[0].startswith(HOSTILE)
    assert page.locator("#finder img").count() == 0
    assert page.title() != "hit"
    fill(page, "<img src=y onerror=document.title='hit'>", "<img src=y>")
    assert page.locator("#finder img").count() == 0
    assert page.title() != "hit"


def test_with_the_keyboard_alone(page: Page) -> None:
    page.get_by_label("Vehicle", exact=True).focus()
    page.keyboard.type("carrow")
    page.keyboard.press("Tab")
    page.keyboard.type("p135")
    assert said(page) == "2 results"
    page.keyboard.press("Enter")
    focused = page.evaluate("document.activeElement.getAttribute('href')")
    assert focused == "../guides/fenwright-carrow-3-2-v6/codes.html#P0135"
    page.keyboard.press("Enter")
    page.wait_for_url("**/codes.html#P0135")


def test_the_count_is_announced(page: Page) -> None:
    output = page.locator("#finder-said")
    assert output.evaluate("each => each.tagName") == "OUTPUT", "a live region by itself"


def test_more_than_a_screenful_is_counted(page: Page) -> None:
    found: dict[str, Any] = page.evaluate(
        """() => { const data = window.sondebookFinder; const at = data.slug.length;
          return { found: data.find("e", ""), all: at }; }"""
    )
    assert len(found["found"]["rows"]) <= 8


def test_every_code_has_its_words(page: Page) -> None:
    for code in FAULT_CODES:
        found = page.evaluate("code => window.sondebookFinder.find('', code)", code)
        assert [row["href"] for row in found["rows"]] == [f"codes/{code}.html"]


def test_without_script_the_list_serves(browser: Browser, folder: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto((folder / "guides/index.html").as_uri())
    assert not opened.locator("#finder").is_visible()
    assert opened.get_by_role("link", name="Fenwright").is_visible()
    opened.goto((folder / "guides/fenwright-carrow-3-2-v6/codes.html").as_uri() + "#P0135")
    # The anchor stands in the summary, so it is there while its group is closed
    expect(opened.locator("#P0135")).to_be_in_viewport()
    context.close()


def test_who_misses_a_vehicle_is_led_to_adding_it(phone: BrowserContext, site: Path) -> None:
    page = phone.new_page()
    page.goto((site / "index.html").as_uri())
    add = page.get_by_role("link", name="Add the vehicle that is not here")
    assert not add.is_visible()
    page.fill("#finder-vehicle", "Ashdown")
    add.click()
    assert page.locator("h1").inner_text() == "Send in a vehicle"
    page.go_back()
    page.fill("#finder-vehicle", "pip")
    assert not add.is_visible()
    page.close()

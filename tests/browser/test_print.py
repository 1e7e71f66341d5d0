"""Every kind of guide page on A4 and Letter: nothing torn, no navigation, sharp drawings."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from unicodedata import normalize

import pytest
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from tests.browser.pictures import KINDS, PAPERS, in_light

pytestmark = pytest.mark.browser

GUIDES = ("overview", "vehicle-codes", "code", "access", "test", "refit", "bench")
OF_A_SENSOR = ("access", "test", "refit", "bench")
NAVIGATION = ("Menu", "Skip to the content", "How you read it", "Kept on this phone", "Next",
              "Correct this page", "Keep this vehicle", "Seen from", "Plan the job")  # fmt: skip
# What is read as one: each must stand on one sheet. What the reader does not see is not asked for.
WHOLE = """() => {
  const parts = document.querySelectorAll(".steps > li, main tr, .signal, .number, .facts > div");
  return [...parts].filter(each => each.offsetWidth).map(each => each.innerText);
}"""
HEADINGS = """() => [...document.querySelectorAll("main h2, main h3, main caption")]
  .filter(each => each.offsetWidth).map(each => {
    let next = each.tagName === "CAPTION" ? each.nextElementSibling : each;
    while (next && !next.nextElementSibling) { next = next.parentElement; }
    next = each.tagName === "CAPTION" ? next : next && next.nextElementSibling;
    while (next && !next.offsetHeight) { next = next.nextElementSibling; }
    return [each.innerText, next ? next.innerText.split("\\n")[0].slice(0, 25) : ""];
  })"""


def bare(text: str) -> str:
    """A text without what a line break or a font may change: letters and digits alone."""
    return re.sub(r"[^\w]", "", normalize("NFKC", text)).casefold()


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 680, "height": 900})
    yield context.new_page()
    context.close()


class Printed:
    """A page on paper: the file, and the words of each sheet."""

    def __init__(self, written: bytes) -> None:
        self.pdf = PdfReader(io.BytesIO(written))
        self.sheets = [sheet.extract_text() for sheet in self.pdf.pages]
        self.lines = normalize("NFKC", "\n".join(self.sheets))


@pytest.fixture(scope="module")
def printed(page: Page, site: Path) -> Callable[[str, str], Printed]:
    """Prints a kind of page, which stays open as it is on paper, by night as by day.

    Nothing here changes the page, so it is opened and printed once for all that is asked of it.
    """
    done: dict[tuple[str, str], Printed] = {}
    opened: list[str] = []

    def print_(kind: str, paper: str) -> Printed:
        address = (site / KINDS[kind]).as_uri()
        if page.url != address or opened != [kind]:
            page.emulate_media(media="null")
            page.goto(address)
            in_light(page, "dark")
            opened[:] = [kind]
        if (kind, paper) not in done:
            page.emulate_media(media="null")
            done[kind, paper] = Printed(page.pdf(format=paper))
        page.emulate_media(media="print")
        return done[kind, paper]

    return print_


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", GUIDES)
def test_a_guide_on_paper(
    page: Page,
    printed: Callable[[str, str], Printed],
    overflow: Callable[[Page], list[str]],
    kind: str,
    paper: str,
) -> None:
    told = printed(kind, paper)
    width_mm = float(told.pdf.pages[0].mediabox.width) / 72 * 25.4
    assert width_mm == pytest.approx({"A4": 210, "Letter": 215.9}[paper], abs=0.5)
    sheets = [bare(sheet) for sheet in told.sheets]
    everything = "".join(sheets)
    assert page.locator("body").evaluate("each => getComputedStyle(each).color") == "rgb(0, 0, 0)"
    assert all(len(sheet) > 20 for sheet in sheets), "no sheet is empty"
    assert [each for each in NAVIGATION if re.search(rf"\b{each}\b", told.lines)] == []
    torn = [part for part in page.evaluate(WHOLE) if not any(bare(part) in s for s in sheets)]
    assert torn == []
    alone = [
        heading
        for heading, following in page.evaluate(HEADINGS)
        if not any(bare(heading) in sheet and bare(following) in sheet for sheet in sheets)
    ]
    assert alone == [] or len(sheets) == 1
    if kind in OF_A_SENSOR:
        assert bare("Fenwright Carrow 3.2 V6 petrol, 2009–2014") in sheets[0], "which vehicle"
        assert everything.count(bare("Bank 1, position 1")) >= 1
    photos = page.locator("main img").count()
    pictures = sum(len(sheet.images) for sheet in told.pdf.pages)
    assert pictures == photos, "drawings are lines, sharp at any size"
    assert overflow(page) == [], "nothing is wider than the sheet"


@pytest.mark.parametrize("stage", ["access", "test", "refit"])
def test_no_line_is_left_of_a_way_on_that_paper_does_not_show(
    page: Page, site: Path, stage: str
) -> None:
    """An empty line under a heading would let the sheet end between it and its first step."""
    page.goto(
        (site / f"guides/wexmoor-ardent-4-0-v8-hybrid/bank-1-position-1-{stage}.html").as_uri()
    )
    page.emulate_media(media="print")
    lines = page.locator("p:has(> .more)").evaluate_all(
        "each => each.map(line => getComputedStyle(line).display)"
    )
    assert lines, stage
    assert set(lines) == {"none"}


@pytest.mark.parametrize("paper", PAPERS)
def test_a_bench_sheet_is_one_sheet(printed: Callable[[str, str], Printed], paper: str) -> None:
    assert len(printed("bench", paper).sheets) == 1


def test_what_is_folded_on_the_screen_is_open_on_paper(
    page: Page, printed: Callable[[str, str], Printed]
) -> None:
    text = bare(printed("vehicle-codes", "A4").lines)
    folded = page.locator(".group:not([open]) .checks > li > :first-child").all()
    assert len(folded) > 10
    assert [
        step.text_content() for step in folded if bare(step.text_content() or "") not in text
    ] == []


def test_fields_are_no_boxes_on_paper_and_their_values_stay(
    page: Page, printed: Callable[[str, str], Printed]
) -> None:
    text = printed("test", "A4").lines
    border = "each => getComputedStyle(each).borderTopWidth"
    assert page.locator("#air").evaluate(border) == "0px"
    assert re.search(r"Air and sensor at\s+20\s+°C", text)


def test_the_plan_is_on_paper_when_sensors_are_chosen(page: Page, site: Path) -> None:
    page.emulate_media(media="null")
    page.goto((site / KINDS["overview"]).as_uri())
    page.locator(".picks input").first.check()
    assert "Plan the job" in Printed(page.pdf(format="A4")).lines


def test_without_a_script_the_plan_for_all_is_on_paper(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / KINDS["overview"]).as_uri())
    assert "Everything off in one order" in Printed(page.pdf(format="A4")).lines
    context.close()

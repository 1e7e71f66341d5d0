"""The site-wide pages of the codes: one for each, readable, and growing gently."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from gettext import NullTranslations
from typing import Any

import html5lib
import pytest

from generator.guide.catalogue import by_make
from generator.guide.code_pages import SHOWN_A_MAKE, code_pages
from generator.guide.page import Page
from generator.guide.vehicle import Vehicle
from generator.trade.fault_code_table import FAULT_CODES, FaultCode, Subject

T = NullTranslations()
Html = Callable[[Page], str]
PageOf = Callable[[Vehicle, str], Any]


@pytest.fixture(scope="module")
def pages(demo: dict[str, Vehicle]) -> dict[str, Page]:
    return {page.path: page for page in code_pages(by_make(demo.values()), T)}


@pytest.fixture(scope="module")
def parsed(pages: dict[str, Page], html: Html) -> dict[str, Any]:
    return {
        path: html5lib.parse(html(page), namespaceHTMLElements=False)
        for path, page in pages.items()
    }


def said(page: Any) -> str:
    return " ".join("".join(page.find(".//main").itertext()).split())


def test_one_page_a_code_and_the_list(pages: dict[str, Page]) -> None:
    assert set(pages) == {"codes/index.html", *(f"codes/{code}.html" for code in FAULT_CODES)}


def test_every_link_inside_the_codes_is_there(parsed: dict[str, Any]) -> None:
    for path, page in parsed.items():
        for link in page.iter("a"):
            href = link.get("href")
            if not href.startswith(("../", "#", "http")):
                assert f"codes/{href}" in parsed, (path, href)


def test_vehicles_are_linked_at_the_code_on_their_own_page(
    pages: dict[str, Page], demo: dict[str, Vehicle], parsed: dict[str, Any]
) -> None:
    rows = [row for make in pages["codes/P0155.html"].view.makes for row in make.vehicles]
    slugs = {row.href.split("/")[2] for row in rows}
    two_banks = {
        slug
        for slug, vehicle in demo.items()
        if any((s.bank, s.position) == (2, 1) and s.is_heated for s in vehicle.sensors)
    }
    assert slugs == two_banks
    assert all(row.href.endswith("/codes.html#P0155") for row in rows)


@pytest.mark.parametrize(("code", "bank"), [("P0171", 1), ("P0420", 1), ("P0174", 2), ("P0430", 2)])
def test_a_code_about_a_bank_leads_to_every_vehicle_with_that_bank(
    pages: dict[str, Page], demo: dict[str, Vehicle], page_of: PageOf, code: str, bank: int
) -> None:
    rows = [row for make in pages[f"codes/{code}.html"].view.makes for row in make.vehicles]
    linked = {row.href.split("/")[2]: row.href.partition("#")[2] for row in rows}
    wanted = 2 if code in ("P0420", "P0430") else 1
    having = {
        slug
        for slug, each in demo.items()
        if (bank, wanted) in {(s.bank, s.position) for s in each.sensors}
    }
    assert set(linked) == having
    for slug, anchor in linked.items():
        assert page_of(demo[slug], "codes.html").find(f".//*[@id='{anchor}']") is not None


def test_the_vehicle_comes_before_what_the_code_is_not(parsed: dict[str, Any]) -> None:
    headings = [each.text for each in parsed["codes/P0135.html"].iter("h2")]
    assert headings[:2] == ["What to check first, by vehicle", "What it is not"]


@pytest.mark.parametrize("code", FAULT_CODES.values(), ids=lambda code: code.code)
def test_every_page_reads_well(code: FaultCode, parsed: dict[str, Any]) -> None:
    text = said(parsed[f"codes/{code.code}.html"])
    assert code.code in text
    assert "numbered by the vehicle's maker" in text
    assert "%(" not in text and "None" not in text and "{" not in text
    assert not re.search(r"(: ?:|,,|\.\.| \.|, ,)", text)
    meaning = "".join(parsed[f"codes/{code.code}.html"].find(".//div[@class='first']/p").itertext())
    assert len(meaning.split()) >= 5 and meaning.strip().endswith(".")
    if 1 in {place.bank for place in code.sensors}:
        assert "the bank that holds cylinder 1" in text
    if code.subject is Subject.FALSE_FRIEND:
        assert "about another part" in text
        assert "What to check first, by vehicle" not in text


def test_decimal_counting_is_said_where_it_matters(parsed: dict[str, Any]) -> None:
    telling = {path for path, page in parsed.items() if "count in decimal" in said(page)}
    assert {"codes/P0059.html", "codes/P0060.html", "codes/index.html"} <= telling
    assert "codes/P0135.html" not in telling


def test_the_list_names_every_code_once(parsed: dict[str, Any]) -> None:
    anchors = [link.get("href") for link in parsed["codes/index.html"].find(".//main").iter("a")]
    listed = [href.removesuffix(".html") for href in anchors if href.startswith("P")]
    assert sorted(listed) == sorted(FAULT_CODES)


def test_many_vehicles_of_a_make_are_counted_not_listed(
    demo: dict[str, Vehicle], html: Html
) -> None:
    one = demo["fenwright-carrow-3-2-v6"]
    many = by_make(replace(one, slug=f"carrow-{number}") for number in range(SHOWN_A_MAKE + 3))
    page = next(page for page in code_pages(many, T) if page.path == "codes/P0135.html")
    (make,) = page.view.makes
    assert (len(make.vehicles), make.more) == (SHOWN_A_MAKE, 3)
    assert '<a class="more" href="../guides/make-fenwright.html">3 more from Fenwright' in html(
        page
    )


def test_without_vehicles_the_page_says_so(html: Html) -> None:
    page = next(page for page in code_pages([], T) if page.path == "codes/P0135.html")
    assert "No guide here covers a vehicle with this sensor yet." in html(page)

"""The sitemap, canonical addresses, and what other sites are told of a page."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib

from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.site.sitemap import write_sitemap

ADDRESS = "https://sondebook.example/"
NAMES = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9"}


def listed(file: Path) -> list[str]:
    root = ElementTree.fromstring(file.read_text())
    return [each.text or "" for each in root.iterfind(".//s:loc", NAMES)]


def test_the_sitemap_lists_every_page_to_be_found(site: Path) -> None:
    addresses = listed(site / "sitemap.xml")
    assert len(addresses) == len(set(addresses))
    pages = {f"{ADDRESS}{path.relative_to(site).as_posix()}" for path in site.rglob("*.html")}
    # A copy of what stands elsewhere, a page about one phone, and the page for what is missing
    apart = {each for each in pages if "/pocket/" in each}
    apart |= {f"{ADDRESS}kept.html", f"{ADDRESS}404.html"}
    assert set(addresses) == pages - apart
    assert (
        gzip.decompress((site / "sitemap.xml.gz").read_bytes()).decode()
        == (site / "sitemap.xml").read_text()
    )


def test_many_pages_go_into_several_files(tmp_path: Path) -> None:
    (tmp_path / "guides/a&b").mkdir(parents=True)
    for number in range(7):
        (tmp_path / f"guides/a&b/{number}.html").write_text("")
    (tmp_path / "sitemap.xml").write_text(
        f'<urlset xmlns="{NAMES["s"]}"><url><loc>{ADDRESS}index.html</loc></url></urlset>'
    )
    write_sitemap(tmp_path, ADDRESS, most=3)
    files = [each.removeprefix(ADDRESS) for each in listed(tmp_path / "sitemap.xml")]
    assert files == [
        "sitemap-pages.xml",
        *(f"sitemap-guides-{number}.xml" for number in (1, 2, 3)),
    ]
    parts = [listed(tmp_path / name) for name in files]
    assert [len(part) for part in parts] == [1, 3, 3, 1]
    assert parts[3] == [f"{ADDRESS}guides/a%26b/6.html"]


def test_every_page_says_its_address_and_its_title(site: Path) -> None:
    for path in site.rglob("*.html"):
        where = path.relative_to(site).as_posix()
        if where.startswith("pocket/") or where == "404.html":
            continue
        html = path.read_text()
        told = dict(re.findall(r'<meta property="og:(\w+)" content="([^"]*)">', html))
        (canonical,) = re.findall(r'<link rel="canonical" href="([^"]*)">', html)
        assert canonical == told["url"] == f"{ADDRESS}{where}"
        (title,) = re.findall(r"<title>([^<]*)</title>", html)
        assert unescape(told["title"]) in unescape(title)
        assert told["description"], where


def test_without_an_address_none_is_told(html: Callable[[Page], str], demo: Any) -> None:
    page = next(vehicle_pages(demo["lowmere-pip-1-4"]))
    assert "canonical" not in html(page)
    assert "og:url" not in html(page)


def linked(html: str) -> dict[str, Any]:
    parsed = html5lib.parse(html, namespaceHTMLElements=False)
    (script,) = parsed.findall(".//script[@type='application/ld+json']")
    return dict(json.loads(script.text))


def test_an_overview_tells_search_engines_what_it_is(site: Path) -> None:
    for path in (site / "guides").glob("*/index.html"):
        data = linked(path.read_text())
        assert (data["@context"], data["@type"]) == ("https://schema.org", "TechArticle")
        assert (path.parent / data["url"]).is_file()
        for part in data["hasPart"]:
            assert part["@type"] == "HowTo"
            page = (path.parent / part["url"]).read_text()
            assert f"<h1>{part['name']}</h1>" in page
        stages = len(list(path.parent.glob("bank-*-access.html"))) * 3
        assert len(data["hasPart"]) == stages


def test_contributed_text_cannot_leave_the_linked_data(
    small: Callable[..., Vehicle], html: Callable[[Page], str]
) -> None:
    hostile = '</script><script>alert(1)</script> "&amp;'
    vehicle = small({"vehicle.model": hostile})
    data = linked(html(next(vehicle_pages(vehicle))))
    assert data["about"]["model"] == hostile


def test_every_section_of_a_stage_can_be_linked_to(site: Path) -> None:
    for path in (site / "guides").glob("*/*-*.html"):
        parsed = html5lib.parse(path.read_text(), namespaceHTMLElements=False)
        ids = [each.get("id") for each in parsed.iter() if each.get("id")]
        assert len(ids) == len(set(ids)), path
        if path.name.endswith(("access.html", "test.html", "refit.html")):
            for section in parsed.iter("section"):
                if section.find("h2") is not None:
                    assert section.get("id"), f"{path}: {section.find('h2').text}"

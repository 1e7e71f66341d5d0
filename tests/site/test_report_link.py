"""The way to report a wrong value in a built site: near each stated value, or nowhere."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import html5lib
import pytest

FOLDER = "guides/fenwright-carrow-3-2-v6"
Run = Callable[..., object]


@pytest.mark.parametrize(
    ("file", "at_least"),
    [
        ("index.html", 4),
        ("bank-1-position-1-access.html", 3),
        ("bank-1-position-1-test.html", 5),
        ("bank-1-position-1-refit.html", 3),
    ],
)
def test_stated_values_have_the_link_near(site: Path, file: str, at_least: int) -> None:
    text = (site / FOLDER / file).read_text()
    links = html5lib.parse(text, namespaceHTMLElements=False).findall(".//p[@class='report']/a")
    assert len(links) >= at_least
    assert {link.get("href") for link in links} == {"#report"}, "it leads somewhere by itself"


def test_the_page_has_one_report_that_names_vehicle_and_page(site: Path) -> None:
    for page in sorted((site / FOLDER).glob("*.html")):
        (href,) = re.findall(r'<a id="report" href="([^"]*)"', page.read_text())
        asked = parse_qs(urlsplit(unescape(href)).query)
        assert "Fenwright Carrow 3.2 V6 petrol, 2009–2014" in asked["title"][0]
        assert f"({FOLDER}/{page.name})" in asked["body"][0]


def test_pages_of_no_vehicle_have_none(site: Path) -> None:
    for file in ("index.html", "cautions.html", "guides/index.html", "codes/P0135.html"):
        assert 'id="report"' not in (site / file).read_text()


def test_it_costs_a_page_little(site: Path) -> None:
    """Some 70 letters a section, the same each time, and the page's own report."""
    text = (site / FOLDER / "bank-1-position-1-test.html").read_text()
    added = re.findall(r'<p class="report">.*?</p>|<li><a id="report".*?</li>', text)
    assert len(added) > 5
    assert sum(map(len, added)) < 2_000


@pytest.mark.parametrize("uri", ["", "javascript:alert('{body}')"])
def test_without_an_address_there_is_no_link_and_a_wrong_one_is_refused(
    project: Path, run: Run, uri: str
) -> None:
    settings = project / "mkdocs.yml"
    text = settings.read_text()
    line = f'report_uri: "{uri}"'
    settings.write_text(re.sub("report_uri: .*", lambda found: line, text))
    done = run("sondebook", "build")
    if uri:
        assert done.returncode == 2  # type: ignore[attr-defined]
        assert "mkdocs.yml: report_uri is an address" in done.stderr  # type: ignore[attr-defined]
    else:
        assert done.returncode == 0  # type: ignore[attr-defined]
        pages = list((project / "site/guides").rglob("*.html"))
        assert pages
        found = re.compile(r'class="report"|id="report"|report\.js')
        assert not any(found.search(page.read_text()) for page in pages)

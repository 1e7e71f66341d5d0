"""The report of a wrong value takes along which section it is about, and what that says."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Locator

from tests.browser.opened import a_phone

pytestmark = pytest.mark.browser
FOLDER = "guides/fenwright-carrow-3-2-v6"


def filled(link: Locator) -> dict[str, str]:
    """What the link asks for once it has the focus, as a key or a finger gives it."""
    assert link.get_attribute("href") == "#report"
    link.focus()
    href = link.get_attribute("href") or ""
    assert href.startswith("https://code.example/")
    return {name: values[0] for name, values in parse_qs(urlsplit(href).query).items()}


@pytest.mark.parametrize(
    ("file", "section", "told"),
    [
        ("test", "#terminals", ("The terminals (#terminals)", "1 | ")),
        ("test", "#fuse", ("The fuse (#fuse)", "Rating | ")),
        ("refit", "#units", ("In every unit (#units)", "N·m | 40–48")),
        ("access", "#off", ("Off, in this order (#off)", "Lift ")),
    ],
)
def test_a_section_is_named_with_what_it_says(
    opened: Any, site: Path, file: str, section: str, told: tuple[str, str]
) -> None:
    name, said = told
    page = opened.go(site / FOLDER / f"bank-1-position-1-{file}.html")
    asked = filled(page.locator(f"{section} > .report a"))
    assert f"\nSection: {name}\nThe page says:\n" in asked["body"]
    assert said in asked["body"].partition("The page says:")[2]
    assert asked["body"].endswith("What is right:\nWhere that is written, or how it was measured:")
    assert opened.faults == []


@pytest.mark.parametrize(("file", "said"), [("test", "Ω"), ("refit", "40–48 N·m")])
def test_the_number_wanted_is_taken_along(opened: Any, site: Path, file: str, said: str) -> None:
    page = opened.go(site / FOLDER / f"bank-1-position-1-{file}.html")
    asked = filled(page.locator(".wanted + .report a"))
    assert said in asked["body"]


def test_without_a_script_it_leads_to_the_pages_own_report(browser: Any, site: Path) -> None:
    context = a_phone(browser, java_script_enabled=False)
    page = context.new_page()
    page.goto((site / FOLDER / "bank-1-position-1-test.html").as_uri())
    page.locator("#terminals > .report a").click()
    assert page.url.endswith("#report")
    own = page.locator("#report")
    assert (own.get_attribute("href") or "").startswith("https://code.example/")
    context.close()


def test_every_filled_address_is_short_enough(opened: Any, site: Path) -> None:
    for path in sorted((site / FOLDER).glob("*.html")):
        page = opened.go(path)
        for link in page.locator(".report a").all():
            link.focus()
            assert len(link.get_attribute("href") or "") < 8_000

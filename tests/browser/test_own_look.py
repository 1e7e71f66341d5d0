"""A collection's own look: the colours of the example in every light, and a longer name."""

from __future__ import annotations

import re
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.site.collection_start import TEMPLATES
from generator.site.renderer import Renderer

pytestmark = pytest.mark.browser

READABLE = 4.5
"""The least contrast of text, WCAG 2.2, 1.4.3."""
PAGE = (
    '<main><ul class="stages"><li><a href="#" aria-current="page"><strong>Test</strong></a></ul>'
    '<p><a id="link" href="#">link</a></main>'
)
COLOURS = """() => {
  const stage = document.querySelector("[aria-current]"), link = document.querySelector("#link");
  const of = (element, name) => getComputedStyle(element)[name];
  return [[of(stage, "color"), of(stage, "backgroundColor")],
          [of(link, "color"), of(document.body, "backgroundColor")]];
}"""


def luminance(colour: str) -> float:
    """The relative luminance of `rgb(r, g, b)`, WCAG 2.2."""
    shares = [int(each) / 255 for each in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (
        each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in shares
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted([luminance(one), luminance(other)])
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("chosen", ["", "light", "dark", "sunlight"])
@pytest.mark.parametrize("device", ["light", "dark"])
@pytest.mark.parametrize("more", [False, True])
def test_the_example_can_be_read(
    root: Path, browser: Browser, chosen: str, device: Any, more: bool
) -> None:
    example = (TEMPLATES / "own.css").read_text().partition("@media")[2].removesuffix("*/\n")
    page = browser.new_page(color_scheme=device, contrast="more" if more else "no-preference")
    first, rest = (
        (root / f"overrides/assets/{name}.css").read_text() for name in ("sondebook", "guide")
    )
    page.set_content(
        f"<style>{first}</style><style>@media{example}</style><style>{rest}</style><body>{PAGE}"
    )
    page.evaluate("light => { if (light) document.documentElement.dataset.light = light; }", chosen)
    told = page.evaluate(COLOURS)
    assert all(contrast(*pair) >= READABLE for pair in told), told
    is_dark = chosen == "dark" or (not chosen and device == "dark")
    if chosen == "sunlight":
        assert told[0] == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"], "nothing of our own in the sun"
    elif not more:
        assert told[0][1] == ("rgb(240, 168, 120)" if is_dark else "rgb(138, 59, 18)")
    page.emulate_media(media="print")
    assert page.evaluate(COLOURS)[1][0] == "rgb(0, 0, 0)"
    page.close()


@pytest.mark.parametrize("width", [320, 610, 700, 768, 1280])
def test_a_longer_name_leaves_the_menu_its_place(
    root: Path, browser: Browser, demo: dict[str, Vehicle], width: int
) -> None:
    renderer = Renderer([root / "overrides"], "Lowmere & Kestrin Owners", "en", NullTranslations())
    html = renderer.html(next(vehicle_pages(demo["lowmere-pip-1-4"])))
    ours = (root / "overrides/assets/sondebook.css").read_text()
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_content(f"<style>{ours}</style>{html[html.index('<header') : html.index('<main')]}")
    name = page.locator(".head .name").bounding_box()
    assert name
    links = [each.bounding_box() for each in page.locator(".menu nav a").all() if each.is_visible()]
    assert len(links) == (0 if width == 320 else 4)
    for link in filter(None, links):
        assert link["x"] >= name["x"] + name["width"] + 20
        assert link["x"] + link["width"] <= width
        assert link["height"] < 60, "on one line"
    page.close()

"""WCAG 2.2 AA on every kind of page in every light, by axe-core and by the pairs of colours."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.opened import Opened, a_phone
from tests.browser.pictures import KINDS, LIGHTS, in_light
from tests.browser.storage import visit, with_room

pytestmark = pytest.mark.browser

BENCH = KINDS["bench"]
ALL_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
CHECK = """async rules => {
  const told = await axe.run(document, {runOnly: rules, resultTypes: ["violations"]});
  return [told.passes.length, told.violations.flatMap(rule => rule.nodes.map(
    node => `${rule.id}: ${node.html.slice(0, 120)} ${node.failureSummary}`))];
}"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """A page the size of a phone."""
    context = a_phone(browser)
    yield context.new_page()
    context.close()


def faults(page: Page, axe: str, rules: list[str] = ALL_RULES) -> list[str]:
    """What axe-core finds on the page as it stands, from its top.

    Further down, the row of stages lies over whatever is just passing beneath it.
    """
    page.evaluate("scrollTo({top: 0, behavior: 'instant'})")
    if not page.evaluate("'axe' in window"):
        page.evaluate(axe)
    passed, found = page.evaluate(CHECK, rules)
    assert passed, "a check that looked at nothing proves nothing"
    return list(found)


def unfold(page: Page) -> None:
    """Everything that opens, opened."""
    page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")


@pytest.mark.parametrize("kind", KINDS)
def test_no_kind_of_page_has_a_fault_in_any_light(
    page: Page, axe: str, site: Path, kind: str
) -> None:
    page.goto((site / KINDS[kind]).as_uri())
    unfold(page)
    found = {}
    for light in LIGHTS:
        in_light(page, light)
        # Of all rules, only that of contrast can answer otherwise in another colour; letters are
        # of another size in sunlight
        found[light] = faults(page, axe, ["color-contrast"] if light == "dark" else ALL_RULES)
    assert found == {light: [] for light in LIGHTS}


def test_the_check_can_fail(page: Page, axe: str, site: Path) -> None:
    page.goto((site / KINDS["refit"]).as_uri())
    page.evaluate(
        """() => {
            const box = document.querySelector("main").appendChild(document.createElement("input"));
            const grey = document.querySelector("main").appendChild(document.createElement("p"));
            grey.textContent = "hard to read";
            grey.style.color = "#aaa";
        }"""
    )
    found = " ".join(faults(page, axe))
    assert "label: <input>" in found and "color-contrast: <p" in found


def test_no_fault_on_a_bench_sheet_that_is_filled_in(page: Page, axe: str, site: Path) -> None:
    page.goto((site / BENCH).as_uri())
    unfold(page)
    for field in page.locator(".bench input:not([type=checkbox]):not([type=date]):visible").all():
        if field.is_enabled():
            field.fill("20")
    assert page.locator(".verdict.told").count() or page.locator(".fault:not(:empty)").count()
    for light in LIGHTS:
        in_light(page, light)
        assert faults(page, axe) == [], light


def test_no_fault_on_a_plan_with_sensors_chosen(page: Page, axe: str, site: Path) -> None:
    page.goto((site / KINDS["overview"]).as_uri())
    for box in page.locator(".picks input").all():
        box.check()
    assert page.locator(".plan-order li:visible").count() > 3
    assert faults(page, axe) == []


def test_no_fault_when_the_finder_has_found(page: Page, axe: str, site: Path) -> None:
    page.goto((site / KINDS["home"]).as_uri())
    page.locator(".finder input").first.fill("fenwright")
    page.locator(".finder ul a").first.wait_for()
    assert faults(page, axe) == []


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *_: object) -> None:
        """Says nothing."""


def test_no_fault_where_there_is_no_such_page(page: Page, axe: str, site: Path) -> None:
    # Its paths begin at the root of the host, so it is only itself over http
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site)))
    Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True).start()
    try:
        page.goto(f"http://127.0.0.1:{server.server_port}/404.html")
        unfold(page)
        for light in LIGHTS:
            in_light(page, light)
            assert faults(page, axe) == [], light
    finally:
        server.shutdown()
        server.server_close()


# The light the reader chose


def test_sunlight_is_black_on_white_without_grey_and_its_number_is_larger(
    page: Page, site: Path
) -> None:
    page.goto((site / KINDS["test"]).as_uri())
    colours = """() => [...document.querySelectorAll("main p, main dt, main th, main figcaption")]
        .filter(each => !each.closest(".word, a, [aria-current]") && each.offsetWidth)
        .map(each => getComputedStyle(each).color)"""
    size = "parseFloat(getComputedStyle(document.querySelector('.number')).fontSize)"
    in_light(page, "light")
    number_px = page.evaluate(size)
    assert len(set(page.evaluate(colours))) > 1, "in light, second words are softer"
    in_light(page, "sunlight")
    assert set(page.evaluate(colours)) == {"rgb(0, 0, 0)"}
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate(size) > 1.1 * number_px
    hair = "getComputedStyle(document.querySelector('.steps > li')).borderBottomWidth"
    assert page.evaluate(hair) == "2px"


@pytest.mark.parametrize("asked", ["light", "dark"])
@pytest.mark.parametrize("light", LIGHTS)
def test_a_chosen_light_outranks_the_device_on_every_kind_of_page(
    as_new: Opened, site: Path, asked: Any, light: str
) -> None:
    page = as_new.page
    page.emulate_media(color_scheme=asked)
    page.goto((site / KINDS["refit"]).as_uri())
    with_room(page)
    page.locator(".choices summary").click()
    page.get_by_role("button", name=re.compile(f"^{light}$")).click()
    expected = {"light": "rgb(250, 248, 244)", "dark": "rgb(22, 23, 25)"}
    for kind in ("refit", "cautions", "home"):
        visit(page, (site / KINDS[kind]).as_uri())
        paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert paper == expected.get(light, "rgb(255, 255, 255)"), kind
        scheme = page.evaluate("getComputedStyle(document.body).colorScheme")
        assert scheme == ("dark" if light == "dark" else "light"), "form fields follow"
    page.locator(".choices summary").click()
    page.get_by_role("button", name="as the device").click()
    assert page.evaluate("document.documentElement.dataset.light") is None


def test_no_page_is_painted_in_another_light_first(browser: Browser, site: Path) -> None:
    context = browser.new_context(color_scheme="light")
    page = context.new_page()
    page.goto((site / KINDS["refit"]).as_uri())
    with_room(page)
    page.evaluate("localStorage.setItem('sondebook-light', 'dark')")
    page.add_init_script(
        """new MutationObserver((all, observer) => {
            if (document.body) {
                window.lightAtBody = document.documentElement.dataset.light;
                observer.disconnect();
            }
        }).observe(document, {childList: true, subtree: true});"""
    )
    for kind in ("refit", "bench", "cautions", "home"):
        visit(page, (site / KINDS[kind]).as_uri())
        assert page.evaluate("window.lightAtBody") == "dark", kind
    context.close()


# The pairs of colours


RULE = re.compile(r"(@media[^{]+)\{\s*:root[^{]*\{([^}]*)\}\s*\}|^:root \{([^}]*)\}", re.MULTILINE)
PAIRS = [
    *((ink, ground) for ink in ("ink", "soft", "link", "hot") for ground in ("paper", "sheet")),
    ("ink", "panel"), ("soft", "panel"), ("on-mark", "mark"), ("paper", "ink"),
]  # fmt: skip
SIGNALS = {"danger": "#fff", "warning": "#000", "caution": "#000", "notice": "#fff"}


@pytest.fixture(scope="module")
def blocks(root: Path) -> list[tuple[str, dict[str, str]]]:
    """The blocks of tokens in the style sheet: the condition, and each token's value."""
    css = (root / "overrides/assets/sondebook.css").read_text(encoding="utf-8")
    css = css[: css.index("/* Words */")]
    return [
        (rule[1] or "", dict(re.findall(r"--([\w-]+): ([^;]+);", rule[2] or rule[3])))
        for rule in RULE.finditer(css)
    ]


def contrast(one: str, other: str) -> float:
    """The contrast of two colours (WCAG 2.2, 1.4.3): 1 to 21."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    digits = colour.removeprefix("#")
    digits = digits if len(digits) == 6 else "".join(2 * digit for digit in digits)
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_the_measure_of_contrast_is_that_of_the_standard() -> None:
    assert contrast("#000", "#fff") == pytest.approx(21)
    assert contrast("#777", "#fff") == pytest.approx(4.48, abs=0.005), "the known near miss"


def test_every_pair_of_colours_can_be_read(blocks: list[tuple[str, dict[str, str]]]) -> None:
    assert len(blocks) == 6
    (_, light), *others = blocks
    for condition, changed in [("", {}), *others]:
        tokens = light | changed
        tokens["hot"] = tokens["bronze"] if "var" in tokens["hot"] else tokens["hot"]
        is_strong = tokens["paper"] in ("#fff", "#000")
        for one, other in PAIRS:
            least = 7 if is_strong or (one, other) == ("ink", "sheet") else 4.5
            assert contrast(tokens[one], tokens[other]) >= least, (condition, one, other)
    for word, ink in SIGNALS.items():
        assert contrast(light[word], ink) >= 4.5, word


def test_a_setting_is_the_same_whether_the_device_asks_or_the_reader(
    blocks: list[tuple[str, dict[str, str]]],
) -> None:
    _, dark, chosen_dark, strong, sunlight, _ = (tokens for _, tokens in blocks)
    assert dark == chosen_dark and strong == sunlight
    assert dark != strong


def test_every_colour_of_the_style_sheets_is_a_token(root: Path) -> None:
    allowed = {"#fff", "#000", "#999"}  # the signal words' letters, and paper
    for name in ("sondebook.css", "guide.css", "bench.css", "pocket.css"):
        css = (root / "overrides/assets" / name).read_text(encoding="utf-8")
        start = css.index("/* Words */") if name == "sondebook.css" else 0
        told = re.findall(r"#[0-9a-f]{3,8}\b(?=[^{}]*;)", css[start:])
        heat_tint = {"#dcb04a", "#6fa3cc"}
        assert set(told) <= allowed | heat_tint, name

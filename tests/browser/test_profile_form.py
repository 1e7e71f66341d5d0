"""A profile is built in the page with a keyboard alone, and the check accepts what comes out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
import yaml
from playwright.sync_api import Browser, Page

from generator.profile import ProfileFile, read_text
from generator.profile.answers import slug_of
from generator.profile.form_schema import NAME_KEY, START, form_schema
from tests.browser.filled_form import filled, form_value, smallest
from tests.browser.pictures import LIGHTS, in_light
from tests.browser.storage import visit, with_room
from tests.browser.test_accessibility import ALL_RULES

pytestmark = pytest.mark.browser

PAGE = "build-a-profile.html"
TYPED = {
    "Make": "Lowmere",
    "Model": "Pip",
    "Years": "2004 to 2009",
    "Name": "1.6 petrol",
    "Where": "in the manifold",
}
CHOSEN = {
    "Arrangement": "inline",
    "Mounting": "transverse",
    "Bay": "front",
    "Side": "front",
    "Kind": "switching",
    "Wires": "4",
    "Reach": "above",
}
NAME = """() => {
  const on = document.activeElement;
  return (on.labels && on.labels[0] ? on.labels[0].textContent : on.textContent).trim();
}"""


def written(page: Page) -> str:
    return page.locator("#text").input_value()


def read(page: Page) -> ProfileFile:
    return read_text(written(page).encode("utf-8", "surrogatepass"), "built.yml", "built")


def test_the_smallest_vehicle_is_filled_in_with_a_keyboard(
    form: Page, overflow: Callable[[Page], list[str]]
) -> None:
    cylinders = iter(["4", "1, 2, 3, 4"])
    passed = []
    form.locator("#root-vehicle-make").focus()
    for _ in range(40):
        name = form.evaluate(NAME)
        passed.append(name)
        if name == "Copy the text":
            break
        if name == "left":
            form.keyboard.press("Space")
        elif name == "Cylinders":
            form.keyboard.type(next(cylinders))
        elif name in TYPED | CHOSEN:
            form.keyboard.type((TYPED | CHOSEN)[name])
        form.keyboard.press("Tab")
    assert set(TYPED | CHOSEN) <= set(passed)
    found = read(form)
    assert [str(finding) for finding in found.findings] == []
    assert found.profile is not None
    assert found.profile.vehicle.make == "Lowmere"
    assert found.profile.sensors[0].place.where == "in the manifold"
    assert form.locator("#file-name").inner_text() == "lowmere-pip-1-6-petrol.yml"
    assert written(form).startswith(
        "# yaml-language-server: $schema=../docs/reference/profile.schema"
    )
    form.keyboard.press("Enter")
    form.locator("#said", has_text="Copied").wait_for()
    assert form.locator("#faults").is_hidden()
    assert overflow(form) == []


@pytest.mark.parametrize(
    "name", sorted(each.stem for each in Path("vehicle_profiles").glob("*.yml"))
)
def test_every_demonstration_comes_through_the_form_as_it_was(
    form: Page, root: Path, name: str
) -> None:
    text = (root / "vehicle_profiles" / f"{name}.yml").read_bytes()
    before = read_text(text, f"{name}.yml", name)
    # Every scalar as text, as the reader takes it
    data = yaml.load(text, Loader=yaml.BaseLoader)
    filled(form, form_value(form_schema(), data))
    after = read_text(written(form).encode(), f"{name}.yml", name)
    assert [finding.rule for finding in after.findings] == [each.rule for each in before.findings]
    assert after.profile == before.profile


def test_what_is_added_leads_to_its_fields_and_into_the_text(form: Page) -> None:
    filled(form, smallest())
    form.get_by_role("button", name="Add to sensor …").click()
    tick = form.get_by_role("checkbox", name="Torque", exact=True)
    tick.focus()
    form.keyboard.press("Space")
    assert form.evaluate(NAME) == "Torque", "the focus stays where it was"
    value = form.locator("#root-sensors-0-torque-value")
    value.fill("44 N·m")
    value.press("Tab")
    assert "torque: 44 N·m" in written(form)
    tick.uncheck()
    assert "torque" not in written(form)
    form.get_by_role("button", name="Add sensor").click()
    assert form.evaluate("document.activeElement.id") == "root-sensors-1-bank"
    form.get_by_role("button", name="Delete this sensor").last.click()
    assert form.get_by_role("group", name="Sensor 2").count() == 0


def test_a_value_that_cannot_be_is_told_at_its_field_and_in_the_list(form: Page) -> None:
    filled(form, smallest())
    years = form.locator("#root-vehicle-years")
    years.fill("soon")
    years.press("Tab")
    assert years.get_attribute("aria-invalid") == "true"
    message = "Years, such as 2009 to 2014."
    assert form.locator("#root-vehicle-years-messages").inner_text() == message
    form.get_by_role("button", name="Save the file").click()
    assert form.locator("#fault-list").inner_text() == f"Vehicle, Years: {message}"
    form.locator("#fault-list a").click()
    assert form.evaluate("document.activeElement.id") == "root-vehicle-years"


@pytest.mark.parametrize("typed", ["1,2,3,4", "1 2 3 4", "1-4", "1 – 3, 4", "1-2 3-4"])
def test_cylinders_are_taken_as_people_list_them(form: Page, typed: str) -> None:
    filled(form, smallest())
    cylinders = form.locator("#root-banks-0-cylinders")
    cylinders.fill(typed)
    cylinders.press("Tab")
    assert cylinders.get_attribute("aria-invalid") != "true"
    assert "cylinders: [1, 2, 3, 4]" in written(form)
    assert form.locator("#sketch-faults").inner_text() == ""


def test_an_empty_form_says_what_it_lacks_and_saves_nothing(form: Page) -> None:
    form.get_by_role("button", name="Save the file").click()
    told = form.locator("#fault-list").inner_text()
    for name in ("Make", "Arrangement", "Cylinders", "Steering", "Reach"):
        assert name in told
    assert form.locator("#said").inner_text() == ""


def test_a_name_that_is_there_twice_is_told(form: Page) -> None:
    value = smallest()
    value["sources"] = [
        {NAME_KEY: "manual", "title": "One", "kind": "maker"},
        {NAME_KEY: "manual", "title": "Other", "kind": "maker"},
    ]
    filled(form, value)
    form.get_by_role("button", name="Copy the text").click()
    assert "“manual” is there twice" in form.locator("#fault-list").inner_text()


def test_the_draft_is_there_again_until_one_starts_again(form: Page) -> None:
    with_room(form).locator("#root-vehicle-make").fill("Tarnhelm")
    form.locator("#root-vehicle-make").press("Tab")
    visit(form)
    assert form.locator("#root-vehicle-make").input_value() == "Tarnhelm"
    form.once("dialog", lambda dialog: dialog.dismiss())
    form.get_by_role("button", name="Start again").click()
    assert form.locator("#root-vehicle-make").input_value() == "Tarnhelm"
    form.once("dialog", lambda dialog: dialog.accept())
    form.get_by_role("button", name="Start again").click()
    assert form.locator("#root-vehicle-make").input_value() == ""
    visit(form)
    assert form.locator("#root-vehicle-make").input_value() == ""


def test_a_spoiled_draft_is_left_aside(form: Page) -> None:
    with_room(form).evaluate("localStorage.setItem('sondebook-profile-draft', '{')")
    visit(form)
    assert form.locator("#root-vehicle-make").input_value() == ""


HOSTILE = [
    "<img src=x onerror=window.ran=1><script>window.ran=1</script>",
    "{{ constructor.constructor('window.ran=1')() }} {% x %} ${window.ran=1}",
    "javascript:window.ran=1",
    "- a: [b, {c: !!python/object:d}] # e",
    "no",
    "12:30",
    "&anchor *alias",
    "'\"`\\",
    "__proto__",
    "ünï 中文 \U0001f527",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_text(form: Page, text: str) -> None:
    value = smallest()
    value["vehicle"]["make"] = text
    value["sensors"][0]["place"]["where"] = text
    value["notes"] = [text, f"first line\n{text}"]
    value["sources"] = [{NAME_KEY: text, "title": text, "kind": "maker"}]
    filled(form, value)
    form.get_by_role("button", name="Copy the text").click()
    assert form.evaluate("window.ran") is None
    assert form.locator("#profile-form :is(img, script, iframe)").count() == 0
    data = yaml.load(written(form), Loader=yaml.BaseLoader)
    assert data["vehicle"]["make"] == text
    assert data["notes"] == [text, f"first line\n{text}"]
    assert list(data["sources"]) == [text]
    value["sources"][0][NAME_KEY] = "manual"
    filled(form, value)
    found = read(form)
    assert {finding.rule for finding in found.findings} <= {"unused-name"}
    assert found.profile is not None
    assert found.profile.vehicle.make == text


def test_half_a_character_is_a_finding_and_no_fall(form: Page) -> None:
    value = smallest()
    form.evaluate("window.half = '\\ud800'")
    value["vehicle"]["make"] = "x"
    filled(form, value)
    form.evaluate("""() => {
      const make = document.getElementById("root-vehicle-make");
      make.value = "a\\u202e\\ud800b";
      make.dispatchEvent(new Event("change"));
    }""")
    assert read(form).has_errors


# ---- the proposal


def test_a_short_profile_goes_with_the_address(form: Page) -> None:
    filled(form, smallest())
    href = form.locator("#propose").get_attribute("href")
    assert href is not None
    parts = urlsplit(href)
    assert parts.hostname == "code.example"
    query = parse_qs(parts.query)
    assert query["filename"] == ["tarnhelm-brae-2-0-petrol.yml"]
    assert query["value"] == [written(form)]
    assert form.locator("#propose").get_attribute("rel") == "noopener noreferrer"


def test_a_long_profile_is_copied_and_the_address_holds_its_name(form: Page) -> None:
    value = smallest()
    value["notes"] = ["ä" * 1500]
    filled(form, value)
    href = form.locator("#propose").get_attribute("href")
    assert href is not None and parse_qs(urlsplit(href).query) == {
        "filename": ["tarnhelm-brae-2-0-petrol.yml"]
    }
    form.evaluate(
        "document.getElementById('propose').addEventListener('click', e => e.preventDefault())"
    )
    form.locator("#propose").click()
    form.locator("#said", has_text="too long").wait_for()


def test_nothing_unfinished_is_proposed(form: Page) -> None:
    form.locator("#propose").click()
    assert form.locator("#faults").is_visible()
    assert len(form.context.pages) == 1


def test_the_file_is_saved_under_its_name(form: Page) -> None:
    filled(form, smallest())
    with form.expect_download() as downloading:
        form.get_by_role("button", name="Save the file").click()
    saved = downloading.value
    assert saved.suggested_filename == "tarnhelm-brae-2-0-petrol.yml"
    assert Path(saved.path()).read_text("utf-8") == written(form)


@pytest.mark.parametrize(
    "words",
    [
        ("Fenwright", "Carrow", "3.2 V6"),
        ("Ærø Straße", "ÉCLAIR–2", "ﬁve İstanbul ı"),
        ("中文", "...", "-"),
        ("a" * 79, "b", "c"),
    ],
)
def test_the_file_is_named_as_the_program_names_it(form: Page, words: tuple[str, ...]) -> None:
    assert form.evaluate("words => sondebookProfile.slug(words)", list(words)) == slug_of(*words)


# ---- for everybody


CHECK = """async rules => {
  const how = {runOnly: rules, preload: false, resultTypes: ["violations"]};
  const told = await axe.run("#profile-form", how);
  return [told.passes.length, told.violations.flatMap(rule => rule.nodes.map(
    node => `${rule.id}: ${node.html.slice(0, 160)} ${node.failureSummary}`))];
}"""


def test_no_fault_for_who_cannot_see_or_point(
    form: Page, axe: str, overflow: Callable[[Page], list[str]]
) -> None:
    value = smallest()
    value["vehicle"]["years"] = "soon"
    filled(form, value)
    for button in form.get_by_role("button", name="…").all():
        button.click()
    for name in ("Torque", "Heater", "Sources", "Obstacles", "Connectors", "Notes", "Status"):
        form.get_by_role("checkbox", name=name, exact=True).first.check()
    form.get_by_role("button", name="Add source", exact=True).click()
    form.get_by_role("button", name="Copy the text").click()
    form.evaluate(axe)
    for light in LIGHTS:
        in_light(form, light)
        passed, found = form.evaluate(CHECK, ALL_RULES)
        assert passed and found == [], light
        assert overflow(form) == [], light


def test_the_library_is_loaded_here_and_nowhere_else(site: Path) -> None:
    users = [page for page in site.rglob("*.html") if "vendor/" in page.read_text("utf-8")]
    assert users == [site / PAGE]


def test_without_a_script_the_page_says_what_to_do(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / PAGE).as_uri())
    assert "needs JavaScript" in page.locator("noscript").text_content()
    assert page.locator("#profile-form").is_hidden()
    context.close()


def test_the_form_begins_with_what_can_be_read_again() -> None:
    assert set(START) <= set(form_schema()["properties"])

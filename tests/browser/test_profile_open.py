"""An existing profile is opened in the form: what it holds, what it loses, and what is refused."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Page

from generator.profile import read_text
from generator.profile.form_schema import form_schema
from tests.browser.filled_form import filled, form_value, smallest
from tests.browser.opened import Opened
from tests.browser.storage import visit, with_room
from tests.browser.test_accessibility import ALL_RULES
from tests.browser.test_profile_form import CHECK, read, written

pytestmark = pytest.mark.browser

PIP = "lowmere-pip-1-4.yml"
DEMOS = sorted(each.name for each in Path("vehicle_profiles").glob("*.yml"))
SMALL = """\
# yaml-language-server: $schema=../elsewhere/schema.json
format: 2
vehicle: {make: Lowmere, model: Pip, years: 2004 to 2009}
engine: {name: 1.6 petrol, cylinders: 4, arrangement: inline, mounting: transverse, bay: front}
steering: [left]
banks:
  1: {cylinders: [1, 2, 3, 4], side: front}
sensors:
  - {bank: 1, position: 1, kind: switching, wires: 4,
     place: {where: "in # the manifold", reach: above}}
"""
READ = "text => sondebookOpen.read(text, sondebookForm.schema, sondebookForm.format)"


def opened_text(page: Page, text: str) -> dict[str, Any]:
    """What the page makes of a text, before anything is shown."""
    return dict(page.evaluate(READ, text))


def pasted(page: Page, text: str) -> None:
    page.locator("#open").evaluate("each => { each.open = true; }")
    page.locator("#open-text").fill(text)
    page.get_by_role("button", name="Open this text").click()


def picked(page: Page, name: str, content: bytes) -> None:
    page.locator("#open").evaluate("each => { each.open = true; }")
    page.locator("#open-file").set_input_files(
        {"name": name, "mimeType": "text/yaml", "buffer": content}
    )


@pytest.mark.parametrize("name", DEMOS)
def test_every_demonstration_is_opened_and_comes_out_as_it_was(
    form: Page, root: Path, name: str
) -> None:
    content = (root / "vehicle_profiles" / name).read_bytes()
    before = read_text(content, name, name)
    picked(form, name, content)
    form.locator("#open-asks").wait_for()
    lines = {int(each) for each in re.findall(r"\d+", form.locator("#open-losses").inner_text())}
    told = {
        number
        for number, line in enumerate(content.decode().split("\n"), start=1)
        if re.match(r"\s*#", line) and number > 1
    }
    assert told and told <= lines, "each line that is a comment"
    form.get_by_role("button", name="Open it all the same").click()
    form.locator("#open-said", has_text="Opened").wait_for()
    after = read(form)
    assert after.profile == before.profile
    assert form.locator("#file-name").inner_text() == name
    assert written(form).split("\n", 1)[0] == content.decode().split("\n", 1)[0]


@pytest.mark.parametrize("name", DEMOS)
def test_what_is_held_is_what_was_filled_in(form: Page, root: Path, name: str) -> None:
    """The page reads a profile as the tests of the form always wrote it."""
    text = (root / "vehicle_profiles" / name).read_text("utf-8")
    data = yaml.load(text, Loader=yaml.BaseLoader)
    found = opened_text(form, text)
    assert found["value"] == form_value(form_schema(), data)
    assert found["left"] == []


def test_nothing_is_asked_where_nothing_is_lost(form: Page) -> None:
    pasted(form, SMALL)
    assert form.locator("#open-asks").is_hidden()
    assert form.evaluate("document.activeElement.id") == "root-vehicle-make"
    said = form.locator("#open-said").inner_text()
    assert said.startswith("Opened.") and "another address" in said
    assert written(form).startswith("# yaml-language-server: $schema=../elsewhere/schema.json\n")
    data = yaml.load(written(form), Loader=yaml.BaseLoader)
    assert data == yaml.load(SMALL, Loader=yaml.BaseLoader)


def test_what_is_filled_in_is_replaced_only_after_it_is_said(form: Page) -> None:
    filled(form, smallest())
    before = written(form)
    pasted(form, SMALL.replace("steering:", "# left only\nsteering:"))
    losses = form.locator("#open-losses").inner_text()
    assert "These comments are lost, by line: 5." in losses
    assert "What is filled in now is replaced." in losses
    assert form.evaluate("document.activeElement.id") == "open-asks"
    assert written(form) == before
    form.get_by_role("button", name="Leave it").click()
    assert form.locator("#open-asks").is_hidden()
    assert written(form) == before


def test_what_the_form_has_no_place_for_is_told(form: Page) -> None:
    text = SMALL.replace("kind: switching", "kind: planar").replace(
        "format: 2\n", "format: 2\ncolour: red\n__proto__: {a: b}\nnotes: {a: b}\n"
    )
    pasted(form, text)
    told = form.locator("#open-losses").inner_text()
    assert "drops them: colour, __proto__, notes, sensors.1.kind." in told
    form.get_by_role("button", name="Open it all the same").click()
    data = yaml.load(written(form), Loader=yaml.BaseLoader)
    assert set(data) == {"format", "vehicle", "engine", "steering", "banks", "sensors"}


COMMENTED = [
    ("a: 'x # no' # yes\n", [2]),
    ("a: |\n  # no\n  x # no\n# yes\n", [5]),
    ("a: plain#no\nb: >-\n\n  # no\n\n  x\n", []),
    ("a: [x, # yes\n  y]\n", [2]),
    ('  # yes\na: "#\n  # no"\n', [2]),
    ("a: x\r\n# yes\r\n", [3]),
]


def test_comments_are_found_and_nothing_else(form: Page) -> None:
    for text, lines in COMMENTED:
        assert opened_text(form, f"format: 2\n{text}")["comments"] == lines, text


REFUSED = [
    ("format: 2\nvehicle: {make: x\nengine: y\n", "line 3"),
    ("format: 2\nvehicle:\n  make: x\n   model: y\n", "line 4"),
    ("format: 2\nvehicle:\n\tmake: x\n", "line 3 is set in with a tab"),
    ("format: 2\nnotes: []\nnotes: []\n", "line 3 has a key that stands there already"),
    ("format: 2\nnotes: &a [x]\n", "line 2 has an anchor"),
    ("format: 2\nnotes: *a\n", "line 2 has an anchor"),
    ("format: 2\nnotes: !x y\n", "line 2 has an anchor"),
    ('format: 2\nnotes: "x\n', "line"),
    ('format: 2\nnotes: "\\q"\n', "line 2 is not YAML"),
    ("format: 2\n---\nformat: 2\n", "several documents"),
    ("format: 1\n", "has format 1, and the form writes format 2"),
    ("format: [2]\n", "has format 2, and"),
    ("vehicle: x\n", "no line “format:”"),
    ("- a\n", "no line “format:”"),
    ("", "no line “format:”"),
    ("just words\n", "no line “format:”"),
    ("\0", "line 1"),
    ("[" * 50_000, "line 1"),
    ("a" * 300_000, "at most 256 kB"),
]


def test_what_cannot_be_opened_is_one_sentence_and_changes_nothing(form: Page) -> None:
    before = written(form)
    for text, said in REFUSED:
        form.evaluate("document.getElementById('open-said').textContent = ''")
        # Picked rather than pasted: a field cannot hold every letter of a file
        picked(form, "x.yml", text.encode())
        form.locator("#open-said", has_text="Not opened").wait_for()
        sentence = form.locator("#open-said").inner_text()
        assert sentence.startswith("Not opened: ") and said in sentence, text[:24]
        assert sentence.count(".") <= 2 and "{" not in sentence and "undefined" not in sentence
        assert form.locator("#open-asks").is_hidden()
        assert written(form) == before


def test_a_file_that_is_no_text_is_refused(form: Page) -> None:
    picked(form, "x.yml", b"\xff\xfe\x00")
    form.locator("#open-said", has_text="not text in UTF-8").wait_for()


def test_the_name_of_the_file_lasts_until_one_starts_again(form: Page) -> None:
    picked(with_room(form), "club-pip.yml", SMALL.encode())
    form.locator("#open-said", has_text="It keeps its name, club-pip.yml").wait_for()
    form.locator("#root-vehicle-make").fill("Lowmore")
    form.locator("#root-vehicle-make").press("Tab")
    assert form.locator("#file-name").inner_text() == "club-pip.yml"
    visit(form)
    assert form.locator("#file-name").inner_text() == "club-pip.yml"
    form.once("dialog", lambda dialog: dialog.accept())
    form.get_by_role("button", name="Start again").click()
    assert form.locator("#file-name").inner_text() == "vehicle.yml"


@pytest.mark.parametrize("name", ["../x.yml", "Club Pip.yml", "x.txt", "a--b.yml"])
def test_a_name_that_no_profile_may_have_is_made_anew(form: Page, name: str) -> None:
    picked(form, name, SMALL.encode())
    form.locator("#open-said", has_text="Opened").wait_for()
    assert form.locator("#file-name").inner_text() == "lowmere-pip-1-6-petrol.yml"


def test_a_change_is_proposed_where_the_file_is(form: Page) -> None:
    edit = form.evaluate("sondebookForm.edit")
    assert edit.startswith("https://code.example/")
    picked(form, "club-pip.yml", SMALL.encode())
    form.locator("#open-said", has_text="Opened").wait_for()
    assert form.locator("#propose").get_attribute("href") == f"{edit}club-pip.yml"
    form.evaluate(
        "document.getElementById('propose').addEventListener('click', e => e.preventDefault())"
    )
    form.locator("#propose").click()
    form.locator("#said", has_text="Paste it over all that stands there").wait_for()


def test_hostile_text_in_a_file_stays_text(form: Page) -> None:
    hostile = "<img src=x onerror=window.ran=1><script>window.ran=1</script>{{ i1 }}"
    text = SMALL.replace("make: Lowmere", f"make: '{hostile}'")
    pasted(form, text + f"'{hostile}': [x]\n")
    assert hostile in form.locator("#open-losses").inner_text()
    form.get_by_role("button", name="Open it all the same").click()
    assert form.locator("#root-vehicle-make").input_value() == hostile
    assert form.evaluate("window.ran") is None
    assert form.locator("#profile-form :is(img, script, iframe)").count() == 0


def test_no_fault_for_who_cannot_see_or_point(
    form: Page, axe: str, overflow: Callable[[Page], list[str]]
) -> None:
    filled(form, smallest())
    pasted(form, SMALL.replace("steering:", "# one\nsteering:"))
    form.evaluate(axe)
    passed, found = form.evaluate(CHECK, ALL_RULES)
    assert passed and found == []
    assert overflow(form) == []


# ---- the German form

SHOWN = """() => {
  const walker = document.createTreeWalker(
    document.getElementById("profile-form"), NodeFilter.SHOW_TEXT);
  const found = new Set();
  while (walker.nextNode()) {
    const text = walker.currentNode.textContent.trim();
    if (text && !walker.currentNode.parentElement.closest("textarea, option")) { found.add(text); }
  }
  return [...found];
}"""
SAME_IN_BOTH = {"Name", "Bank", "Bank 1", "Position", "Element"}
"""German words that are English ones too."""
WORDS_OF_A_PROFILE = {"left", "right", "tarnhelm-brae-2-0-petrol.yml"}


def unfolded(page: Page) -> list[str]:
    """All texts of a form of which much is open, with faults on it."""
    value = smallest()
    value["vehicle"]["years"] = "soon"
    value["banks"][0]["side"] = "front"
    filled(page, value)
    for button in page.locator(".jedi-properties-toggle, button[aria-controls]").all():
        button.click()
    for key in ("torque", "heater", "sources", "obstacles", "connectors", "notes", "fuses"):
        for tick in page.locator(f"[type=checkbox][id$='-{key}-activator']").all():
            tick.check()
    page.locator("#copy").click()
    page.locator("#open").evaluate("each => { each.open = true; }")
    return list(page.evaluate(SHOWN))


def test_the_form_is_german_where_the_site_is(
    as_new: Opened,
    site: Path,
    german_site: Path,
    overflow: Callable[[Page], list[str]],
) -> None:
    texts = []
    for built in (site, german_site):
        page = as_new.go(built / "build-a-profile.html")
        texts.append(unfolded(page))
        for width in (360, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            assert overflow(page) == [], width
    english, german = texts
    assert len(german) > 80
    assert set(english) & set(german) <= SAME_IN_BOTH | WORDS_OF_A_PROFILE
    assert any("Fahrzeug, Jahre: Jahre, etwa" in each for each in german)
    assert "auswählen" in page.locator("#root-engine-bay option").first.inner_text()
    pasted_german(page)


def pasted_german(page: Page) -> None:
    page.locator("#open-text").fill("format: 2\n\ta: b\n")
    page.locator("#open-pasted").click()
    said = page.locator("#open-said").inner_text()
    assert said == (
        "Nicht geöffnet: Zeile 2 ist mit einem Tabulator eingerückt; dort dürfen nur Leerzeichen "
        "stehen."
    )


def test_every_sentence_of_a_faulty_layout_is_in_the_catalogue(form: Page, root: Path) -> None:
    source = (root / "overrides/assets/profile-layout.js").read_text("utf-8")
    used = {json.loads(each) for each in re.findall(r'said\(("(?:[^"\\]|\\.)*")', source)}
    assert used == set(form.evaluate("Object.keys(sondebookForm.say.layout)"))
    assert len(used) > 12

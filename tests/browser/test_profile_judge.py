"""What a pattern cannot judge is told below its field and listed, as the check would refuse it."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page

from generator.profile.dimension import DIMENSIONS
from generator.profile.form_schema import NAME_KEY
from generator.profile.quantity import NotAQuantity, read_quantity
from tests.browser.filled_form import filled, smallest

pytestmark = pytest.mark.browser

TEXTS = [
    "44 N·m", "44Nm", "~45Nm?", "40 to 50 Nm", "50 to 40 Nm", "44 ± 4 N·m", "44 +/- 50 lbf·ft",
    "4-5 ohms", "4-5", "4-5 ohms @ 20C", "2.1 ohm to 2.9 ohms", "2.1 Ohm to 2.9 ohm", "2.1…2.9 kΩ",
    "5,9 ohm", "0 ohm", "1e2 ohm", "20 °C", "-5 ºC", "\u22125 to 5 °C", "20 to 22 °C", "20C @ rest",
    "22 mm", "7/8 in", "1 7/8 in", "7/8/9 in", "1.5.2 mm", '2 "', "15 A", "10-15 A", "500 mA",
    "5", "2 to 4", "about 15", "5 mins", "4 to 2 min", "0.75 mm²", "0.75 mm^2", "0.75 sq mm",
    "soon", "N·m", "3 .", " 44   N·m ",
]  # fmt: skip


def trial() -> dict[str, Any]:
    """The smallest profile, with every group that somebody on trial filled in wrong."""
    value = smallest()
    value["sensors"][0] |= {
        "torque": {"value": ""},
        "heater": {"resistance": {"value": "", "at": "20 °C"}},
        "minutes": "",
        "behind": "",
        "fuse": "",
    }
    return value


def left(page: Page, field: str, text: str) -> str:
    """What is told below a field after a text was typed into it and it was left."""
    place = page.locator(f"#root-{field}")
    if not place.count():
        page.get_by_role("button", name="Add to resistance …").click()
        page.locator(f"#root-{field}-activator").check()
    place.fill("")
    place.press_sequentially(text)
    place.press("Tab")
    return page.locator(f"#root-{field}-messages").inner_text()


def test_a_quantity_is_judged_as_the_check_judges_it(form: Page) -> None:
    asked = [(text, each) for text in TEXTS for each in DIMENSIONS]
    told = form.evaluate(
        "pairs => pairs.map(pair => sondebookJudge.quantity(pair[0], pair[1]))",
        [[text, each.name] for text, each in asked],
    )
    for (text, dimension), fault in zip(asked, told, strict=True):
        try:
            read_quantity(text, dimension)
            wanted = ""
        except NotAQuantity as error:
            wanted = "backwards" if error.rule == "reversed-range" else "pattern"
        assert fault == wanted, (text, dimension.name)


RESISTANCE = "A resistance, such as 2.1 to 2.9 ohm."


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("vehicle-years", "2003-1998", "Write the earlier year first."),
        (
            "sensors-0-torque-value",
            "~45Nm?",
            "A torque, such as 44 N·m or 32 lbf·ft.",
        ),
        ("sensors-0-torque-value", "50 to 40 Nm", "Write the smaller number first."),
        ("sensors-0-heater-resistance-value", "4-5 ohms @ 20C", RESISTANCE),
        ("sensors-0-heater-resistance-value", "4-5", RESISTANCE),
        (
            "sensors-0-minutes",
            "about 15",
            "A time, such as 5 min or 2 to 4 min.",
        ),
        (
            "sensors-0-behind",
            "battery",
            "“battery” is not listed under “Obstacles”; nothing is listed there yet.",
        ),
        ("sensors-0-fuse", "12", "“12” is not listed under “Fuses”; nothing is listed there yet."),
        (
            "sensors-0-heater-resistance-source",
            "manual",
            "“manual” is not listed under “Sources”; nothing is listed there yet.",
        ),
    ],
)
def test_what_cannot_be_is_told_as_soon_as_its_field_is_left(
    form: Page, field: str, text: str, message: str
) -> None:
    filled(form, trial())
    assert left(form, field, text) == message
    form.get_by_role("button", name="Copy the text").click()
    listed = form.locator("#fault-list a", has_text=message)
    assert listed.count() == 1
    listed.click()
    assert form.evaluate("document.activeElement.id") == f"root-{field}"
    assert form.locator("#said").inner_text() == ""


def test_a_sensor_of_a_bank_that_is_not_there_is_told(form: Page) -> None:
    filled(form, smallest())
    form.locator("#root-sensors-0-bank").select_option("3")
    told = "“3” is not listed under “Banks”; listed there: 1."
    assert form.locator("#root-sensors-0-bank-messages").inner_text() == told


def test_a_heater_without_wires_is_told(form: Page) -> None:
    value = trial()
    value["sensors"][0]["heater"] = {}
    filled(form, value)
    wires = form.locator("#root-sensors-0-wires")
    told = form.locator("#root-sensors-0-wires-messages")
    wires.select_option("1")
    assert "no heater: mend the wires" in told.inner_text()
    wires.select_option("4")
    assert told.inner_text() == ""


def test_names_are_offered_and_a_fault_goes_once_its_name_is_there(form: Page) -> None:
    value = trial()
    value["sources"] = [{NAME_KEY: "book", "title": "One", "kind": "maker"}]
    filled(form, value)
    field = "sensors-0-heater-resistance-source"
    told = left(form, field, "manual")
    assert told == "“manual” is not listed under “Sources”; listed there: book."
    offered = "id => [...document.getElementById(id).list.options].map(each => each.value)"
    assert form.evaluate(offered, f"root-{field}") == ["book"]
    assert left(form, "sources-0-_name", "manual") == ""
    assert form.evaluate(offered, f"root-{field}") == ["manual"]
    assert form.locator(f"#root-{field}-messages").inner_text() == ""

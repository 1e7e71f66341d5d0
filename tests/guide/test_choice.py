"""Texts that depend on the reader: plain for everyone, every version in the page, nothing else."""

from __future__ import annotations

from collections.abc import Callable
from gettext import NullTranslations
from typing import Any

import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import escape

from generator.guide.choice import (
    ReaderChoice,
    by_units,
    by_wheel,
    length_text,
    narrow_length_text,
    torque_text,
    us_unit,
)
from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.trade.place import Wheel
from generator.trade.torque import TorqueRange, TorqueUnit

ENGLISH = NullTranslations()


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u2060", "")


def versions(text: str) -> list[str]:
    """What stands in the page: the text for everyone, then each version."""
    parsed = html5lib.parseFragment(str(escape(text)), namespaceHTMLElements=False)
    return [plain(span.text or "") for span in parsed.iter("span")]


def test_a_torque_is_told_in_both_units_and_in_each() -> None:
    told = torque_text(TorqueRange(40, 48), ENGLISH, lambda torque: f"Tighten to {torque}.")
    assert plain(told) == "Tighten to 40–48 N·m (30–35 lbf·ft)."
    assert versions(told) == [plain(told), "Tighten to 40–48 N·m.", "Tighten to 30–35 lbf·ft."]


def test_small_torques_are_told_in_pound_inches() -> None:
    assert us_unit(TorqueRange(7, 9)) is TorqueUnit.POUND_FORCE_INCH
    assert us_unit(TorqueRange(7, 20)) is TorqueUnit.POUND_FORCE_FOOT
    assert plain(torque_text(TorqueRange(7, 9), ENGLISH)) == "7–9 N·m (65–75 lbf·in)"


@given(st.floats(0.5, 400), st.floats(0.5, 400))
def test_the_us_torque_never_leaves_the_stated_range(one_nm: float, other_nm: float) -> None:
    low, high = sorted((one_nm, other_nm))
    if high - low < 1e-3:
        return
    stated = TorqueRange(low, high)
    _everyone, _metric, us = versions(torque_text(stated, ENGLISH))
    number, unit = us.split()
    ends = [float(end) for end in number.split("–")]
    newton_metres = {"lbf·ft": 1.3558179483314, "lbf·in": 0.1129848290276}[unit]
    assert all(low - 1e-6 <= end * newton_metres <= high + 1e-6 for end in ends)


def test_a_length_has_its_inches_second_or_first() -> None:
    assert [*map(plain, versions(length_text(250, ENGLISH)))] == [
        "250 mm (9.84 in)", "250 mm (9.84 in)", "9.84 in (250 mm)",
    ]  # fmt: skip


def test_where_there_is_no_room_a_length_has_one_unit() -> None:
    told = narrow_length_text(250, ENGLISH, lambda length: f"lever {length}")
    assert versions(told) == ["lever 250 mm", "lever 250 mm", "lever 9.84 in"]


def test_a_text_that_is_the_same_for_both_wheels_is_plain() -> None:
    assert type(by_wheel([Wheel.LEFT, Wheel.RIGHT], lambda sides: "front bank")) is str
    told = by_wheel([Wheel.LEFT, Wheel.RIGHT], " or ".join)
    assert versions(told) == ["left or right", "left", "right"]
    assert type(by_wheel([Wheel.LEFT], " or ".join)) is str


def test_contributed_text_stays_text() -> None:
    told = by_units("<b>&\"'", "<i>", "{} %s </span>")
    assert versions(told) == ["<b>&\"'", "<i>", "{} %s </span>"]
    assert str(told) == "<b>&\"'"
    assert type(str(told)) is str
    assert isinstance(told, ReaderChoice)


@pytest.mark.parametrize("mark", ['="<span', "='<span"])
def test_no_choice_stands_in_an_attribute(
    demo: dict[str, Vehicle], html: Callable[[Page], str], mark: str
) -> None:
    seen = 0
    for vehicle in demo.values():
        for page in vehicle_pages(vehicle):
            text = html(page)
            assert mark not in text, page.path
            seen += text.count('class="any-')
    assert seen > 50


def test_the_description_of_a_page_is_plain(
    demo: dict[str, Vehicle], page_of: Callable[[Vehicle, str], Any]
) -> None:
    page = page_of(demo["kestrin-moor-2-0-flat"], "bank-1-position-1-test.html")
    (meta,) = (each for each in page.iter("meta") if each.get("name") == "description")
    assert "passenger's side where the wheel is on the left" in meta.get("content")

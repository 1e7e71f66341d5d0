"""Bench sheets out of a forum's text, and into a profile whose comments and layout stay."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.profile import pool as pooling
from generator.profile import read_text
from generator.profile.pool import CannotPool, Pooling, pool
from generator.profile.sensor_model import KnownGood
from generator.profile.sheet_text import LAST_LINE, Sheet, Unreadable, first_line, sheets

SLUG = "a-car"
HEAD = """\
# A profile with comments, which stay.
format: 2
vehicle: {make: Fenwright, model: Carrow, years: 2009 to 2014}
engine: {name: 1.6 petrol, cylinders: 4, arrangement: inline, mounting: transverse, bay: front}
steering: [left]
banks:
  1: {cylinders: [1, 2, 3, 4], side: front}
sources:
  manual: {title: Workshop manual, kind: maker}
sensors:
"""
SENSOR = """\
  # The first sensor.
  - bank: 1
    position: 1
    kind: switching
    wires: 4
    place: {where: in the manifold, reach: above}
    heater:
      resistance: {value: 2.1 to 2.9 ohm, at: 20 °C, source: manual}  # as printed
    minutes: 3 to 6
    # What can hurt.
    cautions: [hot-exhaust]
    notes:
      - |
        A note in a block.
          # not a comment
"""
SECOND = """\

  - bank: 1
    position: 2
    kind: switching
    wires: 1
    place: {where: in the pipe, reach: below}
"""
PROFILE = f"{HEAD}{SENSOR}{SECOND}# The end.\n"
GIVEN = {
    "date": "2026-03-14",
    "distance": "120000 km",
    "meter percent": "0.5 %",
    "meter counts": "2",
    "meter resolution": "0.01 ohm",
    "air": "18 degC",
    "thermometer": "1 K",
    "meter zero": "0.2 ohm",
    "reading": "2.6 ohm",
    "known to work": "yes",
}
ITEM = (
    "{resistance: 2.6 ohm, air: 18 °C, meter_zero: 0.2 ohm, date: 2026-03-14, distance: 120000 km}"
)


def sheet(changes: dict[str, str | None] | None = None, **sensor: Any) -> str:
    values = {**GIVEN, **(changes or {})}
    named = {"slug": SLUG, "bank": 1, "position": 1, **sensor}
    lines = [f"{key}: {value}" for key, value in values.items() if value is not None]
    return "\n".join([first_line(**named), *lines, LAST_LINE, ""])


def pooled(profile: str, text: str, *, known_good: bool = False) -> Pooling:
    return pool(profile.encode(), SLUG, "a-car.yml", text, known_good)


def readings(content: bytes) -> list[KnownGood]:
    profile = read_text(content, "a-car.yml", SLUG).profile
    assert profile is not None
    return profile.sensors[0].readings


def test_a_reading_stands_in_its_sensor_and_nothing_else_changes() -> None:
    done = pooled(PROFILE, sheet())
    assert (done.taken, done.refusals, done.findings) == (1, (), ())
    at = PROFILE.index("    # What can hurt.")
    added = f"    readings:\n      - {ITEM}\n"
    assert done.content.decode() == PROFILE[:at] + added + PROFILE[at:]


def test_a_second_sheet_goes_behind_the_first() -> None:
    once = pooled(PROFILE, sheet()).content.decode()
    twice = pooled(once, sheet({"reading": "2.55 ohm"})).content.decode()
    second = ITEM.replace("2.6 ohm", "2.55 ohm")
    assert twice == once.replace(f"- {ITEM}\n", f"- {ITEM}\n      - {second}\n")
    both = pooled(PROFILE, sheet() + sheet({"reading": "2.55 ohm"}))
    assert both.taken == 2
    assert both.content.decode() == twice


BEFORE = "    minutes: 3 to 6\n"
LISTS = {
    "block": "    readings:\n    # read in May\n    - {resistance: 2.4 ohm, air: 20 °C} # mine\n",
    "deeper": "    readings:\n        -   resistance: 2.4 ohm\n            air: 20 °C\n",
    "text-block": "    readings:\n      - resistance: 2.4 ohm\n        air: 20 °C\n"
    "        distance: |\n          9 km\n",
    "empty": "    readings: [] # none yet\n",
    "one-line": "    readings: [{resistance: 2.4 ohm, air: 20 °C}]\n",
    "last-comma": "    readings: [{resistance: 2.4 ohm, air: 20 °C},]\n",
    "lines": "    readings: [\n      {resistance: 2.4 ohm, air: 20 °C},  # mine\n    ]\n",
}


@pytest.mark.parametrize("name", LISTS)
def test_every_way_to_write_the_list_is_understood(name: str) -> None:
    before = PROFILE.replace(BEFORE, BEFORE + LISTS[name])
    done = pooled(before, sheet())
    assert len(readings(done.content)) == len(readings(before.encode())) + 1
    only_added(before, done.content.decode())


def only_added(before: str, after: str) -> None:
    """One piece was put in, and everything before and behind it is as it was."""
    at = next(
        (at for at, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]),
        len(before),
    )
    assert after.endswith(before[at:])
    assert len(after) > len(before)


ONE_LINE = (
    "  - {bank: 1, position: 1, kind: switching, wires: 4, "
    "place: {where: in the manifold, reach: above}}\n"
)


@pytest.mark.parametrize(
    "profile",
    [
        pytest.param(HEAD + ONE_LINE, id="sensor-on-one-line"),
        pytest.param(HEAD.replace("sensors:\n", f"sensors: [{ONE_LINE[4:-1]}]\n"), id="all-flow"),
        pytest.param(HEAD + SENSOR.replace("    minutes: 3 to 6\n", ""), id="after-a-mapping"),
        pytest.param(HEAD + "  - bank: 1\n" + SENSOR.split("bank: 1\n")[1], id="no-comment"),
        pytest.param((HEAD + ONE_LINE).rstrip("\n"), id="no-last-line-end"),
        pytest.param(
            (HEAD + SENSOR.partition("    # What")[0]).rstrip("\n"),
            id="block-without-last-line-end",
        ),
        pytest.param(PROFILE.replace("\n", "\r\n"), id="crlf"),
        pytest.param("\ufeff" + PROFILE, id="byte-order-mark"),
    ],
)
def test_every_layout_takes_a_reading(profile: str) -> None:
    done = pooled(profile, sheet())
    assert done.taken == len(readings(done.content)) == 1
    only_added(profile, done.content.decode())
    if "\r\n" in profile:
        assert done.content.count(b"\n") == done.content.count(b"\r\n")


FORUM = [
    lambda text: "".join(f"> {line}\n" for line in text.splitlines()),
    lambda text: "".join(f">>  > {line}   \n" for line in text.splitlines()),
    lambda text: "".join(f"\u00a0 | {line}\t\u00a0\n" for line in text.splitlines()),
    lambda text: f"[code]{text.rstrip()}[/code]\n",
    lambda text: f"[quote=someone]\n{text}[/quote]",
    lambda text: f"```\n{text}```\n",
    lambda text: text.replace("\n", "\r\n"),
    lambda text: text.replace("\n", "\n\n"),
    lambda text: text.replace("\n", "<br />\n"),
    lambda text: text.replace(": ", " :  ").upper().replace("SONDEBOOK BENCH SHEET 1 :", "x", 0),
    lambda text: f"Someone wrote: {text}",
    lambda text: text.replace("known", "notes: went on\n  below: this line\nand this one\nknown"),
    lambda text: f"Date: today, 8 ohm\nreading: 1 ohm\n{text}reading: 9 ohm\nThanks!",
]


@pytest.mark.parametrize("posted", FORUM)
def test_what_forums_do_to_a_text_is_harmless(posted: Any) -> None:
    wanted = pooled(PROFILE, sheet())
    done = pooled(PROFILE, f"Hello,\n{posted(sheet())}\nBye: for now")
    assert done.refusals == ()
    assert readings(done.content)[0].resistance.low_ohm == 2.6
    assert readings(done.content)[0].air == readings(wanted.content)[0].air


@pytest.mark.parametrize(
    ("text", "line", "reason"),
    [
        (sheet(slug="another-car"), 1, "it is for `another-car`, and this profile is `a-car`."),
        (sheet(position=2), 1, "its sensor has one or two wires, and so no heater to read."),
        (sheet(bank=2), 1, "the profile has no sensor at bank 2, position 1."),
        (sheet().replace("sheet 1:", "sheet 2:"), 1, "it is a sheet of format 2, and format 1"),
        (sheet().replace(", position 1", ""), 1, "its first line does not end in a vehicle"),
        (sheet().replace(LAST_LINE, ""), 1, "it is cut off: its last line, `end of bench sheet`"),
        (sheet().replace("air:", "date: 2020-01-01\nair:"), 7, "it says `date` twice."),
        (sheet({"reading": None}), 1, "it has no `reading`."),
        (sheet({"reading": ""}), 1, "it has no `reading`."),
        (sheet({"air": None}), 1, "it has no `air`."),
        (sheet({"meter zero": None}), 1, "it has no `meter zero`."),
        (sheet({"reading": "over range"}), 1, "its meter showed over range"),
        (sheet({"reading": "2,6 ohm"}), 1, "`reading: 2,6 ohm` is not a resistance such as"),
        (sheet({"reading": "2.6 kohm"}), 1, "`reading: 2.6 kohm` is not a resistance such as"),
        (sheet({"reading": "0.2 ohm"}), 1, "0.2 ohm less 0.2 ohm of the leads is no reading"),
        (sheet({"meter zero": "2.1 ohm"}), 1, "leads held together do not read 2.1 ohm"),
        (sheet({"air": "cold"}), 1, "`air`: `cold` is not a number with a unit."),
        (sheet({"air": "60 degC"}), 1, "cold resistance is corrected from -20 to 50 degC, not"),
        (sheet({"date": "14.03.2026"}), 1, "`date: 14.03.2026` is not a date such as"),
        (sheet({"known to work": "no"}), 1, "it does not say `known to work: yes`. The sheet has"),
        (sheet({"known to work": None}), 1, "it does not say `known to work: yes`."),
        (sheet({"reading": "9.6 ohm"}), 1, "its reading says out-of-range"),
        (sheet({"reading": "0.3 ohm"}), 1, "its reading says short-circuit"),
    ],
)
def test_what_is_not_taken_is_told_and_the_rest_is_taken(text: str, line: int, reason: str) -> None:
    done = pooled(PROFILE, f"{text}\n{sheet({'reading': '2.7 ohm'})}")
    (refusal,) = done.refusals
    assert (refusal.number, refusal.line) == (1, line)
    assert refusal.reason.startswith(reason) or reason in refusal.reason
    assert str(refusal).startswith(f"Sheet 1, line {line}, is not taken: ")
    assert str(refusal).endswith(".")
    assert [each.resistance.low_ohm for each in readings(done.content)] == [2.7]


@pytest.mark.parametrize("changes", [{"known to work": "no"}, {"reading": "9.6 ohm"}])
def test_known_good_takes_it_on_ones_word(changes: dict[str, str | None]) -> None:
    assert pooled(PROFILE, sheet(changes)).taken == 0
    assert pooled(PROFILE, sheet(changes), known_good=True).taken == 1


def test_on_ones_word_over_range_is_still_no_resistance() -> None:
    assert pooled(PROFILE, sheet({"reading": "over range"}), known_good=True).taken == 0


def test_a_reading_whose_uncertainty_spans_a_limit_is_taken() -> None:
    """To leave these out would trim the pool to the specification."""
    assert pooled(PROFILE, sheet({"reading": "3.1 ohm", "meter counts": "30"})).taken == 1


def test_a_reading_is_taken_once() -> None:
    written = {"reading": "2.60 ohm", "distance": "120000 km"}
    done = pooled(PROFILE, sheet() + sheet(written) + sheet({"date": "2026-03-15"}))
    assert done.taken == 2
    assert [refusal.number for refusal in done.refusals] == [2]
    again = pooled(done.content.decode(), sheet())
    assert again.taken == 0
    assert "has this very reading" in again.refusals[0].reason
    assert again.content == done.content


@pytest.mark.parametrize(
    ("zero", "reading", "resistance_ohm", "stated_zero"),
    [
        ("0 ohm", "2.60 ohm", "2.60 ohm", None),
        ("-0.1 ohm", "2.4 ohm", "2.5 ohm", None),
        ("0.15 ohm", "2.60 ohm", "2.60 ohm", "0.15 ohm"),
    ],
)
def test_leads_that_read_zero_or_less_are_taken_off(
    zero: str, reading: str, resistance_ohm: str, stated_zero: str | None
) -> None:
    done = pooled(PROFILE, sheet({"meter zero": zero, "reading": reading}))
    (found,) = readings(done.content)
    assert found.resistance.text == resistance_ohm
    assert (found.meter_zero and found.meter_zero.text) == stated_zero


def test_a_temperature_stays_as_it_was_read() -> None:
    (found,) = readings(pooled(PROFILE, sheet({"air": "64.5 degF"})).content)
    assert found.air.text == "64.5 °F"
    assert found.air.low_c == pytest.approx((64.5 - 32) / 1.8)


@given(st.text(min_size=1, max_size=40))
def test_no_distance_breaks_out_of_its_place(distance: str) -> None:
    text = " ".join(distance.split())
    done = pooled(PROFILE, sheet({"distance": f"1 km {text}"}))
    assert done.refusals == ()
    (found,) = readings(done.content)
    assert found.resistance.low_ohm == 2.6
    only_added(PROFILE, done.content.decode())


def test_an_instruction_in_the_distance_is_words() -> None:
    hostile = "9 km}, {resistance: 9 ohm, air: 20 °C"
    (found,) = readings(pooled(PROFILE, sheet({"distance": hostile})).content)
    assert found.distance == hostile


def test_a_text_without_sheets_brings_nothing() -> None:
    done = pooled(PROFILE, "I filled in the Sondebook bench sheet, reading: 2.6 ohm. Thanks.")
    assert (done.taken, done.refusals, done.content) == (0, (), PROFILE.encode())


@given(st.text())
def test_any_text_at_all_is_read(text: str) -> None:
    for found in sheets(f"{text}\n{sheet()}"):
        assert isinstance(found, Sheet | Unreadable)
        assert found.line >= 1


def test_a_warning_about_a_new_reading_is_told() -> None:
    profile = PROFILE.replace("2.1 to 2.9", "1.0 to 1.2")
    done = pooled(profile, sheet({"meter percent": None}))
    assert [finding.rule for finding in done.findings] == ["far-reading"]


def test_a_profile_with_errors_takes_nothing() -> None:
    with pytest.raises(CannotPool, match="has errors; mend them first") as refused:
        pooled(PROFILE.replace("kind: switching", "kind: switch"), sheet())
    assert [finding.rule for finding in refused.value.findings] == ["unknown-word"] * 2


def test_a_profile_of_an_older_format_is_migrated_first() -> None:
    with pytest.raises(CannotPool, match="is of an older format; migrate it first") as refused:
        pooled(PROFILE.replace("format: 2", "format: 1"), sheet())
    assert "old-format" in [finding.rule for finding in refused.value.findings]


def test_what_would_break_the_profile_is_not_given_out(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = "{resistance: 2.6 ohm, air: 18 °C, metre: 1}"
    monkeypatch.setattr(pooling, "_item", lambda reading: broken)
    with pytest.raises(CannotPool, match="would have errors; nothing was written") as refused:
        pooled(PROFILE, sheet())
    assert [finding.rule for finding in refused.value.findings] == ["unknown-key"]


def test_a_reading_in_the_wrong_place_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    other = "{resistance: 2.7 ohm, air: 18 °C}"
    monkeypatch.setattr(pooling, "_item", lambda reading: other)
    with pytest.raises(CannotPool, match="found no safe place"):
        pooled(PROFILE, sheet())

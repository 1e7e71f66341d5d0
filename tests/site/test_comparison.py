"""What a comparison tells: each kind of change, what follows from it, and nothing else."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from generator.profile.revision import Stand
from generator.site.comparison import Comparison, Effect, VehicleChange, compared
from generator.site.comparison_data import as_json
from generator.site.comparison_report import (
    LONGEST_COMMENT,
    MOST_LETTERS,
    as_markdown,
    as_text,
)
from generator.site.page_change import Kind, PageChange
from generator.site.renderer import Renderer

PIP, CARROW = "lowmere-pip-1-4.yml", "fenwright-carrow-3-2-v6.yml"
Compare = Callable[..., Comparison]


@pytest.fixture(scope="module")
def renderer(root: Path) -> Renderer:
    return Renderer([root / "overrides"], "Sondebook", "en", NullTranslations())


@pytest.fixture(scope="module")
def text_of(root: Path) -> Callable[[str], str]:
    return lambda name: (root / "vehicle_profiles" / name).read_text()


@pytest.fixture
def compare(renderer: Renderer) -> Compare:
    """Compares two collections, given as texts by file name; or two texts, as files."""

    def of(old: dict[str, str] | str, new: dict[str, str] | str) -> Comparison:
        sides = []
        for name, side in (("old", old), ("new", new)):
            contents = {PIP: side} if isinstance(side, str) else side
            encoded = {file: text.encode() for file, text in contents.items()}
            sides.append(Stand(name, encoded, isinstance(side, str)))
        return compared(*sides, renderer)

    return of


@pytest.fixture(scope="module")
def pip(text_of: Callable[[str], str]) -> str:
    return text_of(PIP)


def only(comparison: Comparison) -> VehicleChange:
    (change,) = comparison.vehicles
    return change


def put(text: str, before: str, after: str) -> str:
    assert before in text
    return text.replace(before, after, 1)


@pytest.mark.parametrize("name", [PIP, CARROW])
def test_a_profile_compared_with_itself_gives_nothing(
    name: str, compare: Compare, text_of: Callable[[str], str]
) -> None:
    text = text_of(name)
    assert compare(text, text) == Comparison("old", "new", 1, ())
    assert compare({name: text}, {name: text}) == Comparison("old", "new", 1, ())
    assert as_text(compare(text, text)) == "Nothing changes in 1 profile.\n"


def test_a_comment_changes_no_page(compare: Compare, pip: str) -> None:
    change = only(compare(pip, f"{pip}# Read again in spring.\n"))
    assert (change.values, change.effects, change.pages) == ((), (), ())


def test_a_torque_tells_what_follows_in_every_unit(compare: Compare, pip: str) -> None:
    changed = put(pip, "torque: {value: 30 to 36 lbf·ft", "torque: {value: 31 to 36 lbf·ft")
    comparison = compare(pip, changed)
    (value,) = only(comparison).values
    assert value.difference.at == "sensors.bank-1-position-1.torque.value"
    assert (value.difference.before, value.difference.after) == (
        "30 to 36 lbf·ft",
        "31 to 36 lbf·ft",
    )
    first = "bank 1, position 1: "
    assert Effect(f"{first}torque in lbf·ft", "30–36", "31–36") in value.effects
    # 1 lbf·ft is 1.3558 N·m: 30 to 36 are 40.7 to 48.8, and 31 are 42.03, rounded into the range
    assert Effect(f"{first}torque in N·m", "41–48", "43–48") in value.effects
    # T L / (L + E): 42.03 N·m and 48.8 N·m by 350 / 400
    assert any("wrench setting" in effect.what for effect in value.effects)
    assert all(effect.what.startswith(first) for effect in value.effects)
    assert value.pages == tuple(page.path for page in only(comparison).pages)
    assert "guides/lowmere-pip-1-4/bank-1-position-1-refit.html" in value.pages
    assert not any("position-2" in path for path in value.pages)
    assert comparison.pages == (), "of two files, no lists are built"


def test_a_resistance_moves_the_range_at_every_temperature_and_the_current(
    compare: Compare, pip: str
) -> None:
    change = only(compare(pip, put(pip, "value: 3.4 to 4.6 ohm", "value: 3.0 to 4.6 ohm")))
    told = {
        effect.what.partition(": ")[2]: (effect.before, effect.after) for effect in change.effects
    }
    assert told["cold heater in Ω at 20 °C"] == ("3.4–4.6", "3.0–4.6")
    assert {"cold heater in Ω at −20 °C", "cold heater in Ω at 50 °C"} <= set(told)
    before, after = told["first current of the heater, and its fuse"]
    assert before.endswith("; 10 A")
    # 14.7 V over 3.0 Ω, by Ohm's law
    assert after.partition(" A")[0].endswith("4.9")
    titles = {page.title for page in change.pages}
    assert any("test" in title for title in titles)
    assert not any("refit" in title for title in titles)


def test_a_fuse_stands_against_the_first_current(compare: Compare, pip: str) -> None:
    change = only(compare(pip, put(pip, "value: 10 A", "value: 15 A")))
    (value,) = change.values
    assert value.difference.at == "fuses.engine-control.rating.value"
    assert all(effect.after.endswith("; 15 A") for effect in value.effects)
    assert len(value.effects) == 2, "both heaters hang on it"


def test_minutes_change_the_plan(compare: Compare, pip: str) -> None:
    change = only(compare(pip, put(pip, "minutes: 10 to 15", "minutes: 12 to 15")))
    assert Effect("bank 1, position 2: minutes of the job", "13–20", "15–20") in change.effects
    by_path = {page.path: page for page in change.pages}
    overview = by_path["guides/lowmere-pip-1-4/index.html"]
    assert overview.parts == ("Plan the job",)


def test_values_come_by_the_first_page_they_change(compare: Compare, pip: str) -> None:
    changed = put(pip, "The handbook calls the sensors", "The book calls the sensors")
    changed = put(changed, "lift the two tongues together, then pull", "lift both, then pull")
    change = only(compare(pip, changed))
    assert [each.difference.at for each in change.values] == [
        "notes.1",
        "sensors.bank-1-position-1.connector.latch",
    ]


def test_what_means_nothing_alone_is_told_together(compare: Compare, pip: str) -> None:
    """An obstacle called otherwise: the sensor behind it cannot name the one or the other alone."""
    change = only(compare(pip, pip.replace("tunnel-shield", "shield")))
    by_way = {each.difference.at: each for each in change.values}
    assert set(by_way) == {
        "obstacles.tunnel-shield", "obstacles.shield", "sensors.bank-1-position-2.behind",
    }  # fmt: skip
    assert by_way["sensors.bank-1-position-2.behind"].pages is None
    assert by_way["obstacles.shield"].pages is not None
    order = Effect("bank 1, position 2: off, in order", "tunnel-shield", "shield")
    assert order in change.effects
    told = as_text(compare(pip, pip.replace("tunnel-shield", "shield")))
    assert "[tunnel-shield] → [shield]\n    only together with other values\n" in told
    assert "  All together\n    bank 1, position 2: off, in order: tunnel-shield → shield\n" in told


def test_a_warning_that_comes_and_one_that_goes_are_told(compare: Compare, pip: str) -> None:
    changed = put(
        pip, ", thread_state: anti-seize, source: handbook}", ", thread_state: anti-seize}"
    )
    change = only(compare(pip, changed))
    assert [each.rule for each in change.warnings] == ["unsourced"]
    assert change.settled == ()
    back = only(compare(changed, pip))
    assert (back.warnings, [each.rule for each in back.settled]) == ((), ["unsourced"])


def test_new_and_removed_vehicles(
    compare: Compare, pip: str, text_of: Callable[[str], str]
) -> None:
    both = {PIP: pip, CARROW: text_of(CARROW)}
    added = compare({PIP: pip}, both)
    change = only(added)
    assert (change.kind, change.slug, change.values) == (Kind.NEW, "fenwright-carrow-3-2-v6", ())
    assert {page.kind for page in change.pages} == {Kind.NEW}
    assert PageChange("guides/make-fenwright.html", "Fenwright", Kind.NEW) in added.pages, (
        "its make is listed"
    )
    gone = compare(both, {PIP: pip})
    assert only(gone).kind is Kind.REMOVED
    assert {page.kind for page in only(gone).pages} == {Kind.REMOVED}
    assert [page.path for page in only(gone).pages] == [page.path for page in change.pages]


def test_a_renamed_profile_is_one_change(compare: Compare, pip: str) -> None:
    changed = put(pip, "minutes: 10 to 15", "minutes: 12 to 15")
    change = only(compare({PIP: pip}, {"lowmere-pip.yml": changed}))
    assert (change.kind, change.slug, change.was) == (
        Kind.RENAMED, "lowmere-pip", "lowmere-pip-1-4",
    )  # fmt: skip
    assert [each.difference.at for each in change.values] == ["sensors.bank-1-position-2.minutes"]


def test_a_renamed_model_is_still_the_same_vehicle(compare: Compare, pip: str) -> None:
    change = only(
        compare({PIP: pip}, {"lowmere-pippin.yml": put(pip, "model: Pip", "model: Pippin")})
    )
    assert change.kind is Kind.RENAMED


@pytest.mark.parametrize("is_new", [True, False])
def test_a_faulty_side_is_a_sentence(compare: Compare, pip: str, is_new: bool) -> None:
    faulty = put(
        put(pip, "  model: Pip", "  modell: Pip"), "minutes: 10 to 15", "minutes: 12 to 15"
    )
    comparison = compare(pip, faulty) if is_new else compare(faulty, pip)
    change = only(comparison)
    (sentence,) = change.faults
    assert sentence.startswith(f"The {'newer' if is_new else 'older'} profile fails its check")
    assert "[missing-key] `model` is missing here. And 1 more." in sentence
    assert comparison.fails is is_new
    assert {each.difference.at for each in change.values} == {
        "vehicle.model", "vehicle.modell", "sensors.bank-1-position-2.minutes",
    }  # fmt: skip
    assert (change.pages, change.effects) == ((), ())


@pytest.mark.parametrize("content", ["", "[", "\x00", "- a\n", "a: &b 1\nc: *b\n"])
def test_what_is_no_profile_is_a_sentence(compare: Compare, pip: str, content: str) -> None:
    change = only(compare(pip, content))
    assert len(change.faults) == 1
    assert change.values == ()
    assert as_text(compare(pip, content)) and as_markdown(compare(pip, content))


def test_an_older_format_is_compared_as_the_present_one(compare: Compare, pip: str) -> None:
    change = only(compare(put(pip, "format: 2", "format: 1"), pip))
    assert [each.difference.at for each in change.values] == []
    assert change.pages == ()


def test_text_says_it_all_in_one_block(compare: Compare, pip: str) -> None:
    told = as_text(compare(pip, put(pip, "minutes: 10 to 15", "minutes: 12 to 15")))
    assert told.startswith(
        "lowmere-pip-1-4: Lowmere Pip 1.4 four-cylinder petrol\n"
        "  sensors.bank-1-position-2.minutes: 10 to 15 → 12 to 15\n"
        "    bank 1, position 2: minutes of the job: 13–20 → 15–20\n"
        "    on index, "
    )
    assert told.endswith("\n1 vehicle of 1 with changes, 3 pages.\n")


def test_json_has_whole_values(compare: Compare, pip: str) -> None:
    long = "Wet it. " * 60
    told = json.loads(as_json(compare(pip, f"{pip}  - {long}\n")))
    (vehicle,) = told["vehicles"]
    (value,) = vehicle["values"]
    assert (value["at"], value["before"], value["after"]) == ("notes.2", None, long.strip())
    assert value["pages"] == [page["path"] for page in vehicle["pages"]]
    assert vehicle["pages"][0]["parts"] == ["Worth knowing"]
    assert vehicle["was"] is None


HOSTILE = (
    "`x` ``y`` <script>alert(1)</script> <img src=x onerror=alert(1)> [a](javascript:alert(1)) "
    "@everyone #12 ![b](https://host.example/p.png) https://host.example \\` --- ***"
)


def test_hostile_text_is_no_markup_in_markdown(compare: Compare, pip: str) -> None:
    for text in (HOSTILE, "`", "``` x", "a\\", "`` `", "<!--", "| a | b |"):
        quoted = f"'{text}'"
        told = as_markdown(compare(pip, f"{pip}  - {quoted}\n"))
        tokens = MarkdownIt("gfm-like", {"html": True, "linkify": False}).parse(told)
        inline = [each for token in tokens for each in token.children or ()]
        kinds = {each.type for each in inline}
        assert kinds <= {"text", "code_inline", "softbreak"}, kinds
        assert not any(token.type == "html_block" for token in tokens)
        code = [each.content for each in inline if each.type == "code_inline"]
        assert any(each.startswith(text[: MOST_LETTERS - 2]) for each in code), "nothing is lost"
        plain = " ".join(each.content for each in inline if each.type == "text")
        assert not re.search(r"[@#<>\[\]`]|https?:", plain)


def test_hostile_names_are_no_markup_either(compare: Compare, pip: str) -> None:
    changed = put(put(pip, "model: Pip", "model: '@all <b>`#1'"), "handbook:", "handbook:")
    told = as_markdown(compare({PIP: pip}, {"@everyone `<b>.yml": changed}))
    inline = [
        each
        for token in MarkdownIt("gfm-like", {"html": True, "linkify": False}).parse(told)
        for each in token.children or ()
    ]
    assert {each.type for each in inline} <= {"text", "code_inline", "softbreak"}
    assert not any(re.search("[@#<]", each.content) for each in inline if each.type == "text")


def test_a_terminal_acts_on_nothing(compare: Compare, pip: str) -> None:
    told = as_text(compare({PIP: pip}, {"\x1b[31mred.yml": "no profile\x1b[0m"}))
    assert all(each.isprintable() or each == "\n" for each in told)


def test_a_comment_fits_a_forge(compare: Compare, pip: str) -> None:
    # A vehicle's part of a comment is some 1,000 letters long
    many = {f"vehicle-{n}.yml": pip for n in range(70)}
    told = as_markdown(compare({}, many))
    assert len(told) < LONGEST_COMMENT + 1000
    assert "did not fit here" in told

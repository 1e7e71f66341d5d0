"""The hand-written pages say what the program does: figures, commands, files and keys."""

from __future__ import annotations

import importlib
import re
from collections.abc import Callable
from gettext import NullTranslations
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import click
import pytest
import yaml

from generator.cli import main
from generator.guide import figures, words
from generator.profile import Profile, read_text
from generator.profile.model import Part
from generator.profile.reference import key_reference
from generator.trade import heater_current, pooled_readings, stoichiometry, torque, verdict, wiring
from generator.trade.fuse import fuse_colour
from generator.trade.heater import (
    RULE_OF_THUMB,
    Element,
    ResistanceRange,
    condemning_range,
    expected_range,
    resistance_factors,
    resistance_ratio_platinum,
)
from generator.trade.live_data import Layout, parameters_for
from generator.trade.place import Side, Standpoint
from generator.trade.sensor import SensorKind
from generator.trade.signal import switching_emf_v
from generator.trade.torque import TorqueRange, TorqueUnit

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
NUMBERS = (DOCS / "reference/numbers.md").read_text("utf-8")
README = (ROOT / "README.md").read_text("utf-8")
HANDBOOK = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROSE = [README, HANDBOOK, *(page.read_text("utf-8") for page in sorted(DOCS.rglob("*.md")))]

PUBLISHED = ROOT / "tests/published"
FACTS: dict[str, Any] = yaml.safe_load((PUBLISHED / "facts.yml").read_text("utf-8"))
GAS: dict[str, Any] = yaml.safe_load((PUBLISHED / "gas.yml").read_text("utf-8"))
WIRE: dict[str, Any] = yaml.safe_load((PUBLISHED / "wire.yml").read_text("utf-8"))
CODES: dict[str, Any] = yaml.safe_load((PUBLISHED / "codes.yml").read_text("utf-8"))

Row = dict[str, str]
"""One row of a table: the text of each cell by the heading of its column."""


class Table(NamedTuple):
    """A table of a page, under the nearest heading above it."""

    heading: str
    columns: list[str]
    rows: list[Row]


def cells(line: str) -> list[str]:
    return [cell.strip() for cell in line.strip().strip("|").split("|")]


def tables(page: str) -> list[Table]:
    found: list[Table] = []
    heading = ""
    lines = page.splitlines()
    for above, line in pairwise(lines):
        if above.startswith("#"):
            heading = above.lstrip("# ")
        if line.startswith("| -"):
            found.append(Table(heading, cells(above), []))
        elif line.startswith("|") and above.startswith("|"):
            found[-1].rows.append(dict(zip(found[-1].columns, cells(line), strict=True)))
    return found


def value(text: str) -> float:
    return float(text.replace("−", "-"))


def printed(number: float, decimals: int) -> str:
    return figures.number(number, decimals)


def span(low: float, high: float, decimals: int) -> str:
    return f"{printed(low, decimals)} to {printed(high, decimals)}"


# ---- what each table of the numbers page must hold: its row -> its cells

EXAMPLE = ResistanceRange(2.1, 2.9)
METER = verdict.Meter(0.9, 3, 0.1)
READING = verdict.Reading(5.4, 0.0, 8)
NEXT_STEPS = {
    verdict.NextStep.ZERO_THE_LEADS: "Hold the leads together",
    verdict.NextStep.LET_IT_COOL: "Let the sensor cool",
    verdict.NextStep.COMPARE_OTHER_BANK: "Compare with the same sensor",
    verdict.NextStep.FIND_SPECIFICATION: "Find the vehicle's own figure",
    verdict.NextStep.GO_BY_LIVE_DATA: "Go by live data",
}


def seen(row: Row) -> Row:
    side, t = Side(row["Side of the vehicle"]), NullTranslations()
    stands = {
        "Ours: in the driver's seat": Standpoint.DRIVERS_SEAT,
        "Ours: over the front bumper": Standpoint.FRONT_BUMPER,
        "Ours: on your back, head to the rear": Standpoint.UNDER_HEAD_REARWARD,
    }
    return {column: words.seen_from(side, stand, t) for column, stand in stands.items()}


def live_data(row: Row) -> Row:
    name = row["Sensor"]
    bank, position = int(name[1]), int(name[3])
    published = CODES["sensor_of_pid"]["maps"][0x13][0x14].index(name)
    two, four = (
        parameters_for(bank, position, SensorKind.SWITCHING, layout)[0].pid for layout in Layout
    )
    return {
        "Published, two banks": f"0x{0x14 + published:02X}",
        "Ours, two banks": f"0x{two:02X}",
        "Ours, four banks": f"0x{four:02X}",
    }


def platinum(row: Row) -> Row:
    t_c = value(row["Air, °C"])
    ratio = resistance_ratio_platinum(t_c)
    return {
        "Published, Ω": printed(FACTS["platinum"]["ohm_by_temperature_c"][t_c], 2),
        "Ours, Ω": printed(100 * ratio, 2),
        "Ours, over 20 °C": printed(ratio / resistance_ratio_platinum(20), 4),
    }


def tungsten(row: Row) -> Row:
    name = row["Source"].strip('"').split('"')[0].split(" of ")[0].lower()
    (fact,) = (f for f in FACTS["tungsten_at_20_c"] if name in f["source"].lower())
    end = heater_ends().index(fact["per_k"])
    cold, warm = (sorted(resistance_factors(t, 20, Element.TUNGSTEN)) for t in (0, 40))
    return {
        "Published a, per K": f"{fact['per_k']:.6g}",
        "Ours, 0 °C over 20 °C": printed(cold[1 - end], 4),
        "Ours, 40 °C over 20 °C": printed(warm[end], 4),
    }


def heater_ends() -> list[float]:
    return sorted(fact["per_k"] for fact in FACTS["tungsten_at_20_c"])


def todays_range(row: Row) -> Row:
    expected = expected_range(EXAMPLE, 20, value(row["Air, °C"]))
    condemning = condemning_range(EXAMPLE, expected)
    return {
        "Ours, expected, Ω": span(expected.low_ohm, expected.high_ohm, 2),
        "Ours, shown, Ω": figures.resistance(expected, None).replace("–", " to "),
        "Ours, condemned outside, Ω": span(condemning.low_ohm, condemning.high_ohm, 2),
    }


def without_specification(row: Row) -> Row:
    said = verdict.judge(READING, METER, None)
    at_8_c = expected_range(RULE_OF_THUMB, 20, 8)
    answers = {
        "Rule of thumb at 8 °C": span(at_8_c.low_ohm, at_8_c.high_ohm, 1) + " Ω",
        "Outcome": said.outcome.value.replace("-", " "),
        "Does it condemn the sensor?": "yes" if said.outcome.condemns else "no",
    }
    for low, high in ((5.0, 6.4), (2.1, 2.9)):
        judged = verdict.judge(READING, METER, ResistanceRange(low, high))
        question = f"Had the source said {span(low, high, 1)} Ω at 20 °C"
        answers[question] = judged.outcome.value.replace("-", " ")
    return {"Ours": answers[row["Question"]]}


def meters_share(row: Row) -> Row:
    printed_limit, worked_limit = FACTS["meter"]
    fact = FACTS["uncertainty"]
    half_width = METER.limit_ohm(6.0)
    published, ours = {
        "Limit of": (
            printed_limit["limit"],
            verdict.Meter(0.03, 10, 0.001).limit_ohm(printed_limit["shown"]),
        ),
        "Limit a": (worked_limit["limit"], half_width),
        "Its standard": (fact["standard_ohm"], verdict.standard_uncertainty_ohm(half_width)),
        "Expanded U": (
            fact["expanded_with_lead_ohm"],
            verdict.expanded_uncertainty_ohm([half_width, fact["lead_half_width_ohm"]]),
        ),
    }[" ".join(row["Step"].replace(",", "").split()[:2])]
    return {"Published": printed(published, 3), "Ours": printed(ours, 3)}


def decision(row: Row) -> Row:
    judged = verdict.judge(READING, METER, ResistanceRange(5.0, 6.4))
    spread = judged.expanded_uncertainty_ohm
    assert spread is not None
    low, high = judged.range.low_ohm, judged.range.high_ohm
    ours = {
        "Today's range at 8 °C, low end": low,
        "Today's range at 8 °C, high end": high,
        "Expanded uncertainty U": spread,
        "Accepted from": low + spread,
        "Accepted to": high - spread,
    }[row["Figure"]]
    return {"Ours, Ω": printed(ours, 2)}


def current(row: Row) -> Row:
    first = heater_current.cold_current_a(EXAMPLE)
    hot, watts = heater_current.hot_current_a(first), heater_current.power(EXAMPLE)
    two = {rating: heater_current.fuse_load([EXAMPLE] * 2, rating) for rating in (10, 15)}
    return {
        "Ours": {
            "First current, A": span(first.low_a, first.high_a, 1),
            "Current once hot, A": span(hot.low_a, hot.high_a, 1),
            "Power at switch-on, W": span(watts.low_w, watts.high_w, 0),
            "Two such heaters at switch-on, A": span(two[15].first.low_a, two[15].first.high_a, 1),
            "Against a fuse of 15 A": two[15].status.value.replace("-", " "),
            "Against a fuse of 10 A": two[10].status.value.replace("-", " "),
        }[row["Figure"]]
    }


def fuse(row: Row) -> Row:
    rating = value(row["Rating, A"])
    return {
        "Published": FACTS["fuse_colours"]["by_rating_a"].get(rating, "from memory"),
        "Ours": fuse_colour(rating) or "none",
    }


def supply_wire(row: Row) -> Row:
    size = value(row["Size, mm²"])
    published = WIRE["class_5_plain_ohm_per_km"]["values"][size]
    return {
        "Published, Ω/km": f"{published:.3g}",
        "Ours, Ω/km": f"{wiring.RESISTANCE_OHM_PER_KM[size]:.3g}",
        "Ours, V lost at 7 A over 3 m": printed(wiring.supply_drop_v(7, size, 3), 2),
    }


def unit_factor(row: Row) -> Row:
    unit = row["Unit"]
    rounded = {fact["unit"]: fact for fact in FACTS["torque_units_printed"]}
    exact = {fact["unit"]: fact for fact in FACTS["torque_units"]}
    published = (rounded.get(unit) or exact[unit])["newton_metres"]
    return {
        "Published, N·m": f"{published:.9g}",
        "Ours, N·m": f"{float(TorqueUnit(unit).newton_metres):.9g}",
    }


def into_the_range(row: Row) -> Row:
    low, _, high = row["Specified, N·m"].partition(" to ")
    specified = TorqueRange(value(low), value(high or low))
    return {
        f"Ours, {unit}": figures.torque(specified, TorqueUnit(unit)).replace("–", " to ")
        for unit in ("lbf·ft", "lbf·in", "kgf·m")
    }


def adapter(row: Row) -> Row:
    wanted, wrench, offset, angle = (
        value(re.findall(r"[\d.]+", part)[0]) for part in row["T, L, E, α"].split(", ")
    )
    given = {"torque": wanted, "wrench": wrench, "adapter": offset, "angle_deg": angle}
    (fact,) = (f for f in FACTS["adapters"] if given.items() <= f.items())
    published = fact.get("printed")
    return {
        "Published": str(published) if published else printed(fact["setting"], 1),
        "Ours": printed(torque.adapter_setting(wanted, wrench, offset, angle), 1),
    }


def wrench(row: Row) -> Row:
    scale = value(row["Full scale, N·m"])
    (found,) = (each for each in torque.COMMON_WRENCHES if each.scale_nm == scale)
    return {
        "Ours, trusted from": figures.short(found.low_nm),
        "Ours, to": figures.short(found.high_nm),
    }


def air_to_fuel(row: Row) -> Row:
    (fuel,) = (each for each in stoichiometry.FUELS if each.name == row["Fuel"])
    of_formula, of_blend = GAS["stoichiometric_afr"]["values"], GAS["blends_afr"]["values"]
    key = {"petrol": "CH1.87"}.get(fuel.name, fuel.name)
    published = of_formula[key]["air_21_79"] if key in of_formula else of_blend[key]
    return {
        "Published, kg/kg": printed(published, 2),
        "Ours, kg/kg": printed(stoichiometry.stoichiometric_afr(fuel), 2),
    }


def voltage(row: Row) -> Row:
    lambda_ = value(row["Lambda"])
    (petrol,) = (f for f in GAS["equilibrium"]["fuels"] if f["hydrogen"] == 1.87)
    _oxygen, emf_mv = petrol["rows"][1000][lambda_]
    return {
        "Published, mV": printed(emf_mv, 1),
        "Ours, mV": printed(switching_emf_v(lambda_, 1000) * 1000, 1),
    }


def pooled(row: Row) -> Row:
    count = int(row["Readings"])
    return {
        "Ours, k": printed(pooled_readings.tolerance_factor(count), 4),
        "Ours, outlier beyond": printed(pooled_readings.outlier_limit(count), 3) + " s",
    }


HELD: dict[str, Callable[[Row], Row]] = {
    "The same side from three places": seen,
    "Which parameter in the live data": live_data,
    "Platinum, as published and ours": platinum,
    "Tungsten, between two sources": tungsten,
    "From the specified range to today's": todays_range,
    "5.4 Ω at 8 °C, and no specification": without_specification,
    "The meter's share": meters_share,
    "The decision": decision,
    "A heater of 2.1 to 2.9 Ω": current,
    "Fuse colours": fuse,
    "Voltage lost in the supply wire": supply_wire,
    "Unit factors": unit_factor,
    "Rounded into the range": into_the_range,
    "Offset adapter": adapter,
    "Torque wrenches": wrench,
    "Air to fuel": air_to_fuel,
    "Voltage over lambda": voltage,
    "Readings of known-good sensors": pooled,
}
ROWS = [
    pytest.param(table.heading, row, id=f"{table.heading}: {next(iter(row.values()))}")
    for table in tables(NUMBERS)
    for row in table.rows
]


def test_every_table_of_the_numbers_page_is_held() -> None:
    assert [table.heading for table in tables(NUMBERS)] == list(HELD)
    assert all(len(table.rows) > 1 for table in tables(NUMBERS))


@pytest.mark.parametrize(("heading", "row"), ROWS)
def test_the_numbers_page_prints_what_the_program_gives(heading: str, row: Row) -> None:
    held = HELD[heading](row)
    assert {column: row[column] for column in held} == held
    assert {column for column in row if column.startswith(("Ours", "Published"))} <= held.keys()


def test_the_numbers_page_lists_the_next_steps_in_order() -> None:
    steps = verdict.judge(READING, METER, None).next_steps
    listed = re.findall(r"^\d\. (.*)$", NUMBERS, re.MULTILINE)
    assert len(listed) == len(steps)
    for sentence, step in zip(listed, steps, strict=True):
        assert sentence.startswith(NEXT_STEPS[step])


def test_the_torque_that_nearest_rounding_would_spoil() -> None:
    foot_pound_nm = float(TorqueUnit.POUND_FORCE_FOOT.newton_metres)
    assert (round(22 / foot_pound_nm), round(26 / foot_pound_nm)) == (16, 19)
    assert "16 to 19 lbf·ft" in " ".join(NUMBERS.split())
    assert f"16 lbf·ft is {16 * foot_pound_nm:.1f} N·m" in " ".join(NUMBERS.split())


def test_no_table_is_wider_than_a_phone_bears() -> None:
    for page in PROSE:
        assert all(len(table.columns) <= 4 for table in tables(page))


# ---- the profile's format


def test_the_key_reference_is_the_models_own() -> None:
    """``python -m generator.profile.reference > docs/reference/profile.md`` mends this."""
    assert (DOCS / "reference/profile.md").read_text("utf-8") == key_reference()


def parts(kind: type[Part]) -> set[type[Part]]:
    found = {kind}
    for field in kind.model_fields.values():
        for inner in re.findall(r"\w+", str(field.annotation)):
            part = getattr(importlib.import_module(kind.__module__), inner, None)
            if isinstance(part, type) and issubclass(part, Part) and part is not kind:
                found |= parts(part)
    return found


def test_every_key_is_in_the_reference_with_a_description() -> None:
    listed = {row["Key"].split("`")[1] for table in tables(key_reference()) for row in table.rows}
    for part in parts(Profile):
        for key, field in part.model_fields.items():
            assert key in listed, f"{part.__name__}.{key}"
            assert field.description, f"{part.__name__}.{key} has no description"


def add_a_vehicle() -> str:
    return (DOCS / "add-a-vehicle.md").read_text("utf-8")


def test_the_smallest_profile_has_no_finding() -> None:
    smallest = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)[0]
    read = read_text(smallest.encode(), "smallest.yml", "smallest")
    assert read.findings == ()
    assert read.profile is not None


def test_the_smallest_profile_cannot_be_smaller() -> None:
    smallest = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)[0]
    for key in yaml.safe_load(smallest):
        less = {name: part for name, part in yaml.safe_load(smallest).items() if name != key}
        assert read_text(yaml.safe_dump(less).encode(), "less.yml", "less").has_errors, key


def test_every_fragment_fits_into_a_profile() -> None:
    smallest, *fragments = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)
    assert fragments
    whole = smallest + "".join(fragments)
    read = read_text(whole.encode(), "whole.yml", "whole")
    assert [str(finding) for finding in read.findings] == []


def test_the_main_keys_are_listed() -> None:
    (table,) = tables(add_a_vehicle())
    assert [row["Key"].strip("`") for row in table.rows] == list(Profile.model_fields)


# ---- commands, files and modules that are named exist

NAMED = re.findall(r"`([^`\n]+)`", README + HANDBOOK)
FOLDERS = ("generator", "overrides", "tests", "docs", "vehicle_profiles", ".ci")


def code_of(page: str) -> str:
    return "\n".join(re.findall(r"```\w*\n(.*?)```", page, re.DOTALL) + re.findall("`[^`]+`", page))


def test_make_targets_that_are_named_exist() -> None:
    makefile = (ROOT / "Makefile").read_text("utf-8")
    targets = set(re.findall(r"^([a-z]+):", makefile, re.MULTILINE))
    named = {target for page in PROSE for target in re.findall(r"\bmake ([a-z]+)", code_of(page))}
    assert {"site", "test", "serve", "lock"} <= named <= targets


def test_files_that_are_named_exist() -> None:
    paths = {name for name in NAMED if name.split("/")[0] in FOLDERS and "*" not in name}
    assert len(paths) > 20
    assert [path for path in sorted(paths) if not (ROOT / path.partition(":")[0]).exists()] == []
    files = {name for name in NAMED if re.fullmatch(r"[A-Za-z-]+\.(md|toml|yml|lock)", name)}
    assert [file for file in sorted(files) if not (ROOT / file).exists()] == []


def test_names_of_the_program_that_are_named_exist() -> None:
    dotted = {name for name in NAMED if re.fullmatch(r"generator(\.\w+)+", name)}
    assert len(dotted) > 5
    for name in dotted:
        module, _, last = name.rpartition(".")
        assert hasattr(importlib.import_module(module), last) or importlib.import_module(name)


def test_every_module_of_the_trade_is_in_the_handbook() -> None:
    modules = {path.stem for path in (ROOT / "generator/trade").glob("[a-z]*.py")}
    assert sorted(modules - {name.removesuffix(".py") for name in NAMED}) == []


def test_every_rule_is_in_the_handbook() -> None:
    rules = {path.stem for path in (ROOT / "generator/profile/rules").glob("[a-z]*.py")}
    assert sorted(rules - {"rule"} - set(NAMED)) == []


@pytest.mark.parametrize("name", sorted(main.commands))
def test_every_command_and_option_is_documented(name: str) -> None:
    said = "\n".join(PROSE)
    assert f"`sondebook {name}" in said or f"sondebook {name}\n" in said
    for parameter in main.commands[name].params:
        if isinstance(parameter, click.Option):
            for option in parameter.opts:
                assert re.search(rf"(?<![\w-]){re.escape(option)}(?![\w-])", said), option


def test_the_navigation_lists_every_page() -> None:
    navigation = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))["nav"]
    listed = [page for entry in navigation for page in entry.values()]
    there = sorted(page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md"))
    assert sorted(listed) == there


def test_no_other_host_is_named() -> None:
    for page in PROSE:
        for host in re.findall(r"https?://([\w.-]+)", page):
            assert host.endswith(".example"), host

"""Every table of docs/reference/numbers.md holds what the program and the sources give."""

from __future__ import annotations

import re
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.guide import figures, words
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
from tests.site.markdown_tables import Row, tables

ROOT = Path(__file__).parents[2]
NUMBERS = (ROOT / "docs/reference/numbers.md").read_text("utf-8")

PUBLISHED = ROOT / "tests/published"
FACTS: dict[str, Any] = yaml.safe_load((PUBLISHED / "facts.yml").read_text("utf-8"))
GAS: dict[str, Any] = yaml.safe_load((PUBLISHED / "gas.yml").read_text("utf-8"))
WIRE: dict[str, Any] = yaml.safe_load((PUBLISHED / "wire.yml").read_text("utf-8"))
CODES: dict[str, Any] = yaml.safe_load((PUBLISHED / "codes.yml").read_text("utf-8"))


def value(text: str) -> float:
    return float(text.replace("−", "-"))


def printed(number: float, decimals: int) -> str:
    return figures.number(number, decimals, NullTranslations())


def span(low: float, high: float, decimals: int) -> str:
    return f"{printed(low, decimals)}–{printed(high, decimals)}"


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
    published = [fact["per_k"] for fact in FACTS["tungsten_at_20_c"]]
    per_k = value(row["Published a, per K"])
    # The larger coefficient is the lower end of the band below 20 °C, and the upper one above
    is_larger = per_k == max(published)
    cold, warm = (resistance_factors(t_c, 20, Element.TUNGSTEN) for t_c in (0, 40))
    return {
        "Published a, per K": f"{published[published.index(per_k)]:.6g}",
        "Ours, at 0 °C": printed(min(cold) if is_larger else max(cold), 4),
        "Ours, at 40 °C": printed(max(warm) if is_larger else min(warm), 4),
    }


def todays_range(row: Row) -> Row:
    expected = expected_range(EXAMPLE, 20, value(row["Air, °C"]))
    condemning = condemning_range(EXAMPLE, expected)
    return {
        "Ours, expected, Ω": span(expected.low_ohm, expected.high_ohm, 2),
        "Ours, shown, Ω": figures.resistance(expected, None, NullTranslations()),
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
        question = f"Had the source said {low} to {high} Ω at 20 °C"
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
    low, _, high = row["Specified, N·m"].partition("–")
    specified = TorqueRange(value(low), value(high or low))
    return {
        f"Ours, {unit}": figures.torque(specified, TorqueUnit(unit), NullTranslations())
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
        "Ours, trusted from": figures.short(found.low_nm, NullTranslations()),
        "Ours, to": figures.short(found.high_nm, NullTranslations()),
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

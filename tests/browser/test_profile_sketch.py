"""The form's layout: the script has Python's answers, and the sketch shows them."""

from __future__ import annotations

import random
from itertools import product
from typing import Any

import pytest
from playwright.sync_api import Page

from generator.guide.page_turn import page_turn
from generator.profile.form_schema import NAME_KEY
from generator.trade.bay_layout import bay_layout
from generator.trade.exhaust_line import ExhaustLine
from generator.trade.place import (
    Arrangement,
    Bank,
    Bay,
    Engine,
    FaultKind,
    Mounting,
    Side,
    Standpoint,
    allowed_sides,
    landmark,
    layout_faults,
    standpoints,
)
from tests.browser.filled_form import filled, smallest

pytestmark = pytest.mark.browser


def layouts() -> list[tuple[Engine, tuple[Bank, ...]]]:
    """Engines with banks that fit, and others with every kind of fault."""
    chance = random.Random(4)
    found = []
    for arrangement, mounting, bay in product(Arrangement, Mounting, Bay):
        for cylinders, count in ((4, 1), (5, 1), (6, 2), (8, 2), (8, 4), (12, 2)):
            engine = Engine(cylinders, arrangement, mounting, bay)
            sides = allowed_sides(engine, count)
            share = cylinders // count
            banks = [
                Bank(
                    each + 1,
                    tuple(range(each * share + 1, (each + 1) * share + 1)),
                    sides[each % 2],
                )
                for each in range(count)
            ]
            found.append((engine, tuple(banks)))
            found.append((engine, tuple(_spoiled(banks, cylinders, chance))))
    return found


def _spoiled(banks: list[Bank], cylinders: int, chance: random.Random) -> list[Bank]:
    return [
        Bank(
            chance.choice([bank.number, bank.number, 1, 5]),
            tuple(each + chance.choice([0, 0, 0, 1, cylinders]) for each in bank.cylinders)
            if chance.random() < 0.9
            else (),
            chance.choice([bank.side, *Side, None]),
        )
        for bank in chance.sample(banks, k=chance.randint(0, len(banks)))
    ]


def plain(engine: Engine, banks: tuple[Bank, ...]) -> list[Any]:
    told = [{"number": b.number, "cylinders": list(b.cylinders), "side": b.side} for b in banks]
    how = {"cylinders": engine.cylinders, "arrangement": engine.arrangement}
    return [{**how, "mounting": engine.mounting, "bay": engine.bay}, told]


def test_faults_of_a_layout_are_told_in_the_words_of_the_check(form: Page) -> None:
    cases = layouts()
    told = form.evaluate(
        "cases => cases.map(([engine, banks]) => sondebookLayout.faults(engine, banks))",
        [plain(*case) for case in cases],
    )
    expected = [[fault.reason for fault in layout_faults(*case)] for case in cases]
    assert {fault.kind for case in cases for fault in layout_faults(*case)} >= {*FaultKind}
    assert told == expected


def test_cylinders_stand_where_the_guides_draw_them(form: Page) -> None:
    cases = [case for case in layouts() if not layout_faults(*case)]
    assert len(cases) > 50
    vectors = [(*plain(*case), stand.value) for case in cases for stand in standpoints(case[0].bay)]
    told = form.evaluate(
        """cases => cases.map(([engine, banks, stand]) => sondebookLayout.cylinders(engine, banks)
          .map(spot => [spot.number, spot.bank, ...sondebookLayout.turned(spot.at, stand)]))""",
        vectors,
    )
    expected = []
    for engine, banks in cases:
        lines = [ExhaustLine(bank.number, (1, 2)) for bank in banks]
        for stand in standpoints(engine.bay):
            turn = page_turn(stand)
            spots = bay_layout(engine, banks, lines).cylinders
            expected.append([[spot.number, spot.bank, *turn.at(spot.at)] for spot in spots])
    assert told == expected


def test_the_reader_is_where_python_has_them(form: Page) -> None:
    for bay in Bay:
        told = form.evaluate("bay => sondebookLayout.standpoints(bay)", bay)
        assert told == [stand.value for stand in standpoints(bay)]
        for side in (Side.FRONT, Side.REAR):
            assert form.evaluate(
                "([side, bay]) => sondebookLayout.landmark(side, bay)", [side, bay]
            ) == landmark(side, bay)
    for stand, side in product(Standpoint, Side):
        way = form.evaluate(
            "([side, stand]) => sondebookLayout.turned(sondebookLayout.outward[side], stand)",
            [side, stand],
        )
        assert tuple(way) == page_turn(stand).way(side)


def test_pieces_of_an_exhaust_come_in_the_same_order(form: Page) -> None:
    for positions, catalysts in product(([], [1], [1, 2], [2], [1, 2, 3], [1, 2, 3, 4]), range(4)):
        told = form.evaluate(
            "([positions, catalysts]) => sondebookLayout.pieces(positions, catalysts)",
            [positions, catalysts],
        )
        pieces = ExhaustLine(1, tuple(positions), catalysts).pieces
        assert told == [[piece.kind.value, piece.number] for piece in pieces]


def test_the_sketch_shows_each_bank_on_its_side_and_turns_with_the_reader(form: Page) -> None:
    value = smallest()
    value["engine"] |= {"cylinders": "6", "arrangement": "vee", "mounting": "transverse"}
    value["banks"] = [
        {NAME_KEY: "1", "cylinders": "1, 2, 3", "side": "rear"},
        {NAME_KEY: "2", "cylinders": "4, 5, 6", "side": "front"},
    ]
    filled(form, value)
    where = """() => Object.fromEntries([...document.querySelectorAll("#sketch text")]
      .map(each => [each.textContent, ["x", "y"].map(name => Number(each.getAttribute(name)))]))"""
    seat = form.evaluate(where)
    assert seat["Bank 2"][1] < seat["1"][1] < seat["Bank 1"][1] < seat["bulkhead (firewall)"][1]
    assert seat["4"][0] > seat["6"][0], "counted from the right end"
    form.locator("#standpoint").select_option("front-bumper")
    bumper = form.evaluate(where)
    assert bumper["Bank 2"][1] > bumper["1"][1] > bumper["Bank 1"][1]
    assert bumper["4"][0] < bumper["6"][0]
    assert "you stand here" in bumper
    words = form.locator("#sketch desc").text_content()
    assert words == "Bank 1, cylinders 1, 2, 3: rear. Bank 2, cylinders 4, 5, 6: front."


def test_banks_that_do_not_fit_are_told_and_not_drawn(form: Page) -> None:
    value = smallest()
    value["banks"][0]["side"] = "front"
    filled(form, value)
    assert form.locator("#sketch svg").count() == 0
    assert (
        "cannot be on the front side: say left or right"
        in form.locator("#sketch-faults").inner_text()
    )


def test_it_waits_for_the_engine(form: Page) -> None:
    assert form.locator("#sketch-waits").is_visible()
    assert form.locator("#sketch svg").count() == 0

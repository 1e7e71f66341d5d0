"""The order of checks with the least expected time, against trying every order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.trade.first_checks import (
    Cause,
    Check,
    Habit,
    Reason,
    Search,
    best_order,
    best_plan,
    expected_minutes,
    naive_order,
    plan_of,
    replace_at_once_minutes,
)

COVERS = {"cover": 5.0, "brace": 10.0, "wheel": 15.0}
UNDER = {"brace": ["cover"]}


@st.composite
def searches(draw: st.DrawFn, most_checks: int = 6) -> Search:
    """Checks that share causes and access; some causes that nothing reveals."""
    names = [f"cause {n}" for n in range(draw(st.integers(1, 5)))]
    causes = tuple(Cause(name, draw(st.integers(1, 9))) for name in names)
    checks = tuple(
        Check(
            name=f"check {n}",
            minutes=draw(st.integers(0, 30)),
            reveals=frozenset(draw(st.sets(st.sampled_from(names), max_size=3))),
            access=frozenset(draw(st.sets(st.sampled_from(sorted(COVERS)), max_size=2))),
        )
        for n in range(draw(st.integers(0, most_checks)))
    )
    return Search(causes, checks, COVERS, UNDER)


def minutes_until_found(search: Search, order: Sequence[Check], cause: str) -> float:
    """Walk one search, told which cause it is."""
    spent, off = 0.0, set[str]()
    for check in order:
        need = set(check.access) | ({"cover"} if "brace" in check.access else set())
        spent += check.minutes + sum(COVERS[item] for item in need - off)
        off |= need
        if cause in check.reveals:
            break
    return spent


def mean_minutes(search: Search, order: Sequence[Check]) -> float:
    total = sum(cause.likelihood for cause in search.causes)
    spent = (c.likelihood * minutes_until_found(search, order, c.name) for c in search.causes)
    return sum(spent) / total


def without_useless(order: Sequence[Check]) -> list[Check]:
    kept: list[Check] = []
    for check in order:
        if not check.reveals <= frozenset().union(*(other.reveals for other in kept)):
            kept.append(check)
    return kept


@given(searches())
def test_the_expected_minutes_are_the_mean_of_walking_every_search(search: Search) -> None:
    for habit in Habit:
        order = naive_order(search, habit)
        assert expected_minutes(search, order) == pytest.approx(mean_minutes(search, order))


@settings(max_examples=60)
@given(searches())
def test_no_order_at_all_is_better(search: Search) -> None:
    orders = (without_useless(order) for order in permutations(search.checks))
    least = min(mean_minutes(search, order) for order in orders)
    assert expected_minutes(search, best_order(search)) == pytest.approx(least)


@settings(max_examples=60)
@given(searches(most_checks=5), st.integers(0, 40), st.sampled_from(sorted(COVERS)))
def test_a_new_sensor_at_once_is_an_order_that_starts_with_it(
    search: Search, minutes: int, obstacle: str
) -> None:
    cures = frozenset({search.causes[0].name})
    sensor = Check("new sensor", minutes, cures, frozenset({obstacle}))
    orders = (without_useless([sensor, *order]) for order in permutations(search.checks))
    least = min(mean_minutes(search, order) for order in orders)
    assert replace_at_once_minutes(search, sensor) == pytest.approx(least)


@given(searches())
def test_the_plan_adds_up(search: Search) -> None:
    plan = best_plan(search)
    spent = sum(step.minutes * step.chance_reached for step in plan.steps)
    assert plan.expected_minutes == pytest.approx(spent)
    found = sum(step.chance_found for step in plan.steps)
    assert found + plan.chance_unrevealed == pytest.approx(1)
    assert all(step.chance_found > 0 for step in plan.steps)
    reached = [step.chance_reached for step in plan.steps]
    assert reached == sorted(reached, reverse=True)


@given(searches(), st.floats(0.01, 100))
def test_likelihoods_are_weights(search: Search, factor: float) -> None:
    heavier = tuple(replace(c, likelihood=c.likelihood * factor) for c in search.causes)
    scaled = replace(search, causes=heavier)
    assert best_plan(scaled).expected_minutes == pytest.approx(best_plan(search).expected_minutes)


CAUSES = (Cause("heater open", 60), Cause("fuse", 10), Cause("wiring", 25), Cause("driver", 5))
FUSE = Check("look at the fuse", 2, frozenset({"fuse"}))
OHMS = Check("measure the heater", 3, frozenset({"heater open"}), frozenset({"brace"}))
SUPPLY = Check("measure the supply", 3, frozenset({"wiring", "fuse"}), frozenset({"brace"}))
SEARCH = Search(CAUSES, (FUSE, SUPPLY, OHMS), COVERS, UNDER)


def test_a_worked_search() -> None:
    # 2 for the fuse; brace and the cover above it once, 15: 0.9 x (3 + 15); then 0.3 x 3
    plan = best_plan(SEARCH)
    assert [step.check for step in plan.steps] == [FUSE, OHMS, SUPPLY]
    assert [step.minutes for step in plan.steps] == [2, 18, 3]
    assert [step.chance_reached for step in plan.steps] == pytest.approx([1, 0.9, 0.3])
    assert [step.chance_found for step in plan.steps] == pytest.approx([0.1, 0.6, 0.25])
    assert plan.expected_minutes == pytest.approx(19.1)
    assert plan.chance_unrevealed == pytest.approx(0.05)
    # As listed: 2 + 0.9 x 18 + 0.65 x 3
    assert expected_minutes(SEARCH, naive_order(SEARCH)) == pytest.approx(20.15)


def test_a_check_that_can_reveal_nothing_more_is_left_out() -> None:
    slow_fuse = replace(FUSE, minutes=3)
    plan = best_plan(replace(SEARCH, checks=(slow_fuse, SUPPLY, OHMS)))
    # 18 + 0.4 x 3 = 19.2, and the supply check has seen the fuse by then; 20.1 with it first
    assert [step.check for step in plan.steps] == [OHMS, SUPPLY]
    assert plan.expected_minutes == pytest.approx(19.2)


def test_access_can_turn_the_order_round() -> None:
    near = replace(OHMS, access=frozenset())
    far = replace(OHMS, access=frozenset({"brace", "wheel"}))
    rust = Check("look at the wire", 6, frozenset({"wiring"}))
    first = {
        ohms.access: best_order(Search(CAUSES, (rust, ohms), COVERS, UNDER))[0]
        for ohms in (near, far)
    }
    assert first[near.access] == near
    assert first[far.access] == rust


def test_a_new_sensor_at_once_in_figures() -> None:
    sensor = Check("new sensor", 30, frozenset({"heater open"}), frozenset({"brace"}))
    # 45 min with the brace; then 0.4 x 3 for the supply, whose access is open by then.
    assert replace_at_once_minutes(SEARCH, sensor) == pytest.approx(46.2)


def test_quickest_first_looks_at_the_minutes_alone() -> None:
    slow_fuse = replace(FUSE, minutes=9)
    search = replace(SEARCH, checks=(slow_fuse, SUPPLY, OHMS))
    assert naive_order(search) == (slow_fuse, SUPPLY, OHMS)
    assert naive_order(search, Habit.QUICKEST_FIRST) == (SUPPLY, OHMS, slow_fuse)


def one(name: str, minutes: float, *access: str) -> Check:
    return Check(name, minutes, frozenset({name}), frozenset(access))


@pytest.mark.parametrize(
    ("order", "reasons"),
    [
        ([one("a", 1), one("b", 9)], [Reason.QUICK_AND_LIKELY, Reason.LAST_LEFT]),
        ([one("b", 1), one("a", 9)], [Reason.QUICK, Reason.LAST_LEFT]),
        ([one("a", 9), one("b", 8)], [Reason.LIKELY, Reason.LAST_LEFT]),
        (
            [one("a", 1, "wheel"), one("c", 3, "wheel"), one("b", 1)],
            [Reason.LIKELY, Reason.ACCESS_ALREADY_OPEN, Reason.LAST_LEFT],
        ),
        (
            [one("b", 8), one("c", 2), one("a", 90)],
            [Reason.MOST_FOR_ITS_MINUTES, Reason.QUICK, Reason.LAST_LEFT],
        ),
        (
            [one("b", 9, "wheel"), one("c", 1), one("a", 9, "wheel")],
            [Reason.OPENS_THE_WAY, Reason.QUICK, Reason.LAST_LEFT],
        ),
        (
            [one("b", 20), one("c", 1), one("a", 20)],
            [Reason.SHORTEST_AS_A_WHOLE, Reason.QUICK, Reason.LAST_LEFT],
        ),
    ],
)
def test_the_reason_of_each_step(order: list[Check], reasons: list[Reason]) -> None:
    causes = (Cause("a", 50), Cause("b", 30), Cause("c", 5))
    plan = plan_of(Search(causes, tuple(order), COVERS, UNDER), order)
    assert [step.reason for step in plan.steps] == reasons


def test_nothing_to_check_finds_nothing() -> None:
    plan = best_plan(Search(CAUSES, ()))
    assert plan.steps == ()
    assert plan.expected_minutes == 0
    assert plan.chance_unrevealed == 1


def test_twelve_checks_and_no_more() -> None:
    causes = tuple(Cause(f"c{n}", 1) for n in range(13))
    checks = tuple(Check(f"k{n}", n, frozenset({f"c{n}"})) for n in range(13))
    assert best_order(Search(causes, checks[:12])) == checks[:12]
    with pytest.raises(ValueError, match="up to 12 checks, not 13"):
        best_order(Search(causes, checks))


@pytest.mark.parametrize(
    ("causes", "checks", "access", "message"),
    [
        ((), (), {}, "needs causes"),
        ((Cause("a", 0),), (), {}, "needs causes"),
        ((Cause("a", 1), Cause("a", 2)), (), {}, "more than once"),
        ((Cause("a", 1),), (one("a", 1), one("a", 2)), {}, "more than once"),
        ((Cause("a", 1),), (one("a", -1),), {}, "negative"),
        ((Cause("a", 1),), (one("b", 1),), {}, r"not known: \['b'\]"),
        ((Cause("a", 1),), (one("a", 1, "lid"),), {}, r"not known: \['lid'\]"),
        ((Cause("a", 1),), (one("a", 1, "lid"),), {"lid": -1.0}, "negative"),
    ],
)
def test_an_impossible_search_is_refused(
    causes: tuple[Cause, ...], checks: tuple[Check, ...], access: dict[str, float], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        Search(causes, checks, access)


def test_obstacles_in_a_circle_are_refused() -> None:
    with pytest.raises(ValueError, match="circle"):
        Search((Cause("a", 1),), (one("a", 1, "x"),), {"x": 1, "y": 1}, {"x": ["y"], "y": ["x"]})


def test_what_lies_on_top_must_have_minutes_too() -> None:
    with pytest.raises(ValueError, match="cover"):
        Search((Cause("a", 1),), (one("a", 1, "brace"),), {"brace": 1}, UNDER)

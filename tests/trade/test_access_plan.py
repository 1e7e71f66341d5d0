"""The plan for a set of sensors: everything on top first, what is shared once, all counted."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.access_plan import (
    Fasteners,
    Minutes,
    Part,
    access_plan,
    reachable_too,
    summed,
)

NAMES = [f"part-{number}" for number in range(4)]
SENSORS = ["B1P1", "B1P2", "B2P1"]
KINDS = ["nut", "bolt", "push clip", "hose clip"]


@st.composite
def minutes(draw):
    low = draw(st.integers(0, 60))
    return Minutes(low, low + draw(st.integers(0, 30)))


@st.composite
def jobs(draw):
    """Obstacles that lie only under those of lower number, and sensors that lie under some."""
    parts = {}
    for place, name in enumerate([*NAMES, *SENSORS]):
        reachable = NAMES[: min(place, len(NAMES))]
        parts[name] = Part(
            tuple(draw(st.lists(st.sampled_from(reachable), unique=True))) if reachable else (),
            draw(st.none() | minutes()),
            tuple(
                Fasteners(what, draw(st.integers(1, 9)))
                for what in draw(st.lists(st.sampled_from(KINDS), max_size=2))
            ),
        )
    return parts


WANTED = st.lists(st.sampled_from(SENSORS), unique=True)


def in_its_way(name, parts):
    """Everything on top of a part, and on top of that: worked out by another way than ours."""
    found = set()
    for above in parts[name].under:
        found |= {above} | in_its_way(above, parts)
    return found


@given(WANTED, jobs())
def test_everything_on_top_comes_off_first_and_each_part_once(wanted, parts):
    plan = access_plan(wanted, parts)
    assert len(plan.off) == len(set(plan.off))
    for place, name in enumerate(plan.off):
        assert in_its_way(name, parts) <= set(plan.off[:place])


@given(WANTED, jobs())
def test_a_plan_holds_what_is_needed_and_nothing_else(wanted, parts):
    needed = set(wanted).union(*(in_its_way(name, parts) for name in wanted))
    assert set(access_plan(wanted, parts).off) == needed


@given(WANTED, jobs())
def test_all_goes_back_in_exactly_the_opposite_order(wanted, parts):
    plan = access_plan(wanted, parts)
    assert list(plan.on) == list(reversed(plan.off))


@given(WANTED, jobs())
def test_a_set_never_takes_longer_than_its_sensors_one_by_one(wanted, parts):
    together = access_plan(wanted, parts).minutes or Minutes(0, 0)
    single = [access_plan([name], parts) for name in wanted]
    one_by_one = summed([each.minutes for each in single if each.minutes]) or Minutes(0, 0)
    assert together.low_min <= one_by_one.low_min
    assert together.high_min <= one_by_one.high_min
    if sum(len(each.off) for each in single) == len(access_plan(wanted, parts).off):
        assert together == one_by_one, "with nothing shared, nothing is saved"


@given(WANTED, jobs())
def test_every_part_is_timed_or_said_not_to_be(wanted, parts):
    plan = access_plan(wanted, parts)
    timed = [parts[name].minutes for name in plan.off if name not in plan.untimed]
    assert all(parts[name].minutes is None for name in plan.untimed)
    assert None not in timed
    assert plan.minutes == summed(timed)
    assert (plan.minutes is None) is (len(plan.untimed) == len(plan.off))


@given(WANTED, jobs())
def test_fasteners_are_counted_once_for_each_part(wanted, parts):
    plan = access_plan(wanted, parts)
    counted = Counter()
    for name in plan.off:
        for each in parts[name].fasteners:
            counted[each.what] += each.count
    assert {each.what: each.count for each in plan.fasteners} == dict(counted)
    assert plan.spare_clips == counted["push clip"]


@given(st.sampled_from(SENSORS), jobs())
def test_what_is_further_is_exactly_what_is_still_on(sensor, parts):
    off = set(access_plan([sensor], parts).off)
    found = reachable_too(sensor, SENSORS, parts)
    assert {each.sensor for each in found} == set(SENSORS) - {sensor}
    for each in found:
        wanted = in_its_way(each.sensor, parts)
        assert set(each.shared) == wanted & off
        assert set(each.further) == wanted - off
        both = access_plan([sensor, each.sensor], parts)
        assert set(both.off) == off | set(each.further) | {each.sensor}
    assert [len(each.further) for each in found] == sorted(len(each.further) for each in found)


def test_a_shared_cover_by_example():
    parts = {
        "cover": Part((), Minutes(1, 2), (Fasteners("push clip", 4),)),
        "duct": Part(("cover",), Minutes(4, 6), (Fasteners("screw", 1),)),
        "shield": Part(("cover", "duct"), None, (Fasteners("screw", 3),)),
        "B1P1": Part(("shield",), Minutes(15, 30)),
        "B2P1": Part(("duct",), Minutes(6, 12)),
    }
    plan = access_plan(["B1P1", "B2P1"], parts)
    assert plan.off == ("cover", "duct", "shield", "B1P1", "B2P1")
    assert plan.minutes == Minutes(26, 50)
    assert plan.untimed == ("shield",)
    assert plan.fasteners == (Fasteners("push clip", 4), Fasteners("screw", 4))
    assert plan.spare_clips == 4
    (other,) = reachable_too("B1P1", ["B1P1", "B2P1"], parts)
    assert (other.shared, other.further) == (("cover", "duct"), ())
    (other,) = reachable_too("B2P1", ["B1P1"], parts)
    assert other.further == ("shield",)


def test_nothing_wanted_takes_nothing():
    plan = access_plan([], {})
    assert (plan.off, plan.minutes, plan.untimed, plan.fasteners) == ((), None, (), ())


def test_a_circle_is_told():
    parts = {"one": Part(("other",)), "other": Part(("one",)), "B1P1": Part(("one",))}
    with pytest.raises(ValueError, match="in a circle"):
        access_plan(["B1P1"], parts)


@pytest.mark.parametrize(
    ("what", "breaks"),
    [
        ("push clip", True), ("Plastic CLIP", True), ("fir-tree clip", True), ("push rivet", True),
        ("hose clip", False), ("circlip", False), ("spring clip", False), ("nut", False),
        ("hose clamp", False),
    ],
)  # fmt: skip
def test_which_fasteners_break(what, breaks):
    assert Fasteners(what, 1).break_easily is breaks


@pytest.mark.parametrize(
    ("what", "wanted"),
    [
        ("screw with a T25 head", True), ("hose clamp", True), ("hose clip", True),
        ("Wheel BOLT", True), ("quarter-turn fastener", True), ("push clip", False),
        ("rubber-bushed ball stud", False), ("rubber foot", False),
    ],
)  # fmt: skip
def test_which_fasteners_want_a_tool(what, wanted):
    assert Fasteners(what, 1).want_a_tool is wanted


@pytest.mark.parametrize("ends", [(2, 1), (-1, 1), (float("nan"), 1)])
def test_what_is_no_time_is_refused(ends):
    with pytest.raises(ValueError, match="not a range of minutes"):
        Minutes(*ends)

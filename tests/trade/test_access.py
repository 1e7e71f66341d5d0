from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.access import refit_order, removal_order, under_circle

NAMES = [f"part-{number}" for number in range(8)]


@st.composite
def piles(draw):
    """What lies under what, without a circle: a part lies only under parts of lower number."""
    return {
        name: draw(st.lists(st.sampled_from(NAMES[:number]), unique=True)) if number else []
        for number, name in enumerate(NAMES)
    }


WANTED = st.lists(st.sampled_from(NAMES))


@given(WANTED, piles())
def test_what_lies_on_top_comes_off_first(wanted, under):
    order = removal_order(wanted, under)
    assert len(order) == len(set(order))
    assert set(wanted) <= set(order)
    for place, thing in enumerate(order):
        assert set(under[thing]) <= set(order[:place])


@given(WANTED, piles())
def test_nothing_comes_off_without_need(wanted, under):
    order = removal_order(wanted, under)
    for thing in order:
        assert thing in wanted or any(thing in under[other] for other in order)


@given(WANTED, piles())
def test_things_go_back_in_exactly_the_opposite_order(wanted, under):
    assert list(refit_order(wanted, under)) == list(reversed(removal_order(wanted, under)))


def test_the_order_of_mention_is_kept():
    under = {"brace": ["cover"], "intake": ["cover", "battery"]}
    assert removal_order(["brace", "intake"], under) == ("cover", "brace", "battery", "intake")
    assert removal_order(["intake", "brace"], under) == ("cover", "battery", "intake", "brace")
    assert removal_order(["shield", "brace"], under) == ("shield", "cover", "brace")


def test_a_very_deep_pile():
    deep = {str(number): [str(number + 1)] for number in range(5000)}
    assert removal_order(["0"], deep)[:2] == ("5000", "4999")


@given(piles())
def test_a_pile_has_no_circle(under):
    assert under_circle(under) is None


@given(piles(), st.data())
def test_a_circle_is_found_and_each_lies_under_the_next(under, data):
    top, bottom = sorted(data.draw(st.lists(st.sampled_from(range(8)), min_size=2, max_size=2)))
    under[NAMES[bottom]] = [*under[NAMES[bottom]], NAMES[top]]
    under[NAMES[top]] = [*under[NAMES[top]], NAMES[bottom]]
    circle = under_circle(under)
    assert circle is not None
    assert circle[0] == circle[-1]
    for lower, upper in pairwise(circle):
        assert upper in under[lower]
    with pytest.raises(ValueError, match="in a circle: part-"):
        removal_order([NAMES[top]], under)

"""Differences: none where there is none, each as small as it has a meaning, each real."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.profile.difference import ABSENT, Difference, differences, with_only, without
from generator.profile.tree import Data

words = st.sampled_from(["bolt", "nut", "clip", "lift the cover", "turn it twice", ""])
trees: st.SearchStrategy[Any] = st.recursive(
    words,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from("abcde"), inner, max_size=4)
    ),
    max_leaves=12,
)
parts = st.dictionaries(st.sampled_from("abcde"), trees, max_size=5)


@given(parts)
def test_a_profile_does_not_differ_from_itself(data: dict[str, Data]) -> None:
    assert differences(data, data) == []


@given(parts, parts)
def test_every_difference_is_one(old: dict[str, Data], new: dict[str, Data]) -> None:
    found = differences(old, new)
    assert bool(found) == (old != new)
    for each in found:
        assert with_only(old, new, each) != old
        assert without(old, new, each) != new
    if len(found) == 1:
        assert with_only(old, new, found[0]) == new
        assert without(old, new, found[0]) == old


@given(parts, parts)
def test_there_and_back_are_as_many(old: dict[str, Data], new: dict[str, Data]) -> None:
    there, back = differences(old, new), differences(new, old)
    assert bool(there) == bool(back)


def sensor(bank: str, position: str, **more: Data) -> dict[str, Data]:
    return {"bank": bank, "position": position, **more}


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ({"a": {"b": "1"}}, {"a": {"b": "2"}}, [Difference("a.b", "1", "2")]),
        ({}, {"a": {"b": "1"}}, [Difference("a", ABSENT, {"b": "1"})]),
        ({"a": {"b": "1"}}, {}, [Difference("a", {"b": "1"}, ABSENT)]),
        ({"a": "1", "b": "2"}, {"b": "2", "a": "1"}, []),
        # A list of words is one value; of sentences, each is
        ({"c": ["1", "3"]}, {"c": ["1", "2"]}, [Difference("c", ["1", "3"], ["1", "2"])]),
        (
            {"s": ["lift it", "turn it"]},
            {"s": ["clean it", "lift it", "turn it"]},
            [Difference("s.1", ABSENT, "clean it")],
        ),
        ({"s": ["lift it", "turn it"]}, {"s": ["turn it"]}, [Difference("s.1", "lift it", ABSENT)]),
        ({"s": ["lift it"]}, {"s": ["lift it up"]}, [Difference("s.1", "lift it", "lift it up")]),
        # The short form of a specification is the long one without a source
        (
            {"torque": "10 N·m"},
            {"torque": {"value": "10 N·m", "source": "manual"}},
            [Difference("torque.source", ABSENT, "manual")],
        ),
        # Sensors go by bank and position, whatever their order
        (
            {"sensors": [sensor("1", "1", hex="22 mm"), sensor("1", "2")]},
            {"sensors": [sensor("1", "2"), sensor("1", "1", hex="24 mm")]},
            [Difference("sensors.bank-1-position-1.hex", "22 mm", "24 mm")],
        ),
        (
            {"sensors": [sensor("1", "1")]},
            {"sensors": [sensor("2", "1"), sensor("1", "1")]},
            [Difference("sensors.bank-2-position-1", ABSENT, sensor("2", "1"))],
        ),
    ],
)
def test_by_example(old: Data, new: Data, found: list[Difference]) -> None:
    assert differences(old, new) == found


def test_sensors_that_cannot_be_told_apart_are_entries() -> None:
    old: Data = {"sensors": [sensor("1", "1"), sensor("1", "1", hex="22 mm")]}
    new: Data = {"sensors": [sensor("1", "1"), sensor("1", "1", hex="24 mm")]}
    assert differences(old, new) == [Difference("sensors.2.hex", "22 mm", "24 mm")]


def test_a_new_key_stands_where_the_newer_profile_has_it() -> None:
    old: Data = {"sources": {"a": "1", "c": "3"}}
    new: Data = {"sources": {"a": "1", "b": "2", "c": "4"}}
    first, _ = differences(old, new)
    made = with_only(old, new, first)
    assert isinstance(made, dict)
    assert isinstance(made["sources"], dict)
    assert list(made["sources"].items()) == [("a", "1"), ("b", "2"), ("c", "3")]

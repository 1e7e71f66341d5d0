"""Where banks are and how they look, in words; and words for every member of every enum."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from gettext import NullTranslations
from itertools import product
from typing import Any

import pytest

from generator.guide import words
from generator.guide.cautions import Said, sentences
from generator.guide.overview_page import overview
from generator.guide.vehicle import Vehicle
from generator.profile.guide_model import Source, SourceKind
from generator.profile.model import Engine
from generator.profile.sensor_model import ThreadState
from generator.trade.connector import PinJob
from generator.trade.hazard import SIGNAL_WORDS, Hazard, SignalWord
from generator.trade.place import Arrangement, Bay, Landmark, Mounting, Side, Standpoint
from generator.trade.sensor import SensorKind

Small = Callable[..., Vehicle]
T = NullTranslations()


def engine(arrangement: str, mounting: str, bay: str, *sides: str | None) -> dict[str, Any]:
    """Changes that give the small vehicle six cylinders, shared among banks on these sides."""
    share = 6 // len(sides)
    banks = {}
    for number, side in enumerate(sides, start=1):
        cylinders = list(range((number - 1) * share + 1, number * share + 1))
        banks[number] = {"cylinders": cylinders, **({"side": side} if side else {})}
    return {
        "engine.cylinders": 6,
        "engine.arrangement": arrangement,
        "engine.mounting": mounting,
        "engine.bay": bay,
        "banks": banks,
    }


DRIVER, PASSENGER = "driver's side", "passenger's side"
SIDE_WORDS = {"front", "rear", "left", "right", "radiator", "bulkhead", "rear bumper"}

# The engine, the steering, and for each bank the words that must be said and those that must not
PLACES: list[tuple[dict[str, Any], list[str], list[tuple[set[str], set[str]]]]] = [
    # Across: one bank toward the radiator, one toward the bulkhead, whatever the steering
    (engine("vee", "transverse", "front", "rear", "front"), ["left", "right"],
     [({"rear bank", "bulkhead"}, {"radiator", DRIVER, PASSENGER}),
      ({"front bank", "radiator"}, {"bulkhead", DRIVER, PASSENGER})]),
    # Behind the seats or the axle, the bulkhead is ahead of the engine
    (engine("vee", "transverse", "mid", "rear", "front"), ["left"],
     [({"rear bank", "rear bumper"}, {"bulkhead", "radiator"}),
      ({"front bank", "bulkhead"}, {"bumper", "radiator"})]),
    (engine("vee", "transverse", "rear", "front", "rear"), ["right"],
     [({"front bank", "bulkhead"}, {"bumper"}), ({"rear bank", "rear bumper"}, {"bulkhead"})]),
    # Lengthwise: left and right are told by whose side that is
    (engine("vee", "longitudinal", "front", "left", "right"), ["left"],
     [({"left bank", DRIVER}, {PASSENGER}), ({"right bank", PASSENGER}, {DRIVER})]),
    (engine("vee", "longitudinal", "front", "left", "right"), ["right"],
     [({"left bank", PASSENGER}, {DRIVER}), ({"right bank", DRIVER}, {PASSENGER})]),
    (engine("flat", "longitudinal", "rear", "right", "left"), ["left"],
     [({"right bank", PASSENGER}, {DRIVER}), ({"left bank", DRIVER}, {PASSENGER})]),
    (engine("flat", "transverse", "mid", "front", "rear"), ["left"],
     [({"front bank", "bulkhead"}, {DRIVER}), ({"rear bank", "rear bumper"}, {DRIVER})]),
    # Sold with the wheel on both sides: both are told, each with its wheel
    (engine("flat", "longitudinal", "front", "right", "left"), ["left", "right"],
     [({"right bank",
        f"{PASSENGER} where the wheel is on the left, else {DRIVER}"}, set()),
      ({"left bank",
        f"{DRIVER} where the wheel is on the left, else {PASSENGER}"}, set())]),
    # One bank: no "bank" to tell apart, only the side on which the exhaust leaves
    (engine("inline", "transverse", "front", "rear"), ["left"],
     [({"exhaust", "rear", "bulkhead"}, {"bank", DRIVER})]),
    (engine("inline", "longitudinal", "front", "right"), ["right"],
     [({"exhaust", "right", DRIVER}, {"bank", PASSENGER})]),
    # An in-line six split in two: the banks lie along the crankshaft
    (engine("inline", "longitudinal", "front", "front", "rear"), ["left"],
     [({"front bank", "radiator"}, {DRIVER}), ({"rear bank", "bulkhead"}, {DRIVER})]),
    (engine("inline", "transverse", "front", "right", "left"), ["left"],
     [({"right bank", PASSENGER}, {DRIVER}), ({"left bank", DRIVER}, {PASSENGER})]),
    # A vee whose banks have joined ahead of the only sensor is on no side
    (engine("vee", "longitudinal", "front", None), ["left", "right"],
     [({"all cylinders", "joined"}, {DRIVER, PASSENGER, "bank"} | SIDE_WORDS)]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "steering", "expected"),
    PLACES,
    ids=lambda each: (
        ""
        if not isinstance(each, dict)
        else "-".join(str(each[f"engine.{key}"]) for key in ("arrangement", "mounting", "bay"))
    ),
)
def test_where_a_bank_is(
    small: Small,
    changes: dict[str, Any],
    steering: list[str],
    expected: list[tuple[set[str], set[str]]],
) -> None:
    vehicle = small({**changes, "steering": steering})
    assert len(vehicle.profile.banks) == len(expected)
    for number, (must, must_not) in enumerate(expected, start=1):
        said = words.bank_place(vehicle.profile, number, T)
        assert [word for word in must if word not in said] == [], said
        assert [word for word in must_not if word in said] == [], said


# Turning one's own body, and reading off where the side lies
SEEN = {
    ("front", "transverse"): {
        "driver": {"front": "forward", "rear": "rearward"},
        "bumper": {"front": "near", "rear": "far"},
        "underneath": {"front": "feet", "rear": "head"},
    },
    ("front", "longitudinal"): {
        "driver": {"left": "left", "right": "right"},
        "bumper": {"left": "right", "right": "left"},
        "underneath": {"left": "left", "right": "right"},
    },
    ("rear", "transverse"): {
        "driver": {"front": "forward", "rear": "rearward"},
        "bumper": {"front": "far", "rear": "near"},
        "underneath": {"front": "head", "rear": "feet"},
    },
    ("rear", "longitudinal"): {
        "driver": {"left": "left", "right": "right"},
        "bumper": {"left": "left", "right": "right"},
        "underneath": {"left": "right", "right": "left"},
    },
}


@pytest.mark.parametrize("bay", ["front", "mid", "rear"])
@pytest.mark.parametrize("mounting", ["transverse", "longitudinal"])
def test_how_a_bank_looks_from_each_standpoint(small: Small, bay: str, mounting: str) -> None:
    expected = SEEN["rear" if bay == "mid" else bay, mounting]
    sides = list(expected["driver"])
    vehicle = small(engine("vee", mounting, bay, *sides))
    every_word = {word for seen in expected.values() for word in seen.values()}
    for side, bank in zip(sides, overview(vehicle).banks, strict=True):
        assert len(bank.seen) == len(expected)
        for stand, looks in expected.items():
            (said,) = (what for where, what in bank.seen if stand in where.lower())
            assert looks[side] in said
            assert not [word for word in every_word - {looks[side]} if word in said], said


def test_near_and_far_are_not_told_from_the_drivers_seat_of_a_rear_engine(small: Small) -> None:
    vehicle = small(engine("vee", "transverse", "rear", "front", "rear"))
    from_the_seat = [what for bank in overview(vehicle).banks for _, what in bank.seen[:1]]
    assert len(from_the_seat) == 2
    assert not any("near" in what or "far" in what for what in from_the_seat)


def test_a_bank_on_no_side_has_no_looks(small: Small) -> None:
    vehicle = small(engine("vee", "longitudinal", "front", None))
    assert [bank.seen for bank in overview(vehicle).banks] == [[]]


@pytest.mark.parametrize(
    ("told", "members"),
    [
        (words.sensor_kind, SensorKind),
        (words.landmark, Landmark),
        (words.side_words, Side),
        (words.standpoint, Standpoint),
        (words.pin_job, PinJob),
        (words.thread_state, (*ThreadState, None)),
        (words.along_exhaust, (1, 2, 3)),
    ],
)
def test_every_member_has_words_of_its_own(
    told: Callable[[Any, Any], str], members: Iterable[Any]
) -> None:
    said = [told(member, T) for member in members]
    assert all(said)
    assert len(set(said)) == len(said)


@pytest.mark.parametrize(("side", "stand"), product(Side, Standpoint))
def test_every_side_has_words_from_every_standpoint(side: Side, stand: Standpoint) -> None:
    assert words.seen_from(side, stand, T)


@pytest.mark.parametrize(
    ("arrangement", "mounting", "bay"), product(Arrangement, Mounting, Bay), ids=str
)
def test_every_engine_has_words(
    small: Small, arrangement: Arrangement, mounting: Mounting, bay: Bay
) -> None:
    stands = Engine(name="any", cylinders=4, arrangement=arrangement, mounting=mounting, bay=bay)
    said = words.engine(small().profile.model_copy(update={"engine": stands}), T)
    others = [
        words.engine(
            small().profile.model_copy(update={"engine": stands.model_copy(update=change)}), T
        )
        for change in (
            {"arrangement": next(each for each in Arrangement if each is not arrangement)},
            {"mounting": next(each for each in Mounting if each is not mounting)},
            {"bay": next(each for each in Bay if each is not bay)},
            {"cylinders": 6},
        )
    ]
    assert said not in others, "each part of the engine changes the sentence"


@pytest.mark.parametrize("kind", SourceKind)
def test_a_source_that_is_no_literature_says_so(kind: SourceKind) -> None:
    said = words.source(Source(title="A title", kind=kind, edition="3rd", locator="page 4"), T)
    assert said.startswith("A title, 3rd, page 4")
    assert (said == "A title, 3rd, page 4") is (kind is SourceKind.MAKER)


@pytest.mark.parametrize("hazard", Hazard)
def test_every_hazard_has_a_sentence_under_its_signal_word(hazard: Hazard) -> None:
    assert Said(T).first([hazard]) == ((SIGNAL_WORDS[hazard].value, (sentences(T)[hazard],)),)
    assert sentences(T)[hazard].endswith(".")


def test_every_signal_word_is_used() -> None:
    assert set(SIGNAL_WORDS.values()) == set(SignalWord)


@pytest.mark.parametrize("steering", [["left"], ["right"], ["left", "right"], ["right", "left"]])
def test_the_sides_of_the_wheel_are_told(small: Small, steering: list[str]) -> None:
    said = words.steering(small({"steering": steering}).profile, T)
    assert [side in said for side in ("left", "right")] == [
        side in steering for side in ("left", "right")
    ]


def test_a_wire_colour_is_spelled_out_with_its_code() -> None:
    assert words.colour("RDBU", T) == "red and blue (RDBU)"
    assert words.colour(None, T) == ""

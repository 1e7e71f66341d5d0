import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.place import (
    Bay,
    CabinSide,
    Direction,
    Landmark,
    PositionPlace,
    Side,
    Standpoint,
    Wheel,
    landmark,
    position_place,
    seen_from,
    standpoints,
    wheel_side,
)

SIDES = st.sampled_from(Side)
STANDPOINTS = st.sampled_from(Standpoint)
OPPOSITE = {
    Direction.LEFT_HAND: Direction.RIGHT_HAND,
    Direction.RIGHT_HAND: Direction.LEFT_HAND,
    Direction.TOWARD_READER: Direction.AWAY_FROM_READER,
    Direction.AWAY_FROM_READER: Direction.TOWARD_READER,
    Direction.TOWARD_HEAD: Direction.TOWARD_FEET,
    Direction.TOWARD_FEET: Direction.TOWARD_HEAD,
}

# Each row worked out by standing there, not by the formula.
SEEN = {
    Standpoint.DRIVERS_SEAT: "left-hand right-hand away-from-reader toward-reader",
    Standpoint.FRONT_BUMPER: "right-hand left-hand toward-reader away-from-reader",
    Standpoint.REAR_BUMPER: "left-hand right-hand away-from-reader toward-reader",
    Standpoint.UNDER_HEAD_REARWARD: "left-hand right-hand toward-feet toward-head",
    Standpoint.UNDER_HEAD_FORWARD: "right-hand left-hand toward-head toward-feet",
}


@pytest.mark.parametrize("standpoint", Standpoint)
def test_each_side_is_seen_where_it_lies(standpoint):
    sides = (Side.LEFT, Side.RIGHT, Side.FRONT, Side.REAR)
    assert " ".join(seen_from(side, standpoint) for side in sides) == SEEN[standpoint]


def test_over_the_front_bumper_swaps_and_under_the_car_swaps_again():
    seat = seen_from(Side.LEFT, Standpoint.DRIVERS_SEAT)
    bumper = seen_from(Side.LEFT, Standpoint.FRONT_BUMPER)
    under = seen_from(Side.LEFT, Standpoint.UNDER_HEAD_REARWARD)
    assert bumper is OPPOSITE[seat]
    assert under is OPPOSITE[bumper]


@given(SIDES, STANDPOINTS)
def test_opposite_sides_are_seen_in_opposite_directions(side, standpoint):
    assert seen_from(side.opposite, standpoint) is OPPOSITE[seen_from(side, standpoint)]


@given(STANDPOINTS)
def test_four_sides_are_seen_in_four_directions(standpoint):
    assert len({seen_from(side, standpoint) for side in Side}) == 4


@given(STANDPOINTS)
def test_a_reader_has_a_right_handed_frame(standpoint):
    frame = standpoint.frame
    assert sum(a * b for a, b in zip(frame.facing, frame.head_up, strict=True)) == 0
    assert sum(component**2 for component in frame.right_hand) == 1


def test_landmarks_of_a_front_engine():
    assert landmark(Side.FRONT, Bay.FRONT) is Landmark.RADIATOR
    assert landmark(Side.REAR, Bay.FRONT) is Landmark.BULKHEAD


@pytest.mark.parametrize("bay", [Bay.MID, Bay.REAR])
def test_an_engine_behind_the_cabin_turns_near_and_far_round(bay):
    assert landmark(Side.FRONT, bay) is Landmark.BULKHEAD
    assert landmark(Side.REAR, bay) is Landmark.REAR_BUMPER


@pytest.mark.parametrize("bay", Bay)
def test_left_and_right_have_no_landmark(bay):
    assert landmark(Side.LEFT, bay) is None
    assert landmark(Side.RIGHT, bay) is None


def test_the_drivers_side_depends_on_the_wheel():
    assert wheel_side(Side.LEFT, Wheel.LEFT) is CabinSide.DRIVERS
    assert wheel_side(Side.LEFT, Wheel.RIGHT) is CabinSide.PASSENGERS
    assert wheel_side(Side.RIGHT, Wheel.RIGHT) is CabinSide.DRIVERS
    assert wheel_side(Side.RIGHT, Wheel.LEFT) is CabinSide.PASSENGERS
    assert wheel_side(Side.FRONT, Wheel.LEFT) is None
    assert wheel_side(Side.REAR, Wheel.RIGHT) is None


def test_standpoints_are_at_the_engine():
    assert Standpoint.FRONT_BUMPER in standpoints(Bay.FRONT)
    assert Standpoint.REAR_BUMPER not in standpoints(Bay.FRONT)
    for bay in (Bay.MID, Bay.REAR):
        assert Standpoint.REAR_BUMPER in standpoints(bay)
        assert Standpoint.FRONT_BUMPER not in standpoints(bay)


def test_positions_count_from_the_engine():
    assert [position_place(position) for position in (1, 2, 3, 4)] == [
        PositionPlace.BEFORE_CATALYST,
        PositionPlace.AFTER_CATALYST,
        PositionPlace.FURTHER_DOWN,
        PositionPlace.FURTHER_DOWN,
    ]


@pytest.mark.parametrize("position", [-1, 0, 5])
def test_other_positions_are_refused(position):
    with pytest.raises(ValueError, match="1 to 4"):
        position_place(position)

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.trade.place import (
    Arrangement,
    Bank,
    Bay,
    Engine,
    FaultKind,
    Mounting,
    Side,
    allowed_sides,
    layout_faults,
)

TRANSVERSE_V6 = Engine(6, Arrangement.VEE, Mounting.TRANSVERSE, Bay.FRONT)
LONGITUDINAL_V6 = Engine(6, Arrangement.VEE, Mounting.LONGITUDINAL, Bay.FRONT)
FLAT_4 = Engine(4, Arrangement.FLAT, Mounting.LONGITUDINAL, Bay.REAR)
INLINE_4 = Engine(4, Arrangement.INLINE, Mounting.TRANSVERSE, Bay.FRONT)
INLINE_6 = Engine(6, Arrangement.INLINE, Mounting.LONGITUDINAL, Bay.FRONT)
ENGINES = st.builds(
    Engine,
    st.integers(1, 12),
    st.sampled_from(Arrangement),
    st.sampled_from(Mounting),
    st.sampled_from(Bay),
)


def kinds(engine, *banks):
    return [fault.kind for fault in layout_faults(engine, banks)]


def only_fault(engine, *banks):
    (fault,) = layout_faults(engine, banks)
    return fault


@pytest.mark.parametrize(
    ("engine", "banks"),
    [
        (TRANSVERSE_V6, [Bank(1, (1, 2, 3), Side.REAR), Bank(2, (4, 5, 6), Side.FRONT)]),
        (LONGITUDINAL_V6, [Bank(2, (2, 4, 6), Side.RIGHT), Bank(1, (1, 3, 5), Side.LEFT)]),
        (FLAT_4, [Bank(1, (1, 3), Side.RIGHT), Bank(2, (2, 4), Side.LEFT)]),
        (INLINE_4, [Bank(1, (1, 2, 3, 4), Side.FRONT)]),
        (INLINE_6, [Bank(1, (1, 2, 3, 4, 5, 6), Side.RIGHT)]),
        (INLINE_6, [Bank(1, (1, 2, 3), Side.FRONT), Bank(2, (4, 5, 6), Side.REAR)]),
        (TRANSVERSE_V6, [Bank(1, (1, 2, 3, 4, 5, 6), None)]),
        (TRANSVERSE_V6, [Bank(1, (1, 2, 3, 4, 5, 6), Side.FRONT)]),
        (
            LONGITUDINAL_V6,
            [
                Bank(1, (1, 2), Side.LEFT),
                Bank(2, (3,), Side.LEFT),
                Bank(3, (4, 5), Side.RIGHT),
                Bank(4, (6,), Side.RIGHT),
            ],
        ),
    ],
)
def test_banks_that_fit_have_no_fault(engine, banks):
    assert layout_faults(engine, banks) == ()


@pytest.mark.parametrize(
    ("engine", "bank_count", "expected"),
    [
        (TRANSVERSE_V6, 2, {Side.FRONT, Side.REAR}),
        (LONGITUDINAL_V6, 2, {Side.LEFT, Side.RIGHT}),
        (INLINE_4, 1, {Side.FRONT, Side.REAR}),
        (INLINE_4, 2, {Side.LEFT, Side.RIGHT}),
        (INLINE_6, 1, {Side.LEFT, Side.RIGHT}),
        (INLINE_6, 2, {Side.FRONT, Side.REAR}),
    ],
)
def test_the_axis_of_the_sides(engine, bank_count, expected):
    assert set(allowed_sides(engine, bank_count)) == expected


def test_cylinder_1_defines_bank_1():
    fault = only_fault(TRANSVERSE_V6, Bank(1, (4, 5, 6), Side.REAR), Bank(2, (1, 2, 3), Side.FRONT))
    assert fault.kind is FaultKind.NO_CYLINDER_1_IN_BANK_1
    assert (fault.bank, fault.cylinder) == (1, 1)
    assert "in bank 2" in fault.reason


def test_cylinder_1_nowhere_is_reported_once():
    fault = only_fault(INLINE_4, Bank(1, (2, 3, 4), Side.FRONT))
    assert fault.kind is FaultKind.NO_CYLINDER_1_IN_BANK_1
    assert "add it to bank 1" in fault.reason


def test_no_bank_at_all_is_one_fault():
    assert kinds(INLINE_4) == [FaultKind.NO_BANK_1]


def test_bank_1_is_not_listed():
    banks = Bank(2, (1, 2, 3), Side.REAR), Bank(3, (4, 5, 6), Side.FRONT)
    assert kinds(TRANSVERSE_V6, *banks) == [FaultKind.NO_BANK_1]


def test_bank_numbers():
    banks = [
        Bank(1, (1, 2), Side.REAR),
        Bank(1, (3, 4), Side.FRONT),
        Bank(5, (5, 6), Side.FRONT),
    ]
    assert kinds(TRANSVERSE_V6, *banks) == [FaultKind.BANK_TWICE, FaultKind.BANK_UNKNOWN]


def test_cylinders():
    faults = layout_faults(
        TRANSVERSE_V6,
        [Bank(1, (1, 2, 2), Side.REAR), Bank(2, (1, 7), Side.FRONT), Bank(3, (), Side.REAR)],
    )
    assert {(fault.kind, fault.bank, fault.cylinder) for fault in faults} == {
        (FaultKind.CYLINDER_TWICE, 1, 2),
        (FaultKind.CYLINDER_TWICE, 2, 1),
        (FaultKind.CYLINDER_UNKNOWN, 2, 7),
        (FaultKind.EMPTY_BANK, 3, None),
        (FaultKind.CYLINDER_NOWHERE, None, 3),
        (FaultKind.CYLINDER_NOWHERE, None, 4),
        (FaultKind.CYLINDER_NOWHERE, None, 5),
        (FaultKind.CYLINDER_NOWHERE, None, 6),
    }
    assert len(faults) == 8


def test_a_side_off_the_axis_names_the_one_left_over():
    fault = only_fault(TRANSVERSE_V6, Bank(1, (1, 2, 3), Side.REAR), Bank(2, (4, 5, 6), Side.LEFT))
    assert fault.kind is FaultKind.SIDE_CONTRADICTS_LAYOUT
    assert fault.bank == 2
    assert fault.allowed == (Side.FRONT,)
    assert fault.reason == (
        "Bank 2 of a transverse vee engine cannot be on the left side: "
        "say front, or mend the mounting."
    )


def test_two_banks_on_one_side():
    fault = only_fault(
        LONGITUDINAL_V6, Bank(1, (1, 3, 5), Side.LEFT), Bank(2, (2, 4, 6), Side.LEFT)
    )
    assert fault.kind is FaultKind.SAME_SIDE
    assert fault.allowed == (Side.RIGHT,)


def test_a_missing_side():
    assert only_fault(INLINE_4, Bank(1, (1, 2, 3, 4))).allowed == (Side.FRONT, Side.REAR)
    banks = Bank(1, (1, 3, 5)), Bank(2, (2, 4, 6))
    assert kinds(LONGITUDINAL_V6, *banks) == [FaultKind.SIDE_MISSING, FaultKind.SIDE_MISSING]
    fault = only_fault(LONGITUDINAL_V6, Bank(1, (1, 3, 5), Side.LEFT), Bank(2, (2, 4, 6)))
    assert fault.allowed == (Side.RIGHT,)


def test_a_merged_vee_keeps_its_axis():
    fault = only_fault(TRANSVERSE_V6, Bank(1, (1, 2, 3, 4, 5, 6), Side.LEFT))
    assert fault.kind is FaultKind.SIDE_CONTRADICTS_LAYOUT


def test_several_faults_are_reported_at_once():
    banks = Bank(1, (2,), Side.LEFT), Bank(2, (), None)
    assert set(kinds(INLINE_6, *banks)) == {
        FaultKind.NO_CYLINDER_1_IN_BANK_1,
        FaultKind.EMPTY_BANK,
        FaultKind.CYLINDER_NOWHERE,
        FaultKind.SIDE_CONTRADICTS_LAYOUT,
        FaultKind.SIDE_MISSING,
    }


def test_banks_without_any_cylinder_are_told_in_a_sentence_each():
    assert set(kinds(INLINE_6, Bank(1, (), Side.LEFT))) == {FaultKind.EMPTY_BANK}


@given(ENGINES, st.integers(1, 4), st.data())
def test_any_split_with_cylinder_1_in_bank_1_and_sides_on_the_axis_fits(engine, bank_count, data):
    bank_count = min(bank_count, engine.cylinders)
    sides = allowed_sides(engine, bank_count)
    first = data.draw(st.sampled_from(sides))
    banks = [
        Bank(
            number + 1,
            tuple(range(1 + number, engine.cylinders + 1, bank_count)),
            first if number % 2 == 0 else first.opposite,
        )
        for number in range(bank_count)
    ]
    assert layout_faults(engine, banks) == ()


@given(
    ENGINES,
    st.lists(
        st.builds(
            Bank,
            st.integers(-1, 6),
            st.lists(st.integers(-1, 13), max_size=6).map(tuple),
            st.none() | st.sampled_from(Side),
        ),
        max_size=5,
    ),
)
def test_every_fault_is_a_distinct_sentence_and_mending_sides_ends_side_faults(engine, banks):
    faults = layout_faults(engine, banks)
    for fault in faults:
        assert fault.reason.endswith(".")
        assert fault.reason.count(". ") == 0
        assert set(fault.allowed) <= set(allowed_sides(engine, len(banks)))
    sides = allowed_sides(engine, len(banks)) * 3
    mended = [Bank(b.number, b.cylinders, side) for b, side in zip(banks, sides, strict=False)]
    side_kinds = (FaultKind.SAME_SIDE, FaultKind.SIDE_MISSING, FaultKind.SIDE_CONTRADICTS_LAYOUT)
    assert not {fault.kind for fault in layout_faults(engine, mended)} & set(side_kinds)

"""What the check mends by itself: the text as it was meant, and nothing else of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.profile import read_text
from generator.profile.fixes import fixed

MINIMAL = (Path(__file__).parent / "cases/minimal.yml").read_text("utf-8")


def with_notes(*notes: str) -> str:
    return MINIMAL + "notes:\n" + "".join(f"  - {each}\n" for each in notes)


@pytest.mark.parametrize(
    ("written", "mended"),
    [
        ("“Look at the fuse.”", '"Look at the fuse."'),
        ("„Look at the fuse.“  # first", '"Look at the fuse."  # first'),
        ("«Look at\n    the fuse.»", '"Look at\n    the fuse."'),
        ("‘Look at the “new” fuse.’", '"Look at the “new” fuse."'),
        ('“Look at the 1" pipe.”', "'Look at the 1\" pipe.'"),
        ("“Look at C:\\new.”", "'Look at C:\\new.'"),
        ("“~”", '"~"'),
        ("“Don't look at the 1\" pipe.”", "“Don't look at the 1\" pipe.”"),
        ('"“Look at the fuse.”"', '"“Look at the fuse.”"'),
        ("“Look” and “see”", "“Look” and “see”"),
    ],
)
def test_quotation_marks_become_straight_where_that_reads_the_same(
    written: str, mended: str
) -> None:
    before, after = with_notes(written), with_notes(mended)
    assert fixed(before.encode()).content.decode() == after
    assert fixed(after.encode()).content.decode() == after
    one, other = (read_text(each.encode(), "a", "a").profile for each in (before, after))
    assert one is not None
    assert one == other


def test_a_quantity_within_them_is_spelt_as_the_rest() -> None:
    written = f"{MINIMAL}    torque: “40 Nm”\n"
    assert fixed(written.encode()).content.decode() == f'{MINIMAL}    torque: "40 N·m"\n'


def test_each_mend_says_where_what_stood_and_what_stands_there() -> None:
    written = """\
format: 2
vehicle:
  model: “Carrow”
  make: Fen\u00adwright
sensors:
  - wires: 4
    bank: 1
    kind: switching
    connector: {face: a, where: «on the
      bracket»}
    torque: “40 Nm”
steering: [left]
"""
    assert [f"{each.line}: {each}" for each in fixed(written.encode()).mends] == [
        '3: `“Carrow”` is now `"Carrow"`.',
        "3: `model, make` is now `make, model`.",
        "4: `U+00AD` is deleted.",
        "5: `sensors, steering` is now `steering, sensors`.",
        "6: `wires, bank, kind` is now `bank, kind, wires`.",
        '9: `«` is now `"`.',
        '10: `»` is now `"`.',
        '11: `“40 Nm”` is now `"40 Nm"`.',
        "11: `40 Nm` is now `40 N·m`.",
    ]


def test_a_mend_is_told_on_one_short_line() -> None:
    long = "“" + "a`\u200e " * 30 + "”"
    (mend,) = fixed(with_notes(long).encode()).mends
    assert str(mend).isprintable()
    assert str(mend).count("`") == 4
    assert len(str(mend)) < 160


def test_nothing_to_mend_is_no_mend() -> None:
    assert fixed(MINIMAL.encode()).mends == ()
    assert fixed(b"format: 9\n").mends == ()

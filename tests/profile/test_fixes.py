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
    assert fixed(before.encode()).decode() == after
    assert fixed(after.encode()).decode() == after
    one, other = (read_text(each.encode(), "a", "a").profile for each in (before, after))
    assert one is not None
    assert one == other


def test_a_quantity_within_them_is_spelt_as_the_rest() -> None:
    written = f"{MINIMAL}    torque: “40 Nm”\n"
    assert fixed(written.encode()).decode() == f'{MINIMAL}    torque: "40 N·m"\n'

"""A date written otherwise leads to itself where day and month cannot be mixed up."""

from __future__ import annotations

import pytest

from generator.profile.date_meant import mend_of_date


@pytest.mark.parametrize(
    "text",
    ["14.3.2026", "2026/3/14", "14 March 2026", "March 14th, 2026", "3/14/2026", "14-Mar-2026"],
)
def test_a_date_that_is_clear_is_named(text: str) -> None:
    assert mend_of_date(text) == "Write `2026-03-14`."


def test_a_year_of_two_digits_is_asked() -> None:
    assert mend_of_date("14/03/26") == "Did you mean `2026-03-14`?"


@pytest.mark.parametrize("text", ["05/06/26", "5.6.2026", "March 2026", "31.2.2026", "soon"])
def test_no_date_is_made_up(text: str) -> None:
    assert mend_of_date(text) == "Write year, month and day, such as `2026-03-14`."

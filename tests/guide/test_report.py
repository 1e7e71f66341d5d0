"""The report of a wrong value: what is filled in, how it is encoded, and where it may go."""

from __future__ import annotations

from gettext import NullTranslations
from urllib.parse import parse_qs, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.guide.report import is_report_uri, report_href

FORGE = "https://forge.example/club/issues/new?title={title}&body={body}"
names = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=40)


@given(names, names)
def test_what_is_filled_in_comes_out_again(vehicle: str, page: str) -> None:
    href = report_href(FORGE, vehicle, page, "guides/pip/index.html", NullTranslations())
    assert href.isascii()
    assert not set(href) & set(' <>"{}\\^`|\r\n')
    parts = urlsplit(href)
    assert (parts.scheme, parts.netloc, parts.path) == (
        "https", "forge.example", "/club/issues/new",
    )  # fmt: skip
    given_back = parse_qs(parts.query, keep_blank_values=True, strict_parsing=True)
    assert set(given_back) == {"title", "body"}
    assert given_back["title"] == [f"Wrong value: {vehicle}, {page}"]
    assert given_back["body"][0].startswith(f"Vehicle: {vehicle}\nPage: {page} (guides/pip/")
    assert "\nSection:\nThe page says:\n" in given_back["body"][0]


def test_a_mail_has_its_own_line_ends() -> None:
    uri = "mailto:guides@club.example?subject={title}&body={body}"
    href = report_href(uri, "Pip", "test", "guides/pip/x.html", NullTranslations())
    assert href.startswith("mailto:guides@club.example?subject=Wrong%20value%3A%20Pip")
    assert "%0D%0ASection%3A%0D%0A" in href


@pytest.mark.parametrize(
    "uri", [FORGE, "mailto:a@club.example?body={body}", "http://h.example/?t={title}"]
)
def test_addresses_with_a_gap_are_taken(uri: str) -> None:
    assert is_report_uri(uri)


@pytest.mark.parametrize(
    "uri",
    [
        "javascript:alert('{body}')", "https://forge.example/new", "{title}", "/new?title={title}",
        'https://forge.example/" onclick="{body}', "https://forge.example/ {body}", "data:,{body}",
    ],
)  # fmt: skip
def test_others_are_not(uri: str) -> None:
    assert not is_report_uri(uri)

"""Guides as forum posts, read back by general-purpose parsers."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable
from gettext import NullTranslations
from html import unescape
from itertools import pairwise
from pathlib import Path

import bbcode
import html5lib
import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from generator.guide.vehicle import Vehicle
from generator.site.forum_markup import MARKUPS, one_line
from generator.site.forum_post import (
    LEAST_LIMIT,
    CannotPost,
    vehicle_posts,
    vehicle_to_post,
)
from generator.site.language import translations
from generator.site.post_blocks import Action, Heading, Items, Table, Warn, blocks

Run = Callable[..., "subprocess.CompletedProcess[str]"]
PIP, CARROW = "lowmere-pip-1-4", "fenwright-carrow-3-2-v6"
ADDRESS = "https://guides.example/club/"
READER = MarkdownIt("commonmark").enable(["table", "strikethrough"])
BREAK = "\u200b"
WORDS = ["http", "://", "www.", "evil.com/x", "[b]", "[/b]", "[url=", "]", "[code]", "- ", "1. "]
MARKS = (
    st.text(st.sampled_from("[]()*_`#!|<>&@:/~\\=+-.0123456789 awhtp\n\t\u200b\u202e"))
    | st.lists(st.sampled_from(WORDS)).map("".join)
    | st.text()
)
HOSTILE = [
    "[url=http://evil.example]here[/url]",
    "[/code][b]x[/b]",
    "[*] item",
    "[here](http://evil.example) ![x](y)",
    "<script>alert(1)</script>",
    "`code` ~~gone~~ **bold** __x__",
    "1. first",
    "12) twelfth",
    "- point",
    "+ point",
    "# heading",
    "> said",
    "===",
    "---",
    "| a | b |",
    "http://evil.example www.evil.example someone@evil.example @someone",
    "&lt;b&gt; &amp;",
    "\\*",
    "ends with \\",
    ":smile: a::b",
    "two\nlines\n\n# and more",
]


def shown(text: str) -> str:
    return text.replace(BREAK, "")


def markdown_parts(text: str) -> set[str]:
    """What a reader of CommonMark finds besides plain paragraphs."""
    found = set()
    for token in READER.parse(text):
        found.add(token.type)
        found |= {child.type for child in token.children or []}
    return found


def bbcode_tags(text: str) -> list[str]:
    parser = bbcode.Parser()
    tokens = parser.tokenize(text)
    return [name for kind, name, _, _ in tokens if kind in (parser.TOKEN_TAG_START, 2)]


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_stays_text_in_markdown(hostile: str) -> None:
    escaped = MARKUPS["markdown"].text(hostile)
    assert markdown_parts(escaped) <= {"paragraph_open", "inline", "text", "paragraph_close"}
    (inline,) = (token for token in READER.parse(escaped) if token.type == "inline")
    assert shown("".join(child.content for child in inline.children or [])) == one_line(hostile)
    other = html5lib.parseFragment(
        markdown.markdown(escaped, extensions=["tables"]), namespaceHTMLElements=False
    )
    assert {each.tag for each in other.iter()} <= {"DOCUMENT_FRAGMENT", "p"}


@given(MARKS)
def test_any_text_stays_text_in_markdown(text: str) -> None:
    escaped = MARKUPS["markdown"].text(text)
    assert markdown_parts(escaped) <= {"paragraph_open", "inline", "text", "paragraph_close"}
    html = READER.render(escaped)
    assert shown(unescape(re.sub(r"^<p>|</p>\n$", "", html))) == one_line(text)


@given(MARKS)
def test_any_text_stays_text_in_a_table_of_markdown(text: str) -> None:
    told = MARKUPS["markdown"].table(Table("x", ("a", "b"), ((text, text), ("1", "2"))))
    rows = html5lib.parseFragment(READER.render(told), namespaceHTMLElements=False).findall(".//tr")
    assert [len(row) for row in rows] == [2, 2, 2]
    assert shown(rows[1][0].text or "").split() == one_line(text).split()


@given(MARKS)
def test_any_text_stays_text_in_bbcode(text: str) -> None:
    escaped = MARKUPS["bbcode"].text(text)
    assert bbcode_tags(escaped) == []
    assert shown(escaped) == one_line(text)
    assert "<a" not in bbcode.render_html(escaped)


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_stays_text_in_bbcode(hostile: str) -> None:
    escaped = MARKUPS["bbcode"].text(hostile)
    assert bbcode_tags(escaped) == []
    assert "<a" not in bbcode.render_html(escaped)


def test_what_would_be_a_tag_is_one_to_the_parser() -> None:
    """So that the tests above can fail."""
    assert bbcode_tags("[b]x[/b]") == ["b", "b"]
    assert "<a" in bbcode.render_html("http://evil.example")
    assert "link_open" in markdown_parts("[here](http://evil.example)")


@given(st.text())
def test_plain_text_is_one_line_of_what_can_be_seen(text: str) -> None:
    told = MARKUPS["text"].text(text)
    assert "\n" not in told
    assert not any(ord(each) < 32 or each == "\u202e" for each in told)


@pytest.mark.parametrize("form", MARKUPS)
@pytest.mark.parametrize("limit", [None, LEAST_LIMIT, 3000, 10000])
@pytest.mark.parametrize("slug", [PIP, CARROW])
def test_everything_is_there_once_and_no_post_is_too_long(
    demo: dict[str, Vehicle], form: str, limit: int | None, slug: str
) -> None:
    vehicle, markup = demo[slug], MARKUPS[form]
    made = vehicle_posts(vehicle, [], form, limit, ADDRESS)
    assert limit is None or max(map(len, made)) <= limit
    assert limit != LEAST_LIMIT or len(made) > 3
    whole = "".join(made)
    place = 0
    for block in blocks(vehicle, vehicle.sensors):
        texts: tuple[str, ...] = ()
        if isinstance(block, Warn):
            texts = block.sentences
        elif isinstance(block, Action):
            texts = (block.text, *block.details)
        elif isinstance(block, Items):
            texts = block.lines
        for text in texts:
            place = whole.find(markup.text(text), place)
            assert place >= 0, f"lost, or out of order: {text}"
    for number, post in enumerate(made, start=1):
        assert f"{ADDRESS}guides/{slug}/index.html" in post, "each leads back"
        if len(made) > 1:
            assert f"{number} of {len(made)}" in post.splitlines()[0]


@pytest.mark.parametrize("form", MARKUPS)
def test_a_caution_is_in_the_post_of_its_step(demo: dict[str, Vehicle], form: str) -> None:
    markup = MARKUPS[form]
    for vehicle in demo.values():
        made = vehicle_posts(vehicle, [], form, LEAST_LIMIT, "")
        row = list(blocks(vehicle, vehicle.sensors))
        for block, following in pairwise(row):
            if isinstance(block, Warn) and isinstance(following, Action):
                pair = f"{markup.block(block)}\n\n{markup.block(following)}"
                assert any(pair in post for post in made)


@pytest.mark.parametrize("form", MARKUPS)
def test_before_each_step_its_post_says_where_it_is_and_what_can_hurt(
    demo: dict[str, Vehicle], form: str
) -> None:
    vehicle, markup = demo[CARROW], MARKUPS[form]
    made = vehicle_posts(vehicle, [], form, 4000, ADDRESS)
    parts: list[tuple[Heading, list[Warn]]] = []
    post, place, resumed = 0, 0, 0
    for block in blocks(vehicle, vehicle.sensors):
        if isinstance(block, Heading):
            parts = [each for each in parts if each[0].level < block.level] + [(block, [])]
        elif isinstance(block, Warn) and parts:
            parts[-1][1].append(block)
        elif isinstance(block, Action):
            step = markup.block(block)
            while (found := made[post].find(step, place)) < 0:
                post, place, resumed = post + 1, 0, resumed + 1
            place, before = found + len(step), made[post][:found]
            for heading, cautions in parts:
                assert markup.text(heading.text) in before
                assert all(markup.block(each) in before for each in cautions)
    assert resumed > 5


def test_signal_words_are_of_the_language(root: Path) -> None:
    folder = root / "vehicle_profiles"
    said = set()
    for path in sorted(folder.glob("*.yml")):
        vehicle = vehicle_to_post(folder, path.name, translations("de"))
        (post,) = vehicle_posts(vehicle, [], "text", None, "")
        words = re.findall(r"^([A-Z]+): ", post, re.MULTILINE)
        assert set(words) <= {"GEFAHR", "WARNUNG", "VORSICHT", "HINWEIS"}
        said.update(words)
    assert len(said) == 4


@pytest.mark.parametrize("form", MARKUPS)
def test_a_heading_of_each_level_looks_like_no_other(form: str) -> None:
    heads = {MARKUPS[form].heading(Heading(level, "Off")) for level in (2, 3, 4)}
    assert len(heads) == 3


def test_tables_survive_being_cut(demo: dict[str, Vehicle]) -> None:
    vehicle = demo[CARROW]
    rows = {
        tuple(one_line(cell) for cell in row)
        for block in blocks(vehicle, vehicle.sensors)
        if isinstance(block, Table)
        for row in block.rows
    }
    found = set()
    for post in vehicle_posts(vehicle, [], "markdown", LEAST_LIMIT, ADDRESS):
        page = html5lib.parseFragment(READER.render(post), namespaceHTMLElements=False)
        for row in page.findall(".//tbody/tr"):
            found.add(tuple("".join(cell.itertext()) for cell in row))
    assert found == rows


def test_bbcode_is_balanced(demo: dict[str, Vehicle]) -> None:
    for post in vehicle_posts(demo[CARROW], [], "bbcode", LEAST_LIMIT, ADDRESS):
        for tag in ("b", "u", "list", "code", "url"):
            assert len(re.findall(rf"\[{tag}[\]=]", post)) == post.count(f"[/{tag}]")
        html = bbcode.render_html(post)
        assert "[b]" not in html
        assert f'<a rel="nofollow" href="{ADDRESS}guides/{CARROW}/index.html">' in html


def test_steps_keep_their_numbers(demo: dict[str, Vehicle]) -> None:
    vehicle = demo[PIP]
    wanted = [
        block.number for block in blocks(vehicle, vehicle.sensors) if isinstance(block, Action)
    ]
    (post,) = vehicle_posts(vehicle, [], "markdown", None, "")
    numbers: list[int] = []
    for token in READER.parse(post):
        if token.type == "list_item_open" and token.info:
            numbers.append(int(token.info))
    assert numbers == wanted


def test_a_contributed_trick_reaches_no_post(small: Callable[..., Vehicle]) -> None:
    trick = "[url=http://evil.example]x[/url] [x](http://evil.example) http://evil.example"
    vehicle = small({"vehicle.model": trick, "sensors.0.place.where": trick})
    for form in ("bbcode", "markdown"):
        (post,) = vehicle_posts(vehicle, ["1.1"], form, None, ADDRESS)
        html = READER.render(post) if form == "markdown" else bbcode.render_html(post)
        links = re.findall(r'href="([^"]+)"', html)
        assert links == [f"{ADDRESS}guides/small/index.html"]


def test_a_step_that_does_not_fit_is_told(small: Callable[..., Vehicle]) -> None:
    vehicle = small({"notes": ["*" * 1999]})
    with pytest.raises(CannotPost, match="raise the limit"):
        vehicle_posts(vehicle, [], "markdown", LEAST_LIMIT, "")
    assert vehicle_posts(vehicle, [], "markdown", 6000, "")


def test_what_is_asked_for_wrongly_is_told(root: Path) -> None:
    folder = root / "vehicle_profiles"
    with pytest.raises(CannotPost, match="no profile nowhere"):
        vehicle_to_post(folder, "nowhere", NullTranslations())
    with pytest.raises(CannotPost, match=f"Did you mean {PIP}"):
        vehicle_to_post(folder, "lowmere-pip-14", NullTranslations())
    assert vehicle_to_post(folder, f"vehicle_profiles/{PIP}.yml", NullTranslations()).slug == PIP
    vehicle = vehicle_to_post(folder, f"{PIP}.yml", NullTranslations())
    with pytest.raises(CannotPost, match=r"no sensor 3\.1; it has 1\.1, 1\.2"):
        vehicle_posts(vehicle, ["3.1"], "text", None, "")


def test_the_command_prints_posts(run: Run, project: Path) -> None:
    told = run("sondebook", "post", PIP, "--sensor", "1.2", "--as", "text", "--limit", "4000")
    assert (told.returncode, told.stderr) == (0, "")
    assert "https://sondebook.example/guides/lowmere-pip-1-4/index.html" in told.stdout
    parts = told.stdout.split("----------\n")
    assert len(parts) > 1
    assert "position 1" not in told.stdout.replace("\u00a0", " ")
    (project / f"vehicle_profiles/{PIP}.yml").write_text("format: 2\n")
    for slug in (PIP, "nowhere"):
        told = run("sondebook", "post", slug)
        assert told.returncode == 2
        assert told.stderr.startswith("sondebook: ")

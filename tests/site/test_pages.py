"""Every built page: sound HTML, one heading, no other host, and ways that work from any folder."""

from __future__ import annotations

import posixpath
import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import html5lib
import pytest

from generator.site.lean import first_style, head_script

LOADED = {
    "script": "src",
    "img": "src",
    "iframe": "src",
    "source": "src",
    "video": "src",
    "audio": "src",
    "embed": "src",
    "object": "data",
    "link": "href",
}
EDIT = "https://code.example/owners-club/sondebook/edit/main/"


@pytest.fixture(scope="module")
def trees(site: Path) -> dict[str, Any]:
    """Every page of the site parsed strictly: one parse error ends it."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True)
    trees = {}
    for path in sorted(site.rglob("*.html")):
        try:
            trees[path.relative_to(site).as_posix()] = parser.parse(path.read_bytes())
        except html5lib.html5parser.ParseError as error:
            pytest.fail(f"{path}: {error}")
    return trees


def elements(tree: Any) -> Iterator[Any]:
    return (each for each in tree.iter() if isinstance(each.tag, str))


def guides(trees: dict[str, Any]) -> dict[str, Any]:
    """The pages in our own frame."""
    found = {path: tree for path, tree in trees.items() if path.startswith(("guides/", "codes/"))}
    assert len(found) > 30
    return found


def test_the_strict_parser_refuses_a_faulty_page() -> None:
    parser = html5lib.HTMLParser(strict=True)
    with pytest.raises(html5lib.html5parser.ParseError):
        parser.parse("<!doctype html><html lang=en><title>x</title><p></b></p>")


def test_a_page_of_every_kind_was_built(trees: dict[str, Any]) -> None:
    kinds = [
        r"index\.html", r"404\.html", r"cautions\.html", r"reference/numbers\.html",
        r"guides/index\.html", r"guides/make-[a-z0-9-]+\.html", r"guides/[a-z0-9-]+/index\.html",
        *(rf"guides/[a-z0-9-]+/bank-1-position-1-{stage}\.html"
          for stage in ("access", "test", "refit")),
    ]  # fmt: skip
    for kind in kinds:
        assert [path for path in trees if re.fullmatch(kind, path)], kind


def test_every_page_has_a_language_a_title_and_one_heading(trees: dict[str, Any]) -> None:
    for path, tree in trees.items():
        assert tree.get("lang") == "en", path
        titles = [each.text for each in tree.find("head").iter("title")]
        assert len(titles) == 1, path
        assert (titles[0] or "").strip(), path
        headings = list(tree.iter("h1"))
        # MkDocs' own page for a wrong address has no heading to choose
        assert len(headings) == 1 or path == "404.html", path
        assert len(list(tree.iter("main")) + list(tree.iter("article"))) >= 1, path


def test_headings_step_down_one_at_a_time(trees: dict[str, Any]) -> None:
    for path, tree in guides(trees).items():
        levels = [int(each.tag[1]) for each in elements(tree) if re.fullmatch("h[1-6]", each.tag)]
        assert levels[0] == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels))


def test_identifiers_are_used_once_and_references_lead_somewhere(trees: dict[str, Any]) -> None:
    for path, tree in trees.items():
        ids = [each.get("id") for each in elements(tree) if each.get("id")]
        assert [name for name, count in Counter(ids).items() if count > 1] == [], path
        for each in elements(tree):
            for attribute in ("for", "aria-labelledby", "aria-describedby", "aria-controls"):
                if path == "404.html" or "__" in each.get(attribute, ""):
                    continue  # Material's hidden switches
                for name in each.get(attribute, "").split():
                    assert name in ids, f"{path}: {attribute}={name}"


def test_every_anchor_leads_to_something(trees: dict[str, Any]) -> None:
    ids = {path: {each.get("id") for each in elements(tree)} for path, tree in trees.items()}
    followed = 0
    for path, tree in trees.items():
        for link in tree.iter("a"):
            way, _, anchor = link.get("href", "").partition("#")
            if anchor and ":" not in way and path != "404.html":
                there = posixpath.normpath(posixpath.join(posixpath.dirname(path), way))
                assert anchor in ids[there if way else path], f"{path}: {link.get('href')}"
                followed += 1
    assert followed > 200


def test_titles_tell_the_guide_pages_of_a_folder_apart(trees: dict[str, Any]) -> None:
    titles = Counter(
        (path.rpartition("/")[0], tree.find("head/title").text)
        for path, tree in guides(trees).items()
    )
    assert [title for title, count in titles.items() if count > 1] == []


def test_no_page_loads_anything_from_another_host(trees: dict[str, Any]) -> None:
    loaded = 0
    for path, tree in trees.items():
        for each in elements(tree):
            address = each.get(LOADED.get(each.tag, ""), "")
            # A page's own canonical address is said, not fetched
            if address and each.get("rel") not in ("canonical", "prev", "next"):
                # A pocket copy holds its photos
                within = path.startswith("pocket/") and address.startswith("data:image/webp;")
                assert within or not re.match(r"[a-z]+:|//", address), f"{path}: {address[:80]}"
                loaded += 1
            for candidate in filter(None, each.get("srcset", "").split(", ")):
                assert re.fullmatch(r"photos/[0-9a-z-]+\.webp \d+w", candidate), path
    assert loaded > 100


def test_no_style_sheet_or_script_in_use_asks_another_host(
    site: Path, trees: dict[str, Any]
) -> None:
    used = set()
    for path, tree in trees.items():
        for each in elements(tree):
            address = each.get(LOADED.get(each.tag, ""), "")
            if address.endswith((".css", ".js", ".svg")):
                base = site if address.startswith("/") else (site / path).parent
                used.add((base / address.lstrip("/")).resolve())
    assert {
        "sondebook.css", "guide.css", "material.css", "range.js", "mark.svg",
    } <= {each.name for each in used}  # fmt: skip
    for file in used:
        text = file.read_text()
        if file.suffix == ".css":
            targets = re.findall(r"url\(\s*['\"]?([^'\")]*)|@import\s+['\"]([^'\"]*)", text)
            outside = [a or b for a, b in targets if not (a or b).startswith(("data:", "#"))]
            assert outside == [], file
        else:
            # The form's data are addresses that a reader may follow or write, and its libraries
            # hold the names of schemas; the form's own tests see that nothing is loaded
            is_data = file.name == "profile-form-data.js" or file.parent.name == "vendor"
            hosts = set() if is_data else set(re.findall(r"https?://[^\s'\"]*", text))
            assert hosts <= {"http://www.w3.org/2000/svg"}, file
            # Keeping a guide is for a site on a server, and asks that server only
            is_ours = file.parent.name != "vendor"
            assert "fetch(" not in text or file.name == "keep.js" or not is_ours


def test_guide_pages_link_by_relative_ways_only(trees: dict[str, Any]) -> None:
    for path, tree in guides(trees).items():
        for each in elements(tree):
            for attribute in ("href", "src", "action"):
                address = each.get(attribute, "")
                goes_out = each.get("rel") in ("canonical", "noopener nofollow")
                if not address.startswith(EDIT) and not goes_out:
                    assert not re.match(r"[a-z]+:|/", address), f"{path}: {address}"


def test_hand_written_pages_link_by_relative_ways_or_say_the_host(trees: dict[str, Any]) -> None:
    for path, tree in trees.items():
        if path == "404.html":  # shown at any depth, so it must not be relative
            continue
        for each in elements(tree):
            assert not re.match("/", each.get("href", "")), f"{path}: {each.get('href')}"


def test_guide_pages_have_one_inline_script_and_one_style(
    trees: dict[str, Any], root: Path
) -> None:
    script, style = head_script([root / "overrides"]), first_style([root / "overrides"])
    for path, tree in guides(trees).items():
        for each in elements(tree):
            assert each.tag != "style" or each.text == style, path
            is_data = each.get("type") == "application/ld+json"
            is_of_head = each.text == script
            assert each.tag != "script" or each.get("src") or is_data or is_of_head, path
            assert not [name for name in each.attrib if name.startswith("on")], path
            assert "style" not in each.attrib, path


def test_the_way_to_correct_a_guide_names_its_profile(trees: dict[str, Any], root: Path) -> None:
    named = set()
    for path, tree in guides(trees).items():
        edits = [each.get("href") for each in tree.iter("a") if each.get("href").startswith(EDIT)]
        if path.count("/") == 2:  # a vehicle's own folder
            assert len(edits) == 1, path
            named.add(edits[0].removeprefix(EDIT))
    assert named == {
        f"vehicle_profiles/{path.name}" for path in (root / "vehicle_profiles").glob("*.yml")
    }


def test_every_guide_page_says_what_outranks_it(trees: dict[str, Any]) -> None:
    for path, tree in guides(trees).items():
        assert "outrank this guide" in "".join(tree.find("body").itertext()), path


def test_an_address_without_a_page_says_so_and_leads_on(site: Path) -> None:
    page = (site / "404.html").read_text(encoding="utf-8")
    assert "No page has this address" in page
    for way in ("guides/index.html", "codes/index.html", "kept.html"):
        # Shown at any depth, so the way begins at the root of the host
        assert re.search(rf'href="/[^"]*{re.escape(way)}"', page), way

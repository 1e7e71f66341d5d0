"""The pocket copy: complete in itself, its links inside it, as light as it is said to be."""

from __future__ import annotations

import hashlib
import re
from base64 import b64encode
from collections import Counter
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.site.edition import Edition
from generator.site.lean import lean_html, lean_script, lean_style, with_short_properties
from generator.site.lean_drawings import lean_drawings
from generator.site.offline import AssetFolder
from generator.site.pocket import pocket_maker
from generator.site.renderer import Renderer
from generator.site.said_once import Shared, words_said_once
from tests.site.pocket_sheets import put_together, sheets_of

LIGHT_BYTES = 99_500
"""Without its photos; the aim is 120 kB."""
SENSORS_IN_IT = 2
MORE_BYTES_A_SENSOR = 19_500
"""What another sensor may add: its sections, where nothing can be shared."""
STAGES = {"access", "test", "refit", "bench"}
HOSTILE = '<script>alert(1)</script><img src=x onerror="alert(2)"> </style> {{ 7 * 7 }}'


@pytest.fixture(scope="module")
def copies(site: Path) -> dict[str, str]:
    found = {path.stem: path.read_text() for path in (site / "pocket").glob("*.html")}
    assert len(found) > 3
    return found


@pytest.fixture(scope="module")
def trees(copies: dict[str, str]) -> dict[str, Any]:
    """Every copy, parsed strictly: one parse error ends it."""
    parser = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True)
    return {slug: parser.parse(text) for slug, text in copies.items()}


def elements(tree: Any) -> list[Any]:
    return [each for each in tree.iter() if isinstance(each.tag, str)]


def words(element: Any) -> list[str]:
    """The sentences under an element that a reader sees."""
    said = []
    for each in element.iter():
        if isinstance(each.tag, str) and each.tag not in ("script", "style"):
            said += [each.text or ""]
        said += [each.tail or ""]
    return [tidy for text in said if (tidy := " ".join(text.split()))]


def test_every_vehicle_has_one(site: Path, copies: dict[str, str]) -> None:
    assert set(copies) == {path.name for path in (site / "guides").iterdir() if path.is_dir()}


def test_it_is_light(demo: dict[str, Vehicle], copies: dict[str, str]) -> None:
    light = 0
    for slug, text in copies.items():
        more = max(0, len(demo[slug].sensors) - SENSORS_IN_IT)
        without_photos = re.sub(r'src="?data:[^">\s]*', "", text)
        assert len(without_photos.encode()) <= LIGHT_BYTES + more * MORE_BYTES_A_SENSOR, slug
        light += not more
    assert light, "a vehicle with few sensors is among them"


def test_lean_html_keeps_every_value() -> None:
    full = (
        '<p id="a" title="it&#39;s two words" lang="de">it&#39;s x="y"\n<img alt="" src="a=b"\n>'
        '<a href="./" rel="x">a</a>\n<b>b</b><input value="&#34;&gt;" data-x="1">'
        '<svg><path d="M1"/>\n<text x="1" y="2">t</text></svg></p>'
    )
    lean = lean_html(full)
    assert len(lean) < len(full) - 20
    trees = [html5lib.parse(each, namespaceHTMLElements=False) for each in (full, lean)]
    (one, other) = ([(each.tag, each.attrib, each.text) for each in tree.iter()] for tree in trees)
    assert one == other


def test_it_loads_nothing(copies: dict[str, str], trees: dict[str, Any]) -> None:
    for slug, tree in trees.items():
        for each in elements(tree):
            if each.tag == "img":
                assert each.get("src").startswith("data:image/webp;base64,UklGR"), slug
                continue
            assert not each.get("src"), slug
            assert each.tag not in ("link", "iframe", "object", "base"), slug
        assert not re.search(r"url\(|@import|\bfetch\(|XMLHttpRequest", copies[slug])


def test_its_links_lead_inside_it_or_out_to_the_site(trees: dict[str, Any]) -> None:
    for slug, tree in trees.items():
        ids = Counter(each.get("id") for each in elements(tree) if each.get("id"))
        assert {name for name, count in ids.items() if count > 1} == set()
        inside = 0
        for each in tree.iter("a"):
            address = each.get("href")
            if address.startswith("#"):
                assert address[1:] in ids, f"{slug}: {address}"
                inside += 1
            else:
                assert address.startswith(("https://sondebook.example/", "https://code.example/"))
                assert each.get("rel") == "noopener noreferrer"
        assert inside > 30


def test_it_has_every_section_of_every_sensor(
    demo: dict[str, Vehicle], trees: dict[str, Any]
) -> None:
    for slug, tree in trees.items():
        parts = {each.get("id") for each in tree.iter("section") if each.get("class") == "part"}
        wanted = {
            f"{stage}-{sensor.bank}-{sensor.position}"
            for sensor in demo[slug].sensors
            for stage in STAGES
        }
        assert parts == wanted | {"overview", "codes"}, slug


def test_only_its_own_style_and_script_may_run(copies: dict[str, str]) -> None:
    for text in copies.values():
        (policy,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', text)
        assert policy.startswith("default-src &#39;none&#39;;")
        assert "unsafe" not in policy
        for tag in ("style", "script"):
            (inside,) = re.findall(rf"<{tag}>(.*?)</{tag}>", text, re.DOTALL)
            digest = b64encode(hashlib.sha256(inside.encode()).digest()).decode()
            assert f"{tag}-src &#39;sha256-{digest}&#39;" in policy
        assert not re.search(r"<[^>]* (?:style|on\w+)=", text.partition("<main")[2])


def test_what_the_pages_say_of_access_test_and_refit_stands_in_it(
    demo: dict[str, Vehicle], copies: dict[str, str], trees: dict[str, Any], site: Path
) -> None:
    """Steps, cautions, facts and table cells of the pages, word for word."""
    compared, missing = 0, set()
    for slug, tree in trees.items():
        there = "\n".join(words(tree))
        for page in sorted((site / "guides" / slug).glob("*.html")):
            if not page.stem.endswith(("-access", "-test", "-refit")):
                continue
            shown = html5lib.parse(page.read_bytes(), namespaceHTMLElements=False)
            for element in shown.find("body/main").iter():
                is_content = element.tag in ("dd", "dt", "td", "th", "caption") or (
                    element.tag == "p" and element.get("class") in (None, "missing", "word")
                )
                if is_content and not list(element):
                    for sentence in words_of_own(element):
                        compared += 1
                        if sentence not in there:
                            missing.add(sentence)
    assert missing == set()
    assert compared > 2000


def test_every_sheet_holds_what_its_page_asks_and_says(trees: dict[str, Any], site: Path) -> None:
    compared = 0
    for slug, tree in trees.items():
        for section, sheet in sheets_of(tree).items():
            stage, bank, position = section.split("-")
            name = f"bank-{bank}-position-{position}-{stage}.html"
            copied = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True).parseFragment(
                sheet
            )
            page = html5lib.parse(
                (site / "guides" / slug / name).read_bytes(), namespaceHTMLElements=False
            )
            forms = [next(each.iter("form")) for each in (page.find("body/main"), copied)]
            on_page, in_copy = ({**form.attrib, "data-site": ""} for form in forms)
            assert on_page == in_copy
            for asked in (
                "data-key",
                "data-fault",
                "data-lowest",
                "data-written",
                "data-step",
                "id",
            ):
                assert [each.get(asked) for each in forms[0].iter() if each.get(asked)] == [
                    each.get(asked) for each in forms[1].iter() if each.get(asked)
                ]
            said = words(forms[1])
            assert [each for each in words(forms[0]) if each not in said] == []
            compared += len(said)
    assert compared > 1000


def words_of_own(element: Any) -> list[str]:
    text = " ".join((element.text or "").split())
    return [text] if text else []


def test_every_code_of_the_page_has_its_anchor(site: Path, trees: dict[str, Any]) -> None:
    for slug, tree in trees.items():
        page = html5lib.parse(
            (site / "guides" / slug / "codes.html").read_bytes(), namespaceHTMLElements=False
        )
        named = {each.get("id") for each in page.iter() if re.match("P[0-9]", each.get("id", ""))}
        assert named <= {each.get("id") for each in elements(tree)}
        assert len(named) > 20


@pytest.fixture
def copy_of(root: Path) -> Callable[[Vehicle], str]:
    theme = [root / "overrides"]
    edition = Edition("Sondebook", "en", theme, "2026-03-08", "", has_pocket=True)
    t = NullTranslations()
    maker = pocket_maker(AssetFolder(theme), edition, Renderer(theme, "Sondebook", "en", t), t)
    return lambda vehicle: maker.html(list(vehicle_pages(vehicle)))


def test_contributed_text_stays_text(
    small: Callable[..., Vehicle], copy_of: Callable[[Vehicle], str]
) -> None:
    vehicle = small(
        {"sensors.0.place.where": HOSTILE, "vehicle.model": "Brae <b>", "notes": [HOSTILE]}
    )
    tree = html5lib.HTMLParser(namespaceHTMLElements=False, strict=True).parse(copy_of(vehicle))
    assert len(list(tree.iter("script"))) == 1
    assert len(list(tree.iter("style"))) == 1
    assert not list(tree.iter("img"))
    assert " ".join(HOSTILE.split()) in "\n".join(words(tree))


def test_the_same_vehicle_gives_the_same_bytes(
    small: Callable[..., Vehicle], copy_of: Callable[[Vehicle], str]
) -> None:
    assert copy_of(small()) == copy_of(small())
    assert "made on 2026-03-08" in copy_of(small())


def test_what_is_shared_stands_in_no_paragraph(trees: dict[str, Any]) -> None:
    """Its place would be inside the paragraph before it, whose end tag was left out."""
    shared = [
        (slug, link.get("href"))
        for slug, tree in trees.items()
        for paragraph in tree.iter("p")
        for link in paragraph.iter("a")
        if re.fullmatch(r"#k\d+", link.get("href") or "")
    ]
    assert shared == []


def test_shared_html_stands_once() -> None:
    shared = Shared("As above")
    assert shared("<p>a") == '<div id="k0"><p>a</div>'
    assert shared("<p>b") == '<div id="k1"><p>b</div>'
    assert shared("<p>a") == '<a href="#k0">As above</a>'


def test_each_drawing_has_names_of_its_own_and_no_needless_digits() -> None:
    drawing = (
        '<svg id="x" aria-labelledby="x-a x-b"><title id="x-a">1.0 V</title><desc id="x-b">b</desc>'
        '<path d="M1.0 20.05L3.0 4"/><text x="-0.5" text-anchor="start">2.0</text></svg>'
    )
    lean = lean_drawings(f"{drawing}<p>1.0{drawing}")
    assert lean == (
        '<svg aria-labelledby="d0 d1"><title id="d0">1.0 V</title><desc id="d1">b</desc>'
        '<path d="M1 20.05L3 4"/><text x="-0.5">2.0</text></svg><p>1.0'
        '<svg aria-labelledby="d2 d3"><title id="d2">1.0 V</title><desc id="d3">b</desc>'
        '<path d="M1 20.05L3 4"/><text x="-0.5">2.0</text></svg>'
    )


def test_words_of_texts_nearly_alike_stand_once() -> None:
    words, places = words_said_once(["bank 1, position 1: ohm", "bank 2, position 1: ohm or"])
    assert words == "bank 1, position 1: ohm 2, or"
    assert places == ["0-4", "0 5 2-4 6"]
    assert words_said_once([]) == ("", [])


@given(st.lists(st.text(alphabet="ab \n", max_size=30), max_size=4))
def test_texts_come_out_of_their_words_unchanged(texts: list[str]) -> None:
    words, places = words_said_once(texts)
    assert [put_together(words.split(" "), each) for each in places] == texts


def test_a_lean_style_keeps_the_rules_in_use() -> None:
    css = "/* a */ p { margin: 0; }\n.used, .not > a { color: red; }\n.not { x: y; }\n"
    css += "@media print { p { x: y } }\n@media (min-width: 1rem) { .not {x:y} #used { a: b } }\n"
    css += ":is(.used, .not) + p { x: y } .used .not { x: y } [data-light=dark] p { x: y }\n"
    css += "p:not([data-light], .not) { x: y }"
    assert lean_style(css, {"used"}) == (
        "p{margin:0}.used{color:red}@media(min-width:1rem){#used{a:b}}"
        ":is(.used,.not)+p{x:y}p:not([data-light],.not){x:y}"
    )


def test_properties_of_a_style_become_short() -> None:
    css = ":root{--paper:#fff;--paper-edge:#000}p{color:var(--paper-edge);margin:-1px;--paper:red}"
    assert with_short_properties(css) == (
        ":root{--a:#fff;--b:#000}p{color:var(--b);margin:-1px;--a:red}"
    )
    many = "".join(f"--name-{number:02}:0;" for number in range(60))
    assert len(set(with_short_properties(many).split(";"))) == 61


def test_a_lean_script_loses_comments_space_and_long_local_names() -> None:
    script = "// a\nfunction total(first, second) { return first + `/* ${second}\n */`; } // b\n"
    assert lean_script(script) == "function total(e,t){return e+`/* ${t}\n */`}"

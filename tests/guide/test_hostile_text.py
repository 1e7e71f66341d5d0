"""Whatever a contributor writes comes out as text: no markup, no template, no format."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import html5lib
import pytest
import yaml

from generator.guide.catalogue import by_make
from generator.guide.finder import finder_script
from generator.guide.page import Page
from generator.guide.vehicle import Vehicle
from generator.profile import read_text
from generator.profile.photo_file import PhotoFile
from generator.site.collection import Collection
from generator.site.lean import head_script
from generator.site.theme import theme_folder

FromData = Callable[[dict[str, Any]], Vehicle]
Way = tuple[Any, ...]

HEAD_SCRIPT = head_script([theme_folder()])
OUR_SCRIPT = re.compile(r"(\.\./)*assets/[a-z-]+\.js")
HOSTILE = [
    "<script>alert(1)</script><blink onclick=x>",
    "{{ 7*7 }}{% raw %}{# gone #}${7*7}",
    "%(number)s %s %d % 100% %%",
    "\"' onmouseover=alert(1) x='</title></style>-->",
    "&lt;i&gt; &amp; & \\u003cscript\\u003e [x](javascript:alert(1))",
]


def leaves(data: Any, way: Way = ()) -> Iterator[tuple[Way, str]]:
    """Every text of a profile with the way to it."""
    if isinstance(data, str):
        yield way, data
    elif isinstance(data, dict | list):
        for key, value in data.items() if isinstance(data, dict) else enumerate(data):
            yield from leaves(value, (*way, key))


def put(data: Any, way: Way, text: str) -> None:
    for step in way[:-1]:
        data = data[step]
    data[way[-1]] = text


def demo_data(root: Path, slug: str) -> Any:
    text = (root / f"vehicle_profiles/{slug}.yml").read_text()
    # Text as it is written: the key `on` of a reading must not become a truth
    return yaml.load(text, Loader=yaml.CBaseLoader)


def is_free_text(root: Path, slug: str, way: Way, harmless: str) -> bool:
    """Whether the place takes any words at all, which a number or a name does not."""
    data = demo_data(root, slug)
    put(data, way, harmless)
    text = yaml.dump(data, Dumper=yaml.CSafeDumper, allow_unicode=True, sort_keys=False)
    return read_text(text.encode(), "hostile.yml", slug).profile is not None


SLUGS = ["fenwright-carrow-3-2-v6", "kestrin-moor-2-0-flat", "lowmere-pip-1-4"]


@pytest.fixture(scope="module", params=SLUGS)
def places(request: pytest.FixtureRequest, root: Path) -> tuple[dict[str, Any], list[Way]]:
    """A demo profile's data, and the places in it that take free text."""
    slug = request.param
    data = demo_data(root, slug)
    free = [
        way for way, _ in leaves(data) if is_free_text(root, slug, way, "Any words, & no more?")
    ]
    assert len(free) > 20
    assert {"make", "model", "name", "title", "steps", "where", "latch"} <= {
        step for way in free for step in way if isinstance(step, str)
    }
    return data, free


def with_photos(vehicle: Vehicle) -> Vehicle:
    """The vehicle as if the files of its photos had been read, so that they are shown."""
    files = {each.file: PhotoFile("0" * 32, 640, 480) for each in vehicle.profile.photos}
    return replace(vehicle, photos=files)


SOME_CODES = {"P0040", "P0135", "P0420"}
"""Two sensors exchanged, one sensor, a bank: pages of other codes say the same of a vehicle."""


def rendered(vehicle: Vehicle, html: Callable[[Page], str]) -> dict[str, str]:
    collection = Collection(by_make([vehicle]), NullTranslations())
    return {
        page.path: html(page)
        for page in collection.pages()
        if not page.path.startswith("codes/P") or Path(page.path).stem in SOME_CODES
    }


@pytest.mark.parametrize("hostile", HOSTILE, ids=["markup", "template", "percent", "quote", "mix"])
def test_hostile_text_is_shown_and_inert(
    places: tuple[dict[str, Any], list[Way]],
    from_data: FromData,
    html: Callable[[Page], str],
    hostile: str,
) -> None:
    data, free = places
    data = copy.deepcopy(data)
    marked = {way: f"{hostile} {number:03d}" for number, way in enumerate(free)}
    for way, text in marked.items():
        put(data, way, text)
    shown = ""
    for path, page in rendered(with_photos(from_data(data)), html).items():
        parser = html5lib.HTMLParser(namespaceHTMLElements=False)
        tree = parser.parse(page)
        assert parser.errors == [], path
        for element in tree.iter():
            if not isinstance(element.tag, str):
                continue
            assert element.tag not in ("blink", "i", "iframe")
            if element.tag == "img":
                assert re.fullmatch(r"photos/[0-9a-z-]+\.jpg", element.get("src"))
                shown += f" {' '.join(element.get('alt').split()).casefold()} "
            if element.get("type") == "application/ld+json":
                json.loads(element.text)
            elif element.tag == "script" and element.text:
                assert element.text == HEAD_SCRIPT
            elif element.tag == "script":
                assert OUR_SCRIPT.fullmatch(element.get("src", ""))
            assert not [name for name in element.attrib if name.startswith("on")]
            assert "javascript:" not in element.get("href", "")
        assert ">49<" not in page, "a template ran"
        shown += " ".join("".join(tree.itertext()).split()).casefold()
    missing = [
        way for way, text in marked.items() if " ".join(text.split()).casefold() not in shown
    ]
    assert missing == [], "every text a contributor writes is shown, as it was written"


def test_a_hostile_make_stays_inside_the_folder(small: Callable[..., Vehicle]) -> None:
    vehicle = small({"vehicle.make": "../../../tmp/x/<b>"})
    for page in Collection(by_make([vehicle]), NullTranslations()).pages():
        assert ".." not in page.path
        assert "<" not in page.path
        assert page.path.startswith(("guides/", "codes/", "kept.html"))


@pytest.mark.parametrize("hostile", [*HOSTILE, "\u2028</script>\u2029"])
def test_hostile_text_is_inert_in_the_finders_data(
    small: Callable[..., Vehicle], hostile: str
) -> None:
    read = small()
    # Put in after reading, which refuses some of it: the script must hold by itself
    named = read.profile.vehicle.model_copy(
        update={"make": f"{hostile} make".strip(), "model": f"{hostile} model".strip()}
    )
    vehicle = replace(read, profile=read.profile.model_copy(update={"vehicle": named}))
    script = finder_script(by_make([vehicle]), NullTranslations())
    assert not set(script) & set("<>&\u2028\u2029")
    data = json.loads(script.removeprefix("window.sondebookFinder=").rstrip(";\n"))
    assert data["makes"] == [f"{hostile} make".strip()]
    assert data["model"] == [f"{hostile} model {vehicle.profile.engine.name}".strip()]

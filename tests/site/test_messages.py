"""The message catalogue: whole, current, sound in every language, used for every sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator
from gettext import NullTranslations
from pathlib import Path
from typing import Any

import html5lib
import pytest
import yaml
from babel import Locale
from babel.messages.catalog import Message

from generator.guide.catalogue import by_make
from generator.guide.finder import finder_script
from generator.guide.vehicle import Vehicle
from generator.messages import (
    TEMPLATE,
    is_said,
    mo_text,
    po_files,
    po_text,
    template,
    translated,
    updated,
)
from generator.site.collection import Collection
from generator.site.forum_post import vehicle_posts
from generator.site.language import NotTranslated, languages, translations
from generator.site.renderer import Renderer
from generator.trade.sensor import SensorKind, names_on_scan_tools
from tests.site.pocket_sheets import sheets_of

PLACEHOLDER = re.compile(r"%\(\w+\)s|%%|\{\w+\}|<[^>]+>|&\w+;")
MAKE = "run `make messages`, and translate what is new"
PO = pytest.mark.parametrize("path", po_files(), ids=lambda path: path.parts[-3])


def sources(message: Message) -> list[str]:
    return [message.id] if isinstance(message.id, str) else list(message.id)


def strings(message: Message) -> list[str]:
    return [message.string] if isinstance(message.string, str) else list(message.string)


def messages(path: Path) -> list[Message]:
    return [each for each in translated(path) if each.id]


def test_there_is_german() -> None:
    assert languages()[:2] == ("en", "de")
    assert [path.parts[-3] for path in po_files()] == list(languages()[1:])


def test_the_template_is_what_the_sources_say() -> None:
    assert TEMPLATE.read_bytes() == po_text(template()), MAKE


@PO
def test_a_translation_is_up_to_the_sources(path: Path) -> None:
    assert path.read_bytes() == po_text(updated(path)), MAKE
    assert path.with_suffix(".mo").read_bytes() == mo_text(updated(path)), MAKE


@PO
def test_a_translation_is_whole(path: Path) -> None:
    assert len(messages(path)) > 900
    assert [each.id for each in messages(path) if not is_said(each) or each.fuzzy] == []


@PO
def test_gaps_tags_and_outer_spaces_are_those_of_the_source(path: Path) -> None:
    for message in messages(path):
        if message.context:
            continue
        wanted = sorted(PLACEHOLDER.findall(sources(message)[-1]))
        edges = [each == each.strip() for each in sources(message)]
        for said in strings(message):
            assert sorted(PLACEHOLDER.findall(said)) == wanted, message.id
            assert (said == said.strip()) == edges[0], message.id
            assert said.endswith(".") == sources(message)[0].endswith("."), message.id


def ours(path: Path) -> Iterator[Message]:
    """All but what the form says, which shows how a value is written in a profile."""
    form = [("generator/profile/form_schema.py", None)]
    return (each for each in messages(path) if [*map(tuple, each.locations)] != form)


@PO
def test_numbers_are_written_as_the_language_writes_them(path: Path) -> None:
    locale = Locale.parse(path.parts[-3])
    mark = translations(path.parts[-3]).pgettext("decimal mark", ".")
    assert mark == locale.number_symbols["latn"]["decimal"]
    if mark == ",":
        # 15031-6 and 2.0 of a name are no decimals of ours
        points = [each.string for each in ours(path) if re.search(r"\d\.\d", str(each.string))]
        assert points == []


@PO
def test_a_number_stays_with_its_unit(path: Path) -> None:
    split = re.compile(r"(?:\d|\)s) (?:°C|°F|%|Ω|mA|MΩ|min|N·m)(?!\w)")
    assert [each.id for each in ours(path) if split.search(str(strings(each)))] == []


class Recorded(NullTranslations):
    """Remembers what it is asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[str] = set()

    def gettext(self, message: str) -> str:
        self.asked.add(str(message))
        return super().gettext(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.asked.add(msgid1)
        return super().ngettext(msgid1, msgid2, n)


def test_everything_that_is_asked_for_is_in_the_template(
    demo: dict[str, Vehicle], root: Path
) -> None:
    t = Recorded()
    vehicles = [Vehicle(each.slug, each.profile, t, has_pocket=True) for each in demo.values()]
    collection = Collection(by_make(vehicles), t)
    render = Renderer([root / "overrides"], "Sondebook", "en", t).html
    assert sum(len(render(page)) for page in collection.pages())
    finder_script(collection.makes, t)
    for vehicle in vehicles:
        vehicle_posts(vehicle, [], "markdown", None, "")
    known = {sources(each)[0] for each in template() if each.id}
    assert len(t.asked) > 600
    assert t.asked - known == set()


def test_a_german_page_writes_german_numbers(german_site: Path) -> None:
    vehicle = german_site / "guides/fenwright-carrow-3-2-v6"
    page = (vehicle / "bank-1-position-1-test.html").read_text(encoding="utf-8")
    assert '<html lang="de">' in page
    assert "2,1–2,9" in page
    assert "Vorgabe: 2,1 bis 2,9 Ohm bei 20 °C." in page
    sheet = (vehicle / "bank-1-position-1-bench.html").read_text(encoding="utf-8")
    assert 'data-decimal=","' in sheet
    assert 'data-low="2.1"' in sheet, "what a script computes with is no text"
    refit = (vehicle / "bank-1-position-1-refit.html").read_text(encoding="utf-8")
    assert "M8×1,25" in refit


def test_hand_written_pages_of_the_package_say_that_they_are_english(project: Path) -> None:
    from generator.site.project import build_site

    settings = (project / "mkdocs.yml").read_text(encoding="utf-8")
    (project / "docs/cautions.md").unlink()
    changed = settings.replace("language: en", "language: de")
    (project / "mkdocs.yml").write_text(changed, encoding="utf-8")
    site = build_site(str(project / "mkdocs.yml"), str(project / "site"))
    cautions = (site / "cautions.html").read_text(encoding="utf-8")
    assert re.search(r'<article [^>]*lang="en"', cautions)
    assert '<html lang="de"' in cautions
    assert "Zum Inhalt springen" in cautions
    own = (site / "index.html").read_text(encoding="utf-8")
    assert not re.search(r'<article [^>]*lang="en"', own)


@pytest.mark.parametrize(("asked", "decimal"), [("en", "."), ("de", ","), ("de-AT", ",")])
def test_a_region_speaks_its_language(asked: str, decimal: str) -> None:
    assert translations(asked).pgettext("decimal mark", ".") == decimal


def test_an_unknown_language_is_said() -> None:
    with pytest.raises(NotTranslated, match=r"speak en, de.*not eo"):
        translations("eo")


# In the made-up language every letter of a message has an accent: what has none was not translated

PLAIN = re.compile(r"(?<![^\W\d_])[A-Za-z]{3,}(?![^\W\d_])")
TOLD = ("aria-label", "title", "alt", "placeholder", "data-words", "data-fault", "data-done")
NAMES = {"Sondebook", "lbf·ft", "lbf·in", "kgf·m"}


def scalars(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for value in data.values():
            yield from scalars(value)
    elif isinstance(data, list):
        for value in data:
            yield from scalars(value)
    elif isinstance(data, str):
        yield re.sub(r"\s+", " ", data).strip()


@pytest.fixture(scope="module")
def contributed(root: Path) -> re.Pattern[str]:
    """What profiles say, and names that are the same in every language."""
    said = set(NAMES)
    for path in (root / "vehicle_profiles").glob("*.yml"):
        data = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
        said |= {each for each in scalars(data) if PLAIN.search(each)}
    for bank, position, kind in ((b, p, k) for b in (1, 2) for p in (1, 2, 3) for k in SensorKind):
        said |= set(names_on_scan_tools(bank, position, kind))
    longest_first = sorted(said, key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)


def texts(page: Any) -> Iterator[str]:
    for each in page.iter():
        if not isinstance(each.tag, str):
            continue
        if each.tag not in ("script", "style"):
            yield each.text or ""
        yield each.tail or ""
        yield from (each.get(name, "") for name in TOLD)
    for sheet in sheets_of(page).values():
        yield from texts(html5lib.parseFragment(sheet, namespaceHTMLElements=False))


def untranslated(pages: list[Path], contributed: re.Pattern[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for path in pages:
        page = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
        for text in texts(page):
            tidy = re.sub(r"\s+", " ", text.replace("\u2060", "")).strip()
            if PLAIN.search(tidy):
                left = re.sub(r"\{\w+\}|\bP[0-9A-F]{4}\b", "", contributed.sub("", tidy))
                if PLAIN.search(left):
                    found.setdefault(tidy, path.name)
    return found


def test_no_fixed_sentence_stays_english(pseudo_site: Path, contributed: re.Pattern[str]) -> None:
    pages = [*pseudo_site.glob("guides/**/*.html"), *pseudo_site.glob("codes/P01*.html")]
    pages += [pseudo_site / "codes/index.html", pseudo_site / "kept.html"]
    pages += pseudo_site.glob("pocket/*.html")
    assert len(pages) > 100
    assert untranslated(pages, contributed) == {}


def test_the_search_for_english_can_fail(site: Path, contributed: re.Pattern[str]) -> None:
    pages = [*site.glob("guides/lowmere-pip-1-4/*.html"), site / "codes/index.html"]
    assert len(untranslated(pages, contributed)) > 200


def test_the_finder_speaks_the_language(pseudo_site: Path) -> None:
    home = (pseudo_site / "index.html").read_text(encoding="utf-8")
    form = home[home.index('<form class="finder"') : home.index("</form>")]
    assert not re.search(r">[A-Z][a-z]+", form)
    data = (pseudo_site / "assets/finder-data.js").read_text(encoding="utf-8")
    said = data[data.index('"say":') :]
    assert not PLAIN.search(re.sub(r'"\w+":|\{\w+\}|P0135', "", said).replace("window", ""))

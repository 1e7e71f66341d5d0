"""Photos in a comparison: each that comes, goes or changes, and the pages that it alone changes."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from generator.profile.photo_file import PhotoRefused
from generator.profile.photo_source import FolderPhotos, is_same_photo
from generator.profile.revision import Stand
from generator.site.comparison import Comparison, VehicleChange, compared
from generator.site.comparison_data import as_json
from generator.site.comparison_report import as_markdown, as_text
from generator.site.language import translations
from generator.site.page_change import Kind
from generator.site.renderer import Renderer
from tests.hostile import images

CARROW = "fenwright-carrow-3-2-v6.yml"
SHIELD, TAB, BELOW = (
    "photos/carrow-rear-shield.png",
    "photos/carrow-plug-tab.png",
    "photos/carrow-sensor-from-below.png",
)
TAB_PAGES = tuple(
    f"guides/fenwright-carrow-3-2-v6/bank-1-position-1-{stage}.html"
    for stage in ("access", "refit")
)
LAST_STEP = "obstacles.manifold-shield.steps.3"
TAB_CAPTION = "The tab is part of the harness half. Drawing, not to scale."
TAB_ENTRY = re.compile(rf"  - file: {TAB}\n(?:    .*\n|      .*\n)+")
Compare = Callable[..., Comparison]


@dataclass(frozen=True)
class Held:
    """Photos at hand, by name."""

    files: dict[str, bytes]

    def object_name(self, file: str) -> str | None:
        return None

    def content(self, file: str) -> bytes:
        if file not in self.files:
            raise PhotoRefused("photo-missing", f"There is no file `{file}`.", "Put it there.")
        return self.files[file]


@pytest.fixture(scope="module")
def renderers(root: Path) -> dict[str, Renderer]:
    return {
        language: Renderer([root / "overrides"], "Sondebook", language, translations(language))
        for language in ("en", "de")
    }


@pytest.fixture(scope="module")
def carrow(root: Path) -> str:
    return (root / "vehicle_profiles" / CARROW).read_text()


@pytest.fixture(scope="module")
def photos(root: Path) -> dict[str, bytes]:
    folder = root / "vehicle_profiles"
    return {name: (folder / name).read_bytes() for name in (SHIELD, TAB, BELOW)}


@pytest.fixture
def compare(renderers: dict[str, Renderer], carrow: str, photos: dict[str, bytes]) -> Compare:
    """Compares the demonstration with what became of it."""

    def of(
        text: str = carrow,
        files: dict[str, bytes] = photos,
        *,
        old: dict[str, bytes] = photos,
        language: str = "en",
    ) -> Comparison:
        before = Stand("old", {CARROW: carrow.encode()}, False, Held(old))
        after = Stand("new", {CARROW: text.encode()}, False, Held(files))
        return compared(before, after, renderers[language])

    return of


def only(comparison: Comparison) -> VehicleChange:
    (change,) = comparison.vehicles
    return change


def put(text: str, before: str, after: str) -> str:
    assert text.count(before) == 1
    return text.replace(before, after)


def test_the_same_photos_are_no_change(compare: Compare) -> None:
    assert compare().vehicles == ()


def test_another_picture_under_the_same_name(compare: Compare, photos: dict[str, bytes]) -> None:
    comparison = compare(files={**photos, TAB: images.plain("PNG", 640, 480)})
    (photo,) = only(comparison).photos
    assert (photo.kind, photo.file, photo.traits) == (Kind.CHANGED, TAB, [])
    assert photo.is_another_picture
    assert photo.pages == TAB_PAGES
    assert [page.path for page in only(comparison).pages] == list(TAB_PAGES)
    assert only(comparison).values == ()
    assert not comparison.fails
    told = as_text(comparison)
    assert f"  photo {TAB}\n    picture: " in told
    assert "→ 640 × 480 pixels\n    on bank-1-position-1-access, bank-1-position-1-refit\n" in told


def test_a_picture_of_the_same_size_is_said_to_be_another(
    compare: Compare, photos: dict[str, bytes]
) -> None:
    before = {**photos, TAB: images.plain("PNG", 1200, 760)}
    after = {**photos, TAB: images.plain("PNG", 1200, 760, mode="L")}
    told = as_text(compare(files=after, old=before))
    assert "    picture: another one of the same size, 1200 × 760 pixels\n" in told


@pytest.mark.parametrize(
    ("before", "after", "key"),
    [
        (TAB_CAPTION, "Press here.", "caption"),
        ("an arrow presses the tab", "a thumb presses the tab", "shows"),
    ],
)
def test_what_is_said_of_a_photo(
    compare: Compare, carrow: str, before: str, after: str, key: str
) -> None:
    comparison = compare(put(carrow, before, after))
    (photo,) = only(comparison).photos
    ((trait, old, new),) = photo.traits
    assert (trait, before in old, after in new) == (key, True, True)
    assert (photo.is_another_picture, photo.pages) == (False, TAB_PAGES)
    label = {"caption": "caption", "shows": "alternative text"}[key]
    assert f"    {label}: " in as_text(comparison)


def test_a_photo_that_moves_to_another_step(compare: Compare, carrow: str) -> None:
    step = "sensors.bank-1-position-1.connector.latch"
    comparison = compare(put(carrow, f"at: {step}", "at: sensors.bank-1-position-1"))
    (photo,) = only(comparison).photos
    assert photo.traits == [("at", step, "sensors.bank-1-position-1")]
    assert photo.pages == TAB_PAGES
    assert f"    beside: {step} → sensors.bank-1-position-1\n" in as_text(comparison)


def test_a_photo_that_goes(compare: Compare, carrow: str) -> None:
    comparison = compare(TAB_ENTRY.sub("", carrow))
    (photo,) = only(comparison).photos
    assert (photo.kind, photo.file, photo.pages) == (Kind.REMOVED, TAB, TAB_PAGES)
    told = as_text(comparison)
    assert f"  photo {TAB} (removed)\n    picture: " in told
    assert f"    caption: {TAB_CAPTION} → nothing\n" in told


def test_a_photo_that_comes(compare: Compare, carrow: str, photos: dict[str, bytes]) -> None:
    entry = (
        "  - {file: photos/new.png, at: sensors.bank-2-position-1, caption: Seen from above., "
        "shows: The hex.}\n"
    )
    text = TAB_ENTRY.sub(lambda found: found[0] + entry, carrow)
    comparison = compare(text, {**photos, "photos/new.png": images.plain("PNG", 640, 480)})
    (photo,) = only(comparison).photos
    assert photo.kind is Kind.NEW
    assert photo.pages and all("bank-2-position-1" in path for path in photo.pages)
    told = as_text(comparison)
    assert "  photo photos/new.png (new)\n    picture: nothing → 640 × 480 pixels\n" in told
    assert "    beside: nothing → sensors.bank-2-position-1\n" in told
    assert "    caption: nothing → Seen from above.\n" in told
    assert "    alternative text: nothing → The hex.\n" in told


@pytest.mark.parametrize("is_same_picture", [True, False])
def test_a_photo_under_another_name_is_the_same_photo(
    compare: Compare, carrow: str, photos: dict[str, bytes], is_same_picture: bool
) -> None:
    content = photos[TAB] if is_same_picture else images.plain("PNG", 640, 480)
    comparison = compare(put(carrow, TAB, "photos/tab.png"), {**photos, "photos/tab.png": content})
    (photo,) = only(comparison).photos
    assert photo.kind is Kind.CHANGED
    assert photo.traits == [("file", TAB, "photos/tab.png")]
    assert photo.is_another_picture is not is_same_picture
    # The name is no reader's: pictures are called by what they hold
    assert photo.pages == (() if is_same_picture else TAB_PAGES)


def test_photos_in_another_order_are_the_same_photos(compare: Compare, carrow: str) -> None:
    entry = TAB_ENTRY.search(carrow)
    assert entry
    moved = carrow.replace(entry[0], "").replace("\nphotos:\n", f"\nphotos:\n{entry[0]}")
    assert moved != carrow
    change = only(compare(moved))
    assert (change.photos, change.values, change.pages) == ((), (), ())


def test_a_photo_beside_a_step_that_comes_with_it(compare: Compare, carrow: str) -> None:
    """It has no place in the older profile, so what it does is what the newer one lacks without."""
    step = "      - Draw the shield up and towards the radiator.\n"
    text = put(carrow, step, f"{step}      - Lay it flat.\n")
    text = put(text, "at: obstacles.manifold-shield.steps.1", f"at: {LAST_STEP}")
    change = only(compare(text))
    (photo,) = change.photos
    assert photo.traits == [("at", "obstacles.manifold-shield.steps.1", LAST_STEP)]
    assert photo.pages
    assert not any(each.difference.at.startswith("photos") for each in change.values)


def test_a_photo_of_a_part_that_is_renamed_changes_only_together(
    compare: Compare, carrow: str
) -> None:
    comparison = compare(carrow.replace("manifold-shield", "hot-shield"))
    (photo,) = only(comparison).photos
    assert (photo.traits[0][0], photo.pages) == ("at", None)
    told = as_text(comparison)
    assert "obstacles.hot-shield.steps.1\n    only together with other values\n" in told


def test_a_photo_that_is_missing_or_no_image_fails_and_is_left_out(
    compare: Compare, photos: dict[str, bytes]
) -> None:
    for files in ({SHIELD: photos[SHIELD], BELOW: photos[BELOW]}, {**photos, TAB: b"no image"}):
        comparison = compare(files=files)
        change = only(comparison)
        assert comparison.fails
        (fault,) = change.faults
        assert fault.startswith("The newer profile fails its check, and is built without a photo: ")
        assert f"`{TAB}`" in fault
        assert [page.path for page in change.pages] == list(TAB_PAGES)
        (photo,) = change.photos
        assert (photo.picture_after, photo.pages) == (None, TAB_PAGES)


def test_a_photo_that_was_missing_before_fails_nothing(
    compare: Compare, photos: dict[str, bytes]
) -> None:
    comparison = compare(old={SHIELD: photos[SHIELD], BELOW: photos[BELOW]})
    assert not comparison.fails
    (fault,) = only(comparison).faults
    assert fault == f"The older pages are built without a photo: There is no file `{TAB}`."


def test_json_has_each_photo(compare: Compare, carrow: str, photos: dict[str, bytes]) -> None:
    text = put(carrow, TAB_CAPTION, "Press here.")
    told = json.loads(as_json(compare(text, {**photos, TAB: images.plain("PNG", 640, 480)})))
    (photo,) = told["vehicles"][0]["photos"]
    assert photo["said"] == [{"key": "caption", "before": TAB_CAPTION, "after": "Press here."}]
    assert (photo["file"], photo["change"]) == (TAB, "changed")
    assert (photo["picture"]["after"]["width_px"], photo["pages"]) == (640, list(TAB_PAGES))
    assert photo["picture"]["before"]["key"] != photo["picture"]["after"]["key"]


HOSTILE = "`x` <img src=x onerror=alert(1)> [a](javascript:alert(1)) @everyone #12"


def test_what_is_said_of_a_photo_is_no_markup(compare: Compare, carrow: str) -> None:
    told = as_markdown(compare(put(carrow, TAB_CAPTION, f"'{HOSTILE}'")))
    tokens = MarkdownIt("gfm-like", {"html": True, "linkify": False}).parse(told)
    inline = [each for token in tokens for each in token.children or ()]
    assert {each.type for each in inline} <= {"text", "code_inline", "softbreak"}
    assert HOSTILE in [each.content for each in inline if each.type == "code_inline"]


def test_the_report_is_german_where_the_site_is(
    compare: Compare, carrow: str, photos: dict[str, bytes]
) -> None:
    text = TAB_ENTRY.sub("", carrow).replace("value: 40 to 48 N·m", "value: 41 to 48 N·m")
    files = {SHIELD: images.plain("PNG", 640, 480)}
    comparison = compare(text, files, language="de")
    told = as_text(comparison, translations("de"))
    for sentence in (
        f"Foto {TAB} (entfernt)", "Bildunterschrift: ", "Alternativtext: ", "→ nichts",
        "→ 640 × 480 Pixel", "Bank 1, Position 1: Drehmoment in N·m: 40–48 → 41–48",
        "1 Fahrzeug von 1 mit Änderungen, ", "Das neuere Profil fällt bei der Prüfung durch",
    ):  # fmt: skip
        assert sentence in told, told
    # What the check says, and what the profile does, is in their own words
    own = re.sub(r"[`:] .*?(?:→|\n|$)|sensors\.\S+", "", told)
    english = r"\b(photo|page|pages|nothing|beside|caption|text|torque|minutes|changes|older)\b"
    assert not re.findall(english, own.lower().replace("photos/", "")), own


def test_sameness_is_told_by_content(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    for folder in (one, other):
        (folder / "photos").mkdir(parents=True)
        (folder / "photos/a.png").write_bytes(b"same")
    sources = FolderPhotos(one), FolderPhotos(other)
    assert is_same_photo("photos/a.png", *sources)
    assert is_same_photo("photos/none.png", *sources), "missing on both sides"
    (other / "photos/a.png").write_bytes(b"else")
    assert not is_same_photo("photos/a.png", *sources)
    (other / "photos/a.png").unlink()
    assert not is_same_photo("photos/a.png", *sources)

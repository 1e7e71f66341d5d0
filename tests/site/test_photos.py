"""Photos as they are published: upright, small, nothing of their files left, made once."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from gettext import NullTranslations
from io import BytesIO
from pathlib import Path
from typing import Any

import html5lib
import pytest
from PIL import Image

from generator.guide.pages import vehicle_pages
from generator.guide.photo_view import RECIPE, Picture, picture_path, pictures
from generator.guide.vehicle import Vehicle
from generator.profile import read_profile
from generator.profile.photo_file import photo_file
from generator.site import photos as photos_module
from generator.site.photos import PhotoPress, embedded, encoded, known_keys, upright
from generator.site.project import build_site
from tests.hostile import images

CARROW = "fenwright-carrow-3-2-v6"
PIP = "lowmere-pip-1-4"
KINDS = {"webp": "WEBP", "jpg": "JPEG"}


def published(file: str, content: bytes) -> dict[str, bytes]:
    """Every picture that is made of a photo."""
    image = upright(file, content)
    return {each.name: encoded(image, each) for each in pictures(photo_file(file, content))}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_nothing_but_the_pixels_is_published(kind: str) -> None:
    file, content = f"a.{kind.lower()}", images.from_camera(kind)
    before = Image.open(BytesIO(content))
    assert before.getexif().get_ifd(images.GPS_TAG)[2] == images.GPS_LATITUDE
    assert {"icc_profile"} <= before.info.keys()
    assert b"SECRET" in content
    for name, made in published(file, content).items():
        image = Image.open(BytesIO(made))
        image.load()
        assert image.format == KINDS[name.rpartition(".")[2]]
        assert dict(image.getexif()) == {}
        left = image.info.keys() - {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert left <= {"progressive", "progression", "loop", "background", "timestamp", "duration"}
        for secret in (*images.SECRETS, b"Exif", b"XMP", b"xmp", b"ICC", b"http", b"GPS", b"EXIF"):
            assert secret not in made, name


def test_what_is_to_go_is_there_before() -> None:
    content = images.from_camera("JPEG")
    for secret in (b"SECRET-COMMENT", b"SECRET-CAMERA", b"SECRET-XMP", b"SECRET-PROFILE"):
        assert secret in content


def segments(jpeg: bytes) -> set[int]:
    """The markers of a JPEG's segments before its pixels."""
    found, at = set(), 2
    while jpeg[at + 1] != 0xDA:
        found.add(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4])
    return found


def test_the_files_have_no_room_for_more_than_pixels() -> None:
    made = published("a.jpg", images.from_camera("JPEG"))
    for name, content in made.items():
        if name.endswith(".webp"):
            # One chunk of lossy pixels, nothing beside it (RFC 9649, 2.5)
            assert content[8:16] == b"WEBPVP8 "
            size = int.from_bytes(content[16:20], "little")
            assert len(content) - 20 - size in (0, 1)
        else:
            # Of the application's segments and comments only JFIF's own
            beside = {each for each in segments(content) if each >= 0xE0}
            assert beside == {0xE0}


@pytest.mark.parametrize("number", range(1, 9))
def test_the_photo_stands_upright(number: int) -> None:
    for made in published("a.jpg", images.turned(number)).values():
        image = Image.open(BytesIO(made)).convert("RGB")
        assert image.size == (80, 60)
        red, green, blue = image.getpixel((6, 6))
        assert (red > 180, max(green, blue) < 90) == (True, True), "the red corner, top left"
        assert min(image.getpixel((70, 50))) > 200


@pytest.mark.parametrize("mode", ["L", "RGBA", "P", "1", "LA"])
def test_every_mode_comes_out_as_it_looks(mode: str) -> None:
    content = images.plain("PNG", mode=mode)
    (*_, fallback) = published("a.png", content).values()
    image = Image.open(BytesIO(fallback)).convert("L")
    assert image.getpixel((6, 6)) < 130
    assert image.getpixel((70, 50)) > 200


def test_sixteen_bits_of_grey_keep_their_shades() -> None:
    grey = Image.new("I;16", (80, 60))
    grey.putdata([int(65535 * (x / 79)) for _ in range(60) for x in range(80)])
    buffer = BytesIO()
    grey.save(buffer, "PNG")
    image = upright("a.png", buffer.getvalue()).convert("L")
    assert [image.getpixel((x, 30)) // 32 for x in (0, 20, 40, 60, 79)] == [0, 2, 4, 6, 7]


def test_what_is_clear_becomes_paper() -> None:
    clear = Image.new("RGBA", (80, 60), (0, 0, 0, 0))
    buffer = BytesIO()
    clear.save(buffer, "PNG")
    assert upright("a.png", buffer.getvalue()).getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("size", "widths"),
    [
        ((4000, 3000), [480, 960, 960]),
        ((3000, 4000), [360, 720, 720]),
        ((700, 350), [480, 700, 700]),
        ((200, 100), [200, 200]),
        ((500, 100), [480, 500, 500]),
    ],
)
def test_two_widths_and_a_fallback_and_never_larger_than_the_photo(
    size: tuple[int, int], widths: list[int]
) -> None:
    content = images.plain(width=size[0], height=size[1])
    made = pictures(photo_file("a.jpg", content))
    assert [each.width_px for each in made] == widths
    assert [each.kind for each in made] == ["webp"] * (len(widths) - 1) + ["jpg"]
    for each in made:
        assert each.width_px / each.height_px == pytest.approx(size[0] / size[1], rel=0.02)
        image = Image.open(BytesIO(encoded(upright("a.jpg", content), each)))
        assert image.size == (each.width_px, each.height_px)


def test_the_same_photo_gives_the_same_bytes() -> None:
    content = images.from_camera("JPEG")
    assert published("a.jpg", content) == published("a.jpg", content)
    assert len(published("a.jpg", content)) == 2


# ---- the demo


def size_of(path: Path) -> tuple[int, int]:
    with Image.open(path) as image:
        return image.size


def trees(site: Path) -> dict[str, Any]:
    return {
        path.relative_to(site).as_posix(): html5lib.parse(
            path.read_bytes(), namespaceHTMLElements=False
        )
        for path in sorted((site / f"guides/{CARROW}").glob("*.html"))
    }


def test_a_photo_stands_beside_its_step(site: Path) -> None:
    found = {}
    for path, tree in trees(site).items():
        for step in tree.iter("li"):
            for image in step.iter("img"):
                found.setdefault(image.get("alt")[:24], []).append(
                    (path.rpartition("/")[2], step.find("p").text[:24])
                )
    assert found == {
        "Drawing of the heat shie": [
            ("bank-1-position-1-access.html", "Undo the two upper bolts"),
        ],
        "Drawing of the connector": [
            ("bank-1-position-1-access.html", "Grip both halves by thei"),
            ("bank-1-position-1-refit.html", "Push the connector's hal"),
        ],
    }


def test_its_room_is_reserved_and_it_is_loaded_late(site: Path) -> None:
    seen = 0
    for path, tree in trees(site).items():
        folder = (site / path).parent
        for picture in tree.iter("picture"):
            source, image = picture.find("source"), picture.find("img")
            assert (image.get("loading"), image.get("decoding")) == ("lazy", "async")
            size = (int(image.get("width")), int(image.get("height")))
            assert size_of(folder / image.get("src")) == size
            assert source.get("type") == "image/webp"
            for candidate in source.get("srcset").split(", "):
                name, told = candidate.split(" ")
                width, height = size_of(folder / name)
                assert told == f"{width}w"
                assert width / height == pytest.approx(size[0] / size[1], rel=0.01)
            assert len(image.get("alt")) > 20
            seen += 1
    assert seen == 5


def test_demo_photos_are_light(root: Path, site: Path) -> None:
    for path in (root / "vehicle_profiles/photos").iterdir():
        assert path.stat().st_size < 60_000
    for path in site.glob("guides/*/photos/*.webp"):
        assert path.stat().st_size < 30_000


def test_a_vehicle_without_photos_has_nothing_of_them(site: Path) -> None:
    assert not (site / f"guides/{PIP}/photos").exists()
    for path in (site / f"guides/{PIP}").glob("*.html"):
        assert "photo" not in path.read_text("utf-8")


def vehicle(root: Path) -> Vehicle:
    read = read_profile(root / f"vehicle_profiles/{CARROW}.yml")
    assert read.profile is not None
    return Vehicle(CARROW, read.profile, NullTranslations(), photos=read.photos)


def test_what_is_published_is_not_made_again(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[Picture] = []

    def counted(image: Image.Image, picture: Picture) -> bytes:
        made.append(picture)
        return encoded(image, picture)

    monkeypatch.setattr(photos_module, "encoded", counted)
    carrow = vehicle(root)
    first, second = tmp_path / "first", tmp_path / "second"
    PhotoPress(root / "vehicle_profiles").write(carrow, first)
    assert len(made) == 9
    PhotoPress(root / "vehicle_profiles", first).write(carrow, second)
    assert len(made) == 9
    names = sorted(path.relative_to(first) for path in first.rglob("*.*"))
    assert names == sorted(path.relative_to(second) for path in second.rglob("*.*"))
    assert all((first / name).read_bytes() == (second / name).read_bytes() for name in names)
    memory: dict[str, bytes] = {}
    for _ in range(2):
        PhotoPress(root / "vehicle_profiles", None, memory).write(carrow, tmp_path / "third")
    assert len(made) == 18
    assert known_keys(first) == {each.key for each in carrow.photos.values()}
    assert known_keys(tmp_path / "nowhere") == set()


def test_a_changed_photo_is_published_under_another_name(project: Path) -> None:
    site = project / "site"
    photos = site / f"guides/{CARROW}/photos"
    build_site(str(project / "mkdocs.yml"), str(site))
    before = {path.name for path in photos.iterdir()}
    source = project / "vehicle_profiles/photos/carrow-plug-tab.png"
    source.write_bytes(images.plain("PNG", 1200, 760))
    build_site(str(project / "mkdocs.yml"), str(site))
    after = {path.name for path in photos.iterdir()}
    assert (len(before & after), len(after)) == (6, 9)
    assert all(f"-{RECIPE}-" in name for name in after)


def test_the_pdf_holds_its_pictures(root: Path, html: Any) -> None:
    carrow = vehicle(root)
    made = dict(PhotoPress(root / "vehicle_profiles").made(carrow))
    shown = 0
    for page in vehicle_pages(carrow):
        whole = embedded(html(page), made.__getitem__)
        assert "photos/" not in re.sub(r' alt="[^"]*"', "", whole)
        shown += whole.count('<img src="data:image/jpeg;base64,/9j/')
    assert shown == 5


def test_the_pocket_copy_holds_each_once(site: Path) -> None:
    copy = (site / f"pocket/{CARROW}.html").read_text("utf-8")
    addresses = re.findall(r'<img id="?photo-\d"? src="?([^"> ]+)', copy)
    assert len(addresses) == len(set(addresses)) == 3
    assert all(each.startswith("data:image/webp;base64,UklGR") for each in addresses)


def test_the_data_lists_them(site: Path) -> None:
    data = json.loads((site / f"data/v1/{CARROW}.json").read_text("utf-8"))
    assert len(data["photos"]) == 3
    for photo in data["photos"]:
        file = (site / "data/v1" / photo["file"]).resolve()
        assert size_of(file) == (photo["width_px"], photo["height_px"])
        assert file.is_relative_to(site / f"guides/{CARROW}/photos")
    assert json.loads((site / f"data/v1/{PIP}.json").read_text("utf-8"))["photos"] == []


def test_a_build_without_photos_does_not_load_the_image_library(project: Path) -> None:
    for path in (project / "vehicle_profiles").glob("*.yml"):
        if path.stem != PIP:
            path.unlink()
    code = (
        "import sys; from generator.site.project import build_site; "
        "build_site('mkdocs.yml', 'out'); sys.exit('PIL' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=project, check=False, timeout=120)
    assert done.returncode == 0


def test_the_path_of_a_picture_is_within_its_vehicle() -> None:
    assert picture_path("a-b", "0-1-480.webp") == "guides/a-b/photos/0-1-480.webp"

"""The files of photos: what may be one, and in what words the rest is refused."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.profile import read_profile
from generator.profile.photo_file import (
    LARGEST_BYTES,
    MOST_PIXELS,
    PhotoFile,
    PhotoRefused,
    opened,
    orientation,
    photo_content,
    photo_file,
)
from tests.hostile import images

MINIMAL = (Path(__file__).parent / "cases/minimal.yml").read_text("utf-8")


def profile_with(folder: Path, *files: str) -> Path:
    photos = "".join(
        f"  - {{file: {file}, at: sensors.bank-1-position-1, caption: Seen., shows: It.}}\n"
        for file in files
    )
    path = folder / "carrow.yml"
    path.write_text(f"{MINIMAL}photos:\n{photos}", "utf-8")
    return path


def rules(path: Path) -> list[str]:
    return [finding.rule for finding in read_profile(path).findings]


@pytest.mark.parametrize(
    ("file", "content"),
    [
        ("a.jpg", images.plain()),
        ("a.JPEG", images.plain()),
        ("deep/er/A_1~2.png".replace("~", "-"), images.plain("PNG")),
        ("a.webp", images.plain("WEBP")),
        ("grey.png", images.plain("PNG", mode="L")),
        ("grey-16.png", images.plain("PNG", mode="I;16")),
        ("clear.png", images.plain("PNG", mode="RGBA")),
        ("few.png", images.plain("PNG", mode="P")),
        ("printer.jpg", images.plain(mode="CMYK")),
        *((f"{kind}.{kind.lower()}", images.from_camera(kind)) for kind in ("JPEG", "PNG", "WEBP")),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_ordinary_photos_are_taken(tmp_path: Path, file: str, content: bytes) -> None:
    (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
    (tmp_path / file).write_bytes(content)
    read = read_profile(profile_with(tmp_path, file))
    assert [str(each) for each in read.findings] == []
    assert read.profile is not None
    (photo,) = read.photos.values()
    assert (photo.width_px, photo.height_px) == (80, 60)


@pytest.mark.parametrize("number", range(1, 9))
def test_the_size_is_that_of_the_upright_photo(number: int) -> None:
    content = images.turned(number)
    assert orientation(opened("a.jpg", content)) == number
    photo = photo_file("a.jpg", content)
    assert (photo.width_px, photo.height_px) == (80, 60)


Made = Callable[[], bytes]
REFUSED: list[tuple[str, Made, str, str]] = [
    ("bomb.png", images.bomb, "photo-size", "50 million pixels"),
    ("just.png", lambda: images.png_of(10_000, 5_001), "photo-size", "50 million pixels"),
    ("strip.png", lambda: images.png_of(2_600, 500), "photo-size", "2600 by 500 pixels"),
    ("text.png", images.text_bomb, "photo-content", "not a JPEG"),
    ("large.jpg", lambda: images.plain() + bytes(LARGEST_BYTES), "photo-size", "12 MB"),
    ("scans.jpg", images.many_scans, "photo-content", "passes"),
    ("archive.jpg", images.with_archive, "photo-content", "at once"),
    ("page.jpg", images.with_page, "photo-content", "`<!doctype`"),
    ("paper.jpg", images.with_pdf, "photo-content", "`%PDF-`"),
    ("program.png", images.with_php, "photo-content", "`<?php`"),
    ("moving.webp", images.moving, "photo-content", "moving"),
    ("drawing.png", images.drawing, "photo-content", "not a JPEG"),
    ("empty.jpg", bytes, "photo-content", "not a JPEG"),
    ("half.jpg", lambda: images.plain(width=400, height=400)[:-900], "photo-content", "damaged"),
    ("half.png", lambda: images.plain("PNG")[:-60], "photo-content", "damaged"),
    ("half.webp", lambda: images.plain("WEBP")[:-60], "photo-content", ""),
    ("png.jpg", lambda: images.plain("PNG"), "photo-content", "its name says JPEG"),
    ("gif.png", lambda: images.plain("GIF"), "photo-content", "not a JPEG"),
]


@pytest.mark.parametrize(
    ("file", "made", "rule", "said"), REFUSED, ids=[file for file, *_ in REFUSED]
)
def test_others_are_refused_at_their_place(
    tmp_path: Path, file: str, made: Made, rule: str, said: str
) -> None:
    (tmp_path / file).write_bytes(made())
    before = time.process_time()
    read = read_profile(profile_with(tmp_path, file))
    assert time.process_time() - before < 1
    assert read.profile is None
    (finding,) = read.findings
    assert (finding.rule, finding.place.line, finding.at) == (rule, 15, "photos.1.file")
    assert said in finding.message
    assert finding.mend.endswith(".")


def test_the_limit_of_pixels_is_the_one_that_is_told(tmp_path: Path) -> None:
    assert MOST_PIXELS == 10_000 * 5_000
    with pytest.raises(PhotoRefused, match="damaged"):
        photo_file("a.png", images.png_of(10_000, 5_000))


NAMES = [
    "../a.jpg", "a/../../a.jpg", "/tmp/a.jpg", "//host.example/a.jpg", "~/a.jpg", "C:\\a.jpg",
    "C:/a.jpg", "..\\a.jpg", "file:///a.jpg", "https://elsewhere.example/a.jpg", "./a.jpg",
    ".hidden.jpg", "a/.git/b.jpg", "a.svg", "a.jpg.html", "a.jpg%00.html", "a.gif", "a .jpg",
    "javascript:a.jpg", "data:image/png;base64,AAAA.png", "a//b.jpg", "ä.jpg", "-rf.jpg",
    "a.jpg?x=.jpg", "a#.jpg", "\u202ea.jpg", "a\u200d.jpg", "CON:.jpg", f"{'a' * 120}.jpg",
]  # fmt: skip


@pytest.mark.parametrize("file", NAMES)
def test_a_name_that_leads_elsewhere_is_refused(tmp_path: Path, file: str) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    for place in (tmp_path, folder):
        (place / "a.jpg").write_bytes(images.plain())
    path = profile_with(folder, f'"{file}"'.replace("\\", "\\\\"))
    assert set(rules(path)) <= {"photo-file", "not-text", "too-long"}
    assert read_profile(path).profile is None


def test_a_link_may_lead_within_the_folder_and_not_out(tmp_path: Path) -> None:
    folder, outside = tmp_path / "profiles", tmp_path / "outside"
    folder.mkdir()
    outside.mkdir()
    for place in (folder, outside):
        (place / "real.jpg").write_bytes(images.plain())
    (folder / "within.jpg").symlink_to("real.jpg")
    (folder / "out.jpg").symlink_to(outside / "real.jpg")
    (folder / "round.jpg").symlink_to("round.jpg")
    (folder / "lost.jpg").symlink_to("gone.jpg")
    (folder / "away").symlink_to(outside)
    assert rules(profile_with(folder, "within.jpg")) == []
    path = profile_with(folder, "out.jpg", "away/real.jpg", "round.jpg", "lost.jpg")
    assert rules(path) == ["photo-file", "photo-file", "photo-file", "photo-missing"]


def test_what_is_no_plain_file_is_not_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.jpg")
    (tmp_path / "folder.jpg").mkdir()
    assert rules(profile_with(tmp_path, "pipe.jpg", "folder.jpg")) == ["photo-file"] * 2


def test_a_missing_file_is_told_with_its_nearest_neighbour(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/Latch.JPG").write_bytes(images.plain())
    read = read_profile(profile_with(tmp_path, "photos/latch.jpg"))
    assert [(each.rule, each.mend) for each in read.findings] == [
        ("photo-missing", "Did you mean `photos/Latch.JPG`?")
    ]


@pytest.mark.parametrize("named", ["latch.jpg", "docs/photos/latch.jpg"])
def test_a_photo_named_from_elsewhere_is_found_in_its_folder(tmp_path: Path, named: str) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos/latch.jpg").write_bytes(images.plain())
    read = read_profile(profile_with(tmp_path, named))
    assert [(each.rule, each.mend) for each in read.findings] == [
        ("photo-missing", "It lies at `photos/latch.jpg`: write that.")
    ]


def test_a_photo_is_judged_even_where_the_rest_is_faulty(tmp_path: Path) -> None:
    path = profile_with(tmp_path, "gone.jpg")
    path.write_text(path.read_text("utf-8").replace("wires: 4", "wires: four"), "utf-8")
    assert rules(path) == ["not-a-number", "photo-missing"]


def test_a_known_photo_is_not_decoded_again(tmp_path: Path) -> None:
    cut = images.plain("PNG")[:-60]
    (tmp_path / "a.png").write_bytes(cut)
    with pytest.raises(PhotoRefused):
        photo_file("a.png", cut)
    whole = photo_file("b.png", images.plain("PNG"))
    assert photo_file("b.png", images.plain("PNG"), {whole.key}) == whole


def test_a_photo_that_changes_between_is_refused_again(tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_bytes(images.plain())
    assert photo_content(tmp_path, "a.jpg") == images.plain()
    (tmp_path / "a.jpg").unlink()
    with pytest.raises(PhotoRefused):
        photo_content(tmp_path, "a.jpg")


WHOLE = [
    (f"a.{kind.lower()}", content)
    for kind in ("JPEG", "PNG", "WEBP")
    for content in (images.plain(kind), images.from_camera(kind))
]


@given(data=st.data(), whole=st.sampled_from(WHOLE))
@settings(max_examples=400)
def test_a_damaged_file_is_refused_or_read_and_never_raises(
    data: st.DataObject, whole: tuple[str, bytes]
) -> None:
    file, content = whole
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(content)))
        scrap = data.draw(st.binary(max_size=6))
        content = content[:at] + scrap + content[at + data.draw(st.integers(0, 6)) :]
    before = time.process_time()
    try:
        photo = photo_file(file, content)
    except PhotoRefused as refused:
        assert refused.message.endswith(".")
    else:
        assert isinstance(photo, PhotoFile)
        assert photo.width_px * photo.height_px <= MOST_PIXELS
    assert time.process_time() - before < 1

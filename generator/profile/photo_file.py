"""The file of a photo: where it may lie, what it may hold, and how large it is when it is upright.

Nothing of it is published as it is: the site makes pictures of its own from it. So what is refused
here is what cannot be made into one, and what a reader of the change should not have to guess at.
"""

from __future__ import annotations

import struct
import warnings
import zlib
from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from stat import S_ISREG
from typing import TYPE_CHECKING

from generator.profile.fields import is_photo_name
from generator.profile.finding import Finding, Place, Severity, did_you_mean
from generator.profile.model import MOST_PHOTOS
from generator.profile.tree import Document

if TYPE_CHECKING:
    from PIL.Image import Image

LARGEST_BYTES = 12 * 1024 * 1024
MOST_PIXELS = 50_000_000
LONGEST_TO_SHORTEST = 5
MOST_SCANS = 100
"""A progressive JPEG of a camera has some ten; thousands make a small file slow to read."""

FORMATS = {".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG", ".webp": "WEBP"}
UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    EOFError,
    LookupError,
    TypeError,
    ArithmeticError,
    AttributeError,
    RuntimeError,
    struct.error,
    zlib.error,
)
"""What Pillow raises over a damaged file, depending on where it is damaged."""

_KEY_LENGTH = 32
_ORIENTATION = 0x0112
LYING = range(5, 9)
"""The orientations in which width and height change places."""
_SNIFFED_BYTES = 1445
"""What a browser looks at to guess a type (WHATWG, MIME Sniffing, 7)."""
_PAGE_SIGNS = (b"<!doctype", b"<html", b"<script", b"<svg", b"<iframe", b"<body", b"<?php")
_ZIP_END = b"PK\x05\x06"
_ZIP_END_WITHIN = 22 + 0xFFFF
_JPEG_SCAN = b"\xff\xda"


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """A photo that may be published: a key of its content, and its size once it is upright."""

    key: str
    width_px: int
    height_px: int


@dataclass(frozen=True, slots=True)
class NamedPhoto:
    """A file that a profile names as a photo, and where it does."""

    file: str
    place: Place
    at: str


class PhotoRefused(Exception):
    """A file that cannot be a photo of the guide: the rule it breaks, what is wrong, the mend."""

    def __init__(self, rule: str, message: str, mend: str) -> None:
        """Ready to become a finding."""
        super().__init__(message)
        self.rule, self.message, self.mend = rule, message, mend


def named_photos(document: Document) -> Iterator[NamedPhoto]:
    """The files that a profile's text names as photos, however faulty the rest of it is."""
    photos = document.data.get("photos")
    for index, photo in enumerate(photos[:MOST_PHOTOS] if isinstance(photos, list) else []):
        file = photo.get("file") if isinstance(photo, dict) else None
        if isinstance(file, str) and is_photo_name(file.strip()):
            place = document.place(("photos", index, "file"))
            yield NamedPhoto(file.strip(), place, f"photos.{index + 1}.file")


def judged(
    named: tuple[NamedPhoto, ...], content: Callable[[str], bytes], known: Container[str] = ()
) -> tuple[dict[str, PhotoFile], list[Finding]]:
    """The photos that may be published, by the name of their file, and what is wrong with others.

    ``content`` gives the bytes of a file, or raises `PhotoRefused`. ``known`` are the keys of
    photos that were made into pictures before: not decoded again.
    """
    photos: dict[str, PhotoFile] = {}
    refused: dict[str, PhotoRefused] = {}
    for file in dict.fromkeys(each.file for each in named):
        try:
            photos[file] = photo_file(file, content(file), known)
        except PhotoRefused as error:
            refused[file] = error
    findings = []
    for each in named:
        if reason := refused.get(each.file):
            said = reason.message, reason.mend, each.at
            findings.append(Finding(reason.rule, Severity.ERROR, each.place, *said))
    return photos, findings


def photo_content(folder: Path, file: str) -> bytes:
    """The bytes of a photo below a folder.

    Raises:
        PhotoRefused: it is missing, leads out of the folder, is no plain file, or is too large.
    """
    try:
        whole = (folder / file).resolve(strict=True)
        if not whole.is_relative_to(folder.resolve()):
            raise PhotoRefused(
                "photo-file",
                f"`{file}` leads out of the profile's folder.",
                "Put the photo itself there, not a link to it.",
            )
        told = whole.stat()
        if not S_ISREG(told.st_mode):
            raise PhotoRefused("photo-file", f"`{file}` is not a file.", "Name the photo's file.")
        if told.st_size <= LARGEST_BYTES:
            return whole.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        raise _missing(folder, file) from None
    except (OSError, RuntimeError):
        raise PhotoRefused(
            "photo-file", f"`{file}` cannot be read.", "Mend its rights, or its link."
        ) from None
    raise too_large(file)


def too_large(file: str) -> PhotoRefused:
    """What is said of a photo's file with too many bytes."""
    return PhotoRefused(
        "photo-size",
        f"`{file}` is larger than {LARGEST_BYTES // 2**20} MB.",
        "Save it smaller: a page shows it 960 pixels wide.",
    )


def _missing(folder: Path, file: str) -> PhotoRefused:
    beside = (folder / file).parent
    try:
        names = [each.name for each in beside.iterdir()] if beside.is_dir() else []
    except OSError:
        names = []
    before = file.rpartition("/")[0]
    at = f"{before}/" if before else ""
    hint = _elsewhere(folder, file) or did_you_mean(file, [f"{at}{name}" for name in names])
    return PhotoRefused(
        "photo-missing",
        f"There is no file `{file}` beside the profile.",
        hint or "Put it there, or mend the name; capital and small letters differ.",
    )


def _elsewhere(folder: Path, file: str) -> str:
    """What is said where the file lies in the folder that photos are put into, or beside it."""
    name = file.rpartition("/")[2]
    for other in (f"photos/{name}", name):
        if other != file and (folder / other).is_file():
            return f"It lies at `{other}`: write that."
    return ""


def photo_file(file: str, content: bytes, known: Container[str] = ()) -> PhotoFile:
    """What a photo's content is, as far as it must be known to show it.

    Raises:
        PhotoRefused: it is not an image of the kind its name says, or too large a one.
    """
    image = opened(file, content)
    _refuse_other_types(file, content)
    width, height = image.size
    _refuse_size(file, width, height)
    if orientation(image) in LYING:
        width, height = height, width
    key = sha256(content).hexdigest()[:_KEY_LENGTH]
    if key not in known:
        _refuse_damage(file, image)
    return PhotoFile(key, width, height)


def opened(file: str, content: bytes) -> Image:
    """A photo's image, its pixels not read yet; of the kind that the file's name says.

    Raises:
        PhotoRefused: it is something else.
    """
    from PIL import Image

    wanted = FORMATS[f".{file.rpartition('.')[2].lower()}"]
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(BytesIO(content), formats=sorted(set(FORMATS.values())))
            frames = getattr(image, "n_frames", 1)
    except (Image.DecompressionBombError, MemoryError):
        raise _too_many_pixels(file) from None
    except UNREADABLE:
        raise PhotoRefused(
            "photo-content",
            f"`{file}` is not a JPEG, PNG or WebP image.",
            "Save the photo as JPEG with an image program; renaming a file is not enough.",
        ) from None
    # A phone's JPEG may carry a second picture behind the first, such as one for depth
    kind = "JPEG" if image.format == "MPO" else image.format
    if kind != wanted:
        raise PhotoRefused(
            "photo-content",
            f"`{file}` holds a {kind} image, and its name says {wanted}.",
            "Give the file the ending of what it holds.",
        )
    if frames > 1 and kind != "JPEG":
        raise PhotoRefused(
            "photo-content", f"`{file}` is a moving picture.", "Save one still picture of it."
        )
    return image


def orientation(image: Image) -> int:
    """How the pixels lie, 1 to 8 (EXIF 2.32, tag 0x0112); 1, upright, where none is told."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            told = image.getexif().get(_ORIENTATION, 1)
    except UNREADABLE:
        return 1
    return told if told in range(1, 9) else 1


def _refuse_other_types(file: str, content: bytes) -> None:
    """Refuse what other programs would take for something else as well (a polyglot)."""
    start = content[:_SNIFFED_BYTES].lower()
    other = next((sign.decode() for sign in _PAGE_SIGNS if sign in start), None)
    if b"%pdf-" in start:
        other = "%PDF-"
    if other is None and _ZIP_END in content[-_ZIP_END_WITHIN:]:
        other = "an archive"
    if other:
        raise PhotoRefused(
            "photo-content",
            f"`{file}` is an image and something else at once: it holds `{other}`.",
            "Save the photo again with an image program.",
        )
    if content.count(_JPEG_SCAN) > MOST_SCANS:
        raise PhotoRefused(
            "photo-content",
            f"`{file}` is built in more than {MOST_SCANS} passes.",
            "Save the photo again with an image program.",
        )


def _refuse_size(file: str, width: int, height: int) -> None:
    if width * height > MOST_PIXELS:
        raise _too_many_pixels(file)
    if max(width, height) > LONGEST_TO_SHORTEST * min(width, height):
        raise PhotoRefused(
            "photo-size",
            f"`{file}` is {width} by {height} pixels, which is a strip.",
            f"Crop it: one side is at most {LONGEST_TO_SHORTEST} times the other.",
        )


def _too_many_pixels(file: str) -> PhotoRefused:
    return PhotoRefused(
        "photo-size",
        f"`{file}` has more than {MOST_PIXELS // 1_000_000} million pixels.",
        "Save it smaller: a page shows it 960 pixels wide.",
    )


def _refuse_damage(file: str, image: Image) -> None:
    """Refuse an image whose pixels cannot all be read."""
    reduced = (max(1, image.width // 8), max(1, image.height // 8))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            # A JPEG is read in an eighth of its size, which finds the same damage sooner
            image.draft(None, reduced)
            image.load()
    except MemoryError:
        raise _too_many_pixels(file) from None
    except UNREADABLE:
        raise PhotoRefused(
            "photo-content",
            f"`{file}` is damaged: its picture cannot be read to the end.",
            "Copy it from the camera again, or save it anew with an image program.",
        ) from None

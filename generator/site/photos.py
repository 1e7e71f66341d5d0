"""Photos to published pictures: upright, in two widths, and of the file nothing but its pixels.

Position, time, camera, comments and colour profiles stay behind: a new image is made of the pixels,
and only that is written. What stands in the published site already is taken from there.
"""

from __future__ import annotations

import re
import warnings
from base64 import b64encode
from collections.abc import Callable, Iterator, MutableMapping
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from generator.guide.photo_view import (
    FALLBACK,
    FOLDER,
    SQUARES_PX,
    Picture,
    picture_path,
    pictures,
    published_photos,
)
from generator.guide.vehicle import GUIDES, Vehicle
from generator.profile.photo_file import opened, orientation, photo_content

if TYPE_CHECKING:
    from PIL.Image import Image

MEDIA_TYPES = {"webp": "image/webp", "jpg": "image/jpeg"}

_QUALITY = {"webp": 76, "jpg": 80}
_OURS = re.compile(rf'(<source [^>]*>)?<img src="({FOLDER}/[0-9a-z-]+\.(\w+))" loading="lazy"')


@dataclass(frozen=True, slots=True)
class PhotoPress:
    """Makes the pictures of one build.

    ``published`` is the site that the build will replace, or None. ``memory`` keeps pictures
    between the builds of a preview, which replaces nothing.
    """

    profiles: Path
    published: Path | None = None
    memory: MutableMapping[str, bytes] | None = None

    def write(self, vehicle: Vehicle, site: Path) -> None:
        """Write the pictures of a vehicle into a site.

        Raises:
            OSError: a file cannot be written.
            PhotoRefused: a photo has been changed since it was judged.
        """
        for name, content in self.made(vehicle):
            path = site / picture_path(vehicle.slug, name)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)

    def made(self, vehicle: Vehicle) -> Iterator[tuple[str, bytes]]:
        """The pictures of a vehicle, by name, each once."""
        done: set[str] = set()
        for photo, file in published_photos(vehicle):
            wanted = [each for each in pictures(file) if each.name not in done]
            done.update(each.name for each in wanted)
            yield from self._of_photo(vehicle.slug, photo.file, wanted)

    def picture(self, vehicle: Vehicle, name: str) -> bytes | None:
        """One picture of a vehicle; None where it has none of that name.

        Raises:
            PhotoRefused: the photo has been changed since it was judged.
        """
        for photo, file in published_photos(vehicle):
            if wanted := [each for each in pictures(file) if each.name == name]:
                return next(self._of_photo(vehicle.slug, photo.file, wanted))[1]
        return None

    def _of_photo(self, slug: str, file: str, wanted: list[Picture]) -> Iterator[tuple[str, bytes]]:
        image: Image | None = None
        for each in wanted:
            content = self._known(slug, each.name)
            if content is None:
                image = image or upright(file, photo_content(self.profiles, file))
                content = encoded(image, each)
            if self.memory is not None:
                self.memory[each.name] = content
            yield each.name, content

    def _known(self, slug: str, name: str) -> bytes | None:
        if self.memory is not None and name in self.memory:
            return self.memory[name]
        if self.published is None:
            return None
        path = self.published / picture_path(slug, name)
        return path.read_bytes() if path.is_file() else None


def known_keys(published: Path) -> set[str]:
    """The keys of the photos whose pictures stand in a published site."""
    found = (published / GUIDES).glob(f"*/{FOLDER}/*.{FALLBACK}")
    return {path.name.partition("-")[0] for path in found}


def upright(file: str, content: bytes) -> Image:
    """A photo as one looks at it: its orientation applied, opaque, in red, green and blue.

    Nothing of its file is in the image but the pixels.

    Raises:
        PhotoRefused: it is not an image of the kind its name says.
    """
    from PIL import Image

    image = opened(file, content)
    turn = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_270,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_90,
    }.get(orientation(image))
    largest = max(SQUARES_PX)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # A large JPEG is read in a half, a quarter or an eighth, never below what is wanted
        image.draft(None, (largest, largest))
        image.load()
    if image.mode.startswith("I;16") or image.mode in ("I", "F"):
        # Sixteen bits of grey to eight: a plain conversion would cut off all above the lowest
        image = image.convert("I").point(lambda grey: grey / 256).convert("L")
    if image.mode != "RGB":
        image = image.convert("RGBA")
    clean = Image.new("RGB", image.size, "white")
    clean.paste(image, mask=image if image.mode == "RGBA" else None)
    return clean.transpose(turn) if turn is not None else clean


def encoded(image: Image, picture: Picture) -> bytes:
    """An upright photo as the bytes of one picture."""
    from PIL import Image

    size = (picture.width_px, picture.height_px)
    small = image.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0)
    buffer = BytesIO()
    if picture.kind == FALLBACK:
        small.save(buffer, "JPEG", quality=_QUALITY["jpg"], optimize=True, progressive=True)
    else:
        small.save(buffer, "WEBP", quality=_QUALITY["webp"], method=4)
    return buffer.getvalue()


def embedded(html: str, content: Callable[[str], bytes]) -> str:
    """A page of ours with its pictures in it; ``content`` gives a picture by its name."""

    def put_in(found: re.Match[str]) -> str:
        name = found[2].removeprefix(f"{FOLDER}/")
        return f'<img src="{data_address(content(name), found[3])}"'

    return _OURS.sub(put_in, html)


def data_address(content: bytes, kind: str) -> str:
    """A picture as an address that holds it (RFC 2397)."""
    return f"data:{MEDIA_TYPES[kind]};base64,{b64encode(content).decode()}"

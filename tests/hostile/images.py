"""Images for the tests: ordinary ones, with all that a camera adds, and ones that mean harm.

Each is made here, so that no binary file has to be trusted.
"""

from __future__ import annotations

import struct
import zipfile
import zlib
from io import BytesIO

from PIL import Image, ImageCms, ImageDraw
from PIL.PngImagePlugin import PngInfo

SECRETS = (
    b"SECRET-COMMENT",
    b"SECRET-CAMERA",
    b"SECRET-XMP",
    b"SECRET-TEXT",
    b"SECRET-TIME",
    b"SECRET-PROFILE",
)
"""Words in what a camera or a program adds to the pixels; none may be published."""

GPS_LATITUDE = (51.0, 28.0, 40.25)
GPS_TAG, ORIENTATION_TAG = 0x8825, 0x0112
_XMP = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><rdf:RDF>SECRET-XMP</rdf:RDF></x:xmpmeta>"


def marked(width: int = 80, height: int = 60) -> Image.Image:
    """A white picture, upright, with a red square in the corner at the top left."""
    image = Image.new("RGB", (width, height), "white")
    ImageDraw.Draw(image).rectangle((0, 0, width // 4, height // 4), fill="red")
    return image


def plain(kind: str = "JPEG", width: int = 80, height: int = 60, mode: str = "RGB") -> bytes:
    """An ordinary image."""
    return _saved(marked(width, height).convert(mode), kind)


def turned(orientation: int) -> bytes:
    """A JPEG whose pixels lie as a camera with that EXIF orientation writes them."""
    back = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }.get(orientation)
    image = marked()
    exif = Image.Exif()
    exif[ORIENTATION_TAG] = orientation
    return _saved(image.transpose(back) if back is not None else image, "JPEG", exif=exif)


def _camera_exif() -> Image.Exif:
    exif = Image.Exif()
    exif[0x010F] = "SECRET-CAMERA"
    exif[0x0132] = "SECRET-TIME"
    exif[GPS_TAG] = {1: "N", 2: GPS_LATITUDE, 3: "W", 4: (0.0, 7.0, 12.5)}
    return exif


def _colour_profile() -> bytes:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return profile + b"SECRET-PROFILE"


def from_camera(kind: str) -> bytes:
    """A JPEG, PNG or WebP with position, camera, time, XMP, comments and a colour profile."""
    more = {"exif": _camera_exif(), "icc_profile": _colour_profile()}
    if kind == "JPEG":
        return _saved(marked(), kind, comment=b"SECRET-COMMENT", xmp=_XMP, **more)
    if kind == "WEBP":
        return _saved(marked(), kind, xmp=_XMP, **more)
    text = PngInfo()
    text.add_text("Comment", "SECRET-COMMENT")
    text.add_text("Author", "SECRET-TEXT", zip=True)
    text.add_itxt("XML:com.adobe.xmp", _XMP.decode())
    return _saved(marked(), kind, pnginfo=text, **more)


def _saved(image: Image.Image, kind: str, **more: object) -> bytes:
    buffer = BytesIO()
    image.save(buffer, kind, **more)
    return buffer.getvalue()


# ---- what means harm


def _chunk(name: bytes, content: bytes) -> bytes:
    check = struct.pack(">I", zlib.crc32(name + content))
    return struct.pack(">I", len(content)) + name + content + check


def png_of(width: int, height: int, pixels: bytes = b"", more: bytes = b"") -> bytes:
    """A PNG that says it is so large, with these compressed pixels."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    body = _chunk(b"IDAT", pixels or zlib.compress(bytes(64)))
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + more + body + _chunk(b"IEND", b"")


def bomb(side: int = 30_000) -> bytes:
    """A small PNG that becomes hundreds of millions of pixels."""
    row = bytes(1 + side // 8)
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(row * 100) for _ in range(side // 100)) + packer.flush()
    return png_of(side, side, packed)


def text_bomb() -> bytes:
    """A small PNG whose compressed comment becomes two hundred megabytes."""
    packed = zlib.compress(bytes(200_000_000), 9)
    return png_of(8, 8, more=_chunk(b"zTXt", b"Comment\0\0" + packed))


def many_scans(count: int = 500) -> bytes:
    """A progressive JPEG with its last pass over and over."""
    buffer = BytesIO()
    marked(64, 64).save(buffer, "JPEG", progressive=True)
    content = buffer.getvalue()
    last = content[content.rindex(b"\xff\xda") : -2]
    return content[:-2] + last * count + content[-2:]


def with_archive() -> bytes:
    """A JPEG that is a ZIP archive too."""
    archive = BytesIO()
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("run.js", "alert(1)")
    return plain() + archive.getvalue()


def with_page() -> bytes:
    """A JPEG that a browser which guesses could take for a page."""
    buffer = BytesIO()
    marked().save(buffer, "JPEG", comment=b"<!doctype html><script>window.pwned=1</script>")
    return buffer.getvalue()


def with_pdf() -> bytes:
    """A JPEG that a reader of PDF files opens."""
    buffer = BytesIO()
    marked().save(buffer, "JPEG", comment=b"%PDF-1.4 ")
    return buffer.getvalue()


def with_php() -> bytes:
    """A PNG with a program in a comment."""
    return png_of(8, 8, more=_chunk(b"tEXt", b"Comment\0<?php system($_GET['c']); ?>"))


def moving() -> bytes:
    """A WebP of two pictures."""
    buffer = BytesIO()
    marked().save(buffer, "WEBP", save_all=True, append_images=[marked().rotate(180)], duration=100)
    return buffer.getvalue()


def drawing() -> bytes:
    """An SVG, which may hold scripts."""
    return b'<svg xmlns="http://www.w3.org/2000/svg"><script>window.pwned=1</script></svg>'

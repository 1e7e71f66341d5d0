"""The hostile profiles: files that are read as they are, and others that are made here.

A file under ``refused`` says in its first line which finding it must have. What is shown is built
into a site: the files under ``shown``, each text of ``texts.yml`` in every text of the fullest
profile, and names that the site could take for its own.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import yaml

from tests.hostile import images
from tests.hostile.fullest import PHOTO, put_everywhere

HERE = Path(__file__).parent
REFUSED = sorted((HERE / "refused").glob("*.yml"))
TEXTS: dict[str, str] = yaml.safe_load((HERE / "texts.yml").read_text("utf-8"))
LEAST = (HERE.parent / "profile/cases/minimal.yml").read_text("utf-8")

_ROOM = 255_000


@dataclass(frozen=True)
class Made:
    """A hostile file that is too large, or too odd, to lie in the repository."""

    name: str
    rule: str
    content: Callable[[], bytes]


def _more(name: str, rule: str, text: Callable[[], str]) -> Made:
    def content() -> bytes:
        return (LEAST + text()).encode()

    return Made(name, rule, content)


def _many(line: str, room: int = _ROOM - 1000) -> str:
    return line * (room // len(line))


def _named(line: str, count: int) -> str:
    return "".join(line.format(i=number) for number in range(count))


MADE = [
    Made("huge", "too-large", lambda: b"#" * 300_000),
    Made("utf-16", "not-text", lambda: LEAST.encode("utf-16")),
    Made("utf-32", "not-text", lambda: LEAST.encode("utf-32")),
    Made("nul-only", "not-text", lambda: bytes(200_000)),
    Made("random", "not-text", lambda: bytes(range(256)) * 900),
    Made("blanks-only", "empty-file", lambda: b" " * _ROOM),
    Made("lines-only", "empty-file", lambda: b"\n" * _ROOM),
    Made("hashes-only", "empty-file", lambda: b"#" * _ROOM),
    Made("huge-key", "yaml-syntax", lambda: b"a" * _ROOM + b": x"),
    Made("a-program", "not-text", lambda: b"\x7fELF\x02\x01\x01" + bytes(900)),
    Made("an-archive", "not-text", images.with_archive),
    Made("a-photo", "not-text", images.plain),
    Made("question-marks", "yaml-syntax", lambda: b"? " * 100_000),
    _more("huge-scalar", "too-long", lambda: f"notes: [{'a' * _ROOM}]"),
    _more("huge-quotation", "too-long", lambda: f"notes: ['{'a' * (_ROOM - 1000)}']"),
    _more("many-escapes", "empty-value", lambda: 'notes: ["' + _many("\\n") + '"]'),
    _more("deepest-lists", "yaml-syntax", lambda: "notes: " + "[" * (_ROOM - 1000)),
    _more("deepest-mappings", "yaml-syntax", lambda: "notes: " + _many("{a: ")),
    _more("deepest-blocks", "yaml-syntax", lambda: "a:\n" + _named("", 0) + "".join(
        " " * depth + "-\n" for depth in range(1, 600))),
    _more("many-aliases", "no-alias", lambda: "notes: [&a x" + _many(", *a") + "]"),
    _more("many-keys", "too-large", lambda: _named("k{i}: x\n", 20_000)),
    _more("many-keys-nearly-right", "unknown-key", lambda: _named("sensor{i}: x\n", 480)),
    _more("many-notes", "too-large", lambda: "notes:\n" + _many("- x\n")),
    _more("many-times-one-key", "too-large", lambda: _many("a: b\n")),
    _more("many-sensors", "sensor-twice", lambda: (
        "  - {bank: 1, position: 1, kind: switching, wires: 4, place: {where: x, reach: above}}\n"
        * 480)),
    _more("many-sensors-misspelt", "unknown-word", lambda: (
        "  - {bank: 1, position: 1, kind: swiching, wires: 4, place: {where: x, reach: above}}\n"
        * 480)),
    _more("many-unknown-names", "unknown-name", lambda: (
        "    behind:\n" + _named("    - q{i}\n", 499)
        + "obstacles:\n" + _named("  o{i}: {{name: x}}\n", 499))),
    _more("many-long-names-nearly-right", "unknown-name", lambda: "obstacles:\n" + "".join(
        f"  {'a' * 50}{i}: {{name: x, under: ["
        + ", ".join(f"{'a' * 45}p{i}x{k}" for k in range(10)) + "]}\n" for i in range(300))),
    _more("many-hazards-misspelt", "unknown-word", lambda: "obstacles:\n" + _named(
        "  o{i}: {{name: x, cautions: [" + "hot-exhast, " * 40 + "]}}\n", 400)),
    _more("many-terminals", "too-large", lambda: (
        "connectors:\n  a: {rows: 1, columns: 1, latch: top, pins: {"
        + ", ".join(f"{i}: {{job: pump}}" for i in range(10_000)) + "}}\n")),
    _more("many-circles", "circle", lambda: "    behind: [a0]\nobstacles:\n" + "".join(
        f"  a{i}: {{name: x, under: [{', '.join(f'a{j}' for j in range(130) if j != i)}]}}\n"
        for i in range(130))),
    _more("long-circle", "circle", lambda: "    behind: [a0]\nobstacles:\n" + "".join(
        f"  a{i}: {{name: x, under: [a{(i + 1) % 499}]}}\n" for i in range(499))),
    Made("many-banks", "too-long", lambda: LEAST.replace("banks:\n", "banks:\n" + _named(
        "  {i}: {{cylinders: [{i}], side: front}}\n", 99).partition("\n")[2], 1).encode()),
    _more("many-photos", "too-long", lambda: "photos:\n" + (
        "- {file: a.jpg, at: b, caption: c, shows: d}\n" * 400)),
]  # fmt: skip

Lay = Callable[[Path], object]


def _holding(content: Callable[[], bytes]) -> Lay:
    return lambda place: place.write_bytes(content())


def _link(target: str) -> Lay:
    return lambda place: place.symlink_to(target)


PHOTOS: list[tuple[str, str, Lay]] = [
    ("bomb.png", "photo-size", _holding(images.bomb)),
    ("only-its-size.png", "photo-size", _holding(lambda: images.png_of(60_000, 60_000))),
    ("narrow.png", "photo-size", _holding(lambda: images.plain("PNG", 2_000, 1))),
    ("padded.png", "photo-size", _holding(lambda: images.plain("PNG") + bytes(13 * 2**20))),
    ("comment-bomb.png", "photo-content", _holding(images.text_bomb)),
    ("passes.jpg", "photo-content", _holding(images.many_scans)),
    ("archive.jpg", "photo-content", _holding(images.with_archive)),
    ("page.jpg", "photo-content", _holding(images.with_page)),
    ("paper.jpg", "photo-content", _holding(images.with_pdf)),
    ("program.png", "photo-content", _holding(images.with_php)),
    ("moving.webp", "photo-content", _holding(images.moving)),
    ("drawing.png", "photo-content", _holding(images.drawing)),
    ("other-kind.png", "photo-content", _holding(lambda: images.plain("JPEG"))),
    ("no-height.png", "photo-content", _holding(lambda: images.png_of(10, 0))),
    ("nothing.png", "photo-content", _holding(bytes)),
    ("cut-off.jpg", "photo-content", _holding(lambda: images.plain("JPEG", 400, 300)[:900])),
    ("link-out.png", "photo-file", _link("../secret.png")),
    ("link-to-device.png", "photo-file", _link("/dev/zero")),
    ("link-to-itself.png", "photo-file", _link("link-to-itself.png")),
    ("link-to-nothing.png", "photo-missing", _link("gone.png")),
    ("folder.png", "photo-file", Path.mkdir),
    ("pipe.png", "photo-file", os.mkfifo),
]
"""Photos that mean harm: name, the finding, and what lays the file."""

SLUGS = ("404", "assets", "codes", "con", "constructor", "data", "guides", "index", "kept", "sw")
"""Names that a page, a folder or an object of the site could have for its own."""


def shown() -> Iterator[tuple[str, bytes]]:
    """Name and content of every profile that is accepted, and must be harmless on its pages."""
    for path in sorted((HERE / "shown").glob("*.yml")):
        yield path.stem, path.read_bytes()
    for name, text in TEXTS.items():
        yield name, put_everywhere(text)
    for slug in SLUGS:
        yield slug, LEAST.encode()


def lay_shown(folder: Path) -> list[Path]:
    """Every profile that is accepted, with the photo it names, laid into a folder."""
    for place in (folder / PHOTO, folder / "photos/plain.png"):
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(images.plain("PNG"))
    paths = []
    for name, content in shown():
        paths.append(folder / f"{name}.yml")
        paths[-1].write_bytes(content)
    return paths


def expected(path: Path) -> str:
    """The finding that a file says it must have."""
    return path.read_bytes().split(b"\n", 1)[0].decode().removeprefix("# expected: ")

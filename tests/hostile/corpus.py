"""The hostile profiles: files that are read as they are, and larger ones that are made here.

A file under ``refused`` says in its first line which finding it must have; each under ``shown`` is
a whole profile with one text in every field that takes words, and is built into a site.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.hostile import images

HERE = Path(__file__).parent
REFUSED = sorted((HERE / "refused").glob("*.yml"))
SHOWN = sorted((HERE / "shown").glob("*.yml"))
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
    _more("many-photos", "wrong-kind", lambda: "photos:\n" + (
        "- {file: a.jpg, at: b, caption: c, shows: d}\n" * 400)),
]  # fmt: skip

PHOTOS = [
    ("bomb.png", "photo-size", images.bomb),
    ("comment-bomb.png", "photo-content", images.text_bomb),
    ("passes.jpg", "photo-content", images.many_scans),
    ("archive.jpg", "photo-content", images.with_archive),
    ("page.jpg", "photo-content", images.with_page),
    ("paper.jpg", "photo-content", images.with_pdf),
    ("program.png", "photo-content", images.with_php),
    ("moving.webp", "photo-content", images.moving),
    ("drawing.png", "photo-content", images.drawing),
]
"""Photos that mean harm: name, the finding, and what makes the file."""


def expected(path: Path) -> str:
    """The finding that a file says it must have, or ``shown``."""
    return path.read_bytes().split(b"\n", 1)[0].decode().removeprefix("# expected: ")

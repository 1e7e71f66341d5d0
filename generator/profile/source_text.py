"""The text of a profile's file, its places, and why a text may be refused as a whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generator.profile.characters import unfit
from generator.profile.finding import Finding, Place, Severity

LARGEST_BYTES = 256 * 1024


class Refused(Exception):
    """A text that is not read as a profile; carries the one finding that says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


def refusal(rule: str, place: Place, message: str, mend: str = "") -> Refused:
    """The refusal of a text for the one reason that stands at a place."""
    return Refused(Finding(rule, Severity.ERROR, place, message, mend))


@dataclass(frozen=True, slots=True)
class SourceText:
    """A text with the name of its file, and its lines."""

    file: str
    text: str
    lines: tuple[str, ...]

    @property
    def start(self) -> Place:
        """The place of the file as a whole."""
        return Place(self.file, 1, 1)

    def at(self, mark: Any) -> Place:
        """The place of a mark of the YAML parser; the end of the text for one beyond it."""
        if mark is None:
            return self.start
        line = min(mark.line, max(len(self.lines) - 1, 0))
        column = mark.column if line == mark.line else 0
        return Place(self.file, line + 1, column + 1, self.lines[line] if self.lines else "")


def decoded(file: str, content: bytes) -> SourceText:
    """The text in a file's bytes, its lines ended by line feeds.

    Raises:
        Refused: it is too large, not UTF-8, or holds what no profile can.
    """
    start = Place(file, 1, 1)
    if len(content) > LARGEST_BYTES:
        raise refusal(
            "too-large",
            start,
            f"The file is larger than {LARGEST_BYTES // 1024} kB.",
            "Keep photos and logs outside the profile.",
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise refusal(
            "not-text",
            Place(file, line, 1),
            f"Byte {error.start + 1} is not UTF-8 text.",
            "Save the file as plain text in UTF-8.",
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if strange := unfit(text):
        line = text.count("\n", 0, strange.start())
        column = strange.start() - (text.rfind("\n", 0, strange.start()) + 1)
        raise refusal(
            "not-text",
            Place(file, line + 1, column + 1),
            f"The control character U+{ord(strange[0]):04X} does not belong in text.",
            "Delete it, or save the file as plain text in UTF-8.",
        )
    return SourceText(file, text, tuple(text.splitlines()))

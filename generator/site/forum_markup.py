"""How a forum's format writes the blocks of a post, with everything contributed kept text.

No mark of a format survives in a text, and nothing in it is turned into a link or a mention.
Markdown is CommonMark with tables. BBCode has no standard and no escape: an invisible character
breaks what would be a tag.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Sequence
from unicodedata import category

from generator.site.post_blocks import Action, Block, Heading, Items, Paragraph, Table, Warn

_BREAK = "\u200b"


class Markup(ABC):
    """How one format writes a block; `text` makes any text safe to stand in it."""

    @abstractmethod
    def text(self, text: str) -> str:
        """A text in which nothing is a mark of the format."""

    @abstractmethod
    def link(self, label: str, address: str) -> str:
        """A link of ours."""

    @abstractmethod
    def title(self, text: str) -> str:
        """The first line of a post."""

    @abstractmethod
    def heading(self, block: Heading) -> str:
        """A heading."""

    @abstractmethod
    def caution(self, block: Warn) -> str:
        """A caution; its signal word stands out."""

    @abstractmethod
    def items(self, lines: Sequence[str]) -> str:
        """Points in no order."""

    @abstractmethod
    def action(self, block: Action) -> str:
        """A numbered step."""

    @abstractmethod
    def table(self, block: Table) -> str:
        """A table with its caption."""

    def block(self, block: Block) -> str:
        """Any block as text of the format, without a line end after it."""
        match block:
            case Heading():
                return self.heading(block)
            case Paragraph():
                return self.text(block.text)
            case Warn():
                return self.caution(block)
            case Items():
                return self.items(block.lines)
            case Action():
                return self.action(block)
            case Table():
                return self.table(block)


def one_line(text: str) -> str:
    """A text in one line, without characters that control or hide."""
    kept = "".join(each for each in text if category(each) not in ("Cc", "Cf") or each in "\n\t")
    return " ".join(kept.split(" ")).replace("\n", " ").replace("\t", " ").strip()


class PlainText(Markup):
    """Text for anywhere; tables are aligned with spaces."""

    def text(self, text: str) -> str:
        return one_line(text)

    def link(self, label: str, address: str) -> str:
        return f"{label}: {address}"

    def title(self, text: str) -> str:
        return self.text(text)

    def heading(self, block: Heading) -> str:
        text = self.text(block.text)
        return f"{text}\n{'=-~.'[block.level - 1] * len(text)}"

    def caution(self, block: Warn) -> str:
        return f"{block.word}: {' '.join(map(self.text, block.sentences))}"

    def items(self, lines: Sequence[str]) -> str:
        return "\n".join(f"- {self.text(line)}" for line in lines)

    def action(self, block: Action) -> str:
        details = "".join(f"\n   - {self.text(each)}" for each in block.details)
        return f"{block.number}. {self.text(block.text)}{details}"

    def table(self, block: Table) -> str:
        return f"{self.text(block.caption)}\n{self.aligned(block)}"

    def aligned(self, block: Table) -> str:
        """The cells in columns of one width."""
        rows = [[self.text(cell) for cell in row] for row in (block.head, *block.rows)]
        widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
        lines = (
            "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
            for row in rows
        )
        return "\n".join(lines)


class BBCode(PlainText):
    """Bulletin board code: only the tags that every board knows; tables are fixed-width text."""

    _TAG = re.compile(r"\[")
    # Boards make links of addresses, of host names and of names after an at sign by themselves
    _AUTOMATIC = re.compile(r":(?=//)|@|[wW]{3}|(?<=\w)(?=\.[^\W\d])")

    def text(self, text: str) -> str:
        text = self._AUTOMATIC.sub(lambda found: f"{found[0]}{_BREAK}", one_line(text))
        return self._TAG.sub(f"[{_BREAK}", text)

    def link(self, label: str, address: str) -> str:
        return f"[url={address}]{self.text(label)}[/url]"

    def title(self, text: str) -> str:
        return f"[b]{self.text(text)}[/b]"

    def heading(self, block: Heading) -> str:
        text = self.text(block.text)
        bold = f"[b]{text}[/b]"
        return {3: bold, 4: f"[i]{bold}[/i]"}.get(block.level, f"[u]{bold}[/u]")

    def caution(self, block: Warn) -> str:
        return f"[b]{block.word}:[/b] {' '.join(map(self.text, block.sentences))}"

    def items(self, lines: Sequence[str]) -> str:
        return "\n".join(["[list]", *(f"[*]{self.text(line)}" for line in lines), "[/list]"])

    def table(self, block: Table) -> str:
        return f"{self.text(block.caption)}\n[code]\n{self.aligned(block)}\n[/code]"


class Markdown(Markup):
    """CommonMark with tables."""

    _MARKS = re.compile(r"([\\`*_{}\[\]<>#|~&@$^]|:(?=\S))")
    _HOST = re.compile(r"(?<=\w)\.(?=[^\W\d])|(?<=[wW]{3})\.")
    _LIST = re.compile(r"^(\d{0,9})([-+=]|[.)](?=\s|$))")

    def text(self, text: str) -> str:
        # Some renderers look for mail addresses after escapes are gone
        text = self._MARKS.sub(r"\\\1", one_line(text)).replace("@", f"@{_BREAK}")
        return self._LIST.sub(r"\1\\\2", self._HOST.sub(r"\\.", text))

    def link(self, label: str, address: str) -> str:
        return f"[{self.text(label)}](<{address}>)"

    def title(self, text: str) -> str:
        return f"# {self.text(text)}"

    def heading(self, block: Heading) -> str:
        return f"{'#' * (block.level + 1)} {self.text(block.text)}"

    def caution(self, block: Warn) -> str:
        return f"> **{block.word}:** {' '.join(map(self.text, block.sentences))}"

    def items(self, lines: Sequence[str]) -> str:
        return "\n".join(f"- {self.text(line)}" for line in lines)

    def action(self, block: Action) -> str:
        indent = " " * (len(str(block.number)) + 2)
        details = "".join(f"\n{indent}- {self.text(each)}" for each in block.details)
        return f"{block.number}. {self.text(block.text)}{details}"

    def table(self, block: Table) -> str:
        rule = ["---"] * len(block.head)
        rows = (
            f"| {' | '.join(row)} |"
            for row in (
                [self.text(cell) for cell in block.head],
                rule,
                *([self.text(cell) for cell in row] for row in block.rows),
            )
        )
        return f"{self.text(block.caption)}\n\n" + "\n".join(rows)


MARKUPS: dict[str, Markup] = {"bbcode": BBCode(), "markdown": Markdown(), "text": PlainText()}

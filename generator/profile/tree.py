"""YAML text to plain data in which every scalar is text and every value knows its place.

Read with PyYAML's C parser and no implicit resolvers, so that the traps of YAML 1.1 do not
spring: ``no`` stays "no", ``12:30`` stays "12:30", ``012`` stays "012". What a profile has no
use for (anchors, aliases, tags, merge keys, several documents) is refused with one sentence.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import yaml

from generator.profile.characters import as_seen, slip, unfit
from generator.profile.excerpt import named
from generator.profile.finding import Finding, Path, Place, Severity
from generator.profile.line_fault import line_fault
from generator.profile.quotation import typographic_quotes, within_marks
from generator.profile.source_text import Refused, SourceText, decoded, refusal
from generator.profile.syntax import DEEPEST, TOO_DEEP, mark_of, syntax_words

MOST_VALUES = 20_000
MOST_ENTRIES = 500
"""In one list or mapping: far more than a vehicle has, and little enough to check at once."""
_NULLS = frozenset({"", "~", "null", "Null", "NULL"})
_MAY_SHARE = re.compile(r"[&*!]")
_WHOLE_PART = re.compile(r"(.*[^0-9.])?[0-9]+")

Data = str | None | list["Data"] | dict[str, "Data"]
KeyFault = tuple[str, str, str]
"""What is wrong with a key: rule, message, mend."""


class _TextLoader(yaml.CSafeLoader):
    """The C loader without implicit resolvers: every scalar is text.

    Nothing is resolved, so nothing is looked up either: a third of the reading time.
    """

    def resolve(self, kind: type[yaml.Node], value: Any, implicit: Any) -> str:
        return _TAGS[kind]

    def descend_resolver(self, current_node: Any, current_index: Any) -> None:
        pass

    def ascend_resolver(self) -> None:
        pass


_TAGS: dict[type[yaml.Node], str] = {
    yaml.ScalarNode: "tag:yaml.org,2002:str",
    yaml.SequenceNode: "tag:yaml.org,2002:seq",
    yaml.MappingNode: "tag:yaml.org,2002:map",
}


@dataclass(frozen=True, slots=True)
class Document:
    """A profile's text as plain data; ``place`` finds the position of any path in it."""

    file: str
    lines: tuple[str, ...]
    root: yaml.MappingNode
    data: dict[str, Data]

    def place(self, path: Path, *, at_key: bool = False) -> Place:
        """Where a path stands; a path that leads nowhere gives the deepest part that exists.

        With ``at_key`` the place is the key of the last step, not its value.
        """
        node: yaml.Node = self.root
        mark = self.root.start_mark
        for step in path:
            found = _step(node, step)
            if found is None:
                break
            key, node = found
            mark = key.start_mark if key is not None and _shows_at_key(node) else node.start_mark
        else:
            if at_key and path and key is not None:
                mark = key.start_mark
        return self.at(mark.line, mark.column)

    def at(self, line: int, column: int) -> Place:
        """The place of a line and column that count from 0."""
        text = self.lines[line] if line < len(self.lines) else ""
        return Place(self.file, line + 1, column + 1, text)


def _shows_at_key(node: yaml.Node) -> bool:
    """A block collection or an empty value is shown at its key, the rest at the value."""
    if isinstance(node, yaml.ScalarNode):
        return node.value == "" and not node.style
    return isinstance(node, yaml.CollectionNode) and not node.flow_style


def _step(node: yaml.Node, step: str | int) -> tuple[yaml.Node | None, yaml.Node] | None:
    if isinstance(node, yaml.SequenceNode):
        if isinstance(step, int) and step < len(node.value):
            return None, node.value[step]
        return None
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if key.value == str(step):
                return key, value
    return None


def read_tree(file: str, content: bytes) -> tuple[Document, tuple[Finding, ...]]:
    """The document in a file's bytes, and what it says twice or in a way nobody meant.

    Raises:
        Refused: when the content is no single YAML mapping of plain text.
    """
    source = decoded(file, content)
    if _MAY_SHARE.search(source.text):
        _refuse_shared_nodes(source)
    root = _composed(source)
    if root is None:
        raise refusal(
            "empty-file",
            source.start,
            "The file holds no profile.",
            "Start with `format: 2` and `vehicle:`.",
        )
    if not isinstance(root, yaml.MappingNode):
        raise refusal(
            "not-a-profile",
            source.at(root.start_mark),
            "A profile is a mapping of keys to values; this is something else.",
            "Start with `format: 2` and `vehicle:`.",
        )
    if sum(map(source.text.count, (":", ",", "- "))) > MOST_VALUES:
        raise _crowd(source.start, MOST_VALUES, "values stand in the file")
    reader = _NodeReader(source, [])
    data = reader.mapping(root, 0)
    return Document(file, source.lines, root, data), tuple(reader.findings)


def _crowd(place: Place, most: int, what: str) -> Refused:
    message = f"More than {most} {what}."
    return refusal("too-large", place, message, "A profile describes one vehicle.")


def _composed(source: SourceText) -> yaml.Node | None:
    try:
        return yaml.compose(source.text, Loader=_TextLoader)
    except yaml.MarkedYAMLError as error:
        if fault := line_fault(error, source.lines):
            raise refusal("yaml-syntax", source.at(fault), fault.message, fault.mend) from None
        place = source.at(mark_of(error))
        raise refusal("yaml-syntax", place, *syntax_words(error, place)) from None
    except yaml.reader.ReaderError as error:
        raise refusal(
            "not-text",
            source.start,
            f"The character U+{error.character:04X} does not belong in text.",
            "Delete it.",
        ) from None


def _refuse_shared_nodes(source: SourceText) -> None:
    """Anchors, aliases and tags are refused before anything is composed from them."""
    try:
        event: Any
        for event in yaml.parse(source.text, Loader=_TextLoader):
            place = source.at(event.start_mark)
            if isinstance(event, yaml.AliasEvent):
                raise refusal(
                    "no-alias",
                    place,
                    f"`*{event.anchor}` repeats another value.",
                    "Write the value out; a profile has no aliases. "
                    "Text that begins with * goes in quotes.",
                )
            if getattr(event, "anchor", None):
                raise refusal(
                    "no-alias",
                    place,
                    f"`&{event.anchor}` names a value for repeating.",
                    "Delete the name; a profile has no anchors. "
                    "Text that begins with & goes in quotes.",
                )
            if getattr(event, "tag", None):
                raise refusal(
                    "no-tag",
                    place,
                    f"`{place.text[place.column - 1 :].split()[0]}` is a YAML tag.",
                    "Delete it; text that begins with ! goes in quotes.",
                )
    except yaml.YAMLError:
        return  # the composer words this fault, with its place


@dataclass(frozen=True, slots=True)
class _NodeReader:
    """Makes plain data of YAML's nodes, and finds what nobody meant on the way."""

    source: SourceText
    findings: list[Finding]

    def data(self, node: yaml.Node, depth: int) -> Data:
        """What stands under a node that has so many above it."""
        if isinstance(node, yaml.ScalarNode):
            if not (node.value.isascii() and node.value.isprintable()):
                self.clean(node)
            return None if not node.style and node.value in _NULLS else node.value
        if isinstance(node, yaml.MappingNode):
            return self.mapping(node, depth)
        self.limit(node, depth)
        return [self.data(item, depth + 1) for item in node.value]

    def mapping(self, node: yaml.MappingNode, depth: int) -> dict[str, Data]:
        """What stands under a mapping, each key once."""
        self.limit(node, depth)
        data: dict[str, Data] = {}
        last: str | None = None
        for key, value in node.value:
            if isinstance(key, yaml.ScalarNode) and not key.value.isprintable():
                self.clean(key)
            fault = _key_fault(key, data, node)
            before = data.get(last or "")
            if node.flow_style and last and isinstance(before, str) and _is_half(key, value):
                if _WHOLE_PART.fullmatch(before) and key.value[:1].isdigit():
                    # Read on with what was meant, so that the half value is no second finding
                    data[last] = f"{before}.{key.value}"
                    fault = _decimal_comma(before, key.value)
                elif " " in key.value or within_marks(f"{before}, {key.value}"):
                    data[last] = f"{before}, {key.value}"
                    fault = _comma_in_braces(before, key.value)
            if fault:
                rule, message, mend = fault
                place = self.source.at(key.start_mark)
                self.findings.append(Finding(rule, Severity.ERROR, place, message, mend))
            else:
                last = key.value
                data[last] = self.data(value, depth + 1)
        return data

    def limit(self, node: yaml.Node, depth: int) -> None:
        """Refuse what is longer or deeper than the description of one vehicle."""
        if len(node.value) > MOST_ENTRIES:
            raise _crowd(self.source.at(node.start_mark), MOST_ENTRIES, "entries stand here")
        if depth >= DEEPEST:
            raise refusal("yaml-syntax", self.source.at(node.start_mark), *TOO_DEEP)

    def clean(self, node: yaml.ScalarNode) -> None:
        """Leave out of a word what is not seen, or encloses it as YAML does not, and say so.

        Raises:
            Refused: a code in double quotes writes what the file itself cannot hold.
        """
        place = self.source.at(node.start_mark)
        if strange := unfit(node.value):
            raise refusal(
                "not-text",
                place,
                f"A code writes the control character U+{ord(strange[0]):04X} here.",
                "Delete it, or put the text in single quotes, where a backslash is a backslash.",
            )
        if found := slip(node.value):
            self.findings.append(
                Finding(
                    "unseen-character",
                    Severity.WARNING,
                    place,
                    f"U+{ord(found[0]):04X} stands in this text and is not seen; it is left out.",
                    "Delete it, or let `sondebook check --fix` do so.",
                )
            )
        node.value = as_seen(node.value)
        if not node.style and (inner := within_marks(node.value)):
            self.findings.append(typographic_quotes(place, node.value))
            node.value, node.style = inner, '"'


def _key_fault(key: yaml.Node, earlier: dict[str, Data], node: yaml.MappingNode) -> KeyFault | None:
    if not isinstance(key, yaml.ScalarNode):
        return "wrong-kind", "A key is one word, not a list or a mapping.", "Write a word."
    if key.value == "<<" and not key.style:
        return "no-alias", "`<<` merges another mapping in.", "Write the keys out."
    if key.value in earlier:
        same = (other for other, _ in node.value if other.value == key.value)
        first = next(same).start_mark.line + 1
        return (
            "duplicate-key",
            f"{named(key.value)} stands here twice.",
            f"Keep one of the two; the first is in line {first}.",
        )
    return None


def _is_half(key: yaml.Node, value: yaml.Node) -> bool:
    """Whether a comma inside braces may have made a key of the second half of a value."""
    if not isinstance(key, yaml.ScalarNode) or not isinstance(value, yaml.ScalarNode):
        return False
    return value.value == "" and not value.style


def _decimal_comma(before: str, after: str) -> KeyFault:
    return (
        "decimal-comma",
        f"A comma inside {{ }} ends the value: `{before},{after}` is read as two entries.",
        f"Write `{before}.{after}`.",
    )


def _comma_in_braces(before: str, after: str) -> KeyFault:
    return (
        "comma-in-braces",
        f"A comma inside {{ }} ends the value: `{before}, {after}` is read as two entries.",
        "Put the text in straight quotes.",
    )

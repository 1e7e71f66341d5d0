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
from generator.profile.finding import Finding, Path, Place, Severity

LARGEST_BYTES = 256 * 1024
DEEPEST = 20
MOST_VALUES = 20_000
MOST_ENTRIES = 500
"""In one list or mapping: far more than a vehicle has, and little enough to check at once."""
_LONGEST_SHOWN = 60
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


class Refused(Exception):
    """A text that is not read as a profile; carries the one finding that says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


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
    text = _decoded(file, content)
    lines = tuple(text.splitlines())
    if _MAY_SHARE.search(text):
        _refuse_shared_nodes(file, lines, text)
    root = _composed(file, lines, text)
    if root is None:
        raise _refusal(
            "empty-file",
            Place(file, 1, 1),
            "The file holds no profile.",
            "Start with `format: 2` and `vehicle:`.",
        )
    if not isinstance(root, yaml.MappingNode):
        raise _refusal(
            "not-a-profile",
            _at(file, lines, root.start_mark),
            "A profile is a mapping of keys to values; this is something else.",
            "Start with `format: 2` and `vehicle:`.",
        )
    if text.count(":") + text.count(",") + text.count("- ") > MOST_VALUES:
        raise _crowd(Place(file, 1, 1), MOST_VALUES, "values stand in the file")
    findings: list[Finding] = []
    data = _plain(root, file, lines, findings, 0)
    assert isinstance(data, dict)
    return Document(file, lines, root, data), tuple(findings)


def _refusal(rule: str, place: Place, message: str, mend: str = "") -> Refused:
    return Refused(Finding(rule, Severity.ERROR, place, message, mend))


def _at(file: str, lines: tuple[str, ...], mark: Any) -> Place:
    if mark is None:
        return Place(file, 1, 1)
    line = min(mark.line, max(len(lines) - 1, 0))
    column = mark.column if line == mark.line else 0
    return Place(file, line + 1, column + 1, lines[line] if lines else "")


def _decoded(file: str, content: bytes) -> str:
    start = Place(file, 1, 1)
    if len(content) > LARGEST_BYTES:
        raise _refusal(
            "too-large",
            start,
            f"The file is larger than {LARGEST_BYTES // 1024} kB.",
            "Keep photos and logs outside the profile.",
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise _refusal(
            "not-text",
            Place(file, line, 1),
            f"Byte {error.start + 1} is not UTF-8 text.",
            "Save the file as plain text in UTF-8.",
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if strange := unfit(text):
        line = text.count("\n", 0, strange.start())
        column = strange.start() - (text.rfind("\n", 0, strange.start()) + 1)
        raise _refusal(
            "not-text",
            Place(file, line + 1, column + 1),
            f"The control character U+{ord(strange[0]):04X} does not belong in text.",
            "Delete it, or save the file as plain text in UTF-8.",
        )
    return text


def _crowd(place: Place, most: int, what: str) -> Refused:
    message = f"More than {most} {what}."
    return _refusal("too-large", place, message, "A profile describes one vehicle.")


def _composed(file: str, lines: tuple[str, ...], text: str) -> yaml.Node | None:
    try:
        return yaml.compose(text, Loader=_TextLoader)
    except yaml.MarkedYAMLError as error:
        place = _at(file, lines, _mark_of(error))
        message, mend = _syntax_words(error, place)
        raise _refusal("yaml-syntax", place, message, mend) from None
    except yaml.reader.ReaderError as error:
        raise _refusal(
            "not-text",
            Place(file, 1, 1),
            f"The character U+{error.character:04X} does not belong in text.",
            "Delete it.",
        ) from None


def _mark_of(error: yaml.MarkedYAMLError) -> yaml.Mark | None:
    """Where something was opened and not closed; otherwise where the parser stopped."""
    opened, stopped = error.context_mark, error.problem_mark
    is_open = "quoted scalar" in (error.context or "") or "flow" in (error.context or "")
    is_elsewhere = opened and stopped and opened.line != stopped.line
    return opened if is_open and is_elsewhere else stopped


_SYNTAX_WORDS = (
    (
        "another document",
        "A profile is one document; `---` starts a second one.",
        "Use one file a vehicle.",
    ),
    (
        "mapping values are not allowed",
        "A colon with a space after it starts a value, and none can start here.",
        "Put text that holds a colon in quotes, or mend the indentation; "
        "perhaps the line above has no space after its colon.",
    ),
    ("cannot start any token", "This character cannot begin a value.", "Put the value in quotes."),
    (
        "scanning an alias",
        "A value that begins with * repeats another value, and a profile has no aliases.",
        "Put the text in quotes.",
    ),
    (
        "scanning an anchor",
        "A value that begins with & names it for repeating, and a profile has no anchors.",
        "Put the text in quotes.",
    ),
    (
        "scanning a tag",
        "A value that begins with ! is a YAML tag, and a profile has none.",
        "Put the text in quotes.",
    ),
    (
        "tag handle",
        "A value that begins with ! is a YAML tag, and a profile has none.",
        "Put the text in quotes.",
    ),
    (
        "escape",
        "A backslash inside double quotes begins a code, and this is none.",
        "Put the text in single quotes, or write two backslashes.",
    ),
    ("nesting", f"Nested deeper than {DEEPEST} levels.", "A profile needs at most six."),
    ("quoted scalar", "A quotation mark is opened and never closed.", "Close it on the same line."),
    (
        "expected <block end>",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "did not find expected key",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "expected '-' indicator",
        "The indentation does not fit the lines above.",
        "Line it up with its neighbours.",
    ),
    (
        "flow",
        "A bracket is never closed, a comma is missing, or text holds a colon.",
        "Close the bracket, put the comma in, or put the text in quotes.",
    ),
)
"""A sign in the parser's own words -> the words of someone who has not read the YAML standard."""


def _syntax_words(error: yaml.MarkedYAMLError, place: Place) -> tuple[str, str]:
    before = place.text[: place.column]
    if "\t" in before and not before.replace("\t", "").strip():
        return "A tab cannot indent YAML.", "Indent with two spaces."
    said = f"{error.problem} {error.context}"
    for sign, message, mend in _SYNTAX_WORDS:
        if sign in said:
            return message, mend
    return f"This is not YAML: {error.problem}.", "Look at this line and the one above it."


def _refuse_shared_nodes(file: str, lines: tuple[str, ...], text: str) -> None:
    """Anchors, aliases and tags are refused before anything is composed from them."""
    try:
        event: Any
        for event in yaml.parse(text, Loader=_TextLoader):
            place = _at(file, lines, event.start_mark)
            if isinstance(event, yaml.AliasEvent):
                raise _refusal(
                    "no-alias",
                    place,
                    f"`*{event.anchor}` repeats another value.",
                    "Write the value out; a profile has no aliases. "
                    "Text that begins with * goes in quotes.",
                )
            if getattr(event, "anchor", None):
                raise _refusal(
                    "no-alias",
                    place,
                    f"`&{event.anchor}` names a value for repeating.",
                    "Delete the name; a profile has no anchors. "
                    "Text that begins with & goes in quotes.",
                )
            if getattr(event, "tag", None):
                raise _refusal(
                    "no-tag",
                    place,
                    f"`{place.text[place.column - 1 :].split()[0]}` is a YAML tag.",
                    "Delete it; text that begins with ! goes in quotes.",
                )
    except yaml.YAMLError:
        return  # the composer words this fault, with its place


def _plain(
    node: yaml.Node, file: str, lines: tuple[str, ...], findings: list[Finding], depth: int
) -> Data:
    if isinstance(node, yaml.ScalarNode):
        if not (node.value.isascii() and node.value.isprintable()):
            _clean(node, file, lines, findings)
        return None if not node.style and node.value in _NULLS else node.value
    if len(node.value) > MOST_ENTRIES:
        raise _crowd(_at(file, lines, node.start_mark), MOST_ENTRIES, "entries stand here")
    if depth >= DEEPEST:
        raise _refusal(
            "yaml-syntax",
            _at(file, lines, node.start_mark),
            f"Nested deeper than {DEEPEST} levels.",
            "A profile needs at most six.",
        )
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, file, lines, findings, depth + 1) for item in node.value]
    assert isinstance(node, yaml.MappingNode)
    data: dict[str, Data] = {}
    last: str | None = None
    for key, value in node.value:
        if isinstance(key, yaml.ScalarNode) and not key.value.isprintable():
            _clean(key, file, lines, findings)
        fault = _key_fault(key, data)
        before = data.get(last or "")
        if node.flow_style and last and isinstance(before, str) and _is_half(key, value):
            if _WHOLE_PART.fullmatch(before) and key.value[:1].isdigit():
                # Read on with what was meant, so that the half value is no second finding
                data[last] = f"{before}.{key.value}"
                fault = _decimal_comma(before, key.value)
            elif " " in key.value:
                data[last] = f"{before}, {key.value}"
                fault = _comma_in_braces(before, key.value)
        if fault:
            rule, message, mend = fault
            findings.append(
                Finding(rule, Severity.ERROR, _at(file, lines, key.start_mark), message, mend)
            )
        else:
            last = key.value
            data[last] = _plain(value, file, lines, findings, depth + 1)
    return data


def _clean(
    node: yaml.ScalarNode, file: str, lines: tuple[str, ...], findings: list[Finding]
) -> None:
    """Leave out of a word what is not seen, and say so.

    Raises:
        Refused: a code in double quotes writes what the file itself cannot hold.
    """
    place = _at(file, lines, node.start_mark)
    if strange := unfit(node.value):
        raise _refusal(
            "not-text",
            place,
            f"A code writes the control character U+{ord(strange[0]):04X} here.",
            "Delete it, or put the text in single quotes, where a backslash is a backslash.",
        )
    if found := slip(node.value):
        findings.append(
            Finding(
                "unseen-character",
                Severity.WARNING,
                place,
                f"U+{ord(found[0]):04X} stands in this text and is not seen; it is left out.",
                "Delete it, or let `sondebook check --fix` do so.",
            )
        )
    node.value = as_seen(node.value)


def _key_fault(key: yaml.Node, earlier: dict[str, Data]) -> KeyFault | None:
    if not isinstance(key, yaml.ScalarNode):
        return "wrong-kind", "A key is one word, not a list or a mapping.", "Write a word."
    if key.value == "<<" and not key.style:
        return "no-alias", "`<<` merges another mapping in.", "Write the keys out."
    if key.value in earlier:
        return (
            "duplicate-key",
            f"`{key.value[:_LONGEST_SHOWN]}` stands here twice.",
            "Keep one of the two.",
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
        "Put the text in quotes.",
    )


def last_line(node: yaml.Node) -> int | None:
    """The line a value ends on; None where it ends in block text, whose end no mark tells."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    if isinstance(node, yaml.ScalarNode) and node.style in ("|", ">"):
        return None
    return int(node.end_mark.line)

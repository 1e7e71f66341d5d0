"""Readings put into the text of a profile, so that its comments and its layout stay."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import yaml

from generator.profile.nodes import last_line
from generator.profile.sensor_model import Sensor
from generator.profile.tree import Document

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
_BEFORE_READINGS = list(Sensor.model_fields)[: list(Sensor.model_fields).index("readings")]


@dataclass(frozen=True, slots=True)
class Insertion:
    """Text for one place: inside a line at a column, or, without column, lines before that line.

    Lines and columns count from 0.
    """

    line: int
    column: int | None
    texts: tuple[str, ...]

    def into(self, content: bytes) -> bytes:
        """The content with this put in; every other byte stays, line ends included."""
        has_mark = content.startswith(b"\xef\xbb\xbf")
        lines = _LINE.findall(content.decode("utf-8-sig"))
        if self.column is not None:
            line = lines[self.line]
            middle = "".join(self.texts)
            lines[self.line] = line[: self.column] + middle + line[self.column :]
        else:
            ended = _line_end(lines[0])
            if self.line >= len(lines) and not lines[-1].endswith(("\r", "\n")):
                lines[-1] += ended
            lines[self.line : self.line] = [f"{text}{ended}" for text in self.texts]
        return (b"\xef\xbb\xbf" if has_mark else b"") + "".join(lines).encode()


def readings_insertion(document: Document, sensor: int, items: Sequence[str]) -> Insertion:
    """Where the readings of a sensor, counted from 0, go in, each a mapping in braces."""
    node = _value(_value(document.root, "sensors"), sensor)
    assert isinstance(node, yaml.MappingNode)
    readings = _value(node, "readings")
    if isinstance(readings, yaml.SequenceNode):
        return _into_list(readings, items)
    if node.flow_style:
        end = node.value[-1][1].end_mark
        return Insertion(end.line, end.column, (f", readings: [{', '.join(items)}]",))
    indent = " " * node.start_mark.column
    lines = (f"{indent}readings:", *(f"{indent}  - {item}" for item in items))
    return Insertion(_line_after_neighbour(node), None, lines)


def _into_list(readings: yaml.SequenceNode, items: Sequence[str]) -> Insertion:
    start = readings.start_mark
    if not readings.value:
        return Insertion(start.line, start.column + 1, (", ".join(items),))
    if readings.flow_style:
        end = readings.value[-1].end_mark
        return Insertion(end.line, end.column, tuple(f", {item}" for item in items))
    lines = tuple(f"{' ' * start.column}- {item}" for item in items)
    last = last_line(readings)
    return Insertion(start.line if last is None else last + 1, None, lines)


def _line_after_neighbour(sensor: yaml.MappingNode) -> int:
    """The line under the last of the keys that the model names before `readings`."""
    ends = [last_line(value) for key, value in sensor.value if key.value in _BEFORE_READINGS]
    return max(end for end in ends if end is not None) + 1


def _value(node: yaml.Node | None, step: str | int) -> yaml.Node | None:
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int):
        found = node.value[step]
        assert isinstance(found, yaml.Node)
        return found
    if isinstance(node, yaml.MappingNode):
        return next((value for key, value in node.value if key.value == step), None)
    return None


def _line_end(line: str) -> str:
    return line[len(line.rstrip("\r\n")) :] or "\n"

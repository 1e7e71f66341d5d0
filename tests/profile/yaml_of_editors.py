"""YAML as editors read it, by the core schema of YAML 1.2: numbers are numbers."""

from __future__ import annotations

import re
from typing import Any

import yaml

_CORE = (
    (re.compile(r"~|null|Null|NULL|"), lambda text: None),
    (re.compile(r"true|True|TRUE|false|False|FALSE"), lambda text: text.lower() == "true"),
    (re.compile(r"[-+]?[0-9]+"), int),
    (re.compile(r"0o[0-7]+"), lambda text: int(text[2:], 8)),
    (re.compile(r"0x[0-9a-fA-F]+"), lambda text: int(text, 16)),
    (re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"), float),
)


def data_of(text: str) -> Any:
    """The data of a YAML text; every key is text, as JSON wants it."""
    return _plain(yaml.compose(text, Loader=yaml.CBaseLoader))


def _plain(node: yaml.Node) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {key.value: _plain(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item) for item in node.value]
    if not node.style:
        for pattern, read in _CORE:
            if pattern.fullmatch(node.value):
                return read(node.value)
    return node.value

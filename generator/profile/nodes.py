"""YAML nodes as a tree: the values below one, and the line that it ends on."""

from __future__ import annotations

from collections.abc import Iterator

import yaml

from generator.profile.finding import Path


def values(node: yaml.Node, path: Path = ()) -> Iterator[tuple[Path, yaml.ScalarNode]]:
    """Every value below a node, with the way to it."""
    if isinstance(node, yaml.ScalarNode):
        yield path, node
    elif isinstance(node, yaml.SequenceNode):
        for index, item in enumerate(node.value):
            yield from values(item, (*path, index))
    elif isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield from values(value, (*path, str(key.value)))


def last_line(node: yaml.Node) -> int | None:
    """The line a value ends on; None where it ends in block text, whose end no mark tells."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    if isinstance(node, yaml.ScalarNode) and node.style in ("|", ">"):
        return None
    return int(node.end_mark.line)

"""Ways through the model: from a path to its part, and along YAML nodes to what they become."""

from __future__ import annotations

from collections.abc import Iterator
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

import yaml

from generator.profile.dimension import DIMENSIONS, Dimension
from generator.profile.finding import Path
from generator.profile.model import Profile
from generator.profile.part import Part, Stated

_DIMENSION_OF: dict[Any, Dimension[Any]] = {each.value: each for each in DIMENSIONS}


def part_nodes(
    node: yaml.Node, kind: Any = Profile, path: Path = ()
) -> Iterator[tuple[Path, yaml.MappingNode, type[Part]]]:
    """Every mapping that is read into a part, outer ones first, with its path."""
    kind = _bare(kind)
    if _is_part(kind) and isinstance(node, yaml.MappingNode):
        yield path, node, kind
    for step, inner, inner_kind in _within(node, kind):
        yield from part_nodes(inner, inner_kind, (*path, step))


def quantity_nodes(
    node: yaml.Node, kind: Any = Profile
) -> Iterator[tuple[yaml.ScalarNode, Dimension[Any]]]:
    """Every scalar that states a quantity, and of which dimension."""
    kind = _bare(kind)
    if isinstance(node, yaml.ScalarNode):
        if _is_part(kind) and issubclass(kind, Stated):
            kind = _bare(kind.model_fields["value"].annotation)
        if kind in _DIMENSION_OF:
            yield node, _DIMENSION_OF[kind]
    for _, inner, inner_kind in _within(node, kind):
        yield from quantity_nodes(inner, inner_kind)


def part_at(path: Path) -> type[Part] | None:
    """The part of the model that a path in a profile leads to, or None for a plain value."""
    kind: Any = Profile
    for step in path:
        if _is_part(kind):
            field = kind.model_fields.get(str(step))
            kind = _bare(field.annotation) if field else None
        else:
            # An item of a list, or a value of a mapping under a name of the contributor's
            kind = next(reversed(get_args(kind)), None)
    return kind if _is_part(kind) else None


def _within(node: yaml.Node, kind: Any) -> Iterator[tuple[str | int, yaml.Node, Any]]:
    if isinstance(node, yaml.SequenceNode) and get_origin(kind) is list:
        for index, item in enumerate(node.value):
            yield index, item, get_args(kind)[-1]
    elif isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                continue
            if _is_part(kind) and key.value in kind.model_fields:
                yield key.value, value, kind.model_fields[key.value].annotation
            elif get_origin(kind) is dict:
                yield key.value, value, get_args(kind)[-1]


def _bare(kind: Any) -> Any:
    """A type without ``| None`` and ``Annotated``."""
    if get_origin(kind) is Annotated:
        return _bare(get_args(kind)[0])
    if get_origin(kind) in (Union, UnionType):
        (only,) = (each for each in get_args(kind) if each is not NoneType)
        return _bare(only)
    return kind


def _is_part(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, Part)

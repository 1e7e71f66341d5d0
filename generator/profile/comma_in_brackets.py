"""A comma in a sentence inside `[ ]`, which YAML makes the end of an entry of."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import get_args

import yaml

from generator.profile.excerpt import named
from generator.profile.fields import Prose
from generator.profile.finding import Finding, Path, Severity
from generator.profile.model_walk import part_at
from generator.profile.tree import Document

_END_MARK = re.compile(r"[.!?…][)\]\"'»”’]*\Z")


def commas_in_brackets(document: Document) -> Iterator[Finding]:
    """A warning for each list of sentences in brackets of which a comma seems to break one."""
    for path, node in _lists_in_brackets(document.root):
        broken = next(_broken(node), None)
        if broken is None or not _holds_sentences(path):
            continue
        before, after = broken
        yield Finding(
            "comma-in-brackets",
            Severity.WARNING,
            document.at(after.start_mark.line, after.start_mark.column),
            "A comma inside [ ] ends an entry: "
            f"{named(f'{before.value}, {after.value}')} is read as two entries.",
            "Write each entry in a line of its own that begins with `- `, "
            "or put it in straight quotes.",
        )


def _lists_in_brackets(node: yaml.Node, path: Path = ()) -> Iterator[tuple[Path, yaml.Node]]:
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield from _lists_in_brackets(value, (*path, str(key.value)))
    elif isinstance(node, yaml.SequenceNode):
        if node.flow_style:
            yield path, node
        for index, item in enumerate(node.value):
            yield from _lists_in_brackets(item, (*path, index))


def _holds_sentences(path: Path) -> bool:
    part = part_at(path[:-1])
    field = part.model_fields.get(str(path[-1])) if part else None
    return field is not None and Prose in get_args(field.annotation)


def _broken(node: yaml.Node) -> Iterator[tuple[yaml.ScalarNode, yaml.ScalarNode]]:
    """Neighbours in brackets that seem to be one sentence: neither is quoted, and it goes on.

    It does where only a later entry has an end mark, or where the first entry begins with a
    capital and the next one does not.
    """
    if not node.value:
        return
    first, last = node.value[0], node.value[-1]
    for before, after in pairwise(node.value):
        if not all(
            isinstance(each, yaml.ScalarNode) and not each.style for each in (before, after)
        ):
            continue
        goes_on = str(first.value)[:1].isupper() and after.value[:1].islower()
        if not _END_MARK.search(before.value) and (goes_on or _END_MARK.search(str(last.value))):
            yield before, after


def _is_plain(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.style

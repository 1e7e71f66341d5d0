"""A comma in a sentence inside `[ ]`, which YAML makes the end of an entry of."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import get_args

import yaml

from generator.profile.excerpt import named
from generator.profile.fields import Prose
from generator.profile.finding import Finding, Severity
from generator.profile.model_walk import part_nodes
from generator.profile.tree import Document

_END_MARK = re.compile(r"[.!?…][)\]\"'»”’]*\Z")


def commas_in_brackets(document: Document) -> Iterator[Finding]:
    """A warning for each list of sentences in brackets of which a comma seems to break one."""
    for _, node, part in part_nodes(document.root):
        for key, value in node.value:
            field = part.model_fields.get(str(key.value))
            if field is None or Prose not in get_args(field.annotation):
                continue
            for before, after in _broken(value):
                mark = after.start_mark
                yield Finding(
                    "comma-in-brackets",
                    Severity.WARNING,
                    document.at(mark.line, mark.column),
                    "A comma inside [ ] ends an entry: "
                    f"{named(f'{before.value}, {after.value}')} is read as two entries.",
                    "Write each entry in a line of its own that begins with `- `, "
                    "or put it in straight quotes.",
                )
                break


def _broken(node: yaml.Node) -> Iterator[tuple[yaml.ScalarNode, yaml.ScalarNode]]:
    """Neighbours in brackets that seem to be one sentence: neither is quoted, and it goes on.

    It does where only a later entry has an end mark, or where the first entry begins with a
    capital and the next one does not.
    """
    if not isinstance(node, yaml.SequenceNode) or not node.flow_style or not node.value:
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

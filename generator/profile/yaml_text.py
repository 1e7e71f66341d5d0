"""Plain data written as YAML, as the profiles are: two spaces, short lists in brackets."""

from __future__ import annotations

from typing import Any

import yaml


class _Dumper(yaml.SafeDumper):
    """The dumper that also indents a list below its key, and repeats instead of referring back."""

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> None:
        super().increase_indent(flow, False)

    def ignore_aliases(self, data: Any) -> bool:
        return True

    def represent_sequence(self, tag: str, sequence: Any, flow_style: Any = None) -> Any:
        node = super().represent_sequence(tag, sequence, flow_style)
        if self.default_flow_style is None and any(_is_sentence(each) for each in sequence):
            node.flow_style = False  # A comma would end it in brackets
        return node


def block(data: Any) -> list[str]:
    """The lines of data, what holds only plain values in brackets or braces, but sentences."""
    return _dumped(data, flow=None).splitlines()


def flow(data: Any) -> str:
    """Data in one line, in brackets, braces and quotes where it needs them."""
    return _dumped(data, flow=True)


def _is_sentence(value: Any) -> bool:
    return isinstance(value, str) and value.endswith(".")


def _dumped(data: Any, flow: bool | None) -> str:
    text: str = yaml.dump(
        data,
        Dumper=_Dumper,
        allow_unicode=True,
        default_flow_style=flow,
        sort_keys=False,
        width=float("inf"),
    )
    return text.removesuffix("...\n").rstrip("\n")

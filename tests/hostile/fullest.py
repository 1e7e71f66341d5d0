"""The fullest model profile with values put in, found by a walk over the model.

So a key that the format gains is attacked in the same change, without anybody writing a case.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

import yaml
from pydantic import StringConstraints

from generator.profile.model import Profile
from generator.profile.part import Part

FULLEST = Path(__file__).parents[2] / "docs/models/fullest.yml"
PHOTO = "photos/sensor-from-below.png"
ANY, NAME = "*", "(name)"
"""In a way through the model: any item of a list or mapping; the name that such an item has."""

BOUND = {
    "photos.at",
    "guide.discussion",
    "connectors.pins.sensor_wire",
    "connectors.pins.harness_wire",
}
"""Texts that are not free: they must name something in the profile, a page or a colour."""

Way = tuple[Any, ...]


def leaves(
    kind: Any = Profile, path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], bool]]:
    """The way to every plain value of the model, and whether it is text."""
    is_text = False
    while get_origin(kind) in (Annotated, Union, UnionType):
        is_text |= any(isinstance(each, StringConstraints) for each in get_args(kind)[1:])
        kind = next(each for each in get_args(kind) if each is not NoneType)
    if isinstance(kind, type) and issubclass(kind, Part):
        for name, each in kind.model_fields.items():
            # Pydantic keeps the outermost annotations of a field apart
            texts = any(isinstance(mark, StringConstraints) for mark in each.metadata)
            for way, text in leaves(each.annotation, (*path, name)):
                yield way, text or (texts and way == (*path, name))
    elif get_origin(kind) in (list, tuple, dict):
        if get_origin(kind) is dict:
            yield (*path, NAME), False
        yield from leaves(get_args(kind)[-1], (*path, ANY))
    else:
        yield path, is_text


def called(path: tuple[str, ...]) -> str:
    """A model's way in short: ``sensors.place.where``."""
    return ".".join(step for step in path if step != ANY)


@cache
def places() -> Mapping[str, tuple[Way, bool]]:
    """Where every plain value of the model stands in the fullest profile, and if it is free text.

    Raises:
        AssertionError: the fullest profile does not hold one of them.
    """
    found = {}
    for path, is_text in leaves():
        way, name = _place_of(_fullest(), path), called(path)
        assert way is not None, f"{name} is not in {FULLEST.name}"
        found[name] = way, is_text and name not in BOUND
    return found


def put(place: str, value: Any) -> bytes:
    """The fullest profile with one value changed."""
    return profile({places()[place][0]: value})


def put_everywhere(text: str) -> bytes:
    """The fullest profile with the same words wherever words are free."""
    return profile({way: text for way, is_free in places().values() if is_free})


def profile(changes: Mapping[Way, Any]) -> bytes:
    """The fullest profile with some values put in; at ``NAME`` a name is changed."""
    data = copy.deepcopy(_fullest())
    for way, value in changes.items():
        part = data
        for step in way[:-1]:
            part = part[step]
        if way[-1] == NAME:
            part[value] = part.pop(next(iter(part)))
        else:
            part[way[-1]] = value
    text = yaml.dump(data, Dumper=_Plain, allow_unicode=True, sort_keys=False, width=10**6)
    return text.encode("utf-8", errors="surrogatepass")


def _place_of(data: Any, path: tuple[str, ...]) -> Way | None:
    """The first place in a profile's data that a way through the model leads to."""
    if not path:
        return ()
    step, *rest = path
    if step == NAME:
        return (NAME,)
    steps: list[Any] = [step] if isinstance(data, dict) and step in data else []
    if step == ANY:
        steps = list(data) if isinstance(data, dict) else list(range(len(data)))
    for each in steps:
        found = _place_of(data[each], tuple(rest))
        if found is not None:
            return (each, *found)
    return None


@cache
def _fullest() -> Any:
    # Text as it is written, so that no number is changed on the way
    return yaml.load(FULLEST.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)


class _Plain(yaml.CSafeDumper):
    """Writes YAML without aliases, which a profile may not have."""

    def ignore_aliases(self, data: Any) -> bool:
        return True

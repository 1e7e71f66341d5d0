"""The schema of the form that writes a profile in a browser, made from the JSON Schema.

A form library shows fields, lists and groups; a profile has mappings under names, values with a
source, lists in one line. So each such value becomes what a form can show, with the word at
``x-as`` for how it is written into a profile again:

``whole`` and ``decimal``: a number from text. ``numbers``: a list from text with commas, blanks or
spans; ``names``: one from text with commas. ``pair``: two numbers from such text. ``map``: a
mapping from a list whose items have `NAME_KEY`; ``values``: the same, where each item has only a
value besides. ``stated``: the value alone where nothing stands beside it.

What a pattern cannot judge is judged by a script: the dimension of a quantity stands at
``x-quantity``, the key of the names that may stand here at ``x-of``; ``x-judged`` says what else.

Everything is asked for as text, so that nothing is filled in that nobody said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from gettext import NullTranslations
from typing import Any

from generator.profile.dimension import DIMENSIONS
from generator.profile.fields import DECIMAL_PATTERN
from generator.profile.schema import profile_schema, quantity_wanted

Schema = dict[str, Any]

NAME_KEY = "_name"
"""The key of an item that holds the name it has in a mapping; no key of a profile begins so."""

START: Mapping[str, Any] = {
    "steering": [],
    "banks": [{NAME_KEY: "1", "side": ""}],
    "sensors": [{"bank": "1", "position": "1"}],
}
"""What the form begins with: one bank and one sensor."""

_FOR_A_READER = frozenset(
    {
        "title",
        "description",
        "x-arrayFooterAddContent",
        "x-arrayDeleteContent",
        "x-propertiesToggleContent",
    }
)
_WITHOUT = frozenset({"format"})
_ASKED_AT_ONCE = frozenset({"side"})
"""Keys that may be left out, and yet are asked for at once, as ``sondebook new`` does."""
_NOTHING_CHOSEN = "choose"
_MOST_CHOICES = 16
_NAMES_OF = {
    "behind": "obstacles",
    "under": "obstacles",
    "face": "connectors",
    "fuse": "fuses",
    "source": "sources",
    "bank": "banks",
}
"""Keys whose values are names, and the key that declares these names."""
_JUDGED = frozenset({"years", "wires"})
_QUANTITIES = {quantity_wanted(each): each.name for each in DIMENSIONS}
_ITEM = "{{ i1 }}"
"""The library puts the count of an item here; no other template is ever used."""


def form_schema(t: NullTranslations | None = None) -> Schema:
    """The schema of the whole form, in a language; every reference in it is resolved.

    The words that a profile may choose from stay as its text has them.
    """
    schema = profile_schema()
    whole = _Form(schema["definitions"]).object(schema)
    whole = {**whole, "title": "Vehicle profile", **_addable(whole, "the profile")}
    return _said(whole, t.gettext) if t else whole


def form_words() -> Iterator[str]:
    """Every sentence and caption of the form, for the message catalogue; some stand there twice."""
    found: list[str] = []

    def noted(text: str) -> str:
        found.append(text)
        return text

    _said(form_schema(), noted)
    yield from filter(None, found)


def _said(node: Any, say: Callable[[str], str]) -> Any:
    """A schema with every text for its reader said otherwise."""
    if isinstance(node, list):
        return [_said(each, say) for each in node]
    if not isinstance(node, dict):
        return node
    told: Schema = {}
    for key, inner in node.items():
        if key in _FOR_A_READER and isinstance(inner, str):
            told[key] = say(inner) if inner else inner
        elif key == "x-messages":
            told[key] = {constraint: say(text) for constraint, text in inner.items()}
        elif key == "x-enumTitles":
            told[key] = [say(_NOTHING_CHOSEN), *inner[1:]]
        elif key == "enum":
            told[key] = inner
        else:
            told[key] = _said(inner, say)
    return told


class _Form:
    """Makes fields of a schema's keys; ``definitions`` are what its references lead to."""

    def __init__(self, definitions: Mapping[str, Schema]) -> None:
        self._definitions = definitions

    def object(self, schema: Schema) -> Schema:
        needed = [key for key in schema["required"] if key not in _WITHOUT]
        fields = {
            key: self.field(key, inner, is_needed=key in needed)
            for key, inner in schema["properties"].items()
            if key not in _WITHOUT
        }
        return {
            "type": "object",
            "description": _plain(schema.get("description", "")),
            "properties": fields,
            "required": needed,
            "additionalProperties": False,
            "x-defaultProperties": sorted(_ASKED_AT_ONCE & fields.keys()),
        }

    def field(self, key: str, schema: Schema, *, is_needed: bool) -> Schema:
        """What is shown at a key."""
        value, name, is_short = self._resolved(schema)
        shown = self._shown(value, name, is_needed=is_needed)
        shown["title"] = title(key)
        shown["description"] = _described(schema, has_choices="enum" in shown)
        if key in _JUDGED:
            shown["x-judged"] = key
        if key in _NAMES_OF:
            shown["x-of"] = _NAMES_OF[key]
            if "pattern" in shown and "x-as" not in shown:
                shown["x-inputAttributes"] = {"list": f"names-{_NAMES_OF[key]}"}
        if shown["type"] == "object":
            shown |= _addable(shown, title(key).lower())
        if is_short:
            shown["x-as"] = "stated"
        return shown

    def _resolved(self, schema: Schema) -> tuple[Schema, str, bool]:
        """What a schema means, its definition's name, and whether its value may stand alone."""
        choices = [each for each in schema.get("anyOf", ()) if each.get("type") != "null"]
        if choices:
            return (*self._resolved(choices[-1])[:2], len(choices) > 1)
        (whole,) = schema.get("allOf", (schema,))
        if "$ref" not in whole:
            return whole, "", False
        name = whole["$ref"].rpartition("/")[2]
        return self._definitions[name], name, False

    def _shown(self, schema: Schema, name: str, *, is_needed: bool) -> Schema:
        kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        if "object" in kinds and "propertyNames" in schema:
            return self._mapping(schema)
        if "object" in kinds and "required" not in schema:
            # By one of a few words, such as the symptoms
            return self.object({**schema, "required": []})
        if "object" in kinds:
            return self.object(schema)
        if "array" in kinds:
            return self._list(schema, is_needed=is_needed)
        return _line(schema, kinds, is_needed=is_needed)

    def _mapping(self, schema: Schema) -> Schema:
        """A mapping as a list of items, each with its name."""
        inner, name, _ = self._resolved(schema["additionalProperties"])
        pattern = schema["propertyNames"]["pattern"]
        is_numbered = "[a-z" not in pattern
        called = "Number" if is_numbered else "Short name"
        hint = "" if is_numbered else " Others refer to it by this name."
        wanted = "A whole number." if is_numbered else _NAME_WORDS
        named = {
            "type": "string",
            "title": called,
            "description": wanted + hint,
            "pattern": pattern,
            "x-messages": {"pattern": wanted},
        }
        how = "map" if "properties" in inner else "values"
        item = (
            self.object(inner)
            if how == "map"
            else self.object({"properties": {"value": inner}, "required": ["value"]})
        )
        item["properties"] = {NAME_KEY: named, **item["properties"]}
        item["required"] = [NAME_KEY, *item["required"]]
        return {
            "type": "array",
            "x-as": how,
            "x-keys": "whole" if is_numbered else "name",
            **_items(item, name or "cause"),
            **_least(schema.get("minProperties", 0)),
        }

    def _list(self, schema: Schema, *, is_needed: bool) -> Schema:
        items, name, _ = self._resolved(schema["items"])
        if "enum" in items:
            return {
                "type": "array",
                "uniqueItems": True,
                "items": {"type": "string", "enum": items["enum"]},
                "x-format": "checkboxes",
                **_least(schema.get("minItems", 0)),
            }
        pattern = items.get("pattern", "")
        if items["type"] == ["integer", "string"]:
            wanted = "Whole numbers, such as 1, 3, 5 or 1-4."
            one = r"[0-9]+(\s*[-–]\s*[0-9]+)?"
            several = _text(rf"{one}((\s*,\s*|\s+){one})*", wanted, is_needed)
            return {**several, "x-as": "numbers"}
        if "[a-z0-9]" in pattern:
            wanted = "Short names with commas between."
            return {**_several("[a-z0-9-]+", wanted, is_needed), "x-as": "names"}
        if items["type"] == "array":
            wanted = "Two numbers with a comma between."
            shown = _text(rf"{DECIMAL_PATTERN}\s*,\s*{DECIMAL_PATTERN}", wanted)
            items, name = {**shown, "x-as": "pair"}, "pair"
        elif name:
            items = self.object(items)
        else:
            items, name = _line(items, items["type"], is_needed=True), "line"
        return {
            "type": "array",
            **_items(items, name),
            **_least(schema.get("minItems", 0)),
        }


_NAME_WORDS = "Small letters, digits and single hyphens, such as engine-cover."


def _line(schema: Schema, kinds: list[str], *, is_needed: bool) -> Schema:
    """A field of one line: text, or a choice of few words."""
    if "enum" in schema:
        words = [str(word) for word in schema["enum"] if word is not None]
        return _choice(words, is_needed=is_needed)
    lowest, highest = schema.get("minimum"), schema.get("maximum")
    as_ = {"integer": "whole", "number": "decimal"}.get(kinds[0])
    if as_ == "whole" and lowest is not None and highest is not None:
        numbers = [str(number) for number in range(lowest, highest + 1)]
        if len(numbers) <= _MOST_CHOICES:
            return {**_choice(numbers, is_needed=is_needed), "x-as": as_}
        shown = _text("|".join(numbers), f"A whole number, {lowest} to {highest}.", is_needed)
        return {**shown, "x-as": as_}
    wanted = schema.get("patternErrorMessage", "")
    pattern = schema["pattern"]
    if not is_needed:
        pattern = f"^\\s*$|{pattern}"
    shown = {"type": "string", "pattern": pattern, "x-messages": {"pattern": wanted}}
    if wanted in _QUANTITIES:
        shown["x-quantity"] = _QUANTITIES[wanted]
    return {**shown, "x-as": as_} if as_ else shown


def _choice(words: list[str], *, is_needed: bool) -> Schema:
    several = ", ".join(words[:-1])
    told = f"Choose one: {several} or {words[-1]}."
    return {
        "type": "string",
        "enum": ["", *words],
        "x-enumTitles": [_NOTHING_CHOSEN, *words],
        **({"minLength": 1, "x-messages": {"minLength": told}} if is_needed else {}),
    }


def _several(one: str, wanted: str, is_needed: bool) -> Schema:
    """A list in one line, with commas."""
    return _text(f"{one}(\\s*,\\s*{one})*", wanted, is_needed)


def _text(pattern: str, wanted: str, is_needed: bool = True) -> Schema:
    whole = f"^\\s*({pattern})\\s*$"
    return {
        "type": "string",
        "pattern": whole if is_needed else f"^\\s*$|{whole}",
        "x-messages": {"pattern": wanted},
    }


def _items(item: Schema, name: str) -> Schema:
    """The items of a list, and what its buttons say."""
    called = title(name)
    more = _addable(item, called.lower()) if item["type"] == "object" else {}
    return {
        "items": {**item, "title": f"{called} {_ITEM}", **more},
        "x-arrayFooterAddContent": f"Add {called.lower()}",
        "x-arrayDeleteContent": f"Delete this {called.lower()}",
    }


def _addable(group: Schema, name: str) -> Schema:
    """What the button says that adds to a group; no button where nothing may be added."""
    at_once = {*group["required"], *group["x-defaultProperties"]}
    if at_once >= group["properties"].keys():
        return {"x-enablePropertiesToggle": False}
    return {"x-propertiesToggleContent": f"Add to {name} …"}


def _least(count: int) -> Schema:
    return (
        {"minItems": count, "x-messages": {"minItems": f"At least {count} is needed."}}
        if count
        else {}
    )


def title(key: str) -> str:
    """A key, or the name of a part, as people write it: ``supply_wire`` and ``KnownGood``.

    The titles of all keys are in the message catalogue.
    """
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", key).replace("_", " ").replace("-", " ").lower()
    return words[:1].upper() + words[1:]


def _described(schema: Schema, *, has_choices: bool) -> str:
    """What a key means, with its first example where that is a few words and not told yet."""
    told = _plain(schema.get("description", ""))
    example = next(iter(schema.get("examples", ())), None)
    shown = ", ".join(map(str, example)) if isinstance(example, list) else str(example)
    is_plain = isinstance(example, str | int) or (
        isinstance(example, list) and all(isinstance(each, str | int) for each in example)
    )
    if has_choices or not is_plain or "such as" in told or shown in told:
        return told
    return f"{told} For example: {shown}"


def _plain(text: str) -> str:
    """Text without the marks of code: the library would show them."""
    return re.sub("`([^`]*)`", "“\\1”", text.partition("\n")[0])

"""A profile as the form holds it, for putting one into the page: the way back from its text."""

from __future__ import annotations

from typing import Any

from generator.profile.form_schema import NAME_KEY

Schema = dict[str, Any]


def form_value(schema: Schema, data: Any) -> Any:
    """Plain data of a profile, as what was filled into the form that this schema makes."""
    how = schema.get("x-as")
    if how in ("map", "values"):
        return [_item(schema, str(name), inner) for name, inner in data.items()]
    if how in ("numbers", "names", "pair"):
        return ", ".join(map(str, data))
    if how == "stated" and not isinstance(data, dict):
        return {"value": str(data)}
    if isinstance(data, dict):
        return {
            key: form_value(schema["properties"][key], inner)
            for key, inner in data.items()
            if key != "format"
        }
    if isinstance(data, list):
        return [form_value(schema["items"], each) for each in data]
    return str(data)


def _item(schema: Schema, name: str, inner: Any) -> Any:
    value = (
        {"value": str(inner)} if schema["x-as"] == "values" else form_value(schema["items"], inner)
    )
    return {NAME_KEY: name, **value}

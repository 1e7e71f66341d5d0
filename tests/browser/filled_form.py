"""A profile as the form holds it, put into the page: the way back from its text."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Page

from generator.profile.form_schema import NAME_KEY, form_schema
from tests.conftest import SMALL

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


def filled(page: Page, value: dict[str, Any]) -> None:
    """Put a whole form into the page, as the draft that it finds when it is opened."""
    put = "draft => localStorage.setItem('sondebook-profile-draft', draft)"
    # A page that is left within a few milliseconds may lose its last write: then put it again
    for tries in range(6):
        page.evaluate(put, json.dumps(value))
        page.wait_for_timeout(100 * tries)
        page.reload()
        kept = page.evaluate("() => localStorage.getItem('sondebook-profile-draft')")
        make = page.locator("#root-vehicle-make").input_value()
        # An earlier draft may be of the same make
        if make == value["vehicle"]["make"] and set(value) <= set(json.loads(kept or "{}")):
            return
    raise AssertionError("the page does not take up the draft")


def smallest() -> dict[str, Any]:
    """The smallest profile as a form."""
    return dict(form_value(form_schema(), SMALL))

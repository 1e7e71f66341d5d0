"""A comparison written for another program, in English whatever the site speaks."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any, Final

from generator.profile.difference import ABSENT
from generator.profile.finding import Finding
from generator.profile.photo_file import PhotoFile
from generator.site.comparison import Comparison, Effect, ValueChange
from generator.site.page_change import PageChange
from generator.site.photo_change import PhotoChange

JSON_VERSION: Final = 1


def as_json(comparison: Comparison) -> str:
    """One object; a value that is not there is null."""
    data = {
        "version": JSON_VERSION,
        "old": comparison.old,
        "new": comparison.new,
        "profiles": comparison.profiles,
        "vehicles": [
            {
                "slug": each.slug,
                "was": each.was or None,
                "name": each.name,
                "change": each.kind.value,
                "stated": [
                    {"at": one.at, "value": one.value, "source": one.source or None}
                    for one in each.stated
                ],
                "values": [_value_data(value) for value in each.values],
                "photos": [_photo_data(photo) for photo in each.photos],
                "effects": [_effect_data(effect) for effect in each.effects],
                "pages": [_page_data(page) for page in each.pages],
                "faults": list(each.faults),
                "warnings": _finding_data(each.warnings),
                "settled": _finding_data(each.settled),
            }
            for each in comparison.vehicles
        ],
        "pages": [_page_data(page) for page in comparison.pages],
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _value_data(value: ValueChange) -> dict[str, Any]:
    before, after = value.difference.before, value.difference.after
    return {
        "at": value.difference.at,
        "before": None if before is ABSENT else before,
        "after": None if after is ABSENT else after,
        "effects": [_effect_data(effect) for effect in value.effects],
        "pages": None if value.pages is None else list(value.pages),
    }


def _photo_data(photo: PhotoChange) -> dict[str, Any]:
    """A photo; of its picture both sides where it is another one, else null."""
    sides = {"before": photo.picture_before, "after": photo.picture_after}
    return {
        "file": photo.file,
        "change": photo.kind.value,
        "said": [
            {"key": key, "before": before or None, "after": after or None}
            for key, before, after in photo.traits
        ],
        "picture": {side: _picture_data(each) for side, each in sides.items()}
        if photo.is_another_picture
        else None,
        "pages": None if photo.pages is None else list(photo.pages),
    }


def _picture_data(picture: PhotoFile | None) -> dict[str, Any] | None:
    if picture is None:
        return None
    return {
        "key": picture.key,
        "width_px": picture.width_px,
        "height_px": picture.height_px,
    }


def _effect_data(effect: Effect) -> dict[str, str | None]:
    return {"what": effect.what, "before": effect.before or None, "after": effect.after or None}


def _page_data(page: PageChange) -> dict[str, Any]:
    return {
        "path": page.path,
        "title": page.title,
        "change": page.kind.value,
        "parts": list(page.parts),
    }


def _finding_data(findings: Sequence[Finding]) -> list[dict[str, str]]:
    return [{"rule": w.rule, "at": w.at, "message": w.message} for w in findings]

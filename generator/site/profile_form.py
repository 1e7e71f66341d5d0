"""The data of the page that builds a profile in a browser, as a plain script.

A page from a folder can read nothing else: browsers refuse ``fetch`` there.
"""

from __future__ import annotations

import json
import os
import re
from gettext import NullTranslations
from pathlib import Path
from typing import Any

from generator.guide import bay_words, words
from generator.guide.page_turn import page_turn
from generator.profile.form_schema import START, form_schema
from generator.profile.model import FORMAT
from generator.profile.schema import PATH as SCHEMA_FILE
from generator.profile.starter import MODELINE
from generator.trade.place import Landmark, Standpoint

FILE = "assets/profile-form-data.js"

_BUILT_SCHEMA = "site/reference/profile.schema.json"
"""Where a collection of one's own has the schema: in what was built last."""
_ADDRESS = re.compile(r"https?://[^\s<>\"'\\^`|]+")


def form_script(modeline: str, propose_uri: str, t: NullTranslations) -> str:
    """The script: schema, what the form begins with, the first line of a profile, sentences.

    ``propose_uri`` is the address that proposes a file, as `is_proposal` wants it, or empty.
    """
    data = {
        "schema": form_schema(),
        "start": START,
        "format": FORMAT,
        "modeline": modeline,
        "propose": propose_uri,
        "say": _sentences(t),
    }
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f"window.sondebookForm={text};\n"


def modeline(project: Path, profiles: Path) -> str:
    """The first line of a profile in a folder of a project: it leads editors to the schema."""
    own = project / SCHEMA_FILE
    schema = own if own.exists() else project / _BUILT_SCHEMA
    return f"{MODELINE}{Path(os.path.relpath(schema, profiles)).as_posix()}"


def is_proposal(propose_uri: str) -> bool:
    """Whether a text is the address of a page that takes a new file, with a gap for its name."""
    return bool(_ADDRESS.fullmatch(propose_uri)) and "{filename}" in propose_uri


def _sentences(t: NullTranslations) -> dict[str, Any]:
    """What the scripts say; gaps are in braces and filled with plain text."""
    _ = t.gettext
    return {
        "copied": _("Copied. Paste it into a new file of the name above."),
        "byHand": _("Select the text above and copy it."),
        "saved": _("Saved as {name}, where this browser saves files."),
        "paste": _("The text is too long for an address, so it was copied: paste it there."),
        "again": _("Delete everything that was filled in?"),
        "twice": _("The name “{name}” is there twice; one of the two would be lost."),
        "library": {
            "arrayAdd": _("Add another"),
            "arrayDelete": _("Delete"),
            "propertiesToggle": _("Add more"),
            "objectPropertyAdded": _("was added to the form"),
            "objectPropertyRemoved": _("was taken off the form"),
        },
        "sketch": _sketch_words(t),
    }


def _sketch_words(t: NullTranslations) -> dict[str, Any]:
    _ = t.gettext
    return {
        "bank": _("Bank {number}"),
        "sensor": _("B{bank}·{position}"),
        "catalyst": _("catalyst"),
        "bankWords": _("Bank {bank}, cylinders {cylinders}: {side}."),
        "merged": _("all cylinders, where their exhaust has joined"),
        "landmarks": {mark.value: bay_words.landmark(mark, t) for mark in Landmark},
        "from": {stand.value: bay_words.standpoint(stand, t) for stand in Standpoint},
        "standpoints": {stand.value: words.standpoint(stand, t) for stand in Standpoint},
        "cabin": {stand.value: bay_words.cabin(stand, t) for stand in Standpoint},
        "notes": {stand.value: bay_words.notes(stand, page_turn(stand), t) for stand in Standpoint},
    }

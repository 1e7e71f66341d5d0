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
from generator.profile.dimension import DIMENSIONS
from generator.profile.form_schema import START, form_schema
from generator.profile.model import FORMAT
from generator.profile.quantity import BETWEEN_PATTERN, NUMBER_PATTERN
from generator.profile.schema import PATH as SCHEMA_FILE
from generator.profile.starter import MODELINE
from generator.trade.place import Landmark, Standpoint

FILE = "assets/profile-form-data.js"

LAYOUT_FAULTS = (
    "There is no bank 1: call the bank that holds cylinder 1 bank 1.",
    "Bank {bank} is listed twice: give each bank its own number.",
    "There is no bank {bank}: banks are numbered 1 to {highest}.",
    "Bank {bank} has no cylinder: list its cylinders or leave it out.",
    "Bank {bank} lists cylinder {cylinder}, but the engine has cylinders 1 to {count}: mend the "
    "list or the number of cylinders.",
    "Bank 1 is the bank that holds cylinder 1, but it is in bank {bank}: swap the bank numbers or "
    "mend the cylinders.",
    "Bank 1 is the bank that holds cylinder 1, but it is in no bank: add it to bank 1.",
    "Cylinder {cylinder} is in no bank: add it to the bank it exhausts into.",
    "Cylinder {cylinder} is twice in bank {bank}: a cylinder belongs in one bank, once.",
    "Cylinder {cylinder} is in {banks}: a cylinder belongs in one bank, once.",
    "bank {bank}",
    " and ",
    " or ",
    "Bank {bank} has no side: say {sides}.",
    "Bank {bank} of a {mounting} {arrangement} engine cannot be on the {side} side: say {sides}, "
    "or mend the mounting.",
    "Banks {first} and {second} are both on the {side} side: one of them is {opposite}.",
)
"""What profile-layout.js says of banks that do not fit the engine, as the check words it."""

_BUILT_SCHEMA = "site/reference/profile.schema.json"
"""Where a collection of one's own has the schema: in what was built last."""
_ADDRESS = re.compile(r"https?://[^\s<>\"'\\^`|]+")


def form_script(
    modeline: str, propose_uri: str, t: NullTranslations, edit_uri: str | None = None
) -> str:
    """The script: schema, what the form begins with, the first line of a profile, sentences.

    ``propose_uri`` is the address that proposes a file, as `is_proposal` wants it, or empty;
    ``edit_uri`` is that under which a profile is edited, its name put behind it.
    """
    data = {
        "schema": form_schema(t),
        "start": START,
        "format": FORMAT,
        "quantity": _quantity_rules(),
        "modeline": modeline,
        "propose": propose_uri,
        "edit": edit_uri or "",
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


def _quantity_rules() -> dict[str, Any]:
    """How quantities are written, for the script that judges them."""
    return {
        "number": NUMBER_PATTERN,
        "between": BETWEEN_PATTERN,
        "kinds": {
            each.name: {
                "units": sorted(each.spellings),
                "positive": each.positive,
                "single": each.single,
                "isUnitKnown": bool(each.assumed),
            }
            for each in DIMENSIONS
        },
    }


def _sentences(t: NullTranslations) -> dict[str, Any]:
    """What the scripts say; gaps are in braces and filled with plain text."""
    _ = t.gettext
    return {
        "copied": _("Copied. Paste it into a new file of the name above."),
        "byHand": _("Select the text above and copy it."),
        "saved": _("Saved as {name}, where this browser saves files."),
        "paste": _("The text is too long for an address, so it was copied: paste it there."),
        "pasteOver": _("Copied. Paste it over all that stands there."),
        "again": _("Delete everything that was filled in?"),
        "twice": _("The name “{name}” is there twice; one of the two would be lost."),
        "judged": {
            "backwards": _("Write the smaller number first."),
            "years": _("Write the earlier year first."),
            "wires": _(
                "A sensor with one or two wires has no heater: mend the wires, or take away its "
                "heater and its fuse."
            ),
            "unknown": _("“{name}” is not listed under “{list}”; listed there: {names}."),
            "empty": _("“{name}” is not listed under “{list}”; nothing is listed there yet."),
        },
        "library": {
            "arrayAdd": _("Add another"),
            "arrayDelete": _("Delete"),
            "propertiesToggle": _("Add more"),
            "objectPropertyAdded": _("was added to the form"),
            "objectPropertyRemoved": _("was taken off the form"),
        },
        "open": _open_words(t),
        "sketch": _sketch_words(t),
        "layout": {each: t.gettext(each) for each in LAYOUT_FAULTS},
    }


def _open_words(t: NullTranslations) -> dict[str, str]:
    """What is said of a file that is to be opened: why it is not, what it loses, that it is."""
    _ = t.gettext
    return {
        "large": _("Not opened: a profile has at most 256 kB."),
        "noFile": _("Not opened: this browser cannot read the file."),
        "noText": _("Not opened: this file is not text in UTF-8."),
        "noProfile": _("Not opened: there is no line “format:”, so this is no profile."),
        "format": _(
            "Not opened: this profile has format {format}, and the form writes format {own}. "
            "The command sondebook migrate brings it up to date."
        ),
        "several": _("Not opened: there are several documents in it, and a profile is one."),
        "shared": _(
            "Not opened: line {line} has an anchor, an alias or a tag, which a profile may not "
            "have."
        ),
        "tab": _("Not opened: line {line} is set in with a tab; only spaces may stand there."),
        "twice": _("Not opened: line {line} has a key that stands there already."),
        "indented": _(
            "Not opened: line {line} is set in otherwise than the lines above it allow, or a text "
            "in it needs quotation marks."
        ),
        "notClosed": _(
            "Not opened: at line {line} a quotation mark or a bracket is still open, or a comma is "
            "missing."
        ),
        "unread": _("Not opened: line {line} is not YAML."),
        "comments": _("These comments are lost, by line: {lines}."),
        "left": _("The form has no place for these, and drops them: {keys}."),
        "replaced": _("What is filled in now is replaced."),
        "done": _("Opened. It keeps its name, {name}; order and layout are made anew."),
        "doneUnnamed": _(
            "Opened. Order and layout are made anew. Its name is made from make, model and engine: "
            "give the saved file the old one, or the guide gets another address."
        ),
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

"""Hand-written pages: a number and its unit stay on one line, as on the pages of guides."""

from __future__ import annotations

import re

NO_BREAK = "\u00a0"

# What is to be copied, such as a line of a profile, keeps its plain spaces
_PIECES = re.compile(r"(<pre\b.*?</pre>|<code\b.*?</code>|<[^>]*>)", re.DOTALL)
_BEFORE_UNIT = re.compile(
    r"(?<=\d)\s(?=(?:°[CF]|Ω(?:/km)?|N·m|lbf·(?:ft|in)|kgf·m|m?V|m?A|K|mm²?|m|%|min|rpm|[kM]B)(?!\w))"
)


def with_units_unbroken(html: str) -> str:
    """The HTML of a page with a no-break space between each number and its unit.

    What stands in tags, in code and in preformatted text is left as it is.
    """
    pieces = _PIECES.split(html)
    # Every second piece is what the pattern found, and is left
    pieces[::2] = [_BEFORE_UNIT.sub(NO_BREAK, piece) for piece in pieces[::2]]
    return "".join(pieces)

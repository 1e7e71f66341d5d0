"""Characters that a profile cannot hold, those it is read without, and text with nothing to see.

Refused is only what no honest text has: what an editor does not show and a reader cannot notice,
yet turns text round, ends a line, moves a terminal's cursor or carries a message of its own.
Joiners and marks that Arabic, Hebrew, the scripts of India and emoji need are text like any other.
"""

from __future__ import annotations

import re
import unicodedata

_TAGS = r"\U000e0020-\U000e007f"
_IDEOGRAPHS = r"\u3400-\u9fff\uf900-\ufaff\U00020000-\U0003ffff"
# The flag of a part of a country is a black flag with up to six tags, the last of which ends it
_OF_A_FLAG = "".join(rf"(?<!\U0001f3f4[{_TAGS}]{{{count}}})" for count in range(1, 7))
_FORM_OF_AN_IDEOGRAPH = rf"(?<![{_IDEOGRAPHS}][\U000e0100-\U000e01ef])"
_UNFIT = re.compile(
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u206f\ufff9-\ufffb\ufffe\uffff"
    rf"\ud800-\udfff\U000e0000-\U000e0fff]{_OF_A_FLAG}{_FORM_OF_AN_IDEOGRAPH}"
)
_SLIP = re.compile(r"[\xad\u200b\u2060-\u2064\ufeff]")
# Letters and signs by their category that leave no ink
_WITHOUT_INK = frozenset("\u115f\u1160\u2800\u3164\uffa0")


def unfit(text: str) -> re.Match[str] | None:
    """The first character that a profile cannot hold."""
    return _UNFIT.search(text)


def slip(text: str) -> re.Match[str] | None:
    """The first character that comes along unseen when text is copied, as a soft hyphen does."""
    return _SLIP.search(text)


def without_slips(text: str) -> str:
    """A text without what came along unseen: it looks as it did."""
    return _SLIP.sub("", text)


def as_seen(text: str) -> str:
    """A text without what came along unseen; empty where nothing of it is seen."""
    seen = without_slips(text)
    return seen if is_seen(seen) else ""


def is_seen(text: str) -> bool:
    """Whether a text holds a letter, a digit or a sign (Unicode's categories L, N, P and S)."""
    return any(unicodedata.category(c)[0] in "LNPS" and c not in _WITHOUT_INK for c in text)

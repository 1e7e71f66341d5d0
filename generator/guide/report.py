"""The way to report a wrong value: the address of an issue that is filled in already."""

from __future__ import annotations

import re
from functools import lru_cache
from gettext import NullTranslations
from typing import Final
from urllib.parse import quote

_ADDRESS = re.compile(r"(https?://|mailto:)[^\s<>\"'\\^`|]+")
_GAPS: Final = ("{title}", "{body}")

_KEPT: Final = "!~*'()"
"""What ``encodeURIComponent`` leaves as it is, so that a script finds our words again."""


def is_report_uri(uri: str) -> bool:
    """Whether a text is the address of a form or a mail, with a gap ``{title}`` or ``{body}``."""
    return bool(_ADDRESS.fullmatch(uri)) and any(gap in uri for gap in _GAPS)


def report_href(uri: str, vehicle: str, page: str, path: str, t: NullTranslations) -> str:
    """The address of a report on one page, each gap filled and percent-encoded (RFC 3986, 2.1).

    ``uri`` is as `is_report_uri` wants it. ``vehicle`` and ``page`` are their titles, ``path`` is
    the page's in the site. A script puts the section and what it says behind their words.
    """
    _ = t.gettext
    title = _("Wrong value: %(vehicle)s, %(page)s") % {"vehicle": vehicle, "page": page}
    lines = [
        _("Vehicle: %(vehicle)s") % {"vehicle": vehicle},
        _("Page: %(page)s (%(path)s)") % {"page": page, "path": path},
        section_words(t),
        says_words(t),
        "",
        _("What is right:"),
        _("Where that is written, or how it was measured:"),
    ]
    # A line of a mail ends so (RFC 6068, section 5)
    end = "\r\n" if uri.startswith("mailto:") else "\n"
    body = _encoded(end).join(map(_encoded, lines))
    return uri.replace("{title}", _encoded(title)).replace("{body}", body)


def section_words(t: NullTranslations) -> str:
    """The words before the section's name."""
    return t.gettext("Section:")


def says_words(t: NullTranslations) -> str:
    """The words before what the section says."""
    return t.gettext("The page says:")


class _PercentEncoded(dict[int, str]):
    """What each character becomes in an address, found out when it is first met."""

    def __missing__(self, code: int) -> str:
        self[code] = encoded = quote(chr(code), safe=_KEPT)
        return encoded


_PERCENT_ENCODED = _PercentEncoded()


@lru_cache(maxsize=256)
def _encoded(text: str) -> str:
    return text.translate(_PERCENT_ENCODED)

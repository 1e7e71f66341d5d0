"""The security policy of the pages: everything from the site itself, nothing written into a page.

Formula's source: Content Security Policy Level 3 (W3C). A policy in a page cannot say who may
frame it; a host that reads a ``_headers`` file can.
"""

from __future__ import annotations

import re
from base64 import b64encode
from hashlib import sha256
from urllib.parse import urlsplit

HEADERS_FILE = "_headers"

_OURS = "'self' file:"
"""The site over http, and from a folder: there, not every browser counts a neighbour as self."""

_SCRIPT = re.compile(r"<script\b([^>]*)>(.*?)</script>", re.DOTALL | re.IGNORECASE)
_STYLE = re.compile(r"<style\b[^>]*>(.*?)</style>", re.DOTALL | re.IGNORECASE)
_DATA = re.compile(r"""\bsrc\s*=|\btype\s*=\s*["']?(?:application|text)/(?:[\w.-]+\+)?json""")
_CHARSET = re.compile(r"<meta charset=[^>]*>", re.IGNORECASE)
_LINK_OUT = re.compile(r'<a\b(?=[^>]*\shref="https?:)(?![^>]*\srel=)', re.IGNORECASE)

_HEADERS = """\
{path}*
  Content-Security-Policy: frame-ancestors 'none'
  X-Content-Type-Options: nosniff
  Referrer-Policy: no-referrer
  Permissions-Policy: camera=(), geolocation=(), microphone=()
  Cross-Origin-Opener-Policy: same-origin
{path}sw.js
  Cache-Control: no-cache
{path}offline/*
  Cache-Control: no-cache
{path}data/*
  Access-Control-Allow-Origin: *
"""


def headers(address: str) -> str:
    """What a page cannot ask for itself, for hosts that read headers from a file.

    ``address`` is the site's, with a slash at its end, or empty: the rules are for its path, since
    such a host reads the file in its topmost folder only.
    """
    return _HEADERS.format(path=urlsplit(address).path or "/")


def policy(scripts: tuple[str, ...] = (), styles: tuple[str, ...] = ()) -> str:
    """The policy of a page with these texts of its inline scripts and styles, each allowed by hash.

    Every directive that ``default-src`` does not cover is named.
    """
    return "; ".join(
        [
            "default-src 'none'",
            f"script-src {' '.join([_OURS, *map(_hash, scripts)])}",
            f"style-src {' '.join([_OURS, *map(_hash, styles)])}",
            f"img-src {_OURS} data:",
            "connect-src 'self'",
            f"manifest-src {_OURS}",
            "worker-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )


def with_policy(html: str) -> str:
    """A hand-written page with its policy, and links out that give nothing of this page away.

    A page without ``<meta charset>`` is given back as it is.
    """
    scripts = (text for attributes, text in _SCRIPT.findall(html) if not _DATA.search(attributes))
    told = policy(tuple(dict.fromkeys(scripts)), tuple(dict.fromkeys(_STYLE.findall(html))))
    meta = f'<meta http-equiv="Content-Security-Policy" content="{told}">'
    html = _CHARSET.sub(lambda charset: f"{charset[0]}\n{meta}", html, count=1)
    return _LINK_OUT.sub(lambda link: f'{link[0]} rel="noopener"', html)


def _hash(text: str) -> str:
    # A browser reads any line end as a line feed (HTML, 13.2.3.5)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"

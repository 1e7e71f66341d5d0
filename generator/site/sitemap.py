"""The sitemap: the hand-written pages as MkDocs lists them, and every guide page.

Source of the format and its limit: sitemaps.org, protocol 0.9.
"""

from __future__ import annotations

import gzip
import re
from collections.abc import Sequence
from pathlib import Path
from urllib.parse import quote
from xml.sax.saxutils import escape

FILE = "sitemap.xml"
MOST_ADDRESSES = 50_000
"""In one file; more need an index of several."""

_NAMESPACE = 'xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"'
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_END = "</urlset>"
_DAY = re.compile(r"\s*<lastmod>[^<]*</lastmod>")


def guide_paths(site: Path) -> list[str]:
    """The pages of guides and codes in a built site, as paths from its root."""
    return sorted(
        path.relative_to(site).as_posix()
        for folder in ("guides", "codes")
        for path in (site / folder).rglob("*.html")
    )


def write_sitemap(site: Path, address: str, most: int = MOST_ADDRESSES) -> None:
    """Add the guide pages to a site's sitemap; ``address`` is the site's, with a slash at its end.

    More than ``most`` addresses go into files of their own, and the sitemap becomes their index.

    Raises:
        OSError: the sitemap is missing, or a file cannot be written.
    """
    # MkDocs gives each page the day of the build, which says nothing of the page
    written = _DAY.sub("", (site / FILE).read_text(encoding="utf-8"))
    addresses = [escape(f"{address}{quote(path)}") for path in guide_paths(site)]
    if written.count("<url>") + len(addresses) <= most:
        listed = "".join(map(_entry, addresses))
        _write(site, FILE, written.replace(_END, f"{listed}{_END}"))
        return
    parts = {"sitemap-pages.xml": written}
    for start in range(0, len(addresses), most):
        listed = "".join(map(_entry, addresses[start : start + most]))
        name = f"sitemap-guides-{start // most + 1}.xml"
        parts[name] = f"{_HEAD}<urlset {_NAMESPACE}>\n{listed}{_END}\n"
    for name, text in parts.items():
        _write(site, name, text)
    _write(site, FILE, _index(address, list(parts)))


def drop_sitemap(site: Path) -> None:
    """Delete the sitemap of a site without an address: MkDocs's lists nothing then."""
    for name in (FILE, f"{FILE}.gz"):
        (site / name).unlink(missing_ok=True)


def _entry(address: str) -> str:
    return f"<url><loc>{address}</loc></url>\n"


def _index(address: str, names: Sequence[str]) -> str:
    listed = "".join(f"<sitemap><loc>{escape(address)}{name}</loc></sitemap>\n" for name in names)
    return f"{_HEAD}<sitemapindex {_NAMESPACE}>\n{listed}</sitemapindex>\n"


def _write(site: Path, name: str, text: str) -> None:
    (site / name).write_text(text, encoding="utf-8")
    # Without a time in it, the same list gives the same bytes
    (site / f"{name}.gz").write_bytes(gzip.compress(text.encode(), mtime=0))

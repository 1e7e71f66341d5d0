"""The links of a built site: those inside must hold, those out are listed with what became of them.

Whether a page is there is asked by linkchecker, a program that is installed beside this one.
"""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from os.path import normpath
from pathlib import Path
from shutil import which
from urllib.parse import unquote, urlsplit

from generator.site.anchors import section_links

_SETTINGS = """\
[checking]
threads={threads}
timeout=20
[filtering]
checkextern={outside}
[output]
log=csv
verbose=1
status=0
warnings=1
[csv]
separator=;
parts=urlname,parentname,result,warningstring,valid,url
"""
_THREADS_OUTSIDE = 4
_ROOT = 0


class CannotCheck(Exception):
    """The links cannot be checked; the message is one sentence."""


@dataclass(frozen=True, slots=True)
class Link:
    """One link that was followed: where it stands, where it leads, and what is wrong, if anything.

    `page` is a path from the site's root; `address` is as it is written there.
    """

    page: str
    address: str
    is_outside: bool
    fault: str


def checked_links(
    site: Path, own_addresses: tuple[str, ...] = (), *, anchors: bool = False, outside: bool = False
) -> list[Link]:
    """Every link of a built site with what became of it.

    Other hosts are asked only if ``outside`` says so. Addresses under ``own_addresses``, where
    the site and those in other languages will stand, are passed over: what is there now is an older
    build. A link out of the site's folder, to a site beside it, must lead to a file. With
    ``anchors``, the section that a link leads to must be there too.

    Raises:
        CannotCheck: there is no site, no linkchecker, or it may not read the site.
    """
    if not (site / "index.html").is_file():
        raise CannotCheck(f"there is no site in {site}: run `sondebook build` first.")
    beside = Path(sys.executable).with_name("linkchecker")
    program = str(beside) if beside.is_file() else which("linkchecker")
    if program is None:
        raise CannotCheck("linkchecker is not installed: run `pip install linkchecker`.")
    with tempfile.TemporaryDirectory(prefix="sondebook-links-") as folder:
        settings = Path(folder) / "linkcheckerrc"
        text = _SETTINGS.format(threads=_THREADS_OUTSIDE if outside else 0, outside=int(outside))
        settings.write_text(text, encoding="utf-8")
        ran = subprocess.run(
            [program, "--config", settings, *_starts(site)],
            capture_output=True,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
    if ran.returncode not in (0, 1):
        reason = ran.stderr.strip().rpartition("\n")[2]
        raise CannotCheck(f"linkchecker could not run: {reason}")
    if "Permission denied" in ran.stdout and getattr(os, "geteuid", int)() == _ROOT:
        raise CannotCheck(
            f"linkchecker gives up the rights of root, and then may not read {site}: let others "
            "read it and the folders above it, or run this as another user."
        )
    found = {
        _looked_beside(each, site)
        for each in _read(ran.stdout, site)
        if not each.address.startswith(own_addresses)
    }
    if anchors:
        found |= {
            Link(page, address, False, "" if is_there else "the page has no such section")
            for page, address, is_there in section_links(site)
        }
    return sorted(found, key=lambda each: (each.page, each.address))


def _looked_beside(link: Link, site: Path) -> Link:
    """A link with what linkchecker does not ask: whether a file out of the site's folder is there.

    What an address from the root of a host leads to is not known here.
    """
    if link.is_outside or link.fault or link.address.startswith(("/", "file:")):
        return link
    way = unquote(urlsplit(link.address).path)
    target = Path(normpath(site.resolve() / Path(link.page).parent / way))
    if target.is_relative_to(site.resolve()) or target.exists():
        return link
    return replace(link, fault="nothing is there, beside the site")


def _starts(site: Path) -> list[str]:
    """Pages from which all others can be reached."""
    return [
        str(path)
        for path in (site / "index.html", site / "guides/index.html", site / "codes/index.html")
        if path.is_file()
    ]


def _read(told: str, site: Path) -> Iterator[Link]:
    lines = (line for line in told.splitlines() if not line.startswith("#"))
    start = f"{site.resolve().as_uri()}/"
    for row in csv.DictReader(io.StringIO("\n".join(lines)), delimiter=";"):
        kind = row["url"].partition(":")[0]
        if kind not in ("file", "http", "https"):
            continue
        fault = row["result"] if row["valid"] != "True" else row["warningstring"].strip()
        page = row["parentname"].removeprefix(start)
        yield Link(page, row["urlname"], kind != "file", " ".join(fault.split()))

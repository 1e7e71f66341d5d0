"""What a phone needs to keep a vehicle: lists of files with hashes, worker, manifest, a page.

A list is complete: whatever a vehicle's pages load stands in it, so that a kept guide needs nothing
else and no later change of the site can break it.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import lru_cache
from gettext import NullTranslations
from hashlib import sha256
from pathlib import Path
from posixpath import dirname, join, normpath

from generator.guide.page import Frame, Page
from generator.site.edition import Edition

LISTS = "offline"
KEPT_FILE = "kept.html"
WORKER_FILE = "sw.js"
WORKER = "assets/worker.js"
MANIFEST_FILE = "manifest.webmanifest"
ICONS = (
    ("assets/icon.svg", "any", "image/svg+xml", "any"),
    ("assets/icon-192.png", "192x192", "image/png", "any"),
    ("assets/icon-512.png", "512x512", "image/png", "any"),
    ("assets/icon-maskable.png", "512x512", "image/png", "maskable"),
)
_OF_STYLE = re.compile(r"url\(\s*['\"]?([^'\")]+)")
_LOADING_LINK = re.compile(rb'<link (?!rel="(?:canonical|alternate)")')
_VERSION_LENGTH = 16


@dataclass(frozen=True, slots=True)
class KeptFile:
    """One file: its path from the site's root, the SHA-256 of its content, its size in bytes."""

    path: str
    sha256: str
    size: int


def kept_file(path: str, content: bytes) -> KeptFile:
    """A file as a list names it."""
    return KeptFile(path, sha256(content).hexdigest(), len(content))


@dataclass(frozen=True, slots=True)
class AssetFolder:
    """The files that pages load, hashed once each; the first folder that has one is asked.

    `folders` are the site's own first, then those of the theme.
    """

    folders: Sequence[Path]
    _known: dict[str, tuple[KeptFile, ...]] = field(default_factory=dict)

    def with_parts(self, path: str) -> tuple[KeptFile, ...]:
        """A file, and what it loads itself if it is a style sheet.

        Raises:
            FileNotFoundError: no folder has it.
        """
        if path not in self._known:
            self._known[path] = tuple(self._read(path))
        return self._known[path]

    def content(self, path: str) -> bytes:
        """The content of a file.

        Raises:
            FileNotFoundError: no folder has it.
        """
        for folder in self.folders:
            if (folder / path).is_file():
                return (folder / path).read_bytes()
        raise FileNotFoundError(2, "a page loads it, but it was not built", path)

    def _read(self, path: str) -> Iterator[KeptFile]:
        content = self.content(path)
        yield kept_file(path, content)
        if path.endswith(".css"):
            for target in _OF_STYLE.findall(content.decode()):
                if not target.startswith(("data:", "#")):
                    yield from self.with_parts(normpath(join(dirname(path), target)))


def loaded_by(path: str, content: bytes) -> list[str]:
    """The files that a page of ours loads, as paths from the site's root, in order.

    ``content`` is as our templates write it: double quotes, `src` and `srcset` on what is loaded,
    and `link` for style sheets, icons and the manifest, which are loaded, or with `rel` first for
    what is not.
    """
    links = [each.partition(b' href="')[2] for each in _LOADING_LINK.split(content)[1:]]
    targets = [each.partition(b'"')[0] for each in links]
    for part in content.split(b" src")[1:]:
        if part.startswith(b'="'):
            targets.append(part[2:].partition(b'"')[0])
        elif part.startswith(b'set="'):
            # Whichever the phone will choose, it is kept
            several = part[5:].partition(b'"')[0].split(b", ")
            targets += [each.partition(b" ")[0] for each in several]
    folder = dirname(path)
    return [
        _from_root(folder, each.decode())
        for each in dict.fromkeys(targets)
        if not each.startswith(b"data:")
    ]


@lru_cache(maxsize=256)
def _from_root(folder: str, target: str) -> str:
    return normpath(join(folder, target))


@dataclass(slots=True)
class KeptList:
    """The files of one vehicle, gathered while its pages are written."""

    slug: str
    assets: AssetFolder
    title: str = ""
    _files: dict[str, KeptFile] = field(default_factory=dict)

    def add(self, page: Page, content: bytes) -> None:
        """A page, as it is written, and all that it loads. The first names the list."""
        self.title = self.title or page.frame.title
        self._files[page.path] = kept_file(page.path, content)
        for target in loaded_by(page.path, content):
            if target not in self._files:
                for file in self.assets.with_parts(target):
                    self._files[file.path] = file

    def __bool__(self) -> bool:
        return bool(self._files)

    @property
    def path(self) -> str:
        """Where the list stands in the site."""
        return f"{LISTS}/{self.slug}.json"

    def text(self, built: str) -> str:
        """The list as JSON; ``built`` is the day of the build, or empty.

        The version changes when any file does, and with nothing else.
        """
        files = sorted(self._files.values(), key=lambda file: file.path)
        listed = [[file.path, file.sha256, file.size] for file in files]
        return _json(
            {
                "format": 1,
                "vehicle": self.slug,
                "title": self.title,
                "built": built,
                "version": _version(files),
                "bytes": sum(file.size for file in files),
                "files": listed,
            }
        )


def worker_script(needs: KeptList, worker: str) -> str:
    """The service worker, told the files, with hashes, that the page of what is kept needs."""
    return f"self.sondebookShell = {needs.text('').rstrip()};\n{worker}"


def manifest(edition: Edition) -> str:
    """The web app manifest; every address in it is relative, so it holds under any path."""
    icons = [
        {"src": source, "sizes": sizes, "type": kind, "purpose": purpose}
        for source, sizes, kind, purpose in ICONS
    ]
    return _json(
        {
            "name": edition.site_name,
            "short_name": edition.site_name,
            "lang": edition.language,
            "start_url": f"./{KEPT_FILE}",
            "scope": "./",
            "display": "minimal-ui",
            "background_color": "#faf8f4",
            "theme_color": "#faf8f4",
            "icons": icons,
        }
    )


def kept_page(t: NullTranslations) -> Page:
    """The page that lists what is kept on this phone; it stands at the site's root."""
    _ = t.gettext
    lead = _("These guides open without a connection.")
    return Page(KEPT_FILE, "guide/kept.html", Frame(_("Kept on this phone"), lead, ()), None)


def build_day(project: Path) -> str:
    """The day the site was made from, as ``2026-03-08``: the same for the same sources.

    It is the day of SOURCE_DATE_EPOCH (seconds, reproducible-builds.org), else of the last commit
    of the project's folder; empty where neither is known. A clock is never asked.
    """
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "") or _last_commit(project)
    if not seconds.isdecimal():
        return ""
    return datetime.fromtimestamp(int(seconds), UTC).date().isoformat()


def _last_commit(project: Path) -> str:
    try:
        told = subprocess.run(
            ["git", "-C", str(project), "log", "-1", "--format=%ct", "--", "."],
            capture_output=True,
            text=True,
            timeout=10,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return told.stdout.strip()


def _version(files: Iterable[KeptFile]) -> str:
    named = "".join(f"{file.path} {file.sha256}\n" for file in files)
    return sha256(named.encode()).hexdigest()[:_VERSION_LENGTH]


def _json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n"

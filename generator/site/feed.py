"""The Atom feed of added and changed guides, from the history of the profiles in git.

Source of the format: RFC 4287. A profile's history is read with one `git log`, only as far back as
the feed goes. Where there is no history, or a clone without its past, there is no entry to write.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from gettext import NullTranslations
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

from generator.guide.vehicle import Vehicle, page_path
from generator.profile.excerpt import excerpt
from generator.profile.form_schema import title

FILE = "feed.xml"
MOST_ENTRIES = 50
MOST_VALUES = 6
MOST_LETTERS = 160

_MARK = "\x01"
_LOG = (
    *("git", "-c", "core.quotePath=false", "-c", "diff.noprefix=false"),
    *("-c", "diff.mnemonicPrefix=false", "-c", "log.showSignature=false"),
    *("log", "--relative", "-p", "-U9999", "--no-color", "--no-ext-diff", "--no-textconv"),
    *("--no-renames", "--no-merges", "--diff-filter=AM", "--decorate=short"),
    f"--format={_MARK}%H{_MARK}%ct{_MARK}%D{_MARK}%s",
    *("--", "."),
)
_FILE = re.compile(r"diff --git a/([^/\n]+)\.ya?ml b/")
_KEY = re.compile(r"[-+ ]( *(?:- +)?)([\w-]+):(?:\s+(\S.*?))?\s*(?:\s#.*)?$")
_VALUE = re.compile(r"\{\s*value:\s*([^,}]+?)\s*[,}].*")
_TEXT = re.compile(r"[-+]\s*[^\s#]")
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class NoHistory(Exception):
    """The history cannot be read; the message says why."""


@dataclass(slots=True)
class Change:
    """One guide in one commit: added, or changed in these values (way, before, after) and texts.

    A way is the keys that lead to a value; a sensor in it is ``sensors``, its bank, its position.
    """

    slug: str
    commit: str
    seconds: int
    subject: str
    is_new: bool = False
    values: list[tuple[tuple[str, ...], str, str]] = field(default_factory=list)
    texts: int = 0

    @property
    def shows(self) -> bool:
        """Whether a reader of the guide can see it: a comment in a profile is for its writers."""
        return self.is_new or bool(self.values) or self.texts > 0


def changes(folder: Path, slugs: Iterable[str], most: int = MOST_ENTRIES) -> list[Change]:
    """The newest changes of the profiles in a folder, newest first; others' are passed over.

    Raises:
        NoHistory: there is no git, or no repository.
    """
    wanted = set(slugs)
    found: list[Change] = []
    with _log(folder) as lines:
        for change in _read(lines):
            if change.slug in wanted and change.shows:
                found.append(change)
            if len(found) == most:
                break
    return found


class _log:  # noqa: N801 - read as a word: with _log(folder) as lines
    """The lines of the history; read no further than asked for."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def __enter__(self) -> Iterator[str]:
        try:
            self._process = subprocess.Popen(
                _LOG,
                cwd=self._folder,
                stdout=subprocess.PIPE,
                stderr=subprocess.PIPE,
                encoding="utf-8",
                errors="replace",
            )
        except OSError as error:
            raise NoHistory(f"git cannot be run: {error.strerror}") from None
        assert self._process.stdout is not None
        return iter(self._process.stdout)

    def __exit__(self, *_error: object) -> None:
        process = self._process
        if process.poll() is None and process.stdout and process.stdout.read(1):
            process.kill()
        _, told = process.communicate()
        if process.returncode > 0:
            raise NoHistory(told.strip().partition("\n")[0] or "git log failed")


def _read(lines: Iterable[str]) -> Iterator[Change]:
    commit: list[str] = []
    change: Change | None = None
    before: dict[tuple[str, ...], str] = {}
    outline = _Outline()
    for line in lines:
        if line.startswith((_MARK, "diff --git ")):
            if change:
                yield change
            change, before, outline = None, {}, _Outline()
        if line.startswith(_MARK):
            commit = line.rstrip("\n").split(_MARK)[1:]
        # The oldest commit of a clone without its past would seem to add everything
        elif (found := _FILE.match(line)) and "grafted" not in commit[2].split(", "):
            change = Change(found[1], commit[0], int(commit[1]), commit[3])
        elif change and line.startswith("new file mode"):
            change.is_new = True
        elif change and not change.is_new and not line.startswith(("---", "+++")):
            _take(line, change, before, outline)
    if change:
        yield change


class _Outline:
    """Where in a profile a line stands, by its indentation; lines come one after the other."""

    def __init__(self) -> None:
        self._open: list[tuple[int, str]] = []
        self._sensor: dict[str, str] = {}

    def way(self, indent: str, key: str, value: str | None) -> tuple[str, ...]:
        """The way to a key that stands behind so much space and, in a list, a hyphen."""
        while self._open and self._open[-1][0] >= len(indent):
            self._open.pop()
        keys = [name for _, name in self._open]
        if keys == ["sensors"]:
            if "-" in indent:
                self._sensor = {}
            if value and key in ("bank", "position"):
                self._sensor[key] = value
        self._open.append((len(indent), key))
        if keys[:1] == ["sensors"]:
            keys[1:1] = [self._sensor.get("bank", "?"), self._sensor.get("position", "?")]
        return (*keys, key)


def _take(line: str, change: Change, before: dict[tuple[str, ...], str], outline: _Outline) -> None:
    """Take a line: a key that loses a value and, just below, gets another has changed."""
    found = _KEY.match(line)
    way = outline.way(*found.groups()) if found else ()
    text = found[3] if found else None
    if line.startswith((" ", "@@")):
        before.clear()
    elif text and way != ("format",):
        if line.startswith("-"):
            before[way] = text
        elif before.get(way) != text:
            change.values.append((way, before.pop(way, ""), text))
    elif not found and _TEXT.match(line):
        change.texts += 1


def feed_text(
    found: list[Change],
    vehicles: Iterable[Vehicle],
    address: str,
    site_name: str,
    t: NullTranslations,
) -> str:
    """The feed; ``address`` is the site's, with a slash at its end. There must be a change."""
    by_slug = {vehicle.slug: vehicle for vehicle in vehicles}
    entries = "".join(_entry(each, by_slug[each.slug], address, t) for each in found)
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n'
        '<feed xmlns="http://www.w3.org/2005/Atom">\n'
        f"<id>{_xml(address + FILE)}</id>\n"
        f"<title>{_xml(site_name)}</title>\n"
        f"<updated>{_time(max(each.seconds for each in found))}</updated>\n"
        f"<author><name>{_xml(site_name)}</name></author>\n"
        f'<link rel="self" href={_attribute(address + FILE)}/>\n'
        f'<link rel="alternate" type="text/html" href={_attribute(f"{address}index.html")}/>\n'
        f"{entries}</feed>\n"
    )


def _entry(change: Change, vehicle: Vehicle, address: str, t: NullTranslations) -> str:
    page = f"{address}{page_path(vehicle.slug)}"
    name = f"{vehicle.name}, {vehicle.years}"
    headline = t.gettext("%(name)s: added") if change.is_new else t.gettext("%(name)s: changed")
    told = _time(change.seconds)
    return (
        f"<entry>\n<id>{_xml(page)}#{change.commit[:12]}</id>\n"
        f"<title>{_xml(headline % {'name': name})}</title>\n"
        f"<updated>{told}</updated>\n<published>{told}</published>\n"
        f'<link rel="alternate" type="text/html" href={_attribute(page)}/>\n'
        f'<summary type="text">{_xml(_summary(change, t.gettext))}</summary>\n</entry>\n'
    )


def _summary(change: Change, _: Callable[[str], str]) -> str:
    """What the commit says of itself, then the values that changed."""
    lines = [change.subject]
    for way, before, after in change.values[:MOST_VALUES]:
        said = _("%(key)s: %(after)s, before: %(before)s") if before else _("%(key)s: %(after)s")
        was, now = _VALUE.sub(r"\1", before), _VALUE.sub(r"\1", after)
        if was == now:
            # Then it is what else stands in the braces
            was, now = before, after
        told = {"key": _way_words(way, _), "after": _short(now), "before": _short(was)}
        lines.append(said % told)
    if more := max(0, len(change.values) - MOST_VALUES) + change.texts:
        lines.append(_("Other lines changed: %(count)s") % {"count": more})
    return "\n".join(lines)


def _way_words(way: tuple[str, ...], _: Callable[[str], str]) -> str:
    """A way as a reader says it: the sensor or the part first, then what of it."""
    if way[0] == "sensors" and len(way) > 3:
        bank = _("Bank %(bank)s,") % {"bank": way[1]}
        position = _("position %(position)s") % {"position": way[2]}
        begin, keys = [f"{bank} {position}"], way[3:]
    elif len(way) > 2:
        # An obstacle or a fuse goes by its name, which is not ours to translate
        begin, keys = [re.sub("[-_]", " ", way[1])], way[2:]
    else:
        begin, keys = [], way
    return ", ".join((*begin, *(_key_words(key, _) for key in keys)))


def _key_words(key: str, _: Callable[[str], str]) -> str:
    """A key as the form that builds a profile calls it; in English small, within a line."""
    english = title(key)
    said = _(english)
    return english.lower() if said == english else said


def _short(text: str) -> str:
    return excerpt(text, MOST_LETTERS)


def _time(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _xml(text: str) -> str:
    return escape(_NOT_XML.sub("\ufffd", text))


def _attribute(text: str) -> str:
    return quoteattr(_NOT_XML.sub("\ufffd", text))

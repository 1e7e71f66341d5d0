"""A profile as it stands on one side of a comparison: read, its photos at hand, not built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from gettext import NullTranslations
from pathlib import PurePosixPath

from generator.profile.finding import Finding, Severity
from generator.profile.model import Profile
from generator.profile.near_copy import ALIKE, share, stated_values
from generator.profile.photo_source import PhotoSource, is_same_photo
from generator.profile.reading import ProfileFile, data_of, read_text
from generator.profile.revision import Stand
from generator.profile.tree import Data


@dataclass(frozen=True, slots=True)
class ProfileState:
    """A profile on one side, and where its photos are."""

    content: bytes
    file: ProfileFile
    data: dict[str, Data] | None
    photos: PhotoSource


def states(
    stand: Stand, known: Mapping[str, ProfileState] | None = None
) -> dict[str, ProfileState]:
    """The profiles of a state by slug; what is ``known`` already is not read again."""
    read = {}
    for name, content in sorted(stand.contents.items()):
        slug = PurePosixPath(name).stem
        same = known.get(slug) if known else None
        if same and same.content == content:
            read[slug] = replace(same, photos=stand.photos)
        else:
            file = read_text(content, name, slug)
            read[slug] = ProfileState(content, file, data_of(content, name), stand.photos)
    return read


def is_same(one: ProfileState | None, other: ProfileState | None) -> bool:
    """Whether a profile and all its photos are on both sides, and equal to the last byte."""
    if one is None or other is None or one.content != other.content:
        return False
    named = dict.fromkeys(each.file for each in one.file.named_photos)
    return all(is_same_photo(file, one.photos, other.photos) for file in named)


def renamed_slugs(
    before: Mapping[str, ProfileState], after: Mapping[str, ProfileState]
) -> dict[str, str]:
    """By slug that is new: the slug that went, where both are of one vehicle."""
    gone = {slug: before[slug].file.profile for slug in before if slug not in after}
    found: dict[str, str] = {}
    for slug, read in after.items():
        profile = read.file.profile
        if slug in before or profile is None:
            continue
        likely = {each: _likeness(other, profile) for each, other in gone.items() if other}
        best = max(likely, key=lambda each: likely[each], default="")
        if best and likely[best] >= ALIKE:
            found[slug] = best
            del gone[best]
    return found


def _likeness(old: Profile, new: Profile) -> float:
    if old.vehicle == new.vehicle and old.engine == new.engine:
        return 1.0
    values, others = stated_values(old), stated_values(new)
    return share(values, others) if values and others else 0.0


def faults_of(
    old: ProfileState | None, new: ProfileState | None, t: NullTranslations
) -> Iterator[str]:
    """What of a side cannot be built, each in a sentence; the check's own words are English."""
    _ = t.gettext
    if old and old.file.profile is None:
        said = _("The older profile fails its check, so its pages are not built: %(reason)s")
        yield said % {"reason": _first_error(old.file, t)}
    if new and new.file.profile is None:
        said = _("The newer profile fails its check, so its pages are not built: %(reason)s")
        yield said % {"reason": _first_error(new.file, t)}


def _first_error(file: ProfileFile, t: NullTranslations) -> str:
    """The first error, as the check words it, in English."""
    errors = [each for each in file.findings if each.severity is Severity.ERROR]
    first, more = errors[0], len(errors) - 1
    told = t.gettext("line %(line)s [%(rule)s] %(message)s") % {
        "line": first.place.line,
        "rule": first.rule,
        "message": first.message,
    }
    if not more:
        return told
    others = t.ngettext("And %(count)s more.", "And %(count)s more.", more)
    return f"{told} {others % {'count': more}}"


def warnings_between(
    old: ProfileState | None, new: ProfileState | None
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """The warnings that come, and those that go; places move with every edit and do not count."""
    before, after = (
        {
            (finding.rule, finding.at, finding.message): finding
            for finding in (read.file.findings if read and read.file.profile else ())
        }
        for read in (old, new)
    )
    return (
        tuple(after[key] for key in after if key not in before),
        tuple(before[key] for key in before if key not in after),
    )

"""From the bytes of a profile to a checked Profile and every finding there is."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path as FilePath

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from generator.profile.behind_hash import mend_of_empty, text_behind_hash
from generator.profile.comma_in_brackets import commas_in_brackets
from generator.profile.exceptions import of_exceptions, unused_unless_near, without_excepted
from generator.profile.finding import (
    Fault,
    Finding,
    Place,
    Severity,
    in_order,
    printable,
)
from generator.profile.mending import mended
from generator.profile.migrations import migrated, newer_format, old_format
from generator.profile.model import Profile
from generator.profile.photo_file import (
    NamedPhoto,
    PhotoFile,
    judged,
    named_photos,
    photo_content,
)
from generator.profile.rules import RULES, Rule
from generator.profile.source_text import LARGEST_BYTES, Refused
from generator.profile.tree import Data, Document, read_tree
from generator.profile.value_fault import fault_of
from generator.profile.way import way

MOST_FOUND = 100
"""Of one rule, and of values that cannot be read: who mends a hundred checks again."""

_LONGEST_FILE_NAME = 100
_FILE_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\.yml")


@dataclass(frozen=True, slots=True)
class ProfileFile:
    """A profile file as read: ``profile`` is None as soon as one finding is an error."""

    slug: str
    profile: Profile | None
    findings: tuple[Finding, ...]
    vehicle: Place | None = None
    """Where the vehicle is named, for what only a whole collection can find."""
    unless_near: tuple[Finding, ...] = ()
    """What is to be found if no other profile of the collection is nearly equal."""
    named_photos: tuple[NamedPhoto, ...] = ()
    """The files that its text names as photos."""
    photos: Mapping[str, PhotoFile] = field(default_factory=dict)
    """Those of them that may be published, by name; empty where only a text was read."""

    @property
    def has_errors(self) -> bool:
        """Whether anything keeps this vehicle from being published."""
        return any(finding.severity is Severity.ERROR for finding in self.findings)

    @property
    def is_draft(self) -> bool:
        """Whether the vehicle's profile says that it is still being written."""
        return self.profile is not None and self.profile.is_draft


def read_profile(
    path: FilePath, shown_as: str | None = None, known_photos: Container[str] = ()
) -> ProfileFile:
    """Read and check a profile file and its photos; ``shown_as`` is its name in findings.

    ``known_photos`` are the keys of photos that were made into pictures before.

    Raises:
        OSError: the file cannot be read.
    """
    shown = shown_as or path.as_posix()
    if path.is_symlink() and not path.resolve().is_relative_to(path.parent.resolve()):
        place = Place(shown, 1, 1)
        return ProfileFile(path.stem, None, (_leads_out(path, place),))
    with path.open("rb") as file:
        content = file.read(LARGEST_BYTES + 1)
    findings: list[Finding] = []
    if not _FILE_NAME.fullmatch(path.name) or len(path.name) > _LONGEST_FILE_NAME:
        findings.append(
            Finding(
                "file-name",
                Severity.ERROR,
                Place(shown, 1, 1),
                f"`{printable(path.name)}` is no name for a profile.",
                f"Use small letters, digits and single hyphens, such as `{_file_meant(path)}`: "
                "the guide's address is made from it.",
            )
        )
    read = read_text(content, shown, slug=path.stem)
    findings.extend(read.findings)
    photos: Mapping[str, PhotoFile] = {}
    if read.named_photos:
        photos, refused = judged(
            read.named_photos, partial(photo_content, path.parent), known_photos
        )
        findings = [*in_order([*findings, *refused])]
    broken = any(finding.severity is Severity.ERROR for finding in findings)
    profile = None if broken else read.profile
    return replace(read, profile=profile, findings=tuple(findings), photos=photos)


def _file_meant(path: FilePath) -> str:
    """The file's name as it may be, without the second ending that some editors hang on."""
    stem = re.sub(r"(\.ya?ml|\.txt)+$", "", path.name.casefold())
    words = re.findall("[a-z0-9]+", stem)
    meant = f"{'-'.join(words)}.yml"
    return meant if words and len(meant) <= _LONGEST_FILE_NAME else "fenwright-carrow-v6.yml"


def _leads_out(path: FilePath, place: Place) -> Finding:
    # Its lines would be printed by whoever checks a change that is not his own
    return Finding(
        "file-name",
        Severity.ERROR,
        place,
        f"`{printable(path.name)}` is a link that leads out of its folder.",
        "Put the profile itself there.",
    )


def read_text(content: bytes, shown_as: str, slug: str) -> ProfileFile:
    """Read and check the content of a profile; every finding at once, in order of place."""
    try:
        document, twice = read_tree(shown_as, content)
        if newer := newer_format(document):
            return ProfileFile(slug, None, (newer,))
        profile, findings = _validated_in_present_format(document, content)
    except Refused as refused:
        return ProfileFile(slug, None, (refused.finding,))
    empty = {each.place.line for each in findings if each.rule == "empty-value"}
    behind_hash = _those_told(text_behind_hash(document, empty))
    in_brackets = _those_told(commas_in_brackets(document))
    found = in_order(dict.fromkeys((*twice, *findings, *behind_hash, *in_brackets)))
    photos = tuple(named_photos(document))
    broken = any(finding.severity is Severity.ERROR for finding in found)
    if broken or profile is None:
        return ProfileFile(slug, None, found, named_photos=photos)
    vehicle, unless_near = document.place(("vehicle",)), unused_unless_near(profile, document)
    return ProfileFile(slug, profile, found, vehicle, unless_near, photos)


def data_of(content: bytes, shown_as: str) -> dict[str, Data] | None:
    """What stands in a profile, in the present format and unjudged; None where it is not read."""
    try:
        document, _ = read_tree(shown_as, content)
        done = migrated(document, content)
    except Refused:
        return None
    return (done.document if done else document).data


def checked(data: Data) -> Profile | None:
    """The profile that some data makes; None where the check would find an error in it."""
    try:
        profile = Profile.model_validate(data)
    except ValidationError:
        return None
    hard = (rule for rule in RULES if rule.severity is Severity.ERROR)
    return None if any(True for rule in hard for _ in rule.check(profile)) else profile


def _validated_in_present_format(
    document: Document, content: bytes
) -> tuple[Profile | None, list[Finding]]:
    """The profile and its findings, each where it stands in the file, whatever its format."""
    done = migrated(document, content)
    if done is None:
        return _validated(document)
    profile, findings = _validated(done.document)
    moved = [replace(each, place=done.place_before(each.place, document)) for each in findings]
    return profile, [old_format(document, done), *moved]


def _validated(document: Document) -> tuple[Profile | None, list[Finding]]:
    try:
        profile = Profile.model_validate(document.data)
    except ValidationError as error:
        errors = error.errors(include_url=False)
        findings = [*_those_told(_finding_of(document, each) for each in errors)]
        guess = mended(document.data) if len(errors) <= MOST_FOUND else None
        if guess is None:
            return None, findings
        part_rules = [rule for rule in RULES if not rule.of_whole]
        return None, findings + without_excepted(_rule_findings(document, guess, part_rules), guess)
    findings = list(_rule_findings(document, profile, RULES))
    if not profile.exceptions:
        return profile, findings
    of_themselves = of_exceptions(findings, profile, document)
    return profile, [*without_excepted(findings, profile), *of_themselves]


def _rule_findings(
    document: Document, profile: Profile, rules: Iterable[Rule]
) -> Iterator[Finding]:
    for rule in rules:
        found = rule.check(profile)
        yield from _those_told(_placed(document, rule.name, rule.severity, each) for each in found)


def _those_told(found: Iterable[Finding]) -> Iterator[Finding]:
    """As many findings as anybody mends at once; the next one says that there are more."""
    for count, each in enumerate(found):
        if count == MOST_FOUND:
            message = f"There is more to find from here on; {MOST_FOUND} of a kind are told."
            yield replace(each, message=message, mend="Mend those, then check again.")
            return
        yield each


def _placed(document: Document, rule: str, severity: Severity, fault: Fault) -> Finding:
    place = document.place(fault.path, at_key=fault.at_key)
    at = way(fault.path, document.data)
    return Finding(rule, severity, place, fault.message, fault.mend, at)


def _finding_of(document: Document, error: ErrorDetails) -> Finding:
    path = tuple(step for step in error["loc"] if step != "[key]")
    rule, fault = fault_of(error, path)
    if error["input"] is None and rule == "empty-value":
        mend = mend_of_empty(path, document.place(path, at_key=fault.at_key))
        fault = replace(fault, mend=mend or fault.mend)
    return _placed(document, rule, Severity.ERROR, fault)

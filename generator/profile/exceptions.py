"""The exceptions that a profile makes from warnings: each with a reason, and none for nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.profile.finding import Finding, Severity, did_you_mean
from generator.profile.guide_model import Exempted
from generator.profile.model import Profile
from generator.profile.rules import RULES
from generator.profile.tree import Document
from generator.profile.way import leads_to

NEAR_COPY = "near-copy"
"""A warning that only a whole collection can give; an exception from it is judged there."""

OF_ERRORS = frozenset(rule.name for rule in RULES if rule.severity is Severity.ERROR)
OF_WARNINGS = frozenset(rule.name for rule in RULES) - OF_ERRORS | {NEAR_COPY}


def without_excepted(findings: Iterable[Finding], profile: Profile) -> list[Finding]:
    """The findings that no exception of the profile silences; errors are never silenced."""
    return [
        each for each in findings if not any(_silences(one, each) for one in profile.exceptions)
    ]


def of_exceptions(
    findings: list[Finding], profile: Profile, document: Document
) -> Iterator[Finding]:
    """What is wrong with the exceptions themselves, given all that the rules found.

    An exception from a near copy is not judged here: `unused_unless_near` holds what to say.
    """
    for index, one in enumerate(profile.exceptions):
        if one.rule not in OF_WARNINGS:
            yield _unknown(document, index, one)
        elif one.rule != NEAR_COPY and not any(_silences(one, each) for each in findings):
            yield _unused(document, index, one)


def unused_unless_near(profile: Profile, document: Document) -> tuple[Finding, ...]:
    """What to say of the exceptions from a near copy, if there is none in the collection."""
    return tuple(
        _unused(document, index, one)
        for index, one in enumerate(profile.exceptions)
        if one.rule == NEAR_COPY
    )


def excepts_near_copy(profile: Profile) -> bool:
    """Whether the profile says that it may be equal to another one."""
    return any(one.rule == NEAR_COPY for one in profile.exceptions)


def _silences(one: Exempted, finding: Finding) -> bool:
    is_warning = finding.severity is Severity.WARNING
    return is_warning and one.rule == finding.rule and leads_to(one.at, finding.at)


def _unknown(document: Document, index: int, one: Exempted) -> Finding:
    place = document.place(("exceptions", index, "rule"))
    if one.rule in OF_ERRORS:
        message = f"`{one.rule}` is an error, and errors have no exceptions."
        mend = "Mend what it finds, and delete the exception."
    else:
        message = f"No rule that warns is called `{one.rule}`."
        mend = did_you_mean(one.rule, OF_WARNINGS) or "`sondebook explain` lists them."
    return Finding("unknown-rule", Severity.ERROR, place, message, mend)


def _unused(document: Document, index: int, one: Exempted) -> Finding:
    where = f" at `{one.at}`" if one.at else ""
    return Finding(
        "unused-exception",
        Severity.WARNING,
        document.place(("exceptions", index, "at" if one.at else "rule")),
        f"`{one.rule}` finds nothing{where} that this exception could silence.",
        "Delete it, or mend `at`." if one.at else "Delete it.",
    )

"""The feed of added and changed guides, from real histories."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.guide.vehicle import Vehicle
from generator.messages import template
from generator.profile.form_schema import title
from generator.profile.schema import profile_schema
from generator.site import feed
from generator.site.feed import Change, NoHistory, changes, feed_text
from generator.site.language import translations

Run = Callable[..., "subprocess.CompletedProcess[str]"]
NAMES = {"a": "http://www.w3.org/2005/Atom"}
PIP = "lowmere-pip-1-4"
ADDRESS = "https://guides.example/club/"


def git(folder: Path, *words: str, day: int = 1) -> None:
    when = f"2026-03-{day:02d}T12:00:00+02:00"
    subprocess.run(
        ["git", "-c", "user.name=A", "-c", "user.email=a@club.example", *words],
        cwd=folder,
        check=True,
        capture_output=True,
        env={"PATH": "/usr/bin:/bin", "GIT_COMMITTER_DATE": when, "GIT_AUTHOR_DATE": when},
    )


def commit(folder: Path, subject: str, day: int) -> None:
    git(folder, "add", "-A", day=day)
    git(folder, "commit", "-m", subject, day=day)


def change(path: Path, before: str, after: str) -> None:
    assert before in path.read_text()
    path.write_text(path.read_text().replace(before, after))


@pytest.fixture
def history(project: Path) -> Path:
    """The profiles of a project with a history of five commits; the last is a comment's."""
    profiles = project / "vehicle_profiles"
    pip = profiles / f"{PIP}.yml"
    away = project / "away.yml"
    pip.rename(away)
    git(project, "init", "-q", "-b", "main")
    commit(project, "Five vehicles", 1)
    away.rename(pip)
    commit(project, "The Pip, from the handbook", 2)
    change(pip, "minutes: 10 to 15", "minutes: 12 to 15")
    change(pip, "hangs beside", "is beside")
    commit(project, "Timed again", 3)
    change(project / "docs/index.md", "comes first", "goes first")
    commit(project, "A page", 4)
    change(pip, "# In plain sight.", "# In sight.")
    commit(project, "A comment", 5)
    return profiles


def slugs(profiles: Path) -> list[str]:
    return sorted(path.stem for path in profiles.glob("*.yml"))


def test_a_change_is_told_with_its_values(history: Path) -> None:
    found = changes(history, slugs(history))
    assert [(each.slug, each.subject, each.is_new) for each in found[:2]] == [
        (PIP, "Timed again", False),
        (PIP, "The Pip, from the handbook", True),
    ]
    assert found[0].values == [
        (
            ("sensors", "1", "1", "connector", "where"),
            "hangs beside the oil filler",
            "is beside the oil filler",
        ),
        (("sensors", "1", "2", "minutes"), "10 to 15", "12 to 15"),
    ]
    assert {each.subject for each in found[2:]} == {"Five vehicles"}
    assert len(found) == 2 + len(slugs(history)) - 1


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (
            "minutes: 3 to 5\n",
            "minutes: 4 to 5\n",
            "tunnel shield, minutes: 4 to 5, before: 3 to 5",
        ),
        (
            "rating: {value: 10 A, ",
            "rating: {value: 15 A, ",
            "engine control, rating: 15 A, before: 10 A",
        ),
        ("  model: Pip", "  model: Pipp", "vehicle, model: Pipp, before: Pip"),
        (
            "value: 5.6 to 7.0 ohm",
            "value: 5.5 to 7.0 ohm",
            "Bank 1, position 2, heater, resistance: 5.5 to 7.0 ohm, before: 5.6 to 7.0 ohm",
        ),
        (
            "{value: 10 A, source: owners-handbook}",
            "{value: 10 A, source: handbook}",
            "engine control, rating: {value: 10 A, source: handbook}, "
            "before: {value: 10 A, source: owners-handbook}",
        ),
    ],
)
def test_a_value_names_what_it_belongs_to(
    history: Path, demo: dict[str, Vehicle], before: str, after: str, told: str
) -> None:
    change(history / f"{PIP}.yml", before, after)
    commit(history, "Mended", 6)
    text = feed_text(changes(history, [PIP]), demo.values(), ADDRESS, "x", NullTranslations())
    first = parsed(text).findall("a:entry", NAMES)[0]
    assert text_of(first, "summary").splitlines() == ["Mended", told]


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        (
            "minutes: 3 to 5\n",
            "minutes: 4 to 5\n",
            "tunnel shield, Minuten: 4 to 5, vorher: 3 to 5",
        ),
        (
            "rating: {value: 10 A, ",
            "rating: {value: 15 A, ",
            "engine control, Nennstrom: 15 A, vorher: 10 A",
        ),
        ("  model: Pip", "  model: Pipp", "Fahrzeug, Modell: Pipp, vorher: Pip"),
        (
            "value: 5.6 to 7.0 ohm",
            "value: 5.5 to 7.0 ohm",
            "Bank 1, Position 2, Heizung, Widerstand: 5.5 to 7.0 ohm, vorher: 5.6 to 7.0 ohm",
        ),
    ],
)
def test_its_words_are_those_of_the_site(
    history: Path, demo: dict[str, Vehicle], before: str, after: str, told: str
) -> None:
    change(history / f"{PIP}.yml", before, after)
    commit(history, "Mended", 6)
    text = feed_text(changes(history, [PIP]), demo.values(), ADDRESS, "x", translations("de"))
    entry = parsed(text).findall("a:entry", NAMES)[0]
    assert (entry.findtext("a:title", "", NAMES) or "").endswith(": geändert")
    summary = entry.findtext("a:summary", "", NAMES) or ""
    assert summary.replace("\u00a0", " ").splitlines() == ["Mended", told]


def test_every_key_of_a_profile_has_a_name_in_every_language() -> None:
    keys = {
        key
        for part in (profile_schema(), *profile_schema()["definitions"].values())
        for key in part.get("properties", {})
    } - {"format"}
    known = {message.id for message in template() if message.id}
    assert len(keys) > 70
    assert {title(key) for key in keys} <= known


def test_a_name_is_no_key(history: Path, demo: dict[str, Vehicle]) -> None:
    """An obstacle that is called as a key is goes by its own name."""
    made = Change(PIP, "0" * 40, 1, "x", values=[(("obstacles", "torque", "minutes"), "1", "2")])
    text = feed_text([made], demo.values(), ADDRESS, "x", translations("de"))
    assert "torque, Minuten: 2, vorher: 1" in text


def test_what_is_not_published_is_passed_over(history: Path) -> None:
    assert {each.slug for each in changes(history, [PIP])} == {PIP}
    assert changes(history, []) == []


def test_history_is_read_no_further_than_needed(history: Path) -> None:
    assert len(changes(history, slugs(history), most=1)) == 1


def test_a_settings_file_of_the_person_changes_nothing(history: Path) -> None:
    before = changes(history, slugs(history))
    for name, value in (
        ("diff.noprefix", "true"),
        ("diff.mnemonicPrefix", "true"),
        ("color.ui", "always"),
        ("diff.external", "false"),
        ("log.decorate", "full"),
        ("log.showSignature", "true"),
    ):
        git(history, "config", name, value)
    assert changes(history, slugs(history)) == before


def test_a_clone_without_its_past_adds_nothing(history: Path, tmp_path: Path) -> None:
    git(tmp_path, "clone", "-q", "--depth", "3", f"file://{history.parent}", "clone")
    found = changes(tmp_path / "clone/vehicle_profiles", slugs(history))
    assert [each.subject for each in found] == []
    git(tmp_path, "clone", "-q", "--depth", "4", f"file://{history.parent}", "deeper")
    found = changes(tmp_path / "deeper/vehicle_profiles", slugs(history))
    assert [each.subject for each in found] == ["Timed again"]


def test_no_repository_and_no_git_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(NoHistory, match="not a git repository"):
        changes(tmp_path, [])
    monkeypatch.setattr(feed, "_LOG", ("no-such-git",))
    with pytest.raises(NoHistory, match="git cannot be run"):
        changes(tmp_path, [])


def parsed(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text.encode())


def text_of(element: ElementTree.Element, name: str) -> str:
    (found,) = element.findall(f"a:{name}", NAMES)
    return found.text or ""


def test_the_feed_has_what_rfc_4287_asks(history: Path, demo: dict[str, Vehicle]) -> None:
    found = changes(history, slugs(history))
    text = feed_text(found, demo.values(), ADDRESS, "Club & guides", NullTranslations())
    root = parsed(text)
    assert text_of(root, "title") == "Club & guides"
    assert text_of(root, "id") == f"{ADDRESS}feed.xml"
    assert text_of(root, "updated") == "2026-03-03T10:00:00Z"
    assert root.find("a:author/a:name", NAMES) is not None
    entries = root.findall("a:entry", NAMES)
    ids = [text_of(entry, "id") for entry in entries]
    assert len(ids) == len(set(ids)) == len(found)
    for entry in entries:
        assert text_of(entry, "updated")
        (link,) = entry.findall("a:link", NAMES)
        assert link.get("href", "").startswith(f"{ADDRESS}guides/")
    first = entries[0]
    assert text_of(first, "title").endswith(": changed")
    assert text_of(first, "summary").splitlines() == [
        "Timed again",
        "Bank 1, position 1, connector, where: is beside the oil filler, "
        "before: hangs beside the oil filler",
        "Bank 1, position 2, minutes: 12 to 15, before: 10 to 15",
    ]


def test_contributed_text_stays_text(small: Callable[..., Vehicle]) -> None:
    hostile = "]]></summary>\x0b<script>&%(key)s"
    told = Change("small", "a" * 40, 1, hostile, values=[(("vehicle", "model"), "%s", hostile)])
    vehicle = small({"vehicle.model": 'Brae" <b>'})
    (entry,) = parsed(feed_text([told], [vehicle], ADDRESS, "x", NullTranslations())).findall(
        "a:entry", NAMES
    )
    assert 'Brae" <b>' in text_of(entry, "title")
    shown = hostile.replace("\x0b", "\ufffd")
    assert text_of(entry, "summary") == f"{shown}\nvehicle, model: {shown}, before: %s"


def test_a_build_says_why_there_is_no_feed(run: Run, project: Path) -> None:
    built = run("mkdocs", "build")
    assert "no feed: fatal: not a git repository" in built.stderr
    assert not (project / "site/feed.xml").exists()
    assert "feed.xml" not in (project / "site/guides/index.html").read_text()


def test_a_build_from_a_history_has_its_feed(run: Run, history: Path) -> None:
    site = history.parent / "site"
    assert run("sondebook", "build").returncode == 0
    first = (site / "feed.xml").read_bytes()
    for page in ("index.html", "guides/index.html", "cautions.html"):
        assert 'type="application/atom+xml"' in (site / page).read_text()
    assert run("sondebook", "build").returncode == 0
    assert (site / "feed.xml").read_bytes() == first

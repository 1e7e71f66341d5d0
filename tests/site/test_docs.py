"""The hand-written pages say what the program does: commands, files, keys and cautions."""

from __future__ import annotations

import importlib
import re
from gettext import NullTranslations
from pathlib import Path

import click
import pytest
import yaml

from generator.cli import main
from generator.guide.cautions import sentences
from generator.profile import Profile, read_text
from generator.profile.part import Part
from generator.profile.reference import key_reference
from generator.trade.hazard import SIGNAL_WORDS, Hazard
from tests.site.markdown_tables import tables

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
README = (ROOT / "README.md").read_text("utf-8")
HANDBOOK = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROSE = [README, HANDBOOK, *(page.read_text("utf-8") for page in sorted(DOCS.rglob("*.md")))]


def test_no_table_is_wider_than_a_phone_bears() -> None:
    for page in PROSE:
        assert all(len(table.columns) <= 4 for table in tables(page))


@pytest.mark.parametrize("hazard", Hazard)
def test_the_cautions_page_says_what_the_guides_say(hazard: Hazard) -> None:
    page = (DOCS / "cautions.md").read_text("utf-8")
    panels = {
        panel.split('"')[1]: " ".join(panel.split())
        for panel in re.split(r"^!!! ", page, flags=re.MULTILINE)[1:]
    }
    assert sentences(NullTranslations())[hazard] in panels[SIGNAL_WORDS[hazard].value]


# ---- the profile's format


def test_the_key_reference_is_the_models_own() -> None:
    """``python -m generator.profile.reference > docs/reference/profile.md`` mends this."""
    assert (DOCS / "reference/profile.md").read_text("utf-8") == key_reference()


def parts(kind: type[Part]) -> set[type[Part]]:
    found = {kind}
    for field in kind.model_fields.values():
        for inner in re.findall(r"\w+", str(field.annotation)):
            part = getattr(importlib.import_module(kind.__module__), inner, None)
            if isinstance(part, type) and issubclass(part, Part) and part is not kind:
                found |= parts(part)
    return found


def test_every_key_is_in_the_reference_with_a_description() -> None:
    listed = set(re.findall(r"^- `(\w+)`(?: \(needed\))?: .+\n  \*Wanted:", key_reference(), re.M))
    for part in parts(Profile):
        for key, field in part.model_fields.items():
            assert key in listed, f"{part.__name__}.{key}"
            assert field.description, f"{part.__name__}.{key} has no description"


def add_a_vehicle() -> str:
    return (DOCS / "add-a-vehicle.md").read_text("utf-8")


def test_the_smallest_profile_has_no_finding() -> None:
    smallest = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)[0]
    read = read_text(smallest.encode(), "smallest.yml", "smallest")
    assert read.findings == ()
    assert read.profile is not None


def test_the_smallest_profile_cannot_be_smaller() -> None:
    smallest = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)[0]
    for key in yaml.safe_load(smallest):
        less = {name: part for name, part in yaml.safe_load(smallest).items() if name != key}
        assert read_text(yaml.safe_dump(less).encode(), "less.yml", "less").has_errors, key


def test_every_fragment_fits_into_a_profile() -> None:
    smallest, *fragments = re.findall(r"```yaml\n(.*?)```", add_a_vehicle(), re.DOTALL)
    assert fragments
    whole = smallest + "".join(fragments)
    read = read_text(whole.encode(), "whole.yml", "whole")
    assert [str(finding) for finding in read.findings] == []


def test_the_main_keys_are_listed() -> None:
    main_keys = add_a_vehicle().partition("## The main keys")[2]
    assert re.findall(r"^- `(\w+)`: ", main_keys, re.MULTILINE) == list(Profile.model_fields)


# ---- commands, files and modules that are named exist

NAMED = re.findall(r"`([^`\n]+)`", README + HANDBOOK)
FOLDERS = ("generator", "overrides", "tests", "docs", "vehicle_profiles", ".ci")


def code_of(page: str) -> str:
    """What a page shows as code, in blocks and between words."""
    blocks = re.findall(r"```\w*\n(.*?)```", page, re.DOTALL)
    rest = re.sub(r"```.*?```", "", page, flags=re.DOTALL)
    return "\n".join([*blocks, *re.findall("`([^`]+)`", rest)])


def test_make_targets_that_are_named_exist() -> None:
    makefile = (ROOT / "Makefile").read_text("utf-8")
    targets = set(re.findall(r"^([a-z]+):", makefile, re.MULTILINE))
    named = {target for page in PROSE for target in re.findall(r"\bmake ([a-z]+)", code_of(page))}
    assert {"site", "test", "serve", "lock"} <= named <= targets


def test_files_that_are_named_exist() -> None:
    paths = {name for name in NAMED if name.split("/")[0] in FOLDERS and "*" not in name}
    assert len(paths) > 20
    assert [path for path in sorted(paths) if not (ROOT / path.partition(":")[0]).exists()] == []
    files = {name for name in NAMED if re.fullmatch(r"[A-Za-z-]+\.(md|toml|yml|lock)", name)}
    assert [file for file in sorted(files) if not (ROOT / file).exists()] == []


def test_names_of_the_program_that_are_named_exist() -> None:
    dotted = {name for name in NAMED if re.fullmatch(r"generator(\.\w+)+", name)}
    assert len(dotted) > 5
    for name in dotted:
        module, _, last = name.rpartition(".")
        assert hasattr(importlib.import_module(module), last) or importlib.import_module(name)


def test_the_first_line_of_each_module_says_what_it_holds() -> None:
    for path in sorted((ROOT / "generator").rglob("*.py")):
        first_line = path.read_text("utf-8").partition("\n")[0]
        assert re.match(r'"""[A-Z].{15,}', first_line), path


@pytest.mark.parametrize("name", sorted(main.commands))
def test_every_command_and_option_is_documented(name: str) -> None:
    said = "\n".join(PROSE)
    assert f"`sondebook {name}" in said or f"sondebook {name}\n" in said
    for parameter in main.commands[name].params:
        if isinstance(parameter, click.Option):
            for option in parameter.opts:
                assert re.search(rf"(?<![\w-]){re.escape(option)}(?![\w-])", said), option


def test_the_navigation_lists_every_page() -> None:
    navigation = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))["nav"]
    listed = [page for entry in navigation for page in entry.values()]
    there = sorted(page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md"))
    assert sorted(listed) == there


def test_no_other_host_is_named() -> None:
    for page in PROSE:
        for host in re.findall(r"https?://([\w.-]+)", page):
            assert host == "127.0.0.1" or host.endswith(".example"), host

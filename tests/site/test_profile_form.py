"""The page that builds a profile: its data, its settings, and the libraries it brings along."""

from __future__ import annotations

import hashlib
import json
import re
from gettext import NullTranslations
from pathlib import Path

import pytest

from generator.profile.form_schema import form_schema
from generator.site.profile_form import FILE, form_script, is_proposal, modeline
from tests.site.conftest import Run

VENDOR = Path(__file__).parents[2] / "overrides" / "assets" / "vendor"
FREE = ("MIT License", "Apache License", "BSD")


def test_the_data_is_a_script_that_holds_the_schema(site: Path) -> None:
    text = (site / FILE).read_text("utf-8")
    assert text.isascii() and "</script" not in text.lower()
    data = json.loads(text.removeprefix("window.sondebookForm=").rstrip().rstrip(";"))
    assert data["schema"] == json.loads(json.dumps(form_schema()))
    assert data["propose"].startswith("https://code.example/")


def test_the_first_line_leads_to_the_schema_wherever_it_is(tmp_path: Path) -> None:
    profiles = tmp_path / "vehicle_profiles"
    begin = "# yaml-language-server: $schema="
    assert modeline(tmp_path, profiles) == f"{begin}../site/reference/profile.schema.json"
    schema = tmp_path / "docs" / "reference" / "profile.schema.json"
    schema.parent.mkdir(parents=True)
    schema.write_text("{}")
    assert modeline(tmp_path, profiles) == f"{begin}../docs/reference/profile.schema.json"


@pytest.mark.parametrize(
    ("address", "is_one"),
    [
        ("https://forge.example/new?filename={filename}&value={value}", True),
        ("https://forge.example/new/{filename}", True),
        ("https://forge.example/new", False),
        ("javascript:alert({filename})", False),
        ("//forge.example/{filename}", False),
        ("https://forge.example/ {filename}", False),
    ],
)
def test_only_an_address_with_a_gap_for_the_name_is_a_proposal(address: str, is_one: bool) -> None:
    assert is_proposal(address) is is_one


def test_another_address_stops_the_build_with_a_sentence(project: Path, run: Run) -> None:
    config = (project / "mkdocs.yml").read_text("utf-8")
    spoiled = re.sub(r"propose_uri: .*", "propose_uri: javascript:alert(1)", config)
    assert spoiled != config
    (project / "mkdocs.yml").write_text(spoiled, "utf-8")
    done = run("sondebook", "build")
    assert done.returncode == 2
    assert "mkdocs.yml: propose_uri is an address" in done.stderr
    assert not (project / "site").exists()


def test_without_an_address_there_is_none_in_the_page() -> None:
    assert '"propose":""' in form_script("# x", "", NullTranslations())


def test_each_library_is_as_it_was_published_and_free_to_hand_on() -> None:
    listed = re.findall(
        r"^- `([\w.-]+)`: (\S+) (\S+), MIT.*?SHA-256 `([0-9a-f]{64})`",
        (VENDOR / "README.md").read_text("utf-8"),
        re.MULTILINE | re.DOTALL,
    )
    scripts = sorted(path.name for path in VENDOR.glob("*.js"))
    assert sorted(name for name, *_ in listed) == scripts
    for name, package, version, digest in listed:
        content = (VENDOR / name).read_bytes()
        assert hashlib.sha256(content).hexdigest() == digest, name
        assert version in name
        licence = (VENDOR / f"{package.rpartition('/')[2]}.LICENSE.txt").read_text("utf-8")
        assert any(words in licence for words in FREE), package
        # What the security policy of the page would refuse
        assert not re.search(rb"\beval\(|new Function\(|setAttribute\(.style", content), name

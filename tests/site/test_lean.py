"""Styles and scripts as they are shipped: lean, and the same to a browser."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest

from generator.site.lean import SOURCES, AssetFault, head_script, write_lean_assets

SCRIPT_BYTES = 15_000
FORM_BYTES = 12_000
"""The page that builds a profile is for who sends one in, at a table and with reception."""
POCKET_BYTES = 6_500
STYLE_BYTES = 11_750


def compressed(site: Path, kind: str) -> dict[str, int]:
    return {
        path.name: len(gzip.compress(path.read_bytes(), 9))
        for path in (site / "assets").glob(f"*.{kind}")
    }


def test_all_own_scripts_of_a_site_together_are_light(site: Path) -> None:
    found = compressed(site, "js")
    # What the finder looks through is data, and grows with the vehicles
    weights = {name: found[name] for name in found if not name.startswith(("finder-d", "profile-"))}
    assert {"bench.js", "choices.js", "keep.js", "planner.js"} < set(weights)
    told, worker = (site / "sw.js").read_text().split("\n", 1)
    assert told.startswith("self.sondebookShell")
    weights["sw.js"] = len(gzip.compress(worker.encode(), 9))
    assert sum(weights.values()) <= SCRIPT_BYTES, weights


def test_the_scripts_that_build_a_profile_are_light(site: Path) -> None:
    found = compressed(site, "js")
    weights = {name: found[name] for name in found if name.startswith("profile-")}
    assert weights.pop("profile-form-data.js"), "its schema is data"
    assert len(weights) == 6
    assert sum(weights.values()) <= FORM_BYTES, weights


def test_the_script_of_a_pocket_copy_is_light(site: Path) -> None:
    pockets = list((site / "pocket").glob("*.html"))
    assert len(pockets) == 6
    for pocket in pockets:
        _, _, script = pocket.read_text().rpartition("<script>")
        assert len(gzip.compress(script.partition("</script>")[0].encode(), 9)) <= POCKET_BYTES


def test_all_own_styles_together_are_light(site: Path) -> None:
    weights = compressed(site, "css")
    assert {
        "sondebook.css", "guide.css", "bench.css", "material.css", "profile-form.css",
    } == set(weights)  # fmt: skip
    assert sum(weights.values()) <= STYLE_BYTES, weights


def test_what_is_shipped_has_no_comments_and_its_source_has(site: Path, root: Path) -> None:
    comments = re.compile(r"/\*|^\s*//", re.MULTILINE)
    sources = sorted((root / "overrides/assets").glob("*.[cj]s*"))
    assert len(sources) > 10
    for source in sources:
        assert comments.search(source.read_text()), source.name
        if source.name in SOURCES:
            assert not (site / "assets" / source.name).exists()
            continue
        shipped = (site / "assets" / source.name).read_text()
        assert not comments.search(shipped), source.name
        assert 0 < len(shipped) < len(source.read_text())


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("own.js", "let a =\n;", "unexpected ; in expression on line 2 and column 1"),
        ("own.js", "f(", "expected ) instead of EOF in arguments on line 1 and column 3"),
    ],
)
def test_a_collections_own_script_with_a_fault_is_told_with_its_place(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    (tmp_path / "own/assets").mkdir(parents=True)
    (tmp_path / "own/assets" / name).write_text(text)
    with pytest.raises(AssetFault) as told:
        write_lean_assets([tmp_path / "own"], tmp_path / "site")
    assert str(told.value) == f"assets/{name}: {said}."


def test_a_collections_own_file_comes_before_the_themes(tmp_path: Path) -> None:
    own, theme, site = tmp_path / "own", tmp_path / "theme", tmp_path / "site"
    for folder, number in ((own, 1), (theme, 2)):
        (folder / "assets").mkdir(parents=True)
        (folder / "assets/choices.js").write_text(f"// a\ngo({number});\n")
    (theme / "assets/sondebook.css").write_text("/* a */ p { margin: 0; }\n")
    write_lean_assets([own, theme], site)
    assert (site / "assets/choices.js").read_text() == "go(1)"
    assert (site / "assets/sondebook.css").read_text() == "p{margin:0}"
    assert head_script([own, theme]) == "go(1)"


def test_a_missing_script_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match=r"choices\.js"):
        head_script([tmp_path])

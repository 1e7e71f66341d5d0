"""Case files: a faulty profile, and beside it exactly what is printed about it.

``cases/NAME.yml`` is the input, ``cases/NAME.expected.txt`` the output; an empty output means
that there is nothing to find. Contents that an editor would not keep (byte-order mark, control
characters, other encodings) are made here.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.profile import ProfileFile, Severity, read_profile, read_text
from generator.profile.folder import profile_paths

CASES = Path(__file__).parent / "cases"
INPUTS = sorted(CASES.glob("*.yml"))
MINIMAL = (CASES / "minimal.yml").read_bytes()


def printed(read: ProfileFile) -> str:
    return "".join(f"{finding}\n" for finding in read.findings)


@pytest.mark.parametrize("case", INPUTS, ids=lambda path: path.stem)
def test_case_prints_what_stands_beside_it(case: Path) -> None:
    read = read_profile(case, shown_as=case.name)
    assert printed(read) == case.with_suffix(".expected.txt").read_text(encoding="utf-8")
    assert (read.profile is None) == read.has_errors


def test_every_expectation_has_its_case() -> None:
    assert INPUTS
    expected = {path.name.removesuffix(".expected.txt") for path in CASES.glob("*.expected.txt")}
    assert expected == {path.stem for path in INPUTS}


def test_all_faults_are_found_in_one_run() -> None:
    read = read_profile(CASES / "ten-faults.yml")
    assert len({finding.rule for finding in read.findings}) >= 10
    places = [(finding.place.line, finding.place.column) for finding in read.findings]
    assert places == sorted(places)


def test_words_of_yaml_11_stay_text() -> None:
    profile = read_profile(CASES / "yaml-11-words.yml").profile
    assert profile is not None
    assert (profile.vehicle.make, profile.vehicle.model) == ("no", "on")
    source = profile.sources["no"]
    assert (source.title, source.edition, source.locator) == ("off", "2009-01-01", "12:30")
    fuse = profile.fuses["on"]
    assert (fuse.box, fuse.number) == ("yes", "012")
    assert fuse.feeds == ["1e3", "0x1F", "~5", ".inf", "1_000", "="]


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbf" + MINIMAL,
        MINIMAL.replace(b"\n", b"\r\n"),
        MINIMAL.replace(b"\n", b"\r"),
        MINIMAL.rstrip(b"\n"),
        b"\xef\xbb\xbf" + MINIMAL.replace(b"\n", b"\r\n"),
    ],
    ids=["byte-order-mark", "crlf", "cr", "no-last-newline", "byte-order-mark-and-crlf"],
)
def test_what_editors_do_to_a_file_is_harmless(content: bytes) -> None:
    read = read_text(content, "a.yml", "a")
    assert printed(read) == ""
    assert read.profile is not None
    assert read.profile == read_text(MINIMAL, "a.yml", "a").profile


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        *((text, "2009 on") for text in ("2009-present", "2009-", "since 2009", "From 2009")),
        *((text, "2009 on") for text in ("2009+", "2009 to now", "06/2009 on", "2009 and later")),
        ("2009-14", "2009 to 2014"),
        ("2009 to", "2009 to 2014`, `2009` or `2009 on"),
        ("until 2014", "2009 to 2014`, `2009` or `2009 on"),
    ],
)
def test_years_written_otherwise_lead_to_the_form_that_is_meant(written: str, meant: str) -> None:
    read = read_text(MINIMAL.replace(b"2009 to 2014", written.encode()), "a.yml", "a")
    assert [each.mend for each in read.findings] == [f"Write `{meant}`."]


LONGER = (
    MINIMAL
    + b"""notes:
  - a note
fuses:
  heaters:
    box: in the bay
    rating: 15 A
    number: 7
"""
)


@pytest.mark.parametrize(
    ("stands", "written", "proposed"),
    [
        ("[1, 2, 3, 4]", "1-4", "[1, 2, 3, 4]"),
        ("[1, 2, 3, 4]", "1 to 4", "[1, 2, 3, 4]"),
        ("[left]", "right-hand drive", "[right]"),
        ("[left]", "RHD, LHD", "[right, left]"),
        ("a note", r'The \ "bolts": two.', r'"The \\ \"bolts\": two."'),
        ("7", "#7", '"#7"'),
        ("7", "#7 # counted", "7"),
    ],
)
def test_what_a_mend_proposes_is_read(stands: str, written: str, proposed: str) -> None:
    before, _, after = LONGER.decode().rpartition(stands)
    faulty, mended = (
        read_text(f"{before}{each}{after}".encode(), "a.yml", "a") for each in (written, proposed)
    )
    assert any(f"`{proposed}`" in finding.mend for finding in faulty.findings)
    assert faulty.has_errors
    assert not mended.has_errors


NOT_TEXT = "Save the file as plain text in UTF-8."
DELETE = "Delete it, or save the file as plain text in UTF-8."


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        pytest.param(
            bytes(range(256)),
            "a.yml:2:1: error [not-text]\n"  # byte 10 is a line feed
            f"  Byte 129 is not UTF-8 text.\n  {NOT_TEXT}\n",
            id="binary",
        ),
        pytest.param(
            MINIMAL.decode().encode("utf-16"),
            f"a.yml:1:1: error [not-text]\n  Byte 1 is not UTF-8 text.\n  {NOT_TEXT}\n",
            id="utf-16",
        ),
        pytest.param(
            b"format: 2\nnotes: [20 \xb0C]\n",
            f"a.yml:2:1: error [not-text]\n  Byte 22 is not UTF-8 text.\n  {NOT_TEXT}\n",
            id="latin-1",
        ),
        pytest.param(
            b"format: 2\nnotes: [a\x00b]\n",
            "a.yml:2:10: error [not-text]\n"
            f"  The control character U+0000 does not belong in text.\n  {DELETE}\n",
            id="nul",
        ),
        pytest.param(
            b"format: 2\nnotes: [\x1b[31mred]\n",
            "a.yml:2:9: error [not-text]\n"
            f"  The control character U+001B does not belong in text.\n  {DELETE}\n",
            id="escape-sequence",
        ),
        pytest.param(
            "format: 2\r\nnotes: [a\x9bb]\r\n".encode(),
            "a.yml:2:10: error [not-text]\n"
            f"  The control character U+009B does not belong in text.\n  {DELETE}\n",
            id="control-character-above-ascii",
        ),
        pytest.param(
            "format: 2\nnotes: [a\u2028b]\n".encode(),
            "a.yml:2:10: error [not-text]\n"
            f"  The control character U+2028 does not belong in text.\n  {DELETE}\n",
            id="line-break-no-editor-shows",
        ),
        pytest.param(
            "format: 2\nnotes: [a\u202eb]\n".encode(),
            "a.yml:2:10: error [not-text]\n"
            f"  The control character U+202E does not belong in text.\n  {DELETE}\n",
            id="text-turned-round",
        ),
        pytest.param(
            "format: 2\nnotes: [a\ufffeb]\n".encode(),
            "a.yml:2:10: error [not-text]\n"
            f"  The control character U+FFFE does not belong in text.\n  {DELETE}\n",
            id="no-character",
        ),
    ],
)
def test_what_is_no_text_is_refused(content: bytes, expected: str) -> None:
    assert printed(read_text(content, "a.yml", "a")) == expected


def test_five_megabytes_are_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "large.yml"
    path.write_bytes(MINIMAL + b"# " + b"x" * 5_000_000)
    read = read_profile(path, shown_as="large.yml")
    assert printed(read) == (
        "large.yml:1:1: error [too-large]\n"
        "  The file is larger than 256 kB.\n"
        "  Keep photos and logs outside the profile.\n"
    )


@pytest.mark.parametrize(
    "content",
    [b"- " * 60_000, b"? " * 60_000, b"[" * 200_000, b"{a: " * 60_000, b"'" * 200_001],
    ids=["lists", "keys", "brackets", "braces", "quotes"],
)
def test_nesting_without_end_is_refused(content: bytes) -> None:
    (finding,) = read_text(content, "a.yml", "a").findings
    assert finding.rule == "yaml-syntax"


def test_an_unnamed_file_is_shown_by_its_path(tmp_path: Path) -> None:
    path = tmp_path / "vehicle.yml"
    path.write_bytes(b"")
    (finding,) = read_profile(path).findings
    assert finding.place.file == path.as_posix()


@pytest.mark.parametrize(
    "name",
    [
        "Carrow.yml",
        "carrow_v6.yml",
        "carrow--v6.yml",
        "-carrow.yml",
        "carrow.yml.yml",
        "carrow.yaml",
        "ç.yml",
    ],
)
def test_a_file_name_makes_an_address(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(MINIMAL)
    read = read_profile(path)
    assert [finding.rule for finding in read.findings] == ["file-name"]
    assert read.profile is None


def test_a_file_that_is_not_there_is_not_a_finding(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="nothing"):
        read_profile(tmp_path / "nothing.yml")


def test_a_warning_keeps_the_profile() -> None:
    read = read_profile(CASES / "unsourced.yml")
    assert {finding.severity for finding in read.findings} == {Severity.WARNING}
    assert read.profile is not None
    assert not read.has_errors


@pytest.mark.parametrize(
    ("name", "meant"),
    [("Carrow V6.yml.txt", "carrow-v6.yml"), ("carrow.yaml", "carrow.yml"), ("A.YML", "a.yml")],
)
def test_a_file_named_otherwise_is_not_passed_over(tmp_path: Path, name: str, meant: str) -> None:
    (tmp_path / name).write_bytes(MINIMAL)
    (path,) = profile_paths(tmp_path)
    (finding,) = read_profile(path).findings
    assert (finding.rule, f"`{meant}`" in finding.mend) == ("file-name", True)


def test_what_is_no_profile_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("Buy a socket.")
    (tmp_path / "photos").mkdir()
    assert profile_paths(tmp_path) == []

"""`sondebook pdf`: one file a vehicle, with contents that tell the right page of everything."""

from __future__ import annotations

from pathlib import Path
from unicodedata import normalize

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader
from pypdf.generic import Destination

from generator.cli import main
from generator.guide.codes_page import codes
from generator.guide.vehicle import Vehicle
from generator.site.pdf import section_numbers
from tests.browser.conftest import chromium

pytestmark = pytest.mark.browser

PIP, CARROW = "lowmere-pip-1-4", "fenwright-carrow-3-2-v6"
HEAD = 180  # letters that hold a sheet's foot, which is read first, the vehicle and the title
STAGES = ("access", "test", "refit", "bench sheet")


def run(root: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["pdf", *arguments, "-f", str(root / "mkdocs.yml")])


@pytest.fixture(scope="module")
def printed(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The guide of a vehicle with two sensors, on Letter paper."""
    chromium()
    file = tmp_path_factory.mktemp("pdf") / "pip.pdf"
    result = run(root, PIP, "-o", str(file), "--paper", "Letter")
    assert result.exit_code == 0, result.output
    assert result.output == f"The guide is printed: {file}\n"
    return file


@pytest.fixture(scope="module")
def sheets(printed: Path) -> list[str]:
    """The words of each sheet, on one line."""
    pages = PdfReader(printed).pages
    return [" ".join(normalize("NFKC", page.extract_text()).split()) for page in pages]


def test_the_contents_tell_the_sheet_on_which_each_part_begins(
    sheets: list[str], demo: dict[str, Vehicle]
) -> None:
    vehicle = demo[PIP]
    titles = [
        f"Bank {sensor.bank}, position {sensor.position}: {stage}"
        for sensor in vehicle.sensors
        for stage in STAGES
    ]
    assert len(titles) == 8
    begins = [
        next(number for number, sheet in enumerate(sheets[1:], start=2) if title in sheet[:HEAD])
        for title in titles
    ]
    assert begins == sorted(begins) and len(set(begins)) == len(begins)
    for title, number in zip(titles, begins, strict=True):
        assert f"{title} {number} " in sheets[0], title
    assert "Overview 2 " in sheets[0]
    assert "000" not in sheets[0]


def test_each_sheet_has_its_number_and_the_vehicle(sheets: list[str]) -> None:
    assert len(sheets) > 20
    for number, sheet in enumerate(sheets, start=1):
        assert sheet.startswith(f"{number}Lowmere Pip 1.4"), number


def test_it_is_tagged_outlined_and_of_the_paper_asked_for(printed: Path) -> None:
    pdf = PdfReader(printed)
    assert pdf.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert pdf.trailer["/Root"]["/Lang"] == "en"
    tops = [each for each in pdf.outline if not isinstance(each, list)]
    told = [normalize("NFKC", str(each["/Title"])) for each in tops]
    assert "Bank 1, position 2: refit" in told
    assert len(told) == 1 + 1 + 2 * len(STAGES) + 1, "contents, overview, sensors, codes"
    assert float(pdf.pages[0].mediabox.width) == pytest.approx(612, abs=1)


def test_every_link_within_leads_to_a_part_of_the_file(printed: Path) -> None:
    pdf = PdfReader(printed)
    places = pdf.named_destinations
    led = [
        note.get_object()["/Dest"]
        for page in pdf.pages
        for note in page.get("/Annots") or []
        if "/Dest" in note.get_object()
    ]
    assert len(led) > 15
    assert [each for each in led if each not in places] == []
    assert not any(
        "/A" in note.get_object() for page in pdf.pages for note in page.get("/Annots", [])
    )


def test_a_bench_sheet_is_one_sheet(sheets: list[str]) -> None:
    first = next(n for n, sheet in enumerate(sheets) if "position 1: bench sheet" in sheet[:HEAD])
    assert "position 2: access" in sheets[first + 1][:HEAD]
    assert "Notes" in sheets[first]


def test_no_head_of_a_group_of_codes_is_left_at_the_foot(
    root: Path, tmp_path: Path, demo: dict[str, Vehicle]
) -> None:
    chromium()
    file = tmp_path / "carrow.pdf"
    assert run(root, CARROW, "-o", str(file)).exit_code == 0
    heads = [
        [group.told.title, *(row.code for row in group.told.codes)]
        for sensor in codes(demo[CARROW]).sensors
        for group in sensor.groups
    ]
    printed = PdfReader(file)
    *_, last = (each for each in printed.outline if isinstance(each, Destination))
    assert "fault codes" in str(last.title)
    first = printed.get_destination_page_number(last)
    assert first is not None
    pages = [" ".join(page.extract_text().split()) for page in printed.pages[first:]]
    text = "".join(pages)
    for words in heads:
        assert " ".join(words) in text
        feet = (" ".join(words), words[0])
        assert [n for n, page in enumerate(pages, first + 1) if page.endswith(feet)] == []


def test_of_some_sensors_only_their_pages_follow_the_overview(root: Path, tmp_path: Path) -> None:
    chromium()
    file = tmp_path / "one.pdf"
    profile = f"vehicle_profiles/{PIP}.yml"
    result = run(root, profile, "--sensor", "1.2", "-o", str(file))
    assert result.exit_code == 0, result.output
    tops = [each for each in PdfReader(file).outline if not isinstance(each, list)]
    told = [normalize("NFKC", str(each["/Title"])) for each in tops][2:]
    assert told == [f"Bank 1, position 2: {stage}" for stage in STAGES]
    result = run(root, PIP, "--sensor", "4.1", "-o", str(file))
    assert (result.exit_code, "has no sensor 4.1" in result.output) == (2, True)


def test_the_cover_leads_to_the_guide_online(sheets: list[str]) -> None:
    address = f"https://sondebook.example/guides/{PIP}/index.html"
    # A line may end within it
    assert f"latercorrections:{address}" in sheets[0].replace(" ", "")


def test_a_fault_in_a_template_is_a_sentence(root: Path, tmp_path: Path) -> None:
    own = tmp_path / "own/partials"
    own.mkdir(parents=True)
    (own / "sondebook-header.html").write_text("\n{{ site_nam }}")
    settings = (root / "mkdocs.yml").read_text()
    settings = settings.replace("  name: material", "  name: material\n  custom_dir: own", 1)
    settings = settings.replace("profiles: ", f"profiles: {root}/")
    (tmp_path / "docs").mkdir()
    (tmp_path / "mkdocs.yml").write_text(settings)
    result = run(tmp_path, PIP, "-o", str(tmp_path / "pip.pdf"))
    assert result.exit_code == 2
    assert result.output.startswith(
        f"sondebook: a template is at fault, {own}/sondebook-header.html:2: 'site_nam' is"
    )


@pytest.mark.parametrize("hindrance", [KeyboardInterrupt(), OSError(28, "No space left on device")])
def test_a_print_that_is_hindered_leaves_the_earlier_one(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, hindrance: BaseException
) -> None:
    file = tmp_path / "pip.pdf"
    file.write_text("the earlier one")

    def hindered(_path: Path, _content: bytes) -> None:
        raise hindrance

    monkeypatch.setattr("generator.site.pdf.vehicle_pdf", lambda *_: b"new")
    monkeypatch.setattr(Path, "write_bytes", hindered)
    result = run(root, PIP, "-o", str(file))
    assert result.exit_code == 2
    assert result.output == (
        "sondebook: stopped, and nothing was written.\n"
        if isinstance(hindrance, KeyboardInterrupt)
        else f"sondebook: cannot write {file}: No space left on device.\n"
    )
    assert file.read_text() == "the earlier one"
    assert list(tmp_path.iterdir()) == [file]


def test_numbers_are_read_through_a_nested_tree_of_pages() -> None:
    pdf = (
        b"%PDF-1.4\n1 0 obj\n<</Type /Catalog\n/Pages 2 0 R\n/Dests 9 0 R>>\nendobj\n"
        b"2 0 obj\n<</Type /Pages\n/Count 3\n/Kids [3 0 R 4 0 R]>>\nendobj\n"
        b"3 0 obj\n<</Type /Pages\n/Count 2\n/Parent 2 0 R\n/Kids [5 0 R 6 0 R]>>\nendobj\n"
        b"4 0 obj\n<</Type /Pages\n/Count 1\n/Parent 2 0 R\n/Kids [7 0 R]>>\nendobj\n"
        b"9 0 obj\n<</access [6 0 R /XYZ 0 0 0]\n/refit [7 0 R /XYZ 0 0 0]>>\nendobj\n"
    )
    assert section_numbers(pdf) == {"access": 2, "refit": 3}
    assert section_numbers(b"%PDF-1.7 something else") == {}


def test_without_chromium_one_sentence_says_so(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    result = run(root, PIP, "-o", str(tmp_path / "pip.pdf"))
    assert result.exit_code == 2
    assert result.output == (
        "sondebook: a PDF needs Chromium, and none is installed: install it, or name it with "
        "--chromium.\n"
    )
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("program", ["/no/such/chromium", "/bin/false", "/bin/true"])
def test_a_program_that_does_not_print_is_named(root: Path, tmp_path: Path, program: str) -> None:
    result = run(root, PIP, "-o", str(tmp_path / "pip.pdf"), "--chromium", program)
    assert result.exit_code == 2
    assert result.output == f"sondebook: {program} did not print the guide.\n"


def test_a_vehicle_that_is_not_there_and_a_folder_that_is_not(root: Path, tmp_path: Path) -> None:
    result = run(root, "no-such-vehicle")
    assert result.exit_code == 2 and "no-such-vehicle" in result.output
    chromium()
    result = run(root, PIP, "-o", str(tmp_path / "none" / "pip.pdf"))
    assert result.exit_code == 2 and "cannot write" in result.output

"""Every hostile profile has a finding at its place, or is shown; and reports stay reports."""

from __future__ import annotations

import gc
import json
import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.profile import ProfileFile, read_profile, read_text
from generator.profile.fixes import fixed
from generator.profile.reading import MOST_FOUND
from generator.profile.report import Report, as_github, as_json, as_sarif, as_text
from tests.hostile import corpus, images
from tests.hostile.corpus import LEAST, MADE, PHOTOS, REFUSED, Lay, Made, expected
from tests.hostile.fullest import NAME, places, put, put_everywhere

SHOWN = list(corpus.shown())

LONGEST_S = 1.0
SAFE = re.compile(r"[^\x00-\x09\x0b-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]*")


@pytest.fixture(scope="module", autouse=True)
def what_other_tests_left_is_not_looked_through() -> Iterator[None]:
    """Python looks for garbage in all there is, which is not the reader's doing."""
    gc.freeze()
    yield
    gc.unfreeze()


def quickly(read: Callable[[], ProfileFile]) -> ProfileFile:
    """What is read in time, by the best of three tries: a busy machine makes any one late."""
    taken_s = []
    for _ in range(3):
        before = time.process_time()
        found = read()
        taken_s.append(time.process_time() - before)
        if taken_s[-1] < LONGEST_S:
            return found
    raise AssertionError(f"took {min(taken_s):.2f} s at best")


def of_file(path: Path) -> ProfileFile:
    return quickly(lambda: read_profile(path, f"profiles/{path.name}"))


def hold(read: ProfileFile, rule: str) -> None:
    """The finding is there with its place, and no report says more than it means to."""
    assert read.profile is None
    found = [each for each in read.findings if each.severity == "error"]
    assert rule in [each.rule for each in found]
    assert all(each.place.line >= 1 and each.place.column >= 1 for each in found)
    assert any(each.mend or each.message for each in found)
    report = Report([read], "0")
    text = as_text(report)
    assert SAFE.fullmatch(text), "no control and nothing that turns text round"
    assert not [line for line in text.splitlines() if line.lstrip().startswith("::")]
    commands = as_github(report).splitlines()
    assert len(commands) == len(read.findings)
    assert all(re.match(r"::(error|warning) file=profiles/", each) for each in commands)
    assert len(json.loads(as_json(report))["findings"]) == len(read.findings)
    for result in json.loads(as_sarif(report))["runs"][0]["results"]:
        said = result["message"]["text"].replace("\\\\", "")
        assert not re.search(r"(?<!\\)\[", said), "a link, to a viewer of SARIF"


def test_there_are_enough() -> None:
    names = [path.stem for path in REFUSED] + [each.name for each in MADE]
    names += [name for name, _ in SHOWN] + [name for name, *_ in PHOTOS]
    assert len(REFUSED) >= 150
    assert len(names) >= 300
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("path", REFUSED, ids=lambda path: path.stem)
def test_it_is_refused_at_its_place(path: Path) -> None:
    hold(of_file(path), expected(path))


@pytest.mark.parametrize("made", MADE, ids=lambda made: made.name)
def test_what_is_made_is_refused_in_time(made: Made, tmp_path: Path) -> None:
    path = tmp_path / "made.yml"
    path.write_bytes(made.content())
    hold(of_file(path), made.rule)


@pytest.mark.parametrize(("name", "rule", "lay"), PHOTOS, ids=[name for name, *_ in PHOTOS])
def test_a_photo_that_means_harm_is_refused(name: str, rule: str, lay: Lay, tmp_path: Path) -> None:
    (tmp_path / "secret.png").write_bytes(images.plain("PNG"))
    folder = tmp_path / "profiles"
    folder.mkdir()
    lay(folder / name)
    path = folder / "carrow.yml"
    entry = f"{{file: {name}, at: sensors.bank-1-position-1, caption: x, shows: x}}"
    path.write_text(f"{LEAST}photos:\n  - {entry}\n", "utf-8")
    hold(of_file(path), rule)


@pytest.mark.parametrize("content", [each for _, each in SHOWN], ids=[name for name, _ in SHOWN])
def test_what_is_only_text_is_accepted(content: bytes) -> None:
    read = quickly(lambda: read_text(content, "profiles/any.yml", "any"))
    assert [str(each) for each in read.findings if each.severity == "error"] == []


@pytest.mark.parametrize(
    ("more", "rule"),
    [
        ("".join(f"sensor{number}: x\n" for number in range(MOST_FOUND + 9)), "unknown-key"),
        ("obstacles:\n" + "".join(
            f"  o{number}: {{name: x}}\n" for number in range(MOST_FOUND + 9)), "unused-obstacle"),
    ],
    ids=["of values", "of a rule"],
)  # fmt: skip
def test_a_hundred_are_told_and_that_there_are_more(more: str, rule: str) -> None:
    read = read_text((LEAST + more).encode(), "any.yml", "any")
    found = [each for each in read.findings if each.rule == rule]
    assert len(found) == MOST_FOUND + 1
    assert found[-1].message.startswith("There is more to find from here on")
    assert len({each.place.line for each in found}) == MOST_FOUND + 1


# ---- every value of the model


MARKUP = "<script>window.pwned=1</script><img src=x onerror=window.pwned=1>{{7*7}}"


@pytest.mark.parametrize("place", places())
def test_markup_in_every_value_is_text_or_refused_there(place: str) -> None:
    _, is_free = places()[place]
    content = put(place, MARKUP)
    read = read_text(content, "profiles/any.yml", "any")
    errors = [each for each in read.findings if each.severity == "error"]
    assert MARKUP in content.decode()
    assert (errors == []) == is_free, list(map(str, errors))
    lines = content.decode().splitlines()
    named = place.endswith(NAME)  # What was renamed is also missing where others refer to it
    assert named or not errors or any(MARKUP in lines[e.place.line - 1] for e in errors)


def test_the_walk_finds_texts_words_and_names() -> None:
    assert {"vehicle.make", "sensors.curve.points", f"obstacles.{NAME}", "notes"} <= {*places()}
    assert sum(is_free for _, is_free in places().values()) > 25


# ---- honest text


HONEST = {
    "emoji": "\U0001f469\u200d\U0001f527 \U0001f3ce\ufe0f 1\ufe0f\u20e3 \U0001f1ea\U0001f1fa",
    "flag of a part": "\U0001f3f4\U000e0067\U000e0062\U000e0077\U000e006c\U000e0073\U000e007f club",
    "accents": "Cafe\u0301 Sa\u0308ule A\u030angstro\u0308m",
    "hebrew": "\u05d4\u05db\u05d1\u05dc (M18x1.5) \u200f\u05d4\u05d0\u05d3\u05d5\u05dd",
    "arabic": "\u0627\u0644\u0633\u0644\u0643 \u061c 44 N\u00b7m",
    "persian": "\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645",
    "hindi": "\u0915\u094d\u200d\u0937",
    "mongolian": "\u182a\u1820\u180e\u1820",
    "form of an ideograph": "\u8fbb\U000e0100\u3055\u3093",
    "korean": "\uc0b0\uc18c",
    "hard spaces": "44\u202fN\u00b7m, 2\u00a0bolts\u2026",
    "signs": "5.9 \u03a9 \u2264 \u00b110 % at 20 \u00b0C \u2192 \u201cok\u201d \u2013 \u2713",
}  # fmt: skip


@pytest.mark.parametrize("text", HONEST.values(), ids=HONEST)
def test_honest_text_is_kept_as_it_is(text: str) -> None:
    read = read_text(put_everywhere(text), "profiles/any.yml", "any")
    assert read.profile is not None, read.findings
    assert read.profile.photos[0].caption == read.profile.vehicle.make == text
    assert "unseen-character" not in [each.rule for each in read.findings]


SLIPS = ["\xad", "\u200b", "\u2060", "\u2062", "\ufeff"]


@pytest.mark.parametrize("slip", SLIPS, ids=map(ascii, SLIPS))
@pytest.mark.parametrize("code", [False, True])
def test_what_comes_along_unseen_is_left_out_and_told(slip: str, code: bool) -> None:
    said = f"\\u{ord(slip):04x}" if code else slip
    text = LEAST.replace("model: Carrow", f'model: "Car{said}row"')
    read = read_text(text.encode(), "any.yml", "any")
    assert read.profile is not None
    assert read.profile.vehicle.model == "Carrow"
    (finding,) = (each for each in read.findings if each.rule == "unseen-character")
    assert (finding.severity, finding.place.line) == ("warning", 3)
    assert text.splitlines()[2][finding.place.column - 1] == '"'


def test_the_fix_deletes_what_came_along_unseen() -> None:
    meant = LEAST.replace("format: 2", "format: 2  # the Carrow\u0301s")
    for slip in SLIPS:
        text = meant.replace("Carrow", f"Car{slip}row").replace("years", f"ye{slip}ars")
        assert fixed(text.encode()).content == meant.encode()
    mark = b"\xef\xbb\xbf"
    assert fixed(mark + LEAST.encode()).content == mark + LEAST.encode()


# ---- the file itself


def test_a_profile_that_is_a_link_out_is_not_read(tmp_path: Path) -> None:
    outside = tmp_path / "secret.txt"
    outside.write_text("token: hunter2\n")
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "carrow.yml").symlink_to(outside)
    (folder / "within.yml").write_text(LEAST, "utf-8")
    (folder / "same.yml").symlink_to("within.yml")
    read = read_profile(folder / "carrow.yml")
    hold(read_profile(folder / "carrow.yml", "profiles/carrow.yml"), "file-name")
    assert "hunter2" not in as_text(Report([read], "0"))
    assert read_profile(folder / "same.yml").profile is not None


NAMES = [
    "Carrow.yml", "car row.yml", "-rf.yml", "carrow_.yml", "CON.yml", "carrow.yaml", "a..yml",
    "a--b.yml", "\u202elmy.yml", "caf\u00e9.yml", "car\u200brow.yml", "<b>.yml", "{{7*7}}.yml",
    "a;touch pwned.yml", "$(touch pwned).yml", "a%2e%2e.yml", "__proto__.yml", f"{'a' * 120}.yml",
    "a\nb.yml", "a\x1b[2J.yml", ".hidden.yml",
]  # fmt: skip


@pytest.mark.parametrize("name", NAMES, ids=[ascii(name) for name in NAMES])
def test_a_name_that_no_address_can_be_made_from_is_refused(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_text(LEAST, "utf-8")
    (finding,) = read_profile(tmp_path / name).findings
    assert finding.rule == "file-name"
    assert SAFE.fullmatch(str(finding).replace(str(tmp_path), "").partition("\n")[2])


# ---- whatever is handed in


PIECES = [path.read_bytes() for path in REFUSED] + [content for _, content in SHOWN]


@given(data=st.data(), one=st.sampled_from(PIECES), other=st.sampled_from(PIECES))
@settings(max_examples=300)
def test_two_hostile_profiles_in_one(data: st.DataObject, one: bytes, other: bytes) -> None:
    start, end = (data.draw(st.integers(0, len(each))) for each in (one, other))
    read = quickly(lambda: read_text(one[:start] + other[end:], "any.yml", "any"))
    assert (read.profile is None) == read.has_errors
    assert SAFE.fullmatch("".join(map(str, read.findings)))


@given(st.integers(0, 0x10FFFF), st.booleans())
@settings(max_examples=300)
def test_every_character_in_a_name_is_refused_or_harmless(number: int, escaped: bool) -> None:
    character = f"\\U{number:08x}" if escaped else chr(number)
    text = LEAST.replace("model: Carrow", f'model: "Car{character}row"')
    read = read_text(text.encode("utf-8", "surrogatepass"), "any.yml", "any")
    if read.profile:
        name = read.profile.vehicle.model
        assert SAFE.fullmatch(name.replace("\t", " "))
        assert "\u200b" not in name
    assert SAFE.fullmatch("".join(map(str, read.findings)))

"""Whatever bytes are handed in: findings, never an exception, each at a place in the text."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.profile import read_text
from generator.profile.reading import ProfileFile

SHIPPED = sorted((Path(__file__).parents[2] / "vehicle_profiles").glob("*.yml"))
CASES = sorted((Path(__file__).parent / "cases").glob("*.yml"))
WHOLE = [path.read_text(encoding="utf-8") for path in SHIPPED]
SHORT = [text for path in CASES if 0 < len(text := path.read_text(encoding="utf-8")) < 3000]

STRUCTURE = st.text(
    alphabet="[]{}:,-?&*!|>'\"%@`#~<= \n\t\\ab1.\u00b0\u2028\x85\ufeff", max_size=60
)
SCRAPS = st.one_of(
    STRUCTURE,
    st.sampled_from(
        ["\n", "  ", "\t", ": ", "- ", "{}", "[]", "null", "~", "'", '"', "#", "&a ", "*a",
         "!!int ", "<<: ", "---\n", "...\n", "0", "1e3", "2,1", "ohm", "front",
         "sensors:\n", "banks: {}\n"]
    ),
)  # fmt: skip


def lines_of(content: bytes) -> list[str]:
    text = content.decode("utf-8-sig", errors="replace")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def check(content: bytes) -> ProfileFile:
    read = read_text(content, "any.yml", "any")
    assert (read.profile is None) == read.has_errors
    lines = lines_of(content)
    for finding in read.findings:
        place = finding.place
        assert 1 <= place.line <= len(lines), finding
        assert 1 <= place.column <= len(lines[place.line - 1]) + 1, finding
        assert place.text in ("", lines[place.line - 1])
        assert finding.message.endswith((".", "?")), finding
        assert str(finding).startswith(f"any.yml:{place.line}:{place.column}: {finding.severity}")
    return read


@given(st.binary(max_size=200))
@settings(max_examples=200)
def test_bytes(content: bytes) -> None:
    check(content)


@given(st.one_of(st.text(max_size=80), STRUCTURE))
@settings(max_examples=300)
def test_text(text: str) -> None:
    check(text.encode("utf-8", errors="surrogatepass"))


@given(data=st.data(), text=st.sampled_from(SHORT + WHOLE))
@settings(max_examples=300)
def test_a_profile_with_something_in_the_wrong_place(data: st.DataObject, text: str) -> None:
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = data.draw(st.integers(start, min(len(text), start + 12)))
        text = text[:start] + data.draw(SCRAPS) + text[end:]
    check(text.encode())


VALUES = st.recursive(
    st.sampled_from(["", "~", "x", "1", "01", "2.1 ohm", "left", "'*'", "a: b", "manual"]),
    lambda inner: st.one_of(
        st.lists(inner, max_size=2).map(lambda items: f"[{', '.join(items)}]"),
        st.dictionaries(
            st.sampled_from(["value", "source", "at", "name", "1", "cylinders", "job", "x"]),
            inner,
            max_size=2,
        ).map(lambda pairs: "{" + ", ".join(f"{key}: {each}" for key, each in pairs.items()) + "}"),
    ),
    max_leaves=5,
)


@given(data=st.data(), text=st.sampled_from(WHOLE))
@settings(max_examples=300)
def test_a_profile_with_another_value_at_a_key(data: st.DataObject, text: str) -> None:
    lines = text.splitlines()
    keyed = [number for number, line in enumerate(lines) if ": " in line and "#" not in line]
    for _ in range(data.draw(st.integers(1, 4))):
        number = data.draw(st.sampled_from(keyed))
        key = lines[number].partition(": ")[0]
        lines[number] = f"{key}: {data.draw(VALUES)}"
    check("\n".join(lines).encode())


def test_the_same_bytes_give_the_same_findings() -> None:
    for path in CASES:
        content = path.read_bytes()
        once, again = (read_text(content, "any.yml", "any").findings for _ in range(2))
        assert once == again

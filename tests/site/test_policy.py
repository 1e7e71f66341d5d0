"""The security policy of hand-written pages, and the headers for hosts that read a file of them."""

from __future__ import annotations

import re
import subprocess
from base64 import b64encode
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest

from generator.guide.page import Page
from generator.guide.pages import vehicle_pages
from generator.guide.vehicle import Vehicle
from generator.site.lean import first_style, head_script
from generator.site.policy import headers, policy, with_policy

Run = Callable[..., "subprocess.CompletedProcess[str]"]


def directive(html: str, name: str) -> list[str]:
    (told,) = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">', html)
    found = {words[0]: words[1:] for words in (each.split() for each in told.split(";"))}
    return found[name]


def hashed(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def test_a_page_without_scripts_of_its_own_needs_no_hash() -> None:
    html = with_policy('<meta charset="utf-8"><script src="a.js"></script>')
    assert policy() in html
    assert "sha256" not in policy()
    assert "unsafe" not in policy()


def test_a_guide_has_one_script_and_one_style_in_it_and_allows_these_alone(
    small: Callable[..., Vehicle], html: Callable[[Page], str], root: Path
) -> None:
    for page in vehicle_pages(small()):
        text = html(page)
        (script,) = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
        assert script == head_script([root / "overrides"])
        assert directive(text, "script-src") == ["'self'", "file:", hashed(script)]
        (style,) = re.findall(r"<style>(.*?)</style>", text, re.DOTALL)
        assert style == first_style([root / "overrides"])
        assert directive(text, "style-src") == ["'self'", "file:", hashed(style)]
        assert text.index("<script>") < text.index('rel="stylesheet"'), "not held up by a style"


def test_what_stands_in_a_page_is_hashed_once_each() -> None:
    html = with_policy(
        "<meta charset=utf-8><script>go()</script><SCRIPT async>\nstop()\r\n</SCRIPT>"
        "<script>go()</script><style media=print>p{}</style>"
        '<script type="application/ld+json">{}</script>'
    )
    assert directive(html, "script-src")[2:] == [hashed("go()"), hashed("\nstop()\n")]
    assert directive(html, "style-src")[2:] == [hashed("p{}")]


@pytest.mark.parametrize(
    ("link", "wanted"),
    [
        ('<a href="https://x.example/">', '<a rel="noopener" href="https://x.example/">'),
        ('<a class="x" href="http://x.example/">', None),
        ('<a href="https://x.example/" rel="nofollow noopener">', "same"),
        ('<a href="cautions.html">', "same"),
        ('<a href="mailto:someone@x.example">', "same"),
    ],
)
def test_links_out_are_marked(link: str, wanted: str | None) -> None:
    made = with_policy(link)
    if wanted == "same":
        assert made == link
    else:
        assert made == (wanted or link.replace("<a", '<a rel="noopener"'))


def test_the_rules_are_for_the_path_of_the_site() -> None:
    for address, path in (("", "/"), ("https://a.example/", "/"), ("https://a.example/x/", "/x/")):
        rules = [line for line in headers(address).splitlines() if line[0] != " "]
        assert rules == [f"{path}*", f"{path}sw.js", f"{path}offline/*", f"{path}data/*"]


def test_headers_are_written_where_they_are_asked_for(run: Run, project: Path) -> None:
    assert run("sondebook", "build").returncode == 0
    assert not (project / "site/_headers").exists()
    settings = project / "mkdocs.yml"
    settings.write_text(
        settings.read_text().replace("  - sondebook:\n", "  - sondebook:\n      headers: true\n")
    )
    assert run("sondebook", "build").returncode == 0
    lines = (project / "site/_headers").read_text().splitlines()
    # A path in the first column, then its headers, each with a name and a value
    for line in lines:
        assert re.fullmatch(r"/\S*|  [A-Z][\w-]+: \S.*", line), line
    assert "  Content-Security-Policy: frame-ancestors 'none'" in lines

"""The text of a guide page as Markdown, for building the same words with plain MkDocs."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import html5lib

_SKIPPED = {"script", "style", "nav", "svg", "form", "input"}


def write_markdown(site: Path, docs: Path) -> int:
    """Write every guide page of a built site as a Markdown page; the number of pages."""
    count = 0
    for path in sorted(site.glob("guides/**/*.html")):
        target = docs / path.relative_to(site).with_suffix(".md")
        target.parent.mkdir(parents=True, exist_ok=True)
        tree = html5lib.parse(path.read_bytes(), namespaceHTMLElements=False)
        lines: list[str] = []
        _walk(tree.find(".//main"), lines)
        target.write_text("\n\n".join(lines) + "\n")
        count += 1
    (docs / "index.md").write_text("# Guides\n")
    return count


def _walk(element: Any, lines: list[str]) -> None:
    for child in element:
        if not isinstance(child.tag, str) or child.tag in _SKIPPED:
            continue
        text = " ".join("".join(child.itertext()).split())
        if not text:
            continue
        if child.tag in ("h1", "h2", "h3"):
            lines.append(f"{'#' * int(child.tag[1])} {text}")
        elif child.tag in ("ul", "ol"):
            mark = "1." if child.tag == "ol" else "-"
            lines.append(
                "\n".join(f"{mark} {' '.join(''.join(i.itertext()).split())}" for i in child)
            )
        elif child.tag == "table":
            rows = [[" ".join("".join(c.itertext()).split()) for c in r] for r in child.iter("tr")]
            rows.insert(1, ["---"] * len(rows[0]))
            lines.append("\n".join(f"| {' | '.join(row)} |" for row in rows))
        elif child.tag in ("p", "dt", "dd", "figcaption"):
            lines.append(text)
        else:
            _walk(child, lines)

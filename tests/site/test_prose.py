"""A number stays with its unit on hand-written pages, and what is copied stays as it was."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.site.prose import with_units_unbroken


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("at 20 °C", "at 20\u00a0°C"),
        ("20.9476\n% oxygen", "20.9476\u00a0% oxygen"),
        ("2.1 to 2.9 Ω on 3 m of", "2.1 to 2.9\u00a0Ω on 3\u00a0m of"),
        ("79 Ω/km", "79\u00a0Ω/km"),
        ("12.0 V, 7 A", "12.0\u00a0V, 7\u00a0A"),
        ("18 minutes, 3 Vans, 2 mains", "18 minutes, 3 Vans, 2 mains"),
        ("bank 1 at 5", "bank 1 at 5"),
        ("<code>at: 20 °C</code>", "<code>at: 20 °C</code>"),
        ("<pre><code>a: 20 °C\nb: <b>4</b> Ω</code></pre> 5 V",
         "<pre><code>a: 20 °C\nb: <b>4</b> Ω</code></pre> 5\u00a0V"),
        ('<a title="5 V">5 V</a>', '<a title="5 V">5\u00a0V</a>'),
    ],
)  # fmt: skip
def test_a_number_stays_with_its_unit(written: str, shown: str) -> None:
    assert with_units_unbroken(written) == shown


def test_the_site_has_it(site: Path) -> None:
    page = (site / "reference/numbers.html").read_text(encoding="utf-8")
    article = page[page.index("<article") : page.index("</article>")]
    told = re.sub(r"<(pre|code)\b.*?</\1>|<[^>]*>", "", article, flags=re.DOTALL)
    assert len(re.findall("\\d\u00a0(?:°C|Ω|V|A)\\b|\\d\u00a0°C", told)) > 20
    assert re.findall(r"\d\s?[ \n](?:°C|Ω|lbf·ft)", told) == []

"""What each finding means: for the terminal, for reports, and as a page of the site.

``python -m generator.profile.explanation > docs/reference/rules.md`` writes the page anew.
"""

from __future__ import annotations

import inspect
from dataclasses import dataclass

from generator.profile.finding import Severity
from generator.profile.reading_faults import READING_FAULTS
from generator.profile.rules import RULES

INTRODUCTION = """\
# What is checked

<!-- Written by `python -m generator.profile.explanation`: change what the rules say of themselves,
not this page. -->

`sondebook check` names each finding in brackets. This page says what it means, and so does
`sondebook explain NAME`. An error keeps the vehicle from being published; a warning does not,
unless `sondebook check --strict` asks.

## A warning that is wrong here

A rule may be wrong about a vehicle. Say so in its profile, with the reason; the warning is then
silent, and the reason stays for whoever reads it next.

```yaml
exceptions:
  - rule: hex-for-thread
    at: obstacles.shield.undo.1
    reason: The bolts are the maker's own, 12 mm across flats; measured on three cars.
```

`at` is the way to the value from key to key, with points between. It covers all that stands below
it, so `obstacles.shield` would do as well. A sensor is `sensors.bank-1-position-2`; entries of
other lists are counted from 1. Without `at` the whole profile is meant. Errors have no exceptions,
and an exception that silences nothing is a finding.

## For other programs

`--format json` prints one object; a key may be added, and `version` changes when one goes or
changes its meaning.

- `version`: `1`
- `profiles`, `errors`, `warnings`: how many there are
- `findings`: a list of `rule`, `severity` (`error` or `warning`), `file`, `line` and `column` from
  1, `at` (the way to the value, as above; empty where a text is not read), `message` and `mend`

`--format github` prints workflow commands (`::error file=...`), which a forge shows beside the
lines of a change. `--format sarif` prints SARIF 2.1.0, an OASIS standard that code-review tools
read. The exit status is the same in every format.
"""
PARTS = (
    ("Of the whole profile", "What no single value can know."),
    ("Of a file and its values", "What is found while a file is read."),
)


@dataclass(frozen=True, slots=True)
class Explanation:
    """One kind of finding: its name, how much it weighs, and what it means."""

    name: str
    severity: Severity
    text: str

    @property
    def summary(self) -> str:
        """Its first sentence or two, on one line."""
        return " ".join(self.text.partition("\n\n")[0].split())

    def __str__(self) -> str:
        """The explanation as it is printed."""
        return f"{self.name} ({self.severity})\n\n{self.text}"


OF_RULES = tuple(
    Explanation(rule.name, rule.severity, inspect.getdoc(inspect.getmodule(rule.check)) or "")
    for rule in RULES
)
OF_READING = tuple(
    Explanation(name, severity, text) for name, (severity, text) in READING_FAULTS.items()
)
EXPLANATIONS = {each.name: each for each in (*OF_RULES, *OF_READING)}
"""Every finding that there is, by name."""


def explanation_page() -> str:
    """The page of all findings in Markdown, each under an anchor of its name."""
    sections = [INTRODUCTION]
    for (title, lead), explained in zip(PARTS, (OF_RULES, OF_READING), strict=True):
        sections.append(f"## {title}\n\n{lead}\n")
        sections.extend(
            f"### {each.name}\n\n*{each.severity.capitalize()}.* {each.text}\n"
            for each in sorted(explained, key=lambda each: each.name)
        )
    return "\n".join(sections)


if __name__ == "__main__":
    print(explanation_page(), end="")

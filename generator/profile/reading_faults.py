"""What can keep a file from being read as a profile, and a profile from being taken as it stands.

One entry a finding that comes from no rule: its name, how much it weighs, and what it means.
"""

from __future__ import annotations

from typing import Final

from generator.profile.finding import Severity

_ERRORS: Final = {
    "file-name": """A profile's file name is small letters, digits and single hyphens, then `.yml`.

It has at most a hundred characters, and is no link that leads out of its folder.

The guide's address is made from it: `fenwright-carrow-3-2-v6.yml` becomes
`guides/fenwright-carrow-3-2-v6/`.""",
    "too-large": """A profile has at most 256 kB, and at most 500 entries in one list or part.

Photos and logs stand outside the profile. What is larger keeps whoever checks it waiting; for the
same reason a hundred findings of a kind are told at once.""",
    "not-text": """A profile is plain text in UTF-8, without control characters.

Letters such as `°`, `Ω` and `·` come out wrong in another encoding, and characters that turn text
round, end a line unseen or carry a hidden message can hide what a profile says. A code in double
quotes, such as `"\\e"`, cannot write them either. Save the file as UTF-8.""",
    "yaml-syntax": """The file must be YAML.

Most often a colon inside text needs quotes, a bracket or a quotation mark is not closed, or a line
is not indented like its neighbours. Indent with two spaces, never with a tab. The finding points
at the place where reading stopped; the fault may stand in the line above.""",
    "empty-file": """A profile must hold something: comments alone are no profile.

`sondebook new` writes the smallest one.""",
    "not-a-profile": """A profile is a mapping of keys to values, such as `vehicle:` and `engine:`.

A list, or a sentence, is something else.""",
    "no-alias": """A profile has no YAML anchors, aliases and merge keys.

What one place says would change with another, and a reader of the change would not see it. Write
the value out. Text that begins with `*` or `&` goes in quotes.""",
    "no-tag": """A profile has no YAML tags.

A tag asks a program to make something of a value; here every value is text that the check reads.
Delete the tag. Text that begins with `!` goes in quotes.""",
    "duplicate-key": """A key stands once in its part.

YAML would let one of the two win in silence. Keep one of them.""",
    "comma-in-braces": """A comma inside `{ }` ends a value.

`{where: left, at the top}` is read as two entries. Put the text in quotes.""",
    "decimal-comma": """A decimal number has a point: `0.9`, not `0,9`.

Inside `{ }` the comma even ends the value. `sondebook check --fix` mends it in quantities where it
cannot be a mark of thousands.""",
    "photo-file": """A photo is a JPEG, PNG or WebP file below the profile's folder.

`photos/carrow-latch.jpg` is read from there and from nowhere else: no `..`, no whole path, no link
that leads out. Plain letters, digits, hyphens, points and underscores keep the name the same on
every machine.""",
    "photo-missing": """The file that `photos` names must be there.

It goes into the same change as the profile. On most servers `Latch.JPG` and `latch.jpg` are two
names.""",
    "photo-size": """A photo has at most 12 MB, 50 million pixels, and no side five times the other.

A page shows it 960 pixels wide; what is more slows everyone who copies the collection. A picture of
extreme size in a small file can also stop the machine that reads it.""",
    "photo-content": """A photo's file must hold one still picture of the kind its name says.

Renaming a file does not change what it holds: save it as JPEG. A file that is a picture and
something else at once, such as a page or an archive, is refused, and so is one that is cut off. The
site makes smaller pictures from it and leaves out all else, the camera's position above all.""",
    "missing-key": """A part lacks a key that it cannot do without.

The key reference marks those keys as needed. If the value is not known, leave the whole part
out: a missing specification is said to be missing.""",
    "unknown-key": """A part holds a key that the format does not know.

It would be on no page, and nobody would notice. Most often it is misspelt, or indented into the
wrong part. A remark for other writers is a comment: `# ...`.""",
    "empty-value": """A key has no value.

Write the value, or delete the key if it may be missing. Guesses such as `?` or `n/a` would be
printed.""",
    "unknown-word": """A key takes one of a few words, and this is none of them.

The words are those of the trade that a computation knows: another word would have no meaning on
any page. The finding lists them.""",
    "wrong-kind": """A text, a list or a mapping stands where another of them is wanted.

A list is `[one, two]`, or lines that begin with `- `; a mapping is `key: value`, each in a line of
its own or inside `{ }`.""",
    "too-long": """A text, or a list, is longer than its place on a page.

Names and places fit in 200 characters, a step or a note in 2000. Make two notes of one.""",
    "out-of-reach": """A number is outside what can be.

A bank 9, or a resistance of a million ohm, is a slip of the pen.""",
    "not-a-number": """A number is written in digits: `4`, or `-1.2` where a fraction is possible.

A leading zero is refused, because banks 1 and 01 would be one bank, and one of them lost.""",
    "not-a-name": """A name that others refer to is small letters, digits and single hyphens.

Such names, as `engine-cover`, stand under `sources`, `obstacles`, `connectors` and `fuses`. What a
reader sees is the text beside them.""",
    "not-a-date": """A date is year, month and day: `2026-03-14`.

Day and month in the order of a country are misread in another. The finding names the date that was
meant only where the two cannot be mixed up.""",
    "not-years": """Model years are `2009 to 2014`, `2009`, or `2009 on` for a model still made.""",
    "not-a-thread": """A thread is written `M18x1.5`, or `M8` where its pitch is not known.

Sensors and the fasteners in their way have metric threads (ISO 261).""",
    "not-an-address": """An address is written whole, with `http` or `https`.

Other kinds of links are refused: a click on them could run something.""",
    "not-a-quantity": """A quantity is a number or a range, with its unit: `2.1 to 2.9 ohm`.

Ranges may be written `2.1-2.9 ohm`, `40 N·m to 48 N·m` or `44 ± 4 N·m`, lengths also as fractions:
`7/8 in`. Of two units, as `45 Nm / 33 ft lb` in manuals, write one. What the finding shows is an
example: where the value is not known, leave the key out, and the page says that it is missing.""",
    "missing-unit": """A quantity has no unit.

44 may be N·m or lbf·ft, a third apart. Write the unit that your source gives.""",
    "unknown-unit": """A quantity has a unit that is not known here.

The finding shows units that are. If your source uses another one, ask for it by an issue.""",
    "wrong-dimension": """A quantity has a unit of something else.

A torque in millimetres stands at the wrong key, or its unit was mistyped.""",
    "reversed-range": """A range begins with its smaller end.

Of `2.9 to 2.1` one end may be mistyped: compare both with your source.""",
    "not-positive": """A torque, a resistance or a length of nothing or less cannot be.

If the value is not known, leave the key out; 0 would be printed as a specification.""",
    "one-value": """One value belongs here, and a range stands there.

A fuse has one rating, a wrench one size, and a cold resistance is specified at one temperature.""",
    "newer-format": """The profile is written for a later version of the program.

Install the newer version. `format` is raised only where an older program would misread it.""",
    "unknown-rule": """An exception names a rule that warns.

This one names none, or one whose findings are errors: those have no exceptions, because what is an
error would be wrong on a page.
`sondebook explain` lists every rule.""",
}
_WARNINGS: Final = {
    "old-format": """The profile is of the format before this one.

It is read for one version. `sondebook migrate` brings the file up to date and keeps comments and
layout.""",
    "unseen-character": """A text should hold nothing that is not seen.

A soft hyphen, a space of no width or a mark of a file's beginning comes along when text is copied
from a document or a page. With it two names that look alike are two. It is left out when the
profile is read, and `sondebook check --fix` deletes it from the file. Joiners inside words and
emoji are text like any other.""",
    "text-behind-hash": """A `#` after a blank begins a comment, and what follows it is not read.

Of `box: engine bay box #2` the page would show *engine bay box*: put such text in quotes. A remark
has a blank behind its `#`, as in `wires: 4  # counted`; behind a value that cannot go on, such as a
number, it needs none.""",
    "comma-in-brackets": """A comma inside `[ ]` ends an entry.

`steps: [Undo the bolts, the rusty one last.]` is read as two steps. Write each step in a line of
its own that begins with `- `, or put it in straight quotes. Only lists of sentences are looked
at.""",
    "typographic-quotes": """Quotation marks round a value are straight ones, `"` or `'`.

YAML takes others, as word processors and phones write them, for a part of the text. Where they
enclose a whole value, as in `box: “engine bay”`, it is read without them, and `sondebook check
--fix` makes them straight. Those that a page shall show stand inside straight ones.""",
    "unused-exception": """An exception should silence something.

What it was written for has been mended, or `at` does not lead there. Delete the exception, so that
it cannot hide another fault later; or mend `at`.""",
    "near-copy": """A profile should not be equal to another one in nearly all its specifications.

Compared are cold resistances, torques, fuses, terminals, curves and wires, without the names. A
profile begun as a copy still holds what belongs to the other vehicle. Two vehicles may really
share an engine and its sensors: say so as an exception, in either of the two.""",
}

READING_FAULTS: Final[dict[str, tuple[Severity, str]]] = {
    **{name: (Severity.ERROR, text) for name, text in _ERRORS.items()},
    **{name: (Severity.WARNING, text) for name, text in _WARNINGS.items()},
}
"""By name: how much it weighs, and what it means: a first line, then more where there is more."""

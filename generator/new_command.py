"""The command `sondebook new`: a dialogue, or options, and a profile to go on with."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from generator.called_as import called_as
from generator.ending import give_up, give_up_on

if TYPE_CHECKING:
    from generator.profile.answers import Answers
    from generator.profile.questions import Question

T = TypeVar("T")

DRAFT = "Until then it is a draft, and its pages say so: then delete `status: draft`."
"""Said of a profile with answers that nobody gave."""


class Unanswered(Exception):
    """A question that its option answers wrongly, or that nobody is there to answer."""


class Dialogue:
    """Answers questions: from options, else by asking at the terminal, else by what is usual."""

    def __init__(self, given: Mapping[str, str], *, asks: bool, at_terminal: bool) -> None:
        self.given = dict(given)
        self.unattended = not (asks and at_terminal)
        self.lacks_terminal = asks and not at_terminal
        self.usual: list[str] = []
        """What nobody answered and is written as proposed."""

    def __call__(self, question: Question[T], /) -> T:
        """The answer to a question."""
        from generator.profile.answer_text import NotAnAnswer

        text = self.given.pop(question.name, None)
        if text is None and question.is_settled:
            text = question.proposal
        if text is None and self.unattended:
            text = self._proposed(question)
        if text is None:
            return self._asked(question)
        try:
            return question.read(text)
        except NotAnAnswer as refusal:
            option = question.option.partition("=")[0].partition(" ")[0]
            elsewhere = self._sensors_elsewhere() if text == "0" else ""
            if elsewhere:
                raise Unanswered(
                    f"the vehicle has no bank for {elsewhere}; each bank has its `--bank`."
                ) from None
            raise Unanswered(f"{option}, {question.name}: {refusal}") from None

    def _sensors_elsewhere(self) -> str:
        """The options of sensors that have not been asked for yet."""
        kinds = (name.removeprefix("kind of sensor ") for name in self.given if "kind" in name)
        return " and ".join(f"`--sensor {each}=...`" for each in kinds)

    def _proposed(self, question: Question[T]) -> str:
        if not question.proposal and self.lacks_terminal:
            raise Unanswered(
                "the input is no terminal, so nothing is asked and nothing read from it: answer "
                f"the question for {question.name} by `{question.option}`."
            )
        if not question.proposal:
            raise Unanswered(
                f"the question for {question.name} has no answer: add `{question.option}`."
            )
        self.usual.append(f"{question.name}: {question.proposal}")
        return question.proposal

    def _asked(self, question: Question[T]) -> T:
        from generator.profile.answer_text import NotAnAnswer

        def read(text: str) -> T:
            try:
                return question.read(text)
            except NotAnAnswer as refusal:
                raise click.UsageError(str(refusal)) from None

        click.echo(f"\n{question.meaning}")
        if question.choices:
            numbered = (f"{at} {word}" for at, word in enumerate(question.choices, start=1))
            click.echo(f"  {'   '.join(numbered)}")
        answer: T = click.prompt(
            question.name, default=question.proposal or None, value_proc=read, err=False
        )
        return answer


@click.command("new")
@click.option("--make", help="Make.")
@click.option("--model", help="Model.")
@click.option("--years", help="Model years, such as `2009 to 2014`.")
@click.option("--engine", help="What owners call the engine.")
@click.option("--cylinders", help="How many cylinders.")
@click.option("--arrangement", help="inline, vee or flat.")
@click.option("--mounting", help="transverse or longitudinal.")
@click.option("--bay", help="front, mid or rear.")
@click.option("--steering", help="left, right or both.")
@click.option(
    "--bank", "banks", multiple=True, metavar="N=CYLINDERS:SIDE", help="Such as 1=1,2,3:rear."
)
@click.option(
    "--sensor",
    "sensors",
    multiple=True,
    metavar="BANK.POSITION=KIND:WIRES[:REACH[:WHERE]]",
    help="Such as 1.1=wide-range:5, or 1.1=wide-range:5:above:in the manifold.",
)
@click.option("--name", help="The file's name without .yml, if not make, model and engine.")
@click.option("--yes", is_flag=True, help="Ask nothing: take what is usual where it is proposed.")
@click.option(
    "--profiles",
    default="vehicle_profiles",
    type=click.Path(path_type=Path),
    show_default=True,
    help="The folder the profile is written to.",
)
def new(
    banks: tuple[str, ...],
    sensors: tuple[str, ...],
    name: str | None,
    yes: bool,
    profiles: Path,
    **plain: str | None,
) -> None:
    """Ask about a vehicle, and write the profile to start from.

    Every question has an option, so that nobody need be there. An existing file is never written
    over.

    Exit status 0: the profile is written. 2: it is not, and why is said.
    """
    with _ending_in_a_sentence(profiles):
        from generator.profile.given import given_by_options
        from generator.profile.schema import PATH, refresh_schema

        given = given_by_options(plain, banks, sensors)
        # A program without any input has none at all, whatever its type says
        at_terminal = bool(sys.stdin) and sys.stdin.isatty()
        dialogue = Dialogue(given, asks=not yes, at_terminal=at_terminal)
        path, answers = _answered(dialogue, profiles, name)
        _write(path, answers, dialogue)
        is_refreshed = refresh_schema(Path())
    click.echo(f"\nWritten: {path}\n")
    if dialogue.usual:
        click.echo("Nobody answered these, so look at the vehicle and mend them in the file:")
        click.echo("".join(f"  {each}\n" for each in dialogue.usual))
        click.echo(f"{DRAFT}\n")
    if is_refreshed:
        click.echo(f"Written for editors, which its first line leads there: {PATH}\n")
    click.echo("Next, add what you know and run:")
    command = called_as()
    click.echo(f"  {command} check {path}\n  {command} serve {path}")


def _answered(dialogue: Dialogue, folder: Path, name: str | None) -> tuple[Path, Answers]:
    """Everything asked; whether the file may be written is settled as soon as it can be."""
    from generator.profile.questions import ask_names, ask_rest

    if not folder.is_dir():
        raise Unanswered(
            f"there is no folder `{folder}` here: go to the project's folder, or name one with "
            "`--profiles`."
        )
    if not dialogue.unattended:
        with contextlib.suppress(ImportError):
            import readline  # noqa: F401 - makes arrow keys edit the line
        click.echo("Enter takes what is proposed in [brackets]. Nothing is written before the last")
        click.echo("answer; Ctrl-C leaves all as it was.")
    named = ask_names(dialogue)
    path = folder / f"{_file_name(name, named.slug)}.yml"
    if path.exists():
        raise Unanswered(f"`{path}` is there already: write into it, or add `--name`.")
    answers = ask_rest(dialogue, named)
    for left, text in dialogue.given.items():
        if text != "0":
            raise Unanswered(f"there is no place for the {left}: the vehicle has no such bank.")
    return path, answers


def _file_name(name: str | None, made: str) -> str:
    from generator.profile.answers import slug_of

    if name is not None and slug_of(name) != name:
        raise Unanswered(f"--name, `{name}`: use small letters, digits and single hyphens.")
    if not (name or made):
        raise Unanswered("make, model and engine hold no Latin letter: add `--name a-file-name`.")
    return name or made


def _write(path: Path, answers: Answers, dialogue: Dialogue) -> None:
    """Write the profile if it has no errors; a file that is there is left as it is."""
    from generator.profile import read_text
    from generator.profile.schema import PATH
    from generator.profile.starter import starter

    schema = Path(os.path.relpath(PATH, path.parent)).as_posix()
    remarks = [f"Nobody answered this, so look at the vehicle: {each}." for each in dialogue.usual]
    values = answers.as_data()
    if dialogue.usual:
        values["status"] = "draft"
        remarks.append(DRAFT)
    content = starter(values, schema, remarks).encode()
    read = read_text(content, path.as_posix(), path.stem)
    if read.has_errors:
        raise Unanswered(f"the answers make no profile: {read.findings[0].message}")
    for finding in read.findings:
        click.echo(f"\n{finding}")
    try:
        file = path.open("xb")
    except FileExistsError:
        raise Unanswered(f"`{path}` is there already.") from None
    try:
        with file:
            file.write(content)
    except BaseException:
        path.unlink(missing_ok=True)
        raise


@contextlib.contextmanager
def _ending_in_a_sentence(profiles: Path) -> Iterator[None]:
    from generator.profile.answer_text import NotAnAnswer

    try:
        yield
    except (Unanswered, NotAnAnswer) as error:
        give_up(str(error))
    except (click.Abort, KeyboardInterrupt):
        give_up("stopped, and nothing was written.")
    except OSError as error:
        give_up_on("write", error, profiles)

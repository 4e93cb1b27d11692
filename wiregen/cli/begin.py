"""wiregen begin: a questionnaire that writes a first scheme."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli.printing import in_line, print_findings, summary
from wiregen.cli.status import status_of

if TYPE_CHECKING:
    from wiregen.interview import Question


@click.command("begin")
@click.argument("file", type=click.Path(path_type=Path))
def command(file: Path) -> int:
    """Ask how a motor is controlled, and write a scheme.

    Asks in the trade's words how the motor is started, stopped, its speed given, what its relays tell and where things
    are, and writes a commented scheme into FILE, which must not exist yet. Answers may be piped in, one a line; an
    empty line takes what stands in brackets.
    """
    import wiregen
    from wiregen.interview import Unanswered, answered, scheme_text

    if file.exists():
        raise click.UsageError(f"{file} exists already; name a new file")
    if not os.access(file.parent, os.W_OK):
        raise click.UsageError(f"{file} cannot be written: {file.parent} is no folder that can be written to")
    try:
        text = scheme_text(answered(_ask, _tell))
    except Unanswered as question:
        raise click.UsageError(f"no answer would do to the question {str(question)!r}; nothing was written") from None
    _write_new(file, text)
    design = wiregen.design(wiregen.read(file))
    print_findings(design.scheme, design.findings)
    click.echo(summary(design.findings), err=True)
    click.echo(in_line(f"{file} is written; `wiregen pack {file} -o DIR` makes the drawings and lists"))
    return status_of(design.findings)


def _ask(question: Question) -> str:
    """Questions go to stderr, so that stdout holds results only."""
    click.echo(question.text, err=True)
    for number, (word, meaning) in enumerate(question.choices, 1):
        click.echo(f"  {number}  {word:<9} {meaning}".rstrip(), err=True)
    shown = f" [{question.default}]" if question.default else ""
    click.echo(f" {shown}: ", nl=False, err=True)
    line = sys.stdin.readline()
    if not line:
        click.echo("", err=True)
        raise click.UsageError(f"the answers end before the question {question.text!r}; nothing was written")
    return line.strip() or question.default


def _tell(says: str) -> None:
    click.echo(f"  {says}", err=True)


def _write_new(file: Path, text: str) -> None:
    """Whole or not at all, and never over a file that somebody made meanwhile."""
    beside = file.with_name(f".{file.name}.{os.getpid()}")
    try:
        beside.write_text(text, encoding="utf-8")
        os.link(beside, file)
    finally:
        beside.unlink(missing_ok=True)

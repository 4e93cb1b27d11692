"""wiregen explain: what the code of a finding means."""

from __future__ import annotations

from dataclasses import asdict
from textwrap import fill
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import echo_json
from wiregen.cli.group import near
from wiregen.cli.printing import aligned

if TYPE_CHECKING:
    from wiregen.review.catalogue import Entry


@click.command("explain")
@click.argument("code", required=False)
@options.output_format
def command(code: str | None, output_format: str) -> None:
    """Explain the code of a finding.

    Prints what it means, why it matters, what to do, on whose word, and a scheme that brings it about. Without CODE,
    the list of all codes.
    """
    from wiregen.review import catalogue

    if code is None:
        entries = catalogue.entries()
        if output_format == "json":
            echo_json([asdict(e) for e in entries])
        else:
            click.echo(aligned(("code", "severity", "title"), [(e.code, str(e.severity), e.title) for e in entries]))
        return
    entry = catalogue.entry(code)
    if entry is None:
        names = [e.code for e in catalogue.entries()]
        raise click.UsageError(f"there is no finding {code!r}{near(code, names)}; `wiregen explain` lists all codes")
    if output_format == "json":
        echo_json(asdict(entry))
    else:
        click.echo(_text(entry))


def _text(entry: Entry) -> str:
    parts = [f"{entry.code} ({entry.severity}): {entry.title}", ""]
    for label, text in (("What", entry.what), ("Why", entry.why), ("Remedy", entry.remedy), ("Basis", entry.basis)):
        parts += [fill(f"{label}: {text}", 100, subsequent_indent="  ", break_on_hyphens=False), ""]
    if entry.profile:
        parts += [
            "The scheme below needs this terminal profile, in a folder for --profiles:",
            "",
            _indented(entry.profile),
            "",
        ]
    if entry.refused:
        parts += ["A scheme with it is refused (exit status 2).", ""]
    return "\n".join([*parts, "A scheme that brings it about:", "", _indented(entry.example)])


def _indented(text: str) -> str:
    return "\n".join(f"    {line}".rstrip() for line in text.rstrip().splitlines())

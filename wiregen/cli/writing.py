"""What a command that wrote a folder says, and its exit status."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from wiregen.cli.printing import in_line, print_errors, printable
from wiregen.cli.status import UNUSABLE, status_of

if TYPE_CHECKING:
    from wiregen.packing import Pack
    from wiregen.pipeline import Design


def report(design: Design, written: Pack) -> int:
    """Name the folder on stdout; errors, counts and what is missing on stderr."""
    from wiregen.documents import in_order

    print_errors(design.scheme, in_order(design.scheme, design.findings))
    if design.status == "not for construction":
        click.echo("marked as not for construction while error findings stand", err=True)
    click.echo(in_line(f"{len(written.files)} files in {written.folder}"))
    if written.no_pdf is not None:
        click.echo(printable(f"error: no PDF was written: {written.no_pdf}"), err=True)
        return UNUSABLE
    return status_of(design.findings)

"""wiregen draw: the sheets and their PDF."""

from __future__ import annotations

from pathlib import Path

import click

from wiregen.cli import options
from wiregen.cli.designing import designed
from wiregen.cli.progress import Progress
from wiregen.cli.writing import report


@click.command("draw")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.time_limit
@options.output(required=True)
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    time_limit_s: float | None,
    output: Path,
) -> int:
    """Draw the sheets of a scheme.

    Writes one SVG a sheet and one PDF with all of them.
    """
    with Progress() as progress:
        design = designed(scheme, variant, profiles_dir, progress, time_limit_s, keep)
        from wiregen.packing import write_sheets

        progress.step("Drawing")
        written = write_sheets(design, output)
    return report(design, written)

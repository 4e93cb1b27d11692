"""wiregen pack: everything of a scheme in one folder."""

from __future__ import annotations

from pathlib import Path

import click

from wiregen.cli import options
from wiregen.cli.designing import designed
from wiregen.cli.faults import fault_list
from wiregen.cli.progress import Progress
from wiregen.cli.writing import report


@click.command("pack")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.time_limit
@click.option("--faults", is_flag=True, help="Try every single fault of the wiring too, and add the list of them.")
@options.output(required=True)
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    time_limit_s: float | None,
    faults: bool,
    output: Path,
) -> int:
    """Write everything of a scheme into one folder.

    Sheets, PDF, lists as CSV and XLSX, and design.json for programs. A pack that stands there is replaced in one step;
    a run that is stopped leaves it as it was. Files that you changed or added are never lost: a changed one stops the
    command, an added one stays.
    """
    with Progress() as progress:
        design = designed(scheme, variant, profiles_dir, progress, time_limit_s, keep)
        from wiregen.packing import write

        also = (fault_list(design, progress),) if faults else ()
        progress.step("Drawing and writing")
        written = write(design, output, also)
    return report(design, written)

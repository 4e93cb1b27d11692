"""wiregen schedule: the cable schedule and the other lists."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import aligned, print_errors
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of
from wiregen.cli.writing import report

if TYPE_CHECKING:
    from wiregen.documents import Table
    from wiregen.pipeline import Design

_LISTS = ("cables", "terminations", "strips", "functions", "readings", "test_sheet", "findings", "moves")


@click.command("schedule")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.time_limit
@options.output(required=False)
@click.option("--list", "name", type=click.Choice(_LISTS), help="Print this list; without it the cables.")
@click.option(
    "--format",
    "output_format",
    type=click.Choice(["csv", "text", "json"]),
    help="Print as CSV, which is what you get without it, as a table for people, or as JSON.",
)
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    time_limit_s: float | None,
    output: Path | None,
    name: str | None,
    output_format: str | None,
) -> int:
    """Write the cable schedule and the other lists.

    With -o all lists go to a folder, as CSV and XLSX; without it one list is printed.
    """
    if output is not None and (name is not None or output_format is not None):
        raise click.UsageError("-o writes all lists in all formats; leave out --list and --format, or leave out -o")
    with complaints_for(output_format or "csv"):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress, time_limit_s, keep)
            if output is not None:
                from wiregen.packing import write_lists

                progress.step("Writing")
                written = write_lists(design, output)
        if output is not None:
            return report(design, written)
        _print(_table(design, name or "cables"), output_format or "csv")
    from wiregen.documents import in_order

    print_errors(design.scheme, in_order(design.scheme, design.findings))
    return status_of(design.findings)


def _table(design: Design, name: str) -> Table:
    from wiregen import documents

    if name == "moves":
        return documents.moves_table(design)
    return documents.lists(design)[_LISTS.index(name)]


def _print(table: Table, output_format: str) -> None:
    from wiregen.documents import as_csv, shown

    if output_format == "json":
        echo_json(table.records())
    elif output_format == "csv":
        click.echo(as_csv(table).decode("utf-8"), nl=False)
    else:
        click.echo(aligned([c.heading for c in table.columns], [[shown(cell) for cell in row] for row in table.rows]))

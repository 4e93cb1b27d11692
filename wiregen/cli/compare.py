"""wiregen compare: variants of a scheme, or schemes, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options, status
from wiregen.cli.designing import complaints_for, echo_json
from wiregen.cli.printing import aligned, in_line, printable
from wiregen.cli.progress import Progress

if TYPE_CHECKING:
    from wiregen.advice.comparison import Alternative, Source

_SUFFIXES = (".yaml", ".yml")


@click.command("compare")
@options.scheme
@click.argument("others", nargs=-1, metavar="[VARIANT|SCHEME]...")
@options.profiles
@click.option("--faults", is_flag=True, help="Try too what comes of every conductor that opens; takes longer.")
@options.output(required=False)
@options.table_format
def command(
    scheme: Path,
    others: tuple[str, ...],
    profiles_dir: Path | None,
    faults: bool,
    output: Path | None,
    output_format: str | None,
) -> int:
    """Show alternatives of a scheme side by side.

    Each VARIANT is one of the SCHEME named before it; without any, all variants are compared. For each alternative:
    whether it fits, terminals used and spare, settings to change, conductors, cables and cores, findings, the load of
    each 24 V supply, what happens when a supply returns or a wire breaks, and the conductors to move, take off or lay
    to make it of the first. With -o the table goes to a folder, as sheets, PDF, CSV, XLSX and JSON.
    """
    if output is not None and output_format is not None:
        raise click.UsageError("-o writes all formats; leave out --format, or leave out -o")
    with complaints_for(output_format or "text"):
        from wiregen.advice.comparison import compared

        with Progress() as progress:
            sources = _sources(scheme, others, profiles_dir)
            found = compared(sources, lambda name: progress.step(f"Working out {name}"), faults=faults)
            if output is not None:
                progress.step("Drawing and writing")
                write(found, sources[0], output)
    if output is None:
        show(found, output_format or "text")
    return status.OK if all(a.counts for a in found) else status.ERRORS


def _sources(scheme: Path, others: tuple[str, ...], profiles_dir: Path | None) -> list[Source]:
    from wiregen.advice.comparison import Source
    from wiregen.scheme import variant_names

    asked: list[tuple[Path, str | None]] = [(scheme, None)]
    for word in others:
        asked.append((Path(word), None) if word.endswith(_SUFFIXES) or Path(word).is_file() else (asked[-1][0], word))
    if not others:
        asked += [(scheme, name) for name in variant_names(scheme)]
    if len(asked) == 1:
        raise click.UsageError(
            f"{scheme} has no variants: name another scheme to compare with, or let `wiregen explore` find alternatives"
        )
    several = len({path for path, _ in asked}) > 1
    return [Source(_name(path, variant, several), path, variant, None, profiles_dir) for path, variant in asked]


def _name(path: Path, variant: str | None, several: bool) -> str:
    if not several:
        return variant or "as declared"
    return f"{path.name} {variant or ''}".strip()


def show(found: tuple[Alternative, ...], output_format: str) -> None:
    """Print a comparison."""
    from wiregen.documents import as_csv
    from wiregen.documents.comparison import comparison_json, comparison_table, side_by_side

    if output_format == "json":
        echo_json({"alternatives": comparison_json(found)})
    elif output_format == "csv":
        click.echo(as_csv(comparison_table(found)).decode("utf-8"), nl=False)
    else:
        table = side_by_side(found)
        click.echo(aligned([c.heading for c in table.columns], [[str(cell) for cell in row] for row in table.rows]))


def write(found: tuple[Alternative, ...], first: Source, folder: Path, remarks: tuple[str, ...] = ()) -> None:
    """Write a comparison and name its folder."""
    from wiregen.packing import write_comparison

    written = write_comparison(found, first.design(), folder, remarks)
    click.echo(in_line(f"{len(written.files)} files in {written.folder}"))
    if written.no_pdf is not None:
        click.echo(printable(f"no PDF was written: {written.no_pdf}"), err=True)

"""wiregen allocate: which terminal each function gets."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options, reasons
from wiregen.cli.conflicts import conflict_lines
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import aligned, print_errors, printable
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of

if TYPE_CHECKING:
    from wiregen.allocation.model import Level
    from wiregen.pipeline import Design


@click.command("allocate")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.time_limit
@options.output_format
@click.option("--why", "function", metavar="FUNCTION", help="Say why this function got its terminal.")
@click.option("--at", "device", metavar="DEVICE", help="With --why: at this device, where several have the function.")
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    time_limit_s: float | None,
    output_format: str,
    function: str | None,
    device: str | None,
) -> int:
    """Show which terminal each function gets.

    Prints one row a function, what found no terminal and why, and how good the answer is, preference by preference.
    With --why one function alone: what decided its terminal, and what each other terminal would cost or why it cannot
    be.
    """
    if device is not None and function is None:
        raise click.UsageError("--at says where the function of --why stands; add --why FUNCTION")
    with complaints_for(output_format):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress, time_limit_s, keep)
            reason = reasons.reason(design, function, device, progress) if function is not None else None
        if reason is not None:
            if output_format == "json":
                echo_json({"why": reasons.reason_json(reason)})
            else:
                click.echo(reasons.reason_text(reason))
            return status_of(design.findings)
        from wiregen.documents import allocation_json, conflicts_json, in_order, scheme_json

        if output_format == "json":
            allocation = {"allocation": allocation_json(design), "conflicts": conflicts_json(design)}
            echo_json({"scheme": scheme_json(design), **allocation})
        else:
            click.echo(_text(design))
    print_errors(design.scheme, in_order(design.scheme, design.findings))
    return status_of(design.findings)


def _text(design: Design) -> str:
    from wiregen.documents import function_table

    header = ("terminal", "pins", "function", "setting", "signal")
    keys = ("terminal", "pins", "function", "terminal_function", "signal")
    records = function_table(design).records()
    rows = [[str(r[key] or "") for key in keys] for r in records if r["terminal"]]
    lines = [aligned(header, rows), ""]
    allocation = design.allocation
    for unplaced in allocation.unplaced:
        lines.append(printable(f"not placed: {unplaced.function} of {unplaced.device}: {unplaced.why}"))
    lines += conflict_lines(design)
    if allocation.levels:
        lines += [aligned(("preference", "value", "least possible", ""), [_level(v) for v in allocation.levels]), ""]
    lines.append(f"status: {allocation.status}")
    return "\n".join(lines)


def _level(level: Level) -> tuple[str, str, str, str]:
    return level.name, str(level.value), str(level.bound), "proven" if level.proven else "not proven"

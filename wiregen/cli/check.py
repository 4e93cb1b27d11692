"""wiregen check: findings only."""

from __future__ import annotations

from pathlib import Path

import click

from wiregen.cli import options
from wiregen.cli.conflicts import conflict_lines
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import print_findings, summary
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of


@click.command("check")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.time_limit
@options.output_format
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    time_limit_s: float | None,
    output_format: str,
) -> int:
    """Say what is wrong with a scheme.

    Prints each finding with its place in the file, why it matters, what to do about it, and on whose word. Writes
    nothing.
    """
    with complaints_for(output_format):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress, time_limit_s, keep)
        from wiregen.documents import conflicts_json, findings_json, in_order, scheme_json

        findings = in_order(design.scheme, design.findings)
        if output_format == "json":
            found = {"findings": findings_json(design.scheme, design.findings), "conflicts": conflicts_json(design)}
            echo_json({"scheme": scheme_json(design), **found})
        else:
            print_findings(design.scheme, findings)
            for line in conflict_lines(design):
                click.echo(line)
            click.echo(summary(findings))
    return status_of(findings)

"""wiregen check: findings only."""

from __future__ import annotations

from pathlib import Path

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import print_findings, summary
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of


@click.command("check")
@options.scheme
@options.variant
@options.profiles
@options.keep
@options.output_format
def command(scheme: Path, variant: str | None, profiles_dir: Path | None, keep: Path | None, output_format: str) -> int:
    """Say what is wrong with a scheme.

    Prints each finding with its place in the file, why it matters, what to do about it, and on whose word. Writes
    nothing.
    """
    with complaints_for(output_format):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress, keep)
        from wiregen.documents import findings_json, in_order, scheme_json

        findings = in_order(design.scheme, design.findings)
        if output_format == "json":
            echo_json({"scheme": scheme_json(design), "findings": findings_json(design.scheme, design.findings)})
        else:
            print_findings(design.scheme, findings)
            click.echo(summary(findings))
    return status_of(findings)

"""wiregen repair: changes that end a conflict, listed, shown or made."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import printable
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of
from wiregen.terms import Complaint, Spot, UnusableInput

if TYPE_CHECKING:
    from wiregen.advice.repairing import Repair
    from wiregen.pipeline import Design
    from wiregen.scheme.edit import Edited


@click.command("repair")
@options.scheme
@options.variant
@options.profiles
@click.option("--apply", "number", metavar="N", type=click.IntRange(min=1), help="Make repair N, with a backup.")
@click.option("--dry-run", is_flag=True, help="Show what --apply would change, and change nothing.")
@options.output_format
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    number: int | None,
    dry_run: bool,
    output_format: str,
) -> int:
    """Find changes that end the conflicts of a scheme, and make one.

    Every repair was tried: with it the conflict is gone and there is no new error. One that is not safe changes more
    than where a function is fixed: think over how the machine stops, starts and answers a lost signal before you make
    it. The numbers hold as long as the scheme stays as it is.
    """
    if dry_run and number is None:
        raise click.UsageError("--dry-run shows one repair: name it with --apply N")
    if number is not None and output_format == "json":
        raise click.UsageError("--format json lists repairs; leave out --apply, or leave out --format")
    with complaints_for(output_format):
        from wiregen.advice.comparison import Source
        from wiregen.advice.repairing import repairs
        from wiregen.scheme.edit import texts_of

        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress)
            texts = texts_of(scheme)
            source = Source(str(scheme), scheme, variant, None, profiles_dir)
            found = repairs(source, design, lambda says: progress.step(f"Trying: {says}"))
        if number is not None:
            return _one(design, texts, found, number, dry_run, profiles_dir)
    if output_format == "json":
        echo_json({"repairs": [_json(repair, _edited(design, texts, repair)) for repair in found]})
    else:
        _show(design, found)
    return status_of(design.findings)


def _edited(design: Design, texts: dict[str, str], repair: Repair) -> Edited | str:
    """The files with the repair, or why it must be made by hand."""
    from wiregen.scheme.edit import Unspliceable, changes_of, edited

    scheme = design.scheme
    try:
        changes = changes_of(texts, scheme.path, repair.change.patch, scheme.variant)
        return edited(texts, scheme.path, changes, scheme.variant)
    except Unspliceable as error:
        return str(error)


def _one(
    design: Design, texts: dict[str, str], found: tuple[Repair, ...], number: int, dry_run: bool, folder: Path | None
) -> int:
    from wiregen.scheme.edit import diff
    from wiregen.scheme.replacing import replace_files

    if number > len(found):
        few = f"there are {len(found)}" if found else "none was found"
        raise _unusable(design, f"there is no repair {number}: {few}")
    change = _edited(design, texts, found[number - 1])
    if isinstance(change, str):
        raise _unusable(design, f"repair {number} must be made by hand: {change}")
    if dry_run:
        for line in diff(change).splitlines():
            click.echo(printable(line))
        return status_of(design.findings)
    for name, backup in replace_files(change.files, change.before, change.after).items():
        click.echo(printable(f"{name}: changed; as it was: {backup}"))
    with Progress() as progress:
        after = designed(Path(design.scheme.path), design.scheme.variant, folder, progress)
    return status_of(after.findings)


def _unusable(design: Design, says: str) -> UnusableInput:
    return UnusableInput((Complaint(Spot(design.scheme.path, 1, 1), says),))


def _show(design: Design, found: tuple[Repair, ...]) -> None:
    if not design.allocation.conflicts:
        click.echo("nothing to repair: everything has a terminal")
    for conflict in design.allocation.conflicts:
        click.echo(printable(f"conflict: {' '.join(conflict.says.split())}"))
        own = [repair for repair in found if repair.conflict is conflict]
        for repair in own:
            safe = "safe" if repair.safe else "not safe: to be thought over"
            click.echo(printable(f"  {repair.number}. {repair.change.says} (cost {repair.change.cost}, {safe})"))
            moved = ", ".join(m.name for m in repair.moved if m.kind == "function")
            if moved:
                click.echo(printable(f"     other terminals: {moved}"))
            for finding in repair.findings:
                click.echo(printable(f"     new {finding.severity} {finding.code}: {finding.message}"))
        if not own:
            click.echo("  no repair was found among the changes that were tried")


def _json(repair: Repair, change: Edited | str) -> dict[str, object]:
    from wiregen.scheme.edit import changed_lines

    lines = () if isinstance(change, str) else changed_lines(change)
    return {
        "number": repair.number,
        "conflict": repair.conflict.says,
        "says": repair.change.says,
        "cost": repair.change.cost,
        "safe": repair.safe,
        "by_hand": change if isinstance(change, str) else None,
        "changes": [{"file": x.file, "line": x.line, "from": x.before, "to": x.after} for x in lines],
        "new_findings": [
            {"code": f.code, "severity": str(f.severity), "subject": f.subject, "message": f.message}
            for f in repair.findings
        ],
        "moved": [{"kind": m.kind, "name": m.name, "change": m.change} for m in repair.moved],
    }

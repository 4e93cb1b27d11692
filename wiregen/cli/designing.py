"""From a scheme file to its design, with the talk that goes with it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli.progress import Progress
from wiregen.terms import Complaint, UnusableInput

if TYPE_CHECKING:
    from wiregen.pipeline import Design


def designed(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    progress: Progress,
    time_limit_s: float | None = None,
    keep: Path | None = None,
) -> Design:
    """Read a scheme and work it out; what is not proven within the time is told. Raises UnusableInput."""
    import wiregen

    progress.step("Reading the scheme")
    read = wiregen.read(scheme, variant=variant, profiles_dir=profiles_dir, keep=keep)
    progress.step("Allocating and wiring")
    design = wiregen.design(read, time_limit_s=time_limit_s)
    if time_limit_s is not None and (said := _unproven(design)):
        progress.wipe()
        click.echo(f"not proven within {time_limit_s:g} s: {said}", err=True)
    return design


def _unproven(design: Design) -> str:
    """The preferences that the allocation may serve better than it does, and by how much at most."""
    levels = [v for v in design.allocation.levels if not v.proven and v.name != "tie-break"]
    return "; ".join(f"{v.name} is {v.value}, and no less than {v.bound} is possible" for v in levels)


@contextmanager
def complaints_for(output_format: str) -> Iterator[None]:
    """Where JSON is asked for, complaints about the input are JSON on stdout too; people read them on stderr."""
    try:
        yield
    except UnusableInput as error:
        if output_format == "json":
            echo_json({"errors": [_complaint(c) for c in error.complaints]})
        raise


def _complaint(complaint: Complaint) -> dict[str, object]:
    spot = complaint.spot
    return {
        "file": spot.file,
        "line": spot.line,
        "column": spot.column,
        "code": complaint.code or None,
        "message": complaint.message,
    }


def echo_json(data: object) -> None:
    """Whole and indented on stdout."""
    click.echo(json.dumps(data, indent=2, ensure_ascii=False))

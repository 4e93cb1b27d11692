"""From a scheme file to its design, with the talk that goes with it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli.progress import Progress
from wiregen.terms import UnusableInput

if TYPE_CHECKING:
    from wiregen.pipeline import Design


def designed(scheme: Path, variant: str | None, profiles_dir: Path | None, progress: Progress) -> Design:
    """Read a scheme and work it out. Raises UnusableInput."""
    import wiregen

    progress.step("Reading the scheme")
    read = wiregen.read(scheme, variant=variant, profiles_dir=profiles_dir)
    progress.step("Allocating and wiring")
    return wiregen.design(read)


@contextmanager
def complaints_for(output_format: str) -> Iterator[None]:
    """Where JSON is asked for, complaints about the input are JSON on stdout too; people read them on stderr."""
    try:
        yield
    except UnusableInput as error:
        if output_format == "json":
            echo_json(
                {"errors": [_complaint(c.spot.file, c.spot.line, c.spot.column, c.message) for c in error.complaints]}
            )
        raise


def _complaint(file: str, line: int, column: int, message: str) -> dict[str, object]:
    return {"file": file, "line": line, "column": column, "message": message}


def echo_json(data: object) -> None:
    """Whole and indented on stdout."""
    click.echo(json.dumps(data, indent=2, ensure_ascii=False))

"""Arguments and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])

scheme = click.argument("scheme", type=click.Path(path_type=Path))
variant = click.option("--variant", metavar="NAME", help="Use this variant of the scheme.")
profiles = click.option(
    "--profiles",
    "profiles_dir",
    metavar="DIR",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Take terminal profiles from this folder too.",
)
keep = click.option(
    "--keep",
    metavar="PACK",
    type=click.Path(path_type=Path),
    help="Let as much stay as it is in this earlier pack as can.",
)
output_format = click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Print for people or for programs.",
)


def output(required: bool) -> Callable[[Command], Command]:
    """``-o DIR``."""
    return click.option(
        "-o",
        "--output",
        metavar="DIR",
        type=click.Path(path_type=Path),
        required=required,
        help="Folder to write, whole or not at all. What you put into it stays.",
    )

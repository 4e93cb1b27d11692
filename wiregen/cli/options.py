"""Arguments and options that several commands share."""

from __future__ import annotations

import math
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


def _seconds(_context: click.Context, _option: click.Parameter, value: float | None) -> float | None:
    if value is not None and not 0 < value < math.inf:
        raise click.BadParameter(f"{value:g} is no number of seconds above 0")
    return value


time_limit = click.option(
    "--time-limit",
    "time_limit_s",
    metavar="SECONDS",
    type=float,
    callback=_seconds,
    help="Stop looking for a better allocation after so long, and say what is proven of it.",
)


table_format = click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json", "csv"]),
    help="Print for people, which is what you get without it, for programs, or as CSV.",
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

"""The tables of the trade: one CSV file each, with unit, source and honesty mark in every row.

The mark says how the figure was come by: ``read`` in the document named, ``extract`` of its text, ``reported`` by
others who name it, ``computed`` from such figures, ``from memory``, or ``uncertain``: never to be asserted.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

Row = dict[str, str]

MARKS = ("read", "extract", "reported", "computed", "from memory", "uncertain")


@cache
def rows(name: str) -> tuple[Row, ...]:
    """The rows of one table, every cell as text."""
    text = files("wiregen.formulas").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def names() -> tuple[str, ...]:
    """The names of all tables, sorted."""
    folder = files("wiregen.formulas").joinpath("data")
    return tuple(sorted(f.name.removesuffix(".csv") for f in folder.iterdir() if f.name.endswith(".csv")))

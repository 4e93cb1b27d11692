"""The cables on sheets: each a plain table of its cores in order, for those who make off both its ends."""

from __future__ import annotations

from collections.abc import Sequence

from wiregen.documents import Table
from wiregen.documents.table import Cell, natural
from wiregen.drawing.cable_text import make_up
from wiregen.drawing.references import References
from wiregen.drawing.tables import Block, Column, Late, block
from wiregen.terms import Pin
from wiregen.wiring.model import Cable

COLUMNS = (
    Column("Core", strong=True, wraps=False),
    Column("Colour", wraps=False),
    Column("Number", wraps=False),
    Column("From", wraps=False),
    Column("To", wraps=False),
    Column("Function"),
    Column("Sheet", wraps=False),
)


def cable_blocks(cables: Sequence[Cable], terminations: Table, references: References) -> list[Block]:
    """One block a cable, in the order of the list of terminations; power cables, whose cores are not wired, too."""
    by_cable: dict[str, list[dict[str, Cell]]] = {c.name: [] for c in cables}
    for record in terminations.records():
        if record["cable"] in by_cable:
            by_cable[str(record["cable"])].append(record)
    return [
        block(COLUMNS, (_row(r, references) for r in by_cable[c.name]), _heading(c), (_make(c),), c.name)
        for c in sorted(cables, key=lambda c: natural(c.name))
    ]


def _heading(cable: Cable) -> str:
    return f"{cable.name}  within {cable.a}" if cable.a == cable.b else f"{cable.name}  {cable.a} to {cable.b}"


def _make(cable: Cable) -> str:
    """Class, make-up, length, spare cores and screen."""
    parts = [cable.category.replace("_", " "), make_up(cable)]
    parts += [f"{cable.length_m:g} m"] if cable.length_m is not None else []
    parts += [f"{cable.spare} spare"] if cable.spare else []
    parts += [f"screen on PE at {cable.screen.replace('cabinet end', cable.a)}"] if cable.screened else []
    parts += [f"for {cable.device}"] if cable.device else []
    parts += ["there already"] if cable.existing else []
    return ", ".join(parts)


def _row(record: dict[str, Cell], references: References) -> tuple[str | Late, ...]:
    start, end = str(record["from"]), str(record["to"] or "")
    if record["kind"] == "screen":
        start, end = end, ""
    core = "screen" if record["kind"] == "screen" else str(record["core"] or "")
    colour = "" if record["kind"] == "screen" else str(record["colour"] or "")
    return (
        core,
        colour,
        str(record["number"] or ""),
        start,
        end,
        str(record["function"] or ""),
        Late(lambda: references.of_pin(Pin(*start.split(":", 1)))),
    )

"""The findings on sheets, worst first: what is found, why it matters, and what would be right."""

from __future__ import annotations

from wiregen.documents import Table
from wiregen.documents.table import Cell
from wiregen.drawing.tables import Block, Column, block

COLUMNS = (
    Column("Severity", strong=True, wraps=False),
    Column("Code"),
    Column("Finding"),
    Column("Why"),
    Column("Remedy"),
    Column("Basis"),
    Column("Line", wraps=False),
)
ACCEPTED = (*COLUMNS, Column("Accepted because"))


def finding_blocks(findings: Table) -> list[Block]:
    """What stands, then what the scheme accepts with its reasons; no block where nothing was found."""
    records = findings.records()
    standing = [r for r in records if r["accepted"] is None]
    accepted = [r for r in records if r["accepted"] is not None]
    blocks = []
    if standing:
        blocks.append(block(COLUMNS, (_row(r) for r in standing), "Findings"))
    if accepted:
        rows = ((*_row(r), str(r["accepted"])) for r in accepted)
        blocks.append(block(ACCEPTED, rows, "Accepted findings"))
    return blocks


def _row(record: dict[str, Cell]) -> tuple[str, ...]:
    keys = ("severity", "code", "message", "why", "remedy", "basis", "line")
    return tuple("" if record[key] is None else str(record[key]) for key in keys)

"""The test sheet on paper: one table a section, with ruled cells to write in."""

from __future__ import annotations

from wiregen.documents import Table
from wiregen.documents.table import Cell
from wiregen.drawing.tables import Block, Column, Late, block

COLUMNS = (
    Column("Step", strong=True, wraps=False),
    Column("State"),
    Column("From", wraps=False),
    Column("To"),
    Column("Expect"),
    Column("Least", wraps=False),
    Column("Most", wraps=False),
    Column("Read", wraps=False),
    Column("OK", wraps=False),
    Column("Remark", wraps=False),
)
#: As wide as what a hand writes there.
_TO_WRITE = (Late(str, "0000.00 mA"), Late(str, "xxx"), Late(str, "a remark by hand, so long"))


def test_blocks(steps: Table, sections: tuple[tuple[str, int], ...], caution: str) -> list[Block]:
    """One block a section, the caution over the first; ``sections`` says how many rows each has."""
    blocks: list[Block] = []
    first = 0
    for heading, count in sections:
        rows = steps.rows[first : first + count]
        first += count
        remarks = (caution,) if not blocks else ()
        blocks.append(block(COLUMNS, ((*map(_text, row[:7]), *_TO_WRITE) for row in rows), heading, remarks))
    return blocks


def _text(cell: Cell) -> str:
    return "" if cell is None else str(cell)

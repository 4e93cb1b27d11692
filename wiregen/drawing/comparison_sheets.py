"""A comparison of alternatives on sheets of its own: a row for each measure, a column for each alternative."""

from __future__ import annotations

from collections.abc import Sequence

from wiregen.documents.table import Table
from wiregen.drawing import table_ink
from wiregen.drawing.references import References
from wiregen.drawing.sheet_set import CAUTIONS, Drawing, Sheet
from wiregen.drawing.tables import Block, Column, block, table_sheets
from wiregen.drawing.template import A3, TitleBlock, frame, room
from wiregen.pipeline import Design

#: Alternatives beside one another, so that their words stay readable at A3.
MOST_BESIDE = 5


def draw_comparison(table: Table, first: Design, remarks: Sequence[str] = ()) -> Drawing:
    """The sheets of a comparison with a column an alternative; the title block is that of the ``first`` design."""
    references = References(A3)
    sheets = table_sheets("Comparison of alternatives", _blocks(table, remarks), room(_block(first, "", 1, 1), A3))
    drawn = []
    for number, sheet in enumerate(sheets, start=1):
        canvas = A3.canvas(practice=first.scheme.model.practice)
        canvas.title = sheet.title
        table_ink.draw(canvas, sheet, references)
        frame(canvas, _block(first, sheet.title, number, len(sheets)), A3)
        drawn.append(Sheet(f"comparison-{number:02d}.svg", sheet.title, str(number), canvas.to_svg()))
    return Drawing(tuple(drawn))


def _blocks(table: Table, remarks: Sequence[str]) -> list[Block]:
    blocks: list[Block] = []
    places = range(1, len(table.columns))
    for start in places[::MOST_BESIDE]:
        part = places[start - 1 : start - 1 + MOST_BESIDE]
        columns = (Column("Measure", strong=True), *(Column(table.columns[i].title) for i in part))
        rows = ((str(row[0]), *(str(row[i] or "") for i in part)) for row in table.rows)
        blocks.append(block(columns, rows, "", remarks if not blocks else ()))
    return blocks


def _block(first: Design, title: str, number: int, of: int) -> TitleBlock:
    model = first.scheme.model
    return TitleBlock(
        title=model.scheme,
        sheet_title=title,
        drawing=model.drawing,
        revision=model.revision,
        practice=model.practice,
        status="for review",
        sheet=number,
        sheets=of,
        date=model.date or "",
        cautions=CAUTIONS,
    )

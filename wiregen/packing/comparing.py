"""What goes into the folder of a comparison: sheets, the table as CSV and XLSX, all measures as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from wiregen import documents
from wiregen.advice.comparison import Alternative
from wiregen.documents.comparison import comparison_json, comparison_table, side_by_side
from wiregen.packing.contents import Pack, written
from wiregen.pipeline import Design


def write_comparison(
    alternatives: Sequence[Alternative], first: Design, folder: str | Path, remarks: Sequence[str] = ()
) -> Pack:
    """Write a comparison to ``folder``, whole or not at all; ``first`` gives the title block. Raises FolderRefused."""
    from wiregen.drawing import book
    from wiregen.drawing.comparison_sheets import draw_comparison
    from wiregen.drawing.pdf import CairoMissing

    table = comparison_table(alternatives)
    drawing = draw_comparison(side_by_side(alternatives), first, remarks)
    files = {sheet.file: sheet.svg for sheet in drawing.sheets}
    files["comparison.csv"] = documents.as_csv(table)
    files["comparison.xlsx"] = documents.as_xlsx(table, documents.heading(first))
    files["comparison.json"] = documents.json_bytes({"alternatives": comparison_json(alternatives)})
    no_pdf = None
    try:
        files["comparison.pdf"] = book(drawing, first)
    except CairoMissing as error:
        no_pdf = str(error)
    return written(folder, files, "comparison", no_pdf)

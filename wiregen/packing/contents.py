"""What goes into a folder: the sheets, the lists, or a whole pack."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from wiregen import documents
from wiregen.packing import cautions
from wiregen.packing.folder import write_folder

if TYPE_CHECKING:
    from wiregen.drawing import Drawing
    from wiregen.pipeline import Design

DRAWINGS = "drawings.pdf"


@dataclass(frozen=True, slots=True)
class Pack:
    """What was written; ``no_pdf`` says why the PDF is missing where it is."""

    folder: Path
    files: tuple[str, ...]
    no_pdf: str | None = None


def write(design: Design, folder: str | Path) -> Pack:
    """Write everything of ``design`` to ``folder``, whole or not at all.

    Where the PDF cannot be made (its library is missing) the rest is written and ``no_pdf`` says so.
    Raises FolderRefused; the folder then holds what it held.
    """
    from wiregen.drawing import draw

    drawing = draw(design)
    sheets = [(s.file, s.title, s.number) for s in drawing.sheets]
    files, no_pdf = _sheet_files(design, drawing)
    files |= _list_files(design)
    files["design.json"] = documents.json_bytes(documents.design_json(design, sheets))
    return written(folder, files, "pack", no_pdf)


def write_sheets(design: Design, folder: str | Path) -> Pack:
    """Write the sheets and their PDF only. Raises as `write` does."""
    from wiregen.drawing import draw

    drawing = draw(design)
    files, no_pdf = _sheet_files(design, drawing)
    return written(folder, files, "sheets", no_pdf)


def write_lists(design: Design, folder: str | Path) -> Pack:
    """Write the lists only, as CSV and XLSX. Raises as `write` does."""
    return written(folder, _list_files(design), "lists", None)


def written(folder: str | Path, files: dict[str, bytes], kind: str, no_pdf: str | None) -> Pack:
    """Write these files and the cautions to a folder that holds ``kind``. Raises as `write` does."""
    files[cautions.NAME] = cautions.CAUTIONS.encode("ascii")
    write_folder(Path(folder), files, kind)
    return Pack(Path(folder), tuple(sorted(files)), no_pdf)


def _sheet_files(design: Design, drawing: Drawing) -> tuple[dict[str, bytes], str | None]:
    from wiregen.drawing import book
    from wiregen.drawing.pdf import CairoMissing

    files = {sheet.file: sheet.svg for sheet in drawing.sheets}
    try:
        if drawing.sheets:
            files[DRAWINGS] = book(drawing, design)
    except CairoMissing as error:
        return files, str(error)
    return files, None


def _list_files(design: Design) -> dict[str, bytes]:
    heading = documents.heading(design)
    files: dict[str, bytes] = {}
    for table in documents.lists(design):
        files[f"{table.name}.csv"] = documents.as_csv(table)
        files[f"{table.name}.xlsx"] = documents.as_xlsx(table, heading)
    return files

"""What goes into a folder: the sheets, the lists, or a whole pack."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from wiregen import documents
from wiregen.packing import cautions
from wiregen.packing.books import Book, books
from wiregen.packing.folder import write_folder
from wiregen.packing.manifest import BookRecord

if TYPE_CHECKING:
    from wiregen.pipeline import Design


@dataclass(frozen=True, slots=True)
class Pack:
    """What was written; ``no_pdf`` says why the PDF is missing where it is."""

    folder: Path
    files: tuple[str, ...]
    no_pdf: str | None = None


def write(design: Design, folder: str | Path) -> Pack:
    """Write everything of ``design`` to ``folder``, whole or not at all.

    Sheets that the pack which stands there was given for the very same are taken over from it, to the byte.
    Where the PDF cannot be made (its library is missing) the rest is written and ``no_pdf`` says so.
    Raises FolderRefused; the folder then holds what it held.
    """
    sheets = list(books(design, Path(folder)))
    files = _list_files(design)
    shown = [sheet for book in sheets for sheet in book.record.sheets]
    files["design.json"] = documents.json_bytes(documents.design_json(design, shown))
    return _with_books(folder, files, "pack", sheets)


def write_sheets(design: Design, folder: str | Path) -> Pack:
    """Write the sheets and their PDF only. Raises as `write` does."""
    return _with_books(folder, {}, "sheets", list(books(design, Path(folder))))


def write_lists(design: Design, folder: str | Path) -> Pack:
    """Write the lists only, as CSV and XLSX. Raises as `write` does."""
    return written(folder, _list_files(design), "lists", None)


def _with_books(folder: str | Path, files: dict[str, bytes], kind: str, sheets: list[Book]) -> Pack:
    for book in sheets:
        files |= book.files
    no_pdf = next((book.no_pdf for book in sheets if book.no_pdf), None)
    return written(folder, files, kind, no_pdf, {book.name: book.record for book in sheets})


def written(
    folder: str | Path,
    files: dict[str, bytes],
    kind: str,
    no_pdf: str | None,
    records: dict[str, BookRecord] | None = None,
) -> Pack:
    """Write these files and the cautions to a folder that holds ``kind``. Raises as `write` does."""
    files[cautions.NAME] = cautions.CAUTIONS.encode("ascii")
    write_folder(Path(folder), files, kind, records)
    return Pack(Path(folder), tuple(sorted(files)), no_pdf)


def _list_files(design: Design) -> dict[str, bytes]:
    heading = documents.heading(design)
    files: dict[str, bytes] = {}
    for table in documents.lists(design):
        files[f"{table.name}.csv"] = documents.as_csv(table)
        files[f"{table.name}.xlsx"] = documents.as_xlsx(table, heading)
    return files

"""What goes into a folder: the sheets, the lists, or a whole pack."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from wiregen import documents
from wiregen.packing import cautions
from wiregen.packing.books import Book, books
from wiregen.packing.earlier import Earlier
from wiregen.packing.fingerprint import fingerprint, mixed, program
from wiregen.packing.folder import write_folder
from wiregen.packing.manifest import BookRecord
from wiregen.pipeline import slices

if TYPE_CHECKING:
    from wiregen.pipeline import Design


@dataclass(frozen=True, slots=True)
class Pack:
    """What was written; ``no_pdf`` says why the PDF is missing where it is."""

    folder: Path
    files: tuple[str, ...]
    no_pdf: str | None = None


def write(design: Design, folder: str | Path, also: tuple[documents.Table, ...] = ()) -> Pack:
    """Write everything of ``design`` to ``folder``, and the lists ``also``, whole or not at all.

    Sheets that the pack which stands there was given for the very same are taken over from it, to the byte.
    Where the PDF cannot be made (its library is missing) the rest is written and ``no_pdf`` says so.
    Raises FolderRefused; the folder then holds what it held.
    """
    earlier, made_from = Earlier(Path(folder)), _fingerprints(design)
    devices = {part.name: [d.name for d in part.design.declared.devices] for part in design.parts}
    known = earlier.readings(made_from, devices)
    for part in design.parts:
        if part.name in known:
            part.design.recall(known[part.name])
    sheets = list(books(design, made_from, earlier))
    files, keys = _list_files(design, earlier, also)
    shown = [sheet for book in sheets for sheet in book.record.sheets]
    files["design.json"] = documents.json_bytes(documents.design_json(design, shown))
    return _with_books(folder, files, "pack", sheets, keys)


def _fingerprints(design: Design) -> dict[str, str]:
    return {part.name: fingerprint(slices.shown(part.design)) for part in design.parts}


def write_sheets(design: Design, folder: str | Path) -> Pack:
    """Write the sheets and their PDF only. Raises as `write` does."""
    sheets = list(books(design, _fingerprints(design), Earlier(Path(folder))))
    return _with_books(folder, {}, "sheets", sheets, {})


def write_lists(design: Design, folder: str | Path) -> Pack:
    """Write the lists only, as CSV and XLSX. Raises as `write` does."""
    files, keys = _list_files(design, Earlier(Path(folder)))
    return written(folder, files, "lists", None, made_from=keys)


def _with_books(
    folder: str | Path, files: dict[str, bytes], kind: str, sheets: list[Book], made_from: dict[str, str]
) -> Pack:
    for book in sheets:
        files |= book.files
    no_pdf = next((book.no_pdf for book in sheets if book.no_pdf), None)
    return written(folder, files, kind, no_pdf, {book.name: book.record for book in sheets}, made_from)


def written(
    folder: str | Path,
    files: dict[str, bytes],
    kind: str,
    no_pdf: str | None,
    records: dict[str, BookRecord] | None = None,
    made_from: dict[str, str] | None = None,
) -> Pack:
    """Write these files and the cautions to a folder that holds ``kind``. Raises as `write` does."""
    files[cautions.NAME] = cautions.CAUTIONS.encode("ascii")
    write_folder(Path(folder), files, kind, records, made_from)
    return Pack(Path(folder), tuple(sorted(files)), no_pdf)


def _list_files(
    design: Design, earlier: Earlier, also: tuple[documents.Table, ...] = ()
) -> tuple[dict[str, bytes], dict[str, str]]:
    """The lists, and what the workbooks were made from: they take longest to write."""
    heading = documents.heading(design)
    files: dict[str, bytes] = {}
    made_from: dict[str, str] = {}
    for table in (*documents.lists(design), *also):
        files[f"{table.name}.csv"] = documents.as_csv(table)
        workbook = f"{table.name}.xlsx"
        made_from[workbook] = key = mixed("workbook", program(), repr((table, heading)))
        files[workbook] = earlier.file(workbook, key) or documents.as_xlsx(table, heading)
    return files, made_from

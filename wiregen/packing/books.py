"""Sets of sheets for a folder: one for a plant that hangs together, else one for each cabinet that stands alone.

A set that was made from the same, by the same program, is taken over from the pack that stands there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wiregen.packing.earlier import Earlier
from wiregen.packing.manifest import BookRecord

if TYPE_CHECKING:
    from wiregen.pipeline import Design
    from wiregen.pipeline.cabinets import Part


@dataclass(frozen=True, slots=True)
class Book:
    """One set: its files (name -> bytes), what goes into the manifest, and why it has no PDF where it has none."""

    name: str
    files: dict[str, bytes]
    record: BookRecord
    no_pdf: str | None = None


def books(design: Design, made_from: dict[str, str], earlier: Earlier) -> Iterator[Book]:
    """Every set of sheets of ``design``. ``made_from`` holds the fingerprint of each of its parts."""
    for part in design.parts:
        yield _taken_over(part.name, made_from[part.name], earlier) or _drawn(part, made_from[part.name])


def _taken_over(name: str, made_from: str, earlier: Earlier) -> Book | None:
    """The set as it stands in the earlier pack, if it was made from the same and every file is as it was written."""
    record = earlier.book(name, made_from)
    if record is None:
        return None
    files: dict[str, bytes] = {}
    for file in (*(sheet[0] for sheet in record.sheets), record.pdf):
        data = earlier.file(file)
        if data is None:
            return None
        files[file] = data
    return Book(name, files, record)


def _drawn(part: Part, made_from: str) -> Book:
    from wiregen.drawing import book, draw
    from wiregen.drawing.pdf import CairoMissing

    drawing = draw(part.design)
    before, dash = (f"{part.name}-", f"-{part.name}") if part.name else ("", "")
    sheets = [replace(s, file=f"{before}{s.file}", number=f"{before}{s.number}") for s in drawing.sheets]
    files = {sheet.file: sheet.svg for sheet in sheets}
    pdf, no_pdf = f"drawings{dash}.pdf" if sheets else "", None
    try:
        if pdf:
            files[pdf] = book(drawing, part.design)
    except CairoMissing as error:
        pdf, no_pdf = "", str(error)
    record = BookRecord(made_from, pdf, tuple((s.file, s.title, s.number) for s in sheets))
    return Book(part.name, files, record, no_pdf)

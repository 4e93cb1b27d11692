"""What is written beside units, boxes, tags and terminals, broken to the room that a diagram has for it."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.paragraphs import LEADING, Paragraph, paragraph
from wiregen.drawing.references import References
from wiregen.drawing.rows import Port
from wiregen.drawing.units import Unit

LIVE = "\u26a1 live with the main switch off"
NAME_ROOM = 13.0  # for a designation between a symbol and the number of its outer wire, mm


@dataclass(frozen=True, slots=True)
class Words:
    """The widths that a diagram keeps for texts, mm: beside units, at tags, beside boxes, under cables, in outlines.

    ``number`` is what a conductor's number needs beyond the usual. ``inside`` is the part of the outline for the
    functions on the left and on the right.
    """

    note: float
    tag: float
    aside: float
    gap: float
    outline: float
    inside: tuple[float, float] = (0.0, 0.0)
    number: float = 0.0


@dataclass(frozen=True, slots=True)
class UnitText:
    """``name`` stands apart, in size ``name_size``, unless it is empty: then it is the first of ``notes``.

    ``references`` counts the lines kept below the notes for cross-references.
    """

    name: str
    name_size: float
    notes: Paragraph
    references: int

    @property
    def height(self) -> float:
        """Of the notes with their cross-references."""
        lines = self.notes.height + (self.notes.step - fonts.cap_height(self.notes.size) if self.notes.lines else 0.0)
        return (lines if self.references and self.notes.lines else self.notes.height) + self.references_height

    @property
    def references_height(self) -> float:
        return fonts.cap_height(LEAST) + (self.references - 1) * LEAST * LEADING if self.references else 0.0


def beside_unit(unit: Unit, width: float, references: References) -> UnitText:
    """Designation on the outer side of a unit, notes on the inner side."""
    return _text(unit, NAME_ROOM, width, 2, len(references.others(unit)))


def above_unit(unit: Unit, width: float, references: References) -> UnitText:
    """Designation and notes stacked over a unit."""
    return _text(unit, width, width, 1, len(references.others(unit)))


def beside_box(unit: Unit, width: float) -> UnitText:
    """Designation over the notes, beside a box. A stub keeps a line for its cross-reference."""
    return _text(unit, width, width, 2, 1 if unit.kind == "stub" else 0)


def _text(unit: Unit, name_room: float, width: float, most: int, references: int) -> UnitText:
    """The designation apart where it fits ``name_room``, else before the notes, which take ``most`` lines if they can.

    ``references`` counts the lines kept for cross-references.
    """
    size = fonts.shrink(unit.device, TEXT, name_room, LEAST)
    if size is None:
        return UnitText("", TEXT, paragraph((unit.device, *unit.notes), width, most), references)
    return UnitText(unit.device, size, paragraph(unit.notes, width, most), references)


def at_tag(name: str, width: float, lines: int = 4) -> Paragraph:
    """The name of a potential; of a very long one the beginning."""
    return paragraph((name,), width, 1, limit=lines)


def at_port(port: Port, width: float) -> tuple[Paragraph, Paragraph]:
    """A function's name, and below it the setting that it needs and whether it stays live, inside the outline."""
    below = paragraph((port.setting,), width, 1, (LEAST,), limit=3)
    live = paragraph((LIVE if port.live else "",), width, 1, (LEAST,), limit=3)
    return (
        paragraph((port.function,), width, 2),
        Paragraph((*below.lines, *live.lines), LEAST),
    )


def in_place_of_terminal(function: str, width: float) -> Paragraph:
    """The function that found no terminal, inside the outline from where labels stand, ``width`` from its edge."""
    return paragraph((f"not placed: {function}",), width - 4.0, 1, limit=2)

"""How wide the columns of a table become: from what stands in them, in the room that a sheet has."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wiregen.drawing import fonts

if TYPE_CHECKING:
    from wiregen.drawing.tables import Cell, Column, Row

PAD = 1.5  # left and right of the text of a cell, mm
STROKE = 0.3  # what strong letters are wider than plain ones, mm
NARROWEST = 9.0  # of a column whose words have to be broken, mm
TITLE_ROOM = 27.0  # a column is as wide as its title on one line, up to this
STRETCH = 1.3  # how much wider than its texts a table may become to fill its room


@dataclass(frozen=True, slots=True)
class Measured:
    """Columns with their widths, the font size of the table, and the titles of columns and of groups in lines.

    ``room`` is what the sheet has for the table, at least as wide as the table is.
    """

    columns: tuple[Column, ...]
    widths: tuple[float, ...]
    size: float
    titles: tuple[tuple[str, ...], ...]
    heads: tuple[tuple[str, ...], ...]  # one a group
    room: float

    @property
    def width(self) -> float:
        return sum(self.widths)


class Measuring:
    """The widths of several tables that share sheets; tables of the same columns get the same widths."""

    def __init__(
        self,
        tables: Sequence[tuple[tuple[Column, ...], tuple[Row, ...]]],
        room: float,
        gap: float,
        most_across: int,
        sizes: Sequence[float],
    ) -> None:
        """``gap`` parts tables that stand across the sheet, at most ``most_across`` of them; the largest of ``sizes``
        that fits is taken for all.
        """
        rows: dict[tuple[Column, ...], list[Row]] = {}
        for columns, own in tables:
            rows.setdefault(columns, []).extend(own)
        self.across, fitting = 1, sizes[-1]
        for across in range(most_across, 1, -1):
            each = (room - gap * (across - 1)) / across
            if all(_natural(c, r, sizes[0]) <= each for c, r in rows.items()):
                self.across, fitting = across, sizes[0]
                break
        else:
            fitting = next((s for s in sizes if all(_least(c, r, s) <= room for c, r in rows.items())), sizes[-1])
        each = (room - gap * (self.across - 1)) / self.across
        self._found = {columns: _measured(columns, own, each, fitting) for columns, own in rows.items()}

    def of(self, columns: tuple[Column, ...]) -> Measured:
        return self._found[columns]


def _natural(columns: tuple[Column, ...], rows: Sequence[Row], size: float) -> float:
    return sum(wide for wide, _, _ in _extents(columns, rows, size))


def _least(columns: tuple[Column, ...], rows: Sequence[Row], size: float) -> float:
    return sum(least for _, least, _ in _extents(columns, rows, size))


def _extents(columns: tuple[Column, ...], rows: Sequence[Row], size: float) -> list[tuple[float, float, float]]:
    """Of each column: the width of its widest text, the least without breaking a word, and the mean of its texts."""
    found = []
    for index, column in enumerate(columns):
        texts = [_text(row[index]) for row in rows]
        more = 2 * PAD + (STROKE if column.strong else 0.0)
        widths = [fonts.text_width(text, size) + more for text in texts]
        head = max((fonts.text_width(word, size) for word in column.title.split()), default=0.0) + 2 * PAD + STROKE
        title = max(head, min(fonts.text_width(column.title, size) + 2 * PAD + STROKE, TITLE_ROOM))
        words = (word for text in texts for word in text.split())
        longest = max((fonts.text_width(word, size) for word in words), default=0.0) + more
        wide = max(title, *widths) if widths else title
        least = max(head, longest) if column.wraps else wide
        found.append((wide, least, sum(widths) / max(1, len(widths))))
    return _with_group_heads(columns, found, size)


def _with_group_heads(
    columns: tuple[Column, ...], found: list[tuple[float, float, float]], size: float
) -> list[tuple[float, float, float]]:
    """The last column of a group becomes wider where the group's head needs it."""
    for start, end in groups(columns):
        head = fonts.text_width(columns[start].group, size) + 2 * PAD + STROKE
        wide, least, mean = found[end - 1]
        lacking = head - sum(f[1] for f in found[start:end])
        if columns[start].group and lacking > 0:
            found[end - 1] = max(wide, least + lacking), least + lacking, mean
    return found


def groups(columns: Sequence[Column]) -> list[tuple[int, int]]:
    """Neighbouring columns of one group, as first and behind the last; a column without a group stands alone."""
    found: list[tuple[int, int]] = []
    for index, column in enumerate(columns):
        if found and column.group and columns[found[-1][0]].group == column.group:
            found[-1] = found[-1][0], index + 1
        else:
            found.append((index, index + 1))
    return found


def _text(cell: Cell) -> str:
    return cell if isinstance(cell, str) else cell.sample


def _measured(columns: tuple[Column, ...], rows: Sequence[Row], room: float, size: float) -> Measured:
    widths = _fitted(_extents(columns, rows, size), room)
    titles = tuple(fonts.wrap(c.title, size, w - 2 * PAD - STROKE) for c, w in zip(columns, widths, strict=True))
    spans = [(columns[start].group, sum(widths[start:end])) for start, end in groups(columns)]
    heads = tuple(fonts.wrap(name, size, width - 2 * PAD - STROKE) for name, width in spans)
    return Measured(columns, tuple(widths), size, titles, heads, room)


def _fitted(extents: list[tuple[float, float, float]], room: float) -> list[float]:
    wide = [w for w, _, _ in extents]
    if (total := sum(wide)) <= room:
        factor = min(room / total, STRETCH) if total else 1.0
        return [w * factor for w in wide]
    least = [m for _, m, _ in extents]
    if sum(least) > room:  # words have to be broken: what is widest gives way
        least = [min(m, NARROWEST) for m in least]
    weights = [math.sqrt(w * mean) for w, _, mean in extents]

    def widths(factor: float) -> list[float]:
        return [min(w, max(m, factor * k)) for w, m, k in zip(wide, least, weights, strict=True)]

    low, high = 0.0, 1000.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if sum(widths(middle)) <= room else (low, middle)
    return widths(low)

"""Texts that are broken to a width: how many lines they take, in which size, and how high they stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, NOTE, TEXT

LEADING = 1.24  # line to line, in font sizes
SIZES = (TEXT, NOTE, LEAST)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Lines of one size."""

    lines: tuple[str, ...]
    size: float

    @property
    def step(self) -> float:
        return self.size * LEADING

    @property
    def height(self) -> float:
        """From the top of the first line's capitals to the last baseline, mm."""
        return fonts.cap_height(self.size) + (len(self.lines) - 1) * self.step if self.lines else 0.0


def paragraph(
    texts: Iterable[str], width: float, most: int = 2, sizes: Sequence[float] = SIZES, limit: int | None = None
) -> Paragraph:
    """Each text begins a line. The largest size at which they take ``most`` lines, else the least size.

    ``limit`` cuts what is longer still, with three dots.
    """
    wanted = [text for text in texts if text]
    for size in sizes:
        lines = tuple(line for text in wanted for line in fonts.wrap(text, size, width))
        if len(lines) <= most:
            return Paragraph(lines, size)
    if limit is not None and len(lines) > limit:
        lines = (*lines[: limit - 1], _cut(" ".join(lines[limit - 1 :]), sizes[-1], width))
    return Paragraph(lines, sizes[-1])


def listed(text: str, width: float, lines: int, sizes: Sequence[float] = (LEAST,)) -> Paragraph:
    """A list in ``lines`` lines: of one that is too long the last items are left out and dots stand in their place.

    Cut within the first item where even that is too long.
    """
    for size in sizes:
        if len(found := fonts.wrap(text, size, width)) <= lines:
            return Paragraph(found, size)
    items = re.split(r"(?<=[,;]) ", text)
    for count in range(len(items) - 1, 0, -1):
        if len(found := fonts.wrap(" ".join(items[:count]) + " ...", sizes[-1], width)) <= lines:
            return Paragraph(found, sizes[-1])
    return paragraph((text,), width, lines, sizes[-1:], limit=lines)


def one_line(text: str, width: float, size: float = TEXT, least: float = LEAST) -> tuple[str, float]:
    """The text and the size in which it fits ``width``, cut with three dots where even the least size is too wide."""
    fitting = fonts.shrink(text, size, width, least)
    return (text, fitting) if fitting is not None else (_cut(text, least, width), least)


def _cut(text: str, size: float, width: float) -> str:
    if fonts.text_width(text, size) <= width:
        return text
    while text and fonts.text_width(text.rstrip() + "...", size) > width:
        text = text[:-1]
    return text.rstrip() + "..."

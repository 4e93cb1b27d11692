"""How much room a text takes: the one font of all sheets, measured without drawing it.

The glyph figures are frozen in ``data/dejavu_sans.json``, read once from the font file that the package ziafont
carries. A test holds them against cairo's own measure of the same font.
"""

from __future__ import annotations

import functools
import importlib.resources
import importlib.util
import json
from pathlib import Path
from typing import NamedTuple

from wiregen.drawing.box import Box

FAMILY = "DejaVu Sans"


class Glyph(NamedTuple):
    """One glyph in font units: how far the pen moves, and how far its ink goes below and above the baseline."""

    advance: int
    low: int
    high: int


class Font(NamedTuple):
    units_per_em: int
    cap_height: int
    fallback: Glyph
    glyphs: dict[int, Glyph]


@functools.cache
def font() -> Font:
    """The frozen figures. A character that is not in the font is drawn, and measured, as the font's empty frame."""
    data = json.loads(
        (importlib.resources.files(__package__) / "data" / "dejavu_sans.json").read_text(encoding="utf-8")
    )
    glyphs = {run["first"] + i: Glyph(*g) for run in data["runs"] for i, g in enumerate(run["glyphs"])}
    return Font(data["units_per_em"], data["cap_height"], Glyph(*data["fallback"]), glyphs)


def missing(text: str) -> str:
    """The characters of ``text`` that the font cannot show, each once, in order."""
    return "".join(dict.fromkeys(c for c in text if ord(c) not in font().glyphs))


def text_width(text: str, size: float) -> float:
    """The width in mm of ``text`` in font size ``size`` mm, from pen start to pen end, without kerning."""
    return _advance(text) * size / font().units_per_em


@functools.lru_cache(maxsize=65536)  # a layout measures the same texts over and over
def _advance(text: str) -> int:
    """How far the pen moves over ``text``, in font units."""
    f = font()
    return sum(f.glyphs.get(ord(c), f.fallback).advance for c in text)


def ink(text: str, size: float) -> tuple[float, float]:
    """How far ``text`` reaches above and below its baseline, both in mm; ``below`` is negative where it floats."""
    f = font()
    used = [f.glyphs.get(ord(c), f.fallback) for c in text if not c.isspace()]
    if not used:
        return 0.0, 0.0
    scale = size / f.units_per_em
    return max(g.high for g in used) * scale, -min(g.low for g in used) * scale


def text_box(text: str, size: float, x: float, y: float, anchor: str = "start") -> Box:
    """The ink of ``text`` with its baseline at ``y`` and its start, middle or end at ``x``: as high as its own
    letters.
    """
    width = text_width(text, size)
    above, below = ink(text, size)
    x0 = x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return Box(x0, y - above, x0 + width, y + below)


def cap_height(size: float) -> float:
    """The height in mm of a capital letter in font size ``size`` mm (0.729 of it)."""
    f = font()
    return f.cap_height * size / f.units_per_em


def size_for_capitals(height: float) -> float:
    """The font size in mm whose capitals are ``height`` mm tall, which is how ISO 3098 counts lettering."""
    f = font()
    return height * f.units_per_em / f.cap_height


def wrap(text: str, size: float, width: float) -> tuple[str, ...]:
    """``text`` in lines of at most ``width`` mm, broken at blanks, and inside a word only where the word alone is too
    wide.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        tried = f"{line} {word}" if line else word
        if text_width(tried, size) <= width:
            line = tried
            continue
        if line:
            lines.append(line)
        *whole, line = _pieces(word, size, width)
        lines += whole
    return (*lines, line) if line else tuple(lines)


def _pieces(word: str, size: float, width: float) -> list[str]:
    pieces = [""]
    for c in word:
        if pieces[-1] and text_width(pieces[-1] + c, size) > width:
            pieces.append("")
        pieces[-1] += c
    return pieces


def shrink(text: str, size: float, width: float, least: float) -> float | None:
    """The largest font size up to ``size`` at which ``text`` is at most ``width`` mm wide; None if that is below
    ``least``.
    """
    unit = text_width(text, 1.0)
    fitting = size if unit * size <= width else int(width / unit * 100) / 100
    return fitting if fitting >= least else None


def packaged_file() -> Path:
    """The packaged font file.

    Raises FileNotFoundError when the package ziafont is not there.
    """
    spec = importlib.util.find_spec("ziafont")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("the package ziafont, which carries the font of the sheets, is not installed")
    return Path(spec.origin).parent / "fonts" / "DejaVuSans.ttf"

"""Sheets of a design, as SVG and as one PDF, proven against the circuit."""

from __future__ import annotations

from wiregen.drawing.sheet_set import Drawing, Sheet, book, draw

__all__ = ["Drawing", "Sheet", "book", "draw"]

"""Sheets of a design: terminal diagrams, supplies and distribution, as SVG and PDF, each proven against the circuit."""

from __future__ import annotations

from wiregen.drawing.sheet_set import Drawing, Sheet, book, draw

__all__ = ["Drawing", "Sheet", "book", "draw"]

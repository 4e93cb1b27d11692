"""Rows and blocks of a terminal diagram before they have a place on a sheet.

A row is one horizontal run: from a controller's terminal, or from a tag, over strip terminals and cores to a device.
A block is rows that stay together. Distances count outwards from the controller.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Literal

from wiregen.drawing.branches import Box, Piece
from wiregen.drawing.circuit import FieldChain
from wiregen.drawing.units import Unit
from wiregen.drawing.zones import NOWHERE, Span
from wiregen.terms import Pin

# What a row leads to: a grid of units; a further row of that grid; a pin of a box; the protective terminal of a load;
# the devices that one core feeds; a strip terminal and what lies beyond it; nothing (a spare core); a cable's screen.
Kind = Literal["unit", "branch", "lead", "earth", "feed", "landing", "spare", "screen"]
See = tuple[Literal["loop", "input", "terminal"], str]


@dataclass(frozen=True, slots=True)
class Row:
    """``pin`` is where the row ends, None for a spare core; ``port`` the controller's terminal where it begins.

    ``through`` stands in the row before the span. ``see``: where more of it is drawn.
    """

    kind: Kind
    pin: Pin | None
    span: Span = NOWHERE
    port: Pin | None = None
    chain: FieldChain | None = None
    gap: int = 0  # of a spare core or a screen: the gap that its cable crosses
    through: tuple[Unit, ...] = ()
    alone: bool = False  # a feeding core none of whose devices stands on the page
    see: See | None = None

    def detached(self) -> Row:
        """The row without its terminal: it begins at the last strip from which a core leads to its end."""
        out = [i for i, stop in enumerate(self.span.stops) if stop.edge == "out"]
        stops = self.span.stops[out[-1] :] if out else ()
        cores = tuple((gap, core) for gap, core in self.span.cores if stops and gap >= stops[0].zone)
        return replace(self, port=None, through=(), span=Span(stops, cores))


@dataclass(frozen=True, slots=True)
class Leg:
    """One piece of a row of units, the zone that it stands in, and the span that leads to it."""

    piece: Piece
    zone: int
    span: Span


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that stay together. ``zone`` and ``place`` are those of the outermost thing in it.

    ``home`` is the terminal with which it stands on a page, None for what stands after all terminals.
    """

    rows: tuple[Row, ...]
    zone: int
    place: str
    home: Pin | None = None
    legs: tuple[Leg, ...] = ()
    box: Box | None = None
    caption: str = ""  # said in place of a terminal, where a function has none

    @property
    def main(self) -> Row:
        """The row of the function's own terminal."""
        return self.rows[self.box.anchor] if self.box else self.rows[0]

    @property
    def ports(self) -> tuple[Pin, ...]:
        return tuple(row.port for row in self.rows if row.port is not None)

    @property
    def spans(self) -> tuple[Span, ...]:
        """Those of the rows, which lead to the first leg too, and those between legs."""
        return (*(row.span for row in self.rows), *(leg.span for leg in self.legs[1:]))

    def cables(self) -> dict[int, str]:
        """The cable of the block's first core in every gap that it crosses."""
        found: dict[int, str] = {}
        for span in (self.main.span, *self.spans):
            for gap, core in span.cores:
                found.setdefault(gap, core.cable or "")
        for row in self.rows:
            if row.kind == "screen" and row.pin is not None:
                found.setdefault(row.gap, row.pin.device)
        return found

    def mixed_gaps(self) -> set[int]:
        """The gaps that the block's rows cross in more than one cable."""
        found: dict[int, set[str]] = {}
        for span in self.spans:
            for gap, core in span.cores:
                found.setdefault(gap, set()).add(core.cable or "")
        return {gap for gap, cables in found.items() if len(cables) > 1}

    @property
    def cable(self) -> str:
        """The outermost cable that the block's cores run in; empty where there is none."""
        found = self.cables()
        return found[max(found)] if found else ""

    def without_ports(self, pins: Collection[Pin]) -> Block:
        """The block with the rows at ``pins`` beginning at a tag; the same block where it has none of these."""
        if not any(pin in pins for pin in self.ports):
            return self
        return replace(self, rows=tuple(r.detached() if r.port in pins else r for r in self.rows))


@dataclass(frozen=True, slots=True)
class Port:
    """A controller's terminal on one side, with what is written beside it inside the outline.

    ``channel`` is the first pin of its channel. ``see``: the loop is drawn whole on another controller's sheet, or its
    contacts on a sheet of their own. ``live``: whether it stays live when the main switch of its cabinet is off.
    ``group``: what its function is declared with, as all contacts that select are.
    """

    pin: Pin
    channel: Pin
    function: str = ""
    setting: str = ""
    see: See | None = None
    live: bool = False
    group: str = ""

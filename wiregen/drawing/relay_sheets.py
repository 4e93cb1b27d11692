"""The sheets of contacts: one block a coil, or an input whose contacts have no room beside its terminal.

A block runs from the tag of its feed through contacts to the coil and its 0 V, or to the tag of the input.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wiregen.control.functions import Function, Leg, Load, Parallel, Series, legs_in
from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import NOTE, TEXT
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.references import References
from wiregen.drawing.relay_layout import RelayCircuit, Row, RowMaker, height
from wiregen.drawing.relay_rows import LINE, RelayRowDrawer, Room
from wiregen.drawing.units import UnitMaker
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.digital import ends_of

HEAD = 14.0  # above the first block of a sheet
FOOT = 4.0
TITLE_ROOM = 20.0  # from the title of a block to its first row
LONGEST = 60.0  # a tag's name takes no more room at an edge than this
CLEAR = 10.0  # from the arrow of a tag to the edge of the sheet


@dataclass(frozen=True, slots=True)
class PlacedRow:
    circuit: RelayCircuit
    row: Row
    title: str  # of its block, where it is the first of its circuit or of its sheet
    tall: float


@dataclass(frozen=True, slots=True)
class RelayPage:
    """What one sheet shows."""

    rows: tuple[PlacedRow, ...]


class RelaySheets:
    """Lays out and draws the circuits of all coils of a design, and those of ``inputs``."""

    def __init__(
        self, design: Design, circuit: Circuit, references: References, inputs: Sequence[Function], area: Box
    ) -> None:
        self._design, self._circuit, self._references, self._area = design, circuit, references, area
        self._units = UnitMaker(design)
        self._devices = {d.name: d for d in design.declared.devices}
        self._assigned = {a.end: a for a in design.allocation.assignments}
        here = [f for f in design.functions if f.purpose == "coil" or f in inputs]
        functions = [f for f in here if isinstance(f.partner, Leg | Series | Parallel)]
        left, right = self._edges(functions)
        self._room = Room(area.x0 + left, area.x1 - right, left - 5.0, right - 5.0)
        wide, tall = area.width - left - right, area.height - HEAD - FOOT - TITLE_ROOM
        self._maker = RowMaker(circuit, wide, tall)
        self.circuits = tuple(c for f in functions if (c := self._maker.circuit_of(f)) is not None)

    def _edges(self, functions: list[Function]) -> tuple[float, float]:
        """The room for tags at both edges. A row that is cut ends and begins with a tag of what lies between."""
        trees = [f.partner for f in functions if isinstance(f.partner, Leg | Series | Parallel)]
        inner = [p for t in trees for leg in legs_in(t) for p in (leg.a, leg.b)]
        most = min(LONGEST, max((self._tag_room(p) for p in inner), default=0.0))
        starts = [p for t in trees for p in ends_of(t)[0]]
        ends = [*(p for t in trees for p in ends_of(t)[1]), *(f.coil.b for f in functions if f.coil)]
        left, right = (CLEAR + max([most, *map(self._tag_room, pins)], default=0.0) for pins in (starts, ends))
        return left, right

    def _tag_room(self, pin: Pin) -> float:
        potential = self._circuit.potential(pin)
        return min(LONGEST, fonts.text_width(potential.name, TEXT)) if potential else 0.0

    # Pages

    def title(self, part: int, parts: int) -> str:
        coils = [c.function.coil is not None for c in self.circuits]
        title = "Relay circuits" if all(coils) else "Contacts and relays" if any(coils) else "Contact circuits"
        return title + (f", {part} of {parts}" if parts > 1 else "")

    def pages(self) -> list[RelayPage]:
        """As many sheets as the rows need."""
        pages: list[RelayPage] = []
        page: list[PlacedRow] = []
        free = self._area.height - HEAD - FOOT
        for circuit in self.circuits:
            for row in circuit.rows:
                placed = self._placed(circuit, row, row is circuit.rows[0] or not page)
                if page and placed.tall > free:
                    pages.append(RelayPage(tuple(page)))
                    page, free = [], self._area.height - HEAD - FOOT
                    placed = self._placed(circuit, row, True)
                page.append(placed)
                free -= placed.tall
        return [*pages, RelayPage(tuple(page))] if page else pages

    def _placed(self, circuit: RelayCircuit, row: Row, titled: bool) -> PlacedRow:
        tall = max((height(part) for part in row.parts), default=0.0)
        if row.load is not None:
            tall = max(tall, 16.0 + LINE * self._lines_under(row.load))
        return PlacedRow(circuit, row, self._heading(circuit) if titled else "", tall + (TITLE_ROOM if titled else 0.0))

    def _lines_under(self, load: Load) -> int:
        """How many other symbols of a relay the text under its coil names."""
        return len(self._references.others(self._units.load(load, True)))

    def _heading(self, circuit: RelayCircuit) -> str:
        function = circuit.function
        if function.coil is None:
            at = self._assigned.get(function.ends[0].id)
            return f"{function.name} of {function.controller}" + (f" at {at.channel}" if at else ", not placed")
        device = self._devices[function.coil.device]
        words = device.profile.title + (f", {device.text}" if device.text else "")
        return f"{device.name}  {words}"

    def draw(self, plate: Plate, page: RelayPage) -> None:
        """Draw one sheet."""
        drawer = RelayRowDrawer(plate, self._units, self._maker, self._circuit.main, self._devices, self._room)
        y = self._area.y0 + HEAD
        plate.canvas.text(self._area.x0 + 4.0, self._area.y0 + 7.0, self._remark(), NOTE)
        for placed in page.rows:
            if placed.title:
                text, size = one_line(placed.title, self._area.width - 8.0)
                plate.canvas.text(self._area.x0 + 4.0, y + 4.0, text, size, strong=True)
                for end in placed.circuit.function.ends:
                    plate.setting.references.mark("input", end.id, plate.canvas, self._room.start, y + TITLE_ROOM)
            drawer.row(placed.row, y + (TITLE_ROOM if placed.title else 0.0))
            y += placed.tall

    def _remark(self) -> str:
        place = self._circuit.main
        name = self._design.scheme.model.places[place].name
        said = f"{place} ({name})" if name else place
        return f"Dash-dotted: what stands in the place named there. All else stands in {said}."

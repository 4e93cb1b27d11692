"""What hangs on a controller's terminal: the devices of one function, as grids in a row or as one box with pins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Assignment
from wiregen.control.functions import (
    ContactTree,
    Function,
    Leg,
    Load,
    Meter,
    Parallel,
    Partner,
    Potentiometer,
    Sensor,
    Series,
    Thermistor,
    Transmitter,
)
from wiregen.drawing.grids import Grid, of_tree, of_unit
from wiregen.drawing.loops import Loops
from wiregen.drawing.units import PITCH, Unit, UnitMaker
from wiregen.pipeline import Design
from wiregen.terms import Pin

WIDEST = 96.0  # of one grid, mm
DEEPEST = 6  # rows of one grid
THROUGH_PITCH = 17.5  # between the pins of a box, where another receiver stands in the row between
#: Purposes at which the far side of another controller's contact pair faces this controller's row.
_SWITCHED_LAST = ("input", "safe_torque_off")


@dataclass(frozen=True, slots=True)
class Piece:
    """A grid and the place in which all of its devices stand."""

    grid: Grid
    place: str

    @property
    def units(self) -> tuple[Unit, ...]:
        return tuple(cell.unit for cell in self.grid.cells)


@dataclass(frozen=True, slots=True)
class Box:
    """One device with pins down the side that faces the controller; ``anchor`` is the row of the function's own.

    ``through`` are other receivers of the same current, from the controller outwards.
    """

    unit: Unit
    place: str
    pins: tuple[Pin, ...]
    anchor: int
    pitch: float = PITCH
    through: tuple[Unit, ...] = ()


@dataclass(frozen=True, slots=True)
class Branch:
    """The far side of one function: a box, or pieces from the terminal outwards."""

    function: Function
    pieces: tuple[Piece, ...] = ()
    box: Box | None = None

    @property
    def units(self) -> tuple[Unit, ...]:
        return (self.box.unit,) if self.box else tuple(u for piece in self.pieces for u in piece.units)

    @property
    def place(self) -> str:
        return self.box.place if self.box else self.pieces[0].place


class BranchMaker:
    """Makes the branch of every function; ``mirrored`` for what stands on the right of a controller."""

    def __init__(self, design: Design) -> None:
        self.units = UnitMaker(design)
        self._devices = {d.name: d for d in design.declared.devices}
        self._by_end = {a.end: a for a in design.allocation.assignments}
        self._loops = Loops(design)

    def assignment(self, end: str) -> Assignment | None:
        return self._by_end.get(end)

    def make(self, function: Function, mirrored: bool) -> Branch | None:
        """None where a function has no far side to draw, or one of contacts that do not make a row of pieces."""
        partner = function.partner
        if partner is None:
            return self._stub(function, mirrored)
        if isinstance(partner, Leg | Series | Parallel):
            pieces = tuple(self._pieces(partner, mirrored))
            return Branch(function, pieces) if pieces else None
        unit = self._in_a_row(function, partner, mirrored)
        if unit is not None:
            return Branch(function, (Piece(of_unit(unit), self._devices[unit.device].place),))
        through = self._through(function)
        pitch = THROUGH_PITCH if through else PITCH
        return Branch(function, box=self._boxed(self._box(partner, mirrored, pitch), pitch, through))

    def drawn_elsewhere(self, function: Function) -> bool:
        """Whether the device of a function is drawn at the last receiver of its loop, not here."""
        return self._loops.last_of(function) not in (None, function)

    def receivers(self, box: Box) -> list[Box]:
        """The receivers before the last one of a loop as boxes of their own: the way out first, to the controller."""
        found = []
        for unit in box.through:
            names = (dict(unit.pins)["out"], dict(unit.pins)["in"])
            found.append(self._boxed(self.units.stub(unit.device, names, False, PITCH), PITCH))
        return found

    # Units in a row, and boxes

    def _in_a_row(self, function: Function, partner: Partner, mirrored: bool) -> Unit | None:
        if isinstance(partner, Load):
            return self.units.load(partner, mirrored)
        if isinstance(partner, Meter):
            return self.units.meter(partner, mirrored)
        if isinstance(partner, Thermistor):
            return self.units.thermistor(partner, mirrored)
        if isinstance(partner, Sensor) and partner.output is None:
            at = self._by_end.get(function.ends[0].id)
            return self.units.two_wire_sensor(partner, at is not None and at.polarity == "sink", mirrored)
        return None

    def _box(self, partner: Partner, mirrored: bool, pitch: float) -> Unit:
        if isinstance(partner, Potentiometer):
            return self.units.potentiometer(partner, mirrored, pitch)
        if isinstance(partner, Sensor):
            return self.units.three_wire_sensor(partner, mirrored, pitch)
        assert isinstance(partner, Transmitter)
        return self.units.transmitter(partner, mirrored, pitch)

    def _boxed(self, unit: Unit, pitch: float, through: tuple[Unit, ...] = ()) -> Box:
        keys = [key for key, _ in unit.pins]
        return Box(unit, self._devices[unit.device].place, unit.all_pins, keys.index(unit.near), pitch, through)

    def _stub(self, function: Function, mirrored: bool) -> Branch | None:
        """Another controller stands as a stub with the pins of this function."""
        at = self._by_end.get(function.ends[1].id) if len(function.ends) > 1 else None
        if at is None:
            return None
        names = list(at.pins)
        if function.purpose in _SWITCHED_LAST and len(names) == 2:
            names.reverse()  # the switched side faces the input's own row
        return Branch(function, box=self._boxed(self.units.stub(at.device, tuple(names), mirrored, PITCH), PITCH))

    def _through(self, function: Function) -> tuple[Unit, ...]:
        """The receivers before this one in the row of its signal; none where one has no way through."""
        found: list[Unit] = []
        for receiver in reversed(self._loops.before(function)):
            at = self._by_end.get(receiver.ends[0].id)
            if at is None or len(at.pins) != 2:
                return ()
            found.append(self.units.through(at.device, at.pins[1], at.pins[0]))
        return tuple(found)

    # Combinations of contacts

    def _pieces(self, tree: ContactTree, mirrored: bool) -> Iterator[Piece]:
        """Parts of a series that each stand in one place, from the terminal outwards; nothing where that is not so."""
        whole = self._piece(tree, mirrored)
        if whole is not None:
            yield whole
        elif isinstance(tree, Series):
            pieces = [self._piece(part, mirrored) for part in self._gathered(tree)]
            if all(piece is not None for piece in pieces):
                yield from (piece for piece in reversed(pieces) if piece is not None)

    def _gathered(self, tree: Series) -> Iterator[ContactTree]:
        """The parts of a series, neighbours that one grid holds together made one part."""
        group: list[ContactTree] = []
        for part in tree.parts:
            if group and self._piece(Series((*group, part)), False) is None:
                yield group[0] if len(group) == 1 else Series(tuple(group))
                group = []
            group.append(part)
        yield group[0] if len(group) == 1 else Series(tuple(group))

    def _piece(self, tree: ContactTree, mirrored: bool) -> Piece | None:
        """The whole tree as one piece, or None where its devices stand apart or it is too large."""
        grid = of_tree(tree, lambda leg: self.units.contact(leg, mirrored))
        places = {self._devices[cell.unit.device].place for cell in grid.cells}
        if len(grid.cells) > 1 and (len(places) > 1 or grid.width > WIDEST or grid.rows > DEEPEST):
            return None
        return Piece(grid, places.pop())

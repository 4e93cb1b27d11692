"""The function table: what every terminal has to do, and what must be set in the device for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.allocation.model import Assignment
from wiregen.control.functions import End, Function, Leg
from wiregen.documents.table import PARTED, Cell, Column, Table, natural
from wiregen.review.trees import tree_of, written
from wiregen.terms import Pin

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("device", "Device", "designation"),
    Column("terminal", "Terminal", "designation"),
    Column("pins", "Pins", "designation"),
    Column("function", "Function"),
    Column("terminal_function", "Terminal's function"),
    Column("polarity", "Input wired"),
    Column("acts_when", "Acts when"),
    Column("signal", "Signal"),
    Column("spans", "Span"),
    Column("setting", "Setting that this wiring needs"),
)

_WIRED = {"source": "source: contacts switch +24 V", "sink": "sink: contacts switch 0 V"}


def function_table(design: Design) -> Table:
    """One row a function and device, by the device's place in the scheme and its terminals' physical order.

    ``terminal_function`` says whether the terminal does this as supplied or has to be set to it; a card or a safety
    relay has nothing to set. Coils that contacts switch follow, with these contacts; then what must be set and has no
    terminal; then what found none, with an empty ``terminal``.
    """
    order = {d.name: (d.order, d.pins) for d in design.declared.devices}
    cards = {d.name for d in design.declared.devices if d.kind in ("card", "safety_relay")}

    def place(assignment: Assignment) -> tuple[object, ...]:
        number, pins = order.get(assignment.device, (len(order), ()))
        position = pins.index(assignment.channel) if assignment.channel in pins else len(pins)
        return number, natural(assignment.device), position, natural(assignment.function)

    declared = {end.id: (function, end) for function in design.functions for end in function.ends}
    placed = sorted(design.allocation.assignments, key=place)
    rows = [_row(a, *declared[a.end], a.device in cards) for a in placed]
    rows += [_coil_row(f) for f in sorted(design.functions, key=lambda f: order[f.controller][0]) if f.coil is not None]
    rows += [
        (s.device, None, None, s.subject, "no terminal", *_nothing(4), s.says)
        for s in sorted(design.declared.settings, key=lambda s: order[s.device][0])
    ]
    rows += [(u.device, None, None, u.function, "not placed", *_nothing(5)) for u in design.allocation.unplaced]
    return Table("functions", "Functions of terminals", _COLUMNS, tuple(rows))


def _nothing(count: int) -> tuple[None, ...]:
    return (None,) * count


def _coil_row(function: Function) -> tuple[Cell, ...]:
    """The coil, or the load behind a relay's contact, and the contacts that switch it."""
    coil, tree = function.coil, tree_of(function)
    assert coil is not None and tree is not None
    says = written(tree).removeprefix("(").removesuffix(")") if not isinstance(tree, Leg) else written(tree)
    pins = PARTED.join(str(pin) for pin in (coil.a, coil.b))
    name = function.name if coil.device == function.controller else f"{function.name} of {function.controller}"
    return coil.device, str(coil.a), pins, name, None, None, f"closed: {says}", *_nothing(3)


def _row(assignment: Assignment, function: Function, end: End, card: bool) -> tuple[Cell, ...]:
    own = end is function.ends[0]
    pin = Pin(assignment.device, assignment.channel)
    to_be_set = None if card else "to be set"
    return (
        assignment.device,
        str(pin),
        PARTED.join(str(Pin(assignment.device, p)) for p in assignment.pins),
        assignment.function,
        "as supplied" if pin in end.usual else to_be_set,
        _WIRED.get(assignment.polarity) if end.role == "digital_in" else None,
        function.acts_on or None if function.purpose == "input" else None,
        assignment.signal or None,
        function.spans or None,
        function.setting or None if own else None,
    )

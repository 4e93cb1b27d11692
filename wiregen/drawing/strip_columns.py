"""Strip terminals below one another, as on the sheets of distribution: both clamps of each, bridges, earth links."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

from wiregen.drawing.canvas import LEAST, NOTE, TEXT
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.symbols import get
from wiregen.drawing.tags import draw_tag
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor, StripTerminal

PITCH = 11.0  # from one terminal to the next, mm
WIDTH = 122.0  # that a column needs
HALF = 5.0  # of a terminal
BRIDGE = 3.4  # from a terminal to the wire of its bridges
TAG = 13.0  # from a terminal to its tags
TEXT_ROOM = 38.0  # of a tag


def draw_strip(
    plate: Plate, terminals: Sequence[StripTerminal], x: float, top: float
) -> dict[Pin, tuple[float, float]]:
    """One column of terminals, their inside to the right, their outside to the left; gives where each stands."""
    name, size = one_line(terminals[0].strip, 16.0)
    plate.canvas.text(x, top - 7.0, name, size, "middle", strong=True)
    plate.canvas.text(x - HALF - 5.0, top - 7.0, "outside", NOTE, "end")
    plate.canvas.text(x + HALF + 5.0, top - 7.0, "inside", NOTE)
    at = {t.pin: (x, top + PITCH * i) for i, t in enumerate(terminals)}
    for terminal in terminals:
        _terminal(plate, terminal, *at[terminal.pin], at)
    for above, below in itertools.pairwise(terminals):
        if below.name in above.bridged_to:
            side = x + HALF + BRIDGE
            plate.wires.add(above.pin, (side, at[above.pin][1]), (side, at[below.pin][1]))
    return at


def _terminal(plate: Plate, terminal: StripTerminal, x: float, y: float, at: dict[Pin, tuple[float, float]]) -> None:
    plate.canvas.symbol(get("terminal", plate.setting.practice), x, y)
    plate.canvas.text(x, y, *one_line(terminal.name, 2 * HALF - 1.6), "middle", centred=True)
    near = {t.name for t, (_, other) in at.items() if abs(other - y) < PITCH + 0.1}
    far = [name for name in terminal.bridged_to if name not in near]  # the other bridges are drawn
    for side, ids, bridges in ((-1, terminal.outside, []), (1, terminal.inside, far)):
        plate.pin(x + side * HALF, y, terminal.pin)
        wires = [c for c in plate.circuit.conductors_at(terminal.pin) if c.id in ids]
        _clamp(plate, terminal.pin, wires, bridges, x + side * HALF, y, side)
    if len(far) < len(terminal.bridged_to):
        plate.wires.add(terminal.pin, (x + HALF, y), (x + HALF + BRIDGE, y))
    if far and not terminal.inside:
        text, size = one_line(f"bridge {', '.join(far)}", TEXT_ROOM, LEAST)
        plate.canvas.text(x + HALF + TAG + 4.2, y, text, size, centred=True)


def _clamp(
    plate: Plate, terminal: Pin, wires: list[Conductor], bridges: list[str], x: float, y: float, side: int
) -> None:
    """One clamp: its wire with the tag of the potential, and what it leads to; a spare core in words."""
    if plate.circuit.potential(terminal) is None:
        text = ", ".join(f"{c.cable} {c.core}, spare" for c in wires)
        plate.canvas.text(x + side * 2.4, y, text, LEAST, "start" if side > 0 else "end", centred=True)
        return
    if not wires:
        return
    plate.wires.add(terminal, (x, y), (x + side * TAG, y))
    plate.number(x + side * (TAG - 4.7), y, terminal, room=8.6)
    says = _leads_to(plate, terminal, wires, bridges)
    draw_tag(plate, x + side * TAG, y, terminal, "right" if side > 0 else "left", TEXT_ROOM, says, 1, 2)


def _leads_to(plate: Plate, terminal: Pin, wires: list[Conductor], bridges: list[str]) -> Callable[[], str]:
    references = plate.setting.references
    ends = [(c.b if c.a == terminal else c.a, f" by {c.cable} {c.core}" if c.core else "") for c in wires]

    def says() -> str:
        parts = [f"to {pin}{by} {references.of_pin(pin)}".strip() for pin, by in ends if pin is not None]
        parts += [f"bridge {', '.join(bridges)}"] if bridges else []
        return "; ".join(parts)

    return says


def draw_screens(plate: Plate, screens: Sequence[Pin], x: float, top: float) -> None:
    """Screens of cables that no other sheet shows, each with the tag of what it lands on."""
    if screens:
        plate.canvas.text(x, top - 7.0, "screens", TEXT, "middle", strong=True)
    for i, pin in enumerate(screens):
        y = top + PITCH * i
        plate.pin(x, y, pin)
        plate.canvas.text(x - 2.4, y, f"{pin.device} {pin.name}", NOTE, "end", centred=True)
        plate.wires.add(pin, (x, y), (x + TAG, y))
        draw_tag(plate, x + TAG, y, pin, "right", TEXT_ROOM, lambda: "", 1)


def draw_earth_link(plate: Plate, zero: tuple[float, float], earth: tuple[float, float] | None, name: Pin) -> None:
    """The removable earth link: between neighbours, else as a short end that names where it goes."""
    x, y = zero[0] - 2.0, zero[1]
    near = earth is not None and abs(earth[1] - y - PITCH) < 0.01 and earth[0] == zero[0]
    end = y + PITCH - 3.2 if near else y + 6.2
    plate.canvas.link([(x, y + 3.2), (x, end)])
    text = "earth link" if near else f"earth link {name.name}"
    plate.canvas.text(x - 1.4, y + PITCH / 2, text, LEAST, "end", centred=True)

"""The sheet of supplies and of strip terminals that only distribute: every potential that is drawn nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.control.functions import Device
from wiregen.control.loads import rated_voltage
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.symbols import HEAVY, Practice, get
from wiregen.terms import Pin
from wiregen.wiring.model import StripTerminal

PITCH = 11.0
HEAD = 20.0
STRIP_X, STRIP_STEP, STRIP_WIDTH = 150.0, 130.0, 118.0
SUPPLY_X0, SUPPLY_X1 = 66.0, 100.0
FUSE_HEIGHT = 9.0


@dataclass(frozen=True, slots=True)
class SupplyPage:
    """What one such sheet shows: supplies and fuses on the left, strip terminals in columns to the right."""

    place: str
    supplies: tuple[Device, ...]
    columns: tuple[tuple[StripTerminal, ...] | tuple[Pin, ...], ...]  # terminals of one strip, or screens


def pages(
    place: str, supplies: list[Device], strips: list[list[StripTerminal]], screens: list[Pin], area: Box
) -> list[SupplyPage]:
    """As many sheets as the supplies of a place and the terminals of its strips need."""
    rows = int((area.height - HEAD - 14.0) // PITCH)
    columns: list[tuple[StripTerminal, ...] | tuple[Pin, ...]] = [
        tuple(t[i : i + rows]) for t in strips for i in range(0, len(t), rows)
    ]
    columns += [tuple(screens[i : i + rows]) for i in range(0, len(screens), rows)]
    stacks = list(_stacks(supplies, area.height - HEAD - 14.0))
    count = max((len(columns) + 1) // 2, len(stacks))
    return [
        SupplyPage(place, stacks[i] if i < len(stacks) else (), tuple(columns[2 * i : 2 * i + 2])) for i in range(count)
    ]


def _stacks(supplies: list[Device], room: float) -> Iterator[tuple[Device, ...]]:
    stack: list[Device] = []
    used = 0.0
    for supply in supplies:
        height = _height(supply) + 14.0
        if stack and used + height > room:
            yield tuple(stack)
            stack, used = [], 0.0
        stack.append(supply)
        used += height
    if stack:
        yield tuple(stack)


def _height(supply: Device) -> float:
    if supply.kind == "fuse":
        return FUSE_HEIGHT
    if supply.kind == "transformer":
        return 2 * PITCH + 18.0
    return PITCH * max(len(_mains(supply)), len(_fed(supply))) + 6.0


def draw(
    canvas: Canvas,
    page: SupplyPage,
    circuit: Circuit,
    practice: Practice,
    links: list[tuple[Pin, Pin]],
    area: Box,
    title: str,
) -> None:
    """Draw one sheet of supplies and distribution. ``links`` are the earth links between strip terminals."""
    canvas.text(area.x0 + 5.0, area.y0 + 7.4, title, TEXT, strong=True)
    y = area.y0 + HEAD + 6.0
    for supply in page.supplies:
        if supply.kind == "fuse":
            y = _fuse(canvas, supply, circuit, practice, y) + 14.0
        elif supply.kind == "transformer":
            y = _transformer(canvas, supply, circuit, practice, y) + 14.0
        else:
            y = _supply(canvas, supply, circuit, y) + 14.0
    rows = max((len(c) for c in page.columns), default=0)
    lower = max(y - 6.0, area.y0 + HEAD + 6.0 + PITCH * rows)
    canvas.place(Box(area.x0 + 2.0, area.y0 + 2.0, area.x1 - 2.0, min(lower, area.y1 - 2.0)))
    at: dict[Pin, tuple[float, float]] = {}
    for i, column in enumerate(page.columns):
        x, top = STRIP_X + 58.0 + STRIP_STEP * i, area.y0 + HEAD + 6.0
        terminals = tuple(t for t in column if isinstance(t, StripTerminal))
        at |= _strip(canvas, terminals, circuit, practice, x, top)
        _screens(canvas, [pin for pin in column if isinstance(pin, Pin)], circuit, x, top)
    for zero, earth in links:
        if zero in at:
            _link(canvas, at[zero], at.get(earth), earth)


def _supply(canvas: Canvas, supply: Device, circuit: Circuit, top: float) -> float:
    """One supply: its mains terminals on the left, what it feeds on the right."""
    bottom = top + _height(supply)
    canvas.rect(Box(SUPPLY_X0, top, SUPPLY_X1, bottom), HEAVY)
    canvas.text((SUPPLY_X0 + SUPPLY_X1) / 2, top - 2.0, supply.name, TEXT, "middle", strong=True)
    canvas.text((SUPPLY_X0 + SUPPLY_X1) / 2, bottom + 4.4, supply.profile.title, NOTE, "middle")
    for x, out, names in ((SUPPLY_X0, -1, _mains(supply)), (SUPPLY_X1, 1, _fed(supply))):
        for i, name in enumerate(names):
            y = top + 3.0 + PITCH * (i + 0.5)
            canvas.pin(x, y, f"{supply.name}:{name}")
            canvas.text(x - out * 2.4, y, name, TEXT, "end" if out > 0 else "start", strong=True, centred=True)
            if out < 0:
                canvas.text(x - 2.4, y, "mains, not in this set", LEAST, "end", centred=True)
            _tagged(canvas, circuit, Pin(supply.name, name), x, y, out)
    return bottom


def _fuse(canvas: Canvas, fuse: Device, circuit: Circuit, practice: Practice, top: float) -> float:
    """A fuse in a row: what feeds it on the left, what it protects on the right."""
    x, y = (SUPPLY_X0 + SUPPLY_X1) / 2, top + 5.0
    symbol = get("fuse", practice)
    inlet, outlet = (t.label for t in fuse.profile.terminals if t.role == "link")
    at = canvas.device(symbol, x, y, fuse.name, {"a": inlet, "b": outlet})
    canvas.note(symbol, x, y, "name", fuse.name, strong=True)
    canvas.note(symbol, x, y, "note", rating_of(fuse), NOTE)
    for key, name, out in (("a", inlet, -1), ("b", outlet, 1)):
        _tagged(canvas, circuit, Pin(fuse.name, name), *at[key], out)
    return top + FUSE_HEIGHT


def _transformer(canvas: Canvas, supply: Device, circuit: Circuit, practice: Practice, top: float) -> float:
    """A control transformer: its primary side on the left, the ungrounded side above the earthed one on the right."""
    symbol = get("transformer", practice, pitch=2 * PITCH)
    x, y = (SUPPLY_X0 + SUPPLY_X1 - symbol.width) / 2, top + 6.0
    primary, secondary = (
        [name for t in supply.profile.terminals if t.role == role for name in t.pins]
        for role in ("primary", "secondary")
    )
    names = dict(zip(("h1", "h2", "x1", "x2"), (*primary, *secondary), strict=True))
    at = canvas.device(symbol, x, y, supply.name, names)
    canvas.note(symbol, x, y, "name", supply.name, strong=True)
    foot = y + 2 * PITCH + 11.6
    canvas.text(x + symbol.width / 2, foot, ", ".join((supply.profile.title, *_figures(supply))), NOTE, "middle")
    for key, name in names.items():
        out = -1 if key.startswith("h") else 1
        if out < 0:
            canvas.text(at[key][0] - 2.4, at[key][1], "mains, not in this set", LEAST, "end", centred=True)
        _tagged(canvas, circuit, Pin(supply.name, name), *at[key], out)
    return top + 2 * PITCH + 18.0


def _figures(supply: Device) -> tuple[str, ...]:
    """What a transformer gives: its voltage and its power, as declared or as the profile has it."""
    voltage, power = rated_voltage(supply), supply.profile.figures.get("power")
    said = supply.declared.power or (power.value if power else "")
    return tuple(text for text in (str(voltage) if voltage else "", said) if text)


def rating_of(fuse: Device) -> str:
    """A fuse's rated current and what it says of itself."""
    figure = fuse.profile.figures.get("rating")
    rating = fuse.declared.rating or (figure.value if figure else "")
    return ", ".join(text for text in (fuse.text, rating) if text)


def _mains(supply: Device) -> list[str]:
    return [name for t in supply.profile.terminals if t.role == "mains" for name in t.pins]


def _fed(supply: Device) -> list[str]:
    mains = _mains(supply)
    return [name for name in supply.pins if name not in mains]


def _tagged(canvas: Canvas, circuit: Circuit, pin: Pin, x: float, y: float, out: int) -> None:
    potential = circuit.potential(pin)
    if potential is None:
        return
    canvas.wire([(x, y), (x + out * 12.0, y)])
    canvas.text(x + out * 6.0, y - 1.0, potential.number, NOTE, "middle")
    canvas.tag(x + out * 12.0, y, potential.name, "right" if out > 0 else "left", size=NOTE)
    text = "to " + ", ".join(str(p) for p in circuit.neighbours(pin)[:2])
    canvas.text(x + out * 16.2, y + 3.9, text, LEAST, "start" if out > 0 else "end", centred=True)


def _strip(
    canvas: Canvas, column: tuple[StripTerminal, ...], circuit: Circuit, practice: Practice, x: float, top: float
) -> dict[Pin, tuple[float, float]]:
    """One column of terminals, inside to the right, outside to the left; bridges between neighbours as wires."""
    symbol = get("terminal", practice)
    if column:
        canvas.text(x, top - 7.0, column[0].strip, TEXT, "middle", strong=True)
        canvas.text(x - 14.0, top - 7.0, "outside", NOTE, "end")
        canvas.text(x + 14.0, top - 7.0, "inside", NOTE)
    at: dict[Pin, tuple[float, float]] = {}
    for i, terminal in enumerate(column):
        y = top + PITCH * i
        at[terminal.pin] = (x, y)
        canvas.symbol(symbol, x, y)
        canvas.text(x, y, terminal.name, TEXT, "middle", centred=True)
        for out, ids in ((-1, terminal.outside), (1, terminal.inside)):
            canvas.pin(x + out * 5.0, y, str(terminal.pin))
            _clamp(canvas, circuit, terminal, ids, x + out * 5.0, y, out)
    return at


def _screens(canvas: Canvas, screens: list[Pin], circuit: Circuit, x: float, top: float) -> None:
    """Screens of cables that no terminal diagram shows, each with the tag of what it lands on."""
    if screens:
        canvas.text(x, top - 7.0, "screens", TEXT, "middle", strong=True)
    for i, pin in enumerate(screens):
        y = top + PITCH * i
        canvas.pin(x, y, str(pin))
        canvas.text(x - 2.4, y, str(pin).replace(":", " "), NOTE, "end", centred=True)
        _tagged(canvas, circuit, pin, x, y, 1)


def _clamp(
    canvas: Canvas, circuit: Circuit, terminal: StripTerminal, ids: tuple[str, ...], x: float, y: float, out: int
) -> None:
    """One clamp: its wire as a tag of the potential, and what it leads to. Bridges are named on the inside."""
    potential = circuit.potential(terminal.pin)
    if potential is None:
        spares = [c for c in circuit.conductors_at(terminal.pin) if c.id in ids]
        text = ", ".join(f"{c.cable} {c.core}, spare" for c in spares)
        if text:
            canvas.text(x + out * 2.4, y, text, LEAST, "start" if out > 0 else "end", centred=True)
        return
    wires = [c for c in circuit.conductors_at(terminal.pin) if c.id in ids]
    bridges = circuit.bridged_to(terminal.pin)
    far = [f"{c.b if c.a == terminal.pin else c.a}" + (f", {c.cable} {c.core}" if c.cable else "") for c in wires]
    notes = [f"to {', '.join(far)}"] if far else []
    if out > 0 and bridges:
        notes.append(f"bridge {', '.join(bridges)}")
    if not far and out < 0:
        return
    canvas.wire([(x, y), (x + out * 9.0, y)])
    canvas.text(x + out * 4.6, y - 1.0, potential.number, NOTE, "middle")
    canvas.tag(x + out * 9.0, y, potential.name, "right" if out > 0 else "left", size=NOTE)
    if notes:
        canvas.text(x + out * 13.2, y + 3.9, "; ".join(notes), LEAST, "start" if out > 0 else "end", centred=True)


def _link(canvas: Canvas, zero: tuple[float, float], earth: tuple[float, float] | None, name: Pin) -> None:
    """The removable earth link: between neighbours, else as a short end that names where it goes."""
    x, y = zero
    if earth is not None and abs(earth[1] - y - PITCH) < 0.01 and earth[0] == x:
        canvas.link([(x - 2.0, y + 3.2), (x - 2.0, earth[1] - 3.2)])
        canvas.text(x - 3.4, y + PITCH / 2, "earth link", LEAST, "end", centred=True)
        return
    canvas.link([(x - 2.0, y + 3.2), (x - 2.0, y + 6.4)])
    canvas.text(x - 3.4, y + PITCH / 2, "earth link", LEAST, "end", centred=True)
    canvas.text(x - 0.6, y + PITCH / 2, f"to {name}", LEAST, centred=True)

"""What feeds a place: supplies, control transformers, fuses; and other devices as boxes with their pins."""

from __future__ import annotations

from collections.abc import Sequence

from wiregen.control.functions import Device
from wiregen.control.loads import rated_voltage
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.symbols import HEAVY, get
from wiregen.drawing.tags import draw_tag, leads_to
from wiregen.terms import Pin

PITCH = 10.0
LEFT_WIDTH = 134.0  # of the column that they stand in
X0, X1 = 40.0, 76.0  # the edges of a supply, from the left edge of the column
TAG = 12.0
TEXT_ROOM = 38.0
FUSE_HEIGHT = 9.0


def feeding_height(device: Device, pins: Sequence[Pin]) -> float:
    """From the upper edge of a device to the foot of its texts, mm."""
    if device.kind == "fuse":
        return FUSE_HEIGHT
    if device.kind == "transformer":
        return 2 * PITCH + 18.0
    rows = max(len(_inlets(device)), len(_outlets(device))) if device.kind == "supply" else len(pins)
    return PITCH * rows + 8.0


def draw_feeding(plate: Plate, device: Device, pins: Sequence[Pin], x: float, top: float) -> None:
    """A device in the left column, from ``top`` down; ``pins`` are those shown of one that feeds nothing."""
    if device.kind == "fuse":
        _fuse(plate, device, x, top)
    elif device.kind == "transformer":
        _transformer(plate, device, x, top)
    elif device.kind == "supply":
        _box(plate, device, _inlets(device), _outlets(device), x, top)
    else:
        _box(plate, device, [], [pin.name for pin in pins], x, top)


def _box(plate: Plate, device: Device, inlets: Sequence[str], outlets: Sequence[str], x: float, top: float) -> None:
    """One box: what comes from the mains on the left, all else with tags on the right."""
    rows, canvas = max(len(inlets), len(outlets)), plate.canvas
    box = Box(x + X0, top, x + X1, top + PITCH * rows + 3.0)
    canvas.rect(box, HEAVY)
    middle = box.centre[0]
    canvas.text(middle, top - 2.0, *one_line(device.name, LEFT_WIDTH - 20.0), "middle", strong=True)
    title = ", ".join(t for t in (device.profile.title, device.text) if t)
    canvas.text(middle, box.y1 + 4.2, *one_line(title, LEFT_WIDTH - 20.0, NOTE), "middle")
    for at, out, names in ((box.x0, -1, inlets), (box.x1, 1, outlets)):
        for i, name in enumerate(names):
            y = top + 1.5 + PITCH * (i + 0.5)
            pin = Pin(device.name, name)
            plate.pin(at, y, pin)
            label, size = one_line(name, 16.0)
            canvas.text(at - out * 2.4, y, label, size, "end" if out > 0 else "start", strong=True, centred=True)
            _connect(plate, pin, at, y, out)


def _connect(plate: Plate, pin: Pin, x: float, y: float, out: int) -> None:
    """The tag of a pin; on the left, where nothing of this set is wired, a word on the mains."""
    if plate.circuit.potential(pin) is None:
        if out < 0:
            plate.canvas.text(x - 2.4, y, "mains, not in this set", LEAST, "end", centred=True)
        return
    plate.wires.add(pin, (x, y), (x + out * TAG, y))
    plate.number(x + out * TAG / 2, y, pin, room=TAG - 2.4)
    width = TEXT_ROOM if out > 0 else X0 - TAG - 5.0
    draw_tag(plate, x + out * TAG, y, pin, "right" if out > 0 else "left", width, leads_to(plate, pin), 1)


def _fuse(plate: Plate, fuse: Device, x: float, top: float) -> None:
    """A fuse in a row: what feeds it on the left, what it protects on the right."""
    at, y = x + (X0 + X1) / 2, top + 5.0
    symbol = get("fuse", plate.setting.practice)
    inlet, outlet = (t.label for t in fuse.profile.terminals if t.role == "link")
    plate.canvas.symbol(symbol, at, y)
    name = one_line(fuse.name, 30.0)
    plate.canvas.text(at, y + symbol.box.y0 - 1.2, *name, "middle", strong=True)
    plate.canvas.text(at, y + symbol.box.y1 + 4.4, *one_line(rating_of(fuse), 60.0, NOTE), "middle")
    for key, label, out in (("a", inlet, -1), ("b", outlet, 1)):
        dx, mark = symbol.pins[key][0], symbol.marks[key]
        plate.pin(at + dx, y, Pin(fuse.name, label))
        plate.canvas.text(at + mark.x, y + mark.y, label, TEXT, mark.anchor)
        _connect(plate, Pin(fuse.name, label), at + dx, y, out)


def _transformer(plate: Plate, supply: Device, x: float, top: float) -> None:
    """A control transformer: its primary side on the left, the ungrounded side above the earthed one on the right."""
    symbol = get("transformer", plate.setting.practice, pitch=2 * PITCH)
    left, y = x + (X0 + X1 - symbol.width) / 2, top + 6.0
    sides = [[n for t in supply.profile.terminals if t.role == r for n in t.pins] for r in ("primary", "secondary")]
    plate.canvas.symbol(symbol, left, y)
    plate.canvas.note(symbol, left, y, "name", supply.name, strong=True)
    words = ", ".join((supply.profile.title, *_figures(supply)))
    plate.canvas.text(
        left + symbol.width / 2, y + 2 * PITCH + 11.6, *one_line(words, LEFT_WIDTH - 20.0, NOTE), "middle"
    )
    for key, name in zip(("h1", "h2", "x1", "x2"), (*sides[0], *sides[1]), strict=True):
        (dx, dy), mark = symbol.pins[key], symbol.marks[key]
        plate.pin(left + dx, y + dy, Pin(supply.name, name))
        plate.canvas.text(left + mark.x, y + mark.y, name, TEXT, mark.anchor)
        _connect(plate, Pin(supply.name, name), left + dx, y + dy, -1 if key.startswith("h") else 1)


def _figures(supply: Device) -> tuple[str, ...]:
    """What a transformer gives: its voltage and its power, as declared or as the profile has it."""
    voltage, power = rated_voltage(supply), supply.profile.figures.get("power")
    said = power.value if power else ""
    return tuple(text for text in (str(voltage) if voltage else "", said) if text)


def rating_of(fuse: Device) -> str:
    """A fuse's rated current and what it says of itself."""
    figure = fuse.profile.figures.get("rating")
    rating = figure.value if figure else ""
    return ", ".join(text for text in (fuse.text, rating) if text)


def _inlets(device: Device) -> list[str]:
    return [name for t in device.profile.terminals if t.role == "mains" for name in t.pins]


def _outlets(device: Device) -> list[str]:
    inlets = _inlets(device)
    return [name for name in device.pins if name not in inlets]

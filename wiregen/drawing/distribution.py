"""The sheets of supplies and distribution: what feeds a place, and the strip terminals that no other sheet shows.

Whatever of a place is drawn nowhere else is drawn here too, so that every pin of the circuit stands on a sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wiregen.control.functions import Device
from wiregen.drawing.box import Box
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.feeding_symbols import LEFT_WIDTH, draw_feeding, feeding_height
from wiregen.drawing.filling import filled
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.strip_columns import PITCH, WIDTH, draw_earth_link, draw_screens, draw_strip
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.model import StripTerminal

HEAD = 24.0  # from the upper edge of a place to its first row
FOOT = 4.0
BETWEEN = 12.0  # two things that feed, one below the other
FEEDING = ("supply", "transformer", "fuse")


@dataclass(frozen=True, slots=True)
class Item:
    """A device in the left column: one that feeds, shown whole, or any other with the pins drawn nowhere else."""

    device: Device
    pins: tuple[Pin, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """Terminals of one strip below one another, or screens."""

    terminals: tuple[StripTerminal, ...] = ()
    screens: tuple[Pin, ...] = ()

    @property
    def rows(self) -> int:
        return len(self.terminals) + len(self.screens)


@dataclass(frozen=True, slots=True)
class DistributionPage:
    """What one figure shows of a place."""

    place: str
    items: tuple[Item, ...]
    columns: tuple[Column, ...]

    @property
    def height(self) -> float:
        left = sum(_height(item) for item in self.items)
        right = max((c.rows for c in self.columns), default=0) * PITCH
        return HEAD + max(left, right) + FOOT


def pages(design: Design, circuit: Circuit, drawn: frozenset[str], area: Box) -> list[DistributionPage]:
    """Place by place: what feeds, and everything whose pins are not among those ``drawn``."""
    found: list[DistributionPage] = []
    for place in design.scheme.model.places:
        items = list(_items(design, circuit, place, drawn))
        columns = list(_columns(design, place, drawn, int((area.height - HEAD - FOOT) // PITCH)))
        stacks = list(filled(items, _height, area.height - HEAD - FOOT))
        while stacks or columns:
            stack = stacks.pop(0) if stacks else ()
            room = int((area.width - 8.0 - (LEFT_WIDTH if stack else 0.0)) // WIDTH)
            found.append(DistributionPage(place, stack, tuple(columns[:room])))
            columns = columns[room:]
    return found


def _items(design: Design, circuit: Circuit, place: str, drawn: frozenset[str]) -> Iterator[Item]:
    for device in design.declared.devices:
        if device.place != place:
            continue
        pins = tuple(Pin(device.name, name) for name in device.pins)
        wired = [p for p in pins if (potential := circuit.potential(p)) and len(potential.pins) > 1]
        missing = tuple(p for p in wired if str(p) not in drawn)
        if device.kind in FEEDING:
            yield Item(device, pins)
        elif missing:
            yield Item(device, missing)


def _columns(design: Design, place: str, drawn: frozenset[str], most: int) -> Iterator[Column]:
    for strip in design.wiring.strips:
        rest = [t for t in strip.terminals if str(t.pin) not in drawn] if strip.place == place else []
        count = -(-len(rest) // most) if rest else 0
        each = -(-len(rest) // count) if count else 1
        yield from (Column(tuple(rest[i : i + each])) for i in range(0, len(rest), each))
    cables = [c for c in design.wiring.cables if c.screened and c.a == place]
    screens = [
        pin for c in cables if str(pin := Pin(c.name, "screen")) not in drawn and design.wiring.potential_of(pin)
    ]
    yield from (Column(screens=tuple(screens[i : i + most])) for i in range(0, len(screens), most))


def _height(item: Item) -> float:
    return feeding_height(item.device, item.pins) + BETWEEN


def draw(plate: Plate, page: DistributionPage, links: Sequence[tuple[Pin, Pin]], area: Box, top: float) -> None:
    """Draw one figure with its upper edge at ``top``. ``links`` are the earth links between strip terminals."""
    plate.canvas.place(Box(area.x0 + 2.0, top, area.x1 - 2.0, top + page.height))
    title, size = one_line(plate.setting.title_of(page.place), area.width - 12.0)
    plate.canvas.text(area.x0 + 5.0, top + 5.4, title, size, strong=True)
    y = top + HEAD - 4.0
    for item in page.items:
        draw_feeding(plate, item.device, item.pins, area.x0 + 4.0, y)
        y += _height(item)
    at: dict[Pin, tuple[float, float]] = {}
    left = area.x0 + 4.0 + (LEFT_WIDTH if page.items else 0.0)
    for i, column in enumerate(page.columns):
        middle = left + (area.x1 - 4.0 - left) / len(page.columns) * (i + 0.5)
        if column.terminals:
            at |= draw_strip(plate, column.terminals, middle, top + HEAD)
        draw_screens(plate, column.screens, middle, top + HEAD)
    for zero, earth in links:
        if zero in at:
            draw_earth_link(plate, at[zero], at.get(earth), earth)

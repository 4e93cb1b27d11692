"""The symbols of all devices, in two practices: ``iec`` after IEC 60617, ``nfpa`` after NFPA 79 and IEEE 315 habits.

``get("contact", "iec", form="break", actuator="push")`` gives a `Symbol`, ready to be placed on a `Canvas`. schemdraw
is loaded with the first symbol, not before.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wiregen.drawing.symbols.model import (
    HEAVY,
    NORMAL,
    THIN,
    Anchor,
    Disc,
    Fill,
    Label,
    Point,
    Practice,
    Spot,
    Stroke,
    Symbol,
)

if TYPE_CHECKING:
    from wiregen.drawing.symbols.figure import Figure

__all__ = [
    "HEAVY",
    "KINDS",
    "NORMAL",
    "THIN",
    "Anchor",
    "Disc",
    "Fill",
    "Label",
    "Point",
    "Practice",
    "Spot",
    "Stroke",
    "Symbol",
    "get",
]

#: Every kind that `get` knows.
KINDS: tuple[str, ...] = (
    "contact",
    "coil",
    "lamp",
    "horn",
    "valve",
    "meter",
    "resistor",
    "thermistor",
    "fuse",
    "potentiometer",
    "transformer",
    "earth",
    "box",
    "through",
    "transmitter_two_wire",
    "transmitter_three_wire",
    "transmitter_four_wire",
    "proximity_two_wire",
    "proximity_three_wire",
    "terminal",
    "cable",
    "screen",
    "twisted",
    "breaker",
    "motor",
)

_TRANSMITTER_PINS = {
    "transmitter_two_wire": ("plus", "minus"),
    "transmitter_three_wire": ("plus", "out", "minus"),
    "transmitter_four_wire": ("plus", "minus", "out+", "out-"),
}


@functools.cache
def get(kind: str, practice: Practice, mirrored: bool = False, **options: Any) -> Symbol:
    """The symbol of a kind at rest. The same call gives the same object.

    Options, all hashable, go to the figure of the kind:

    ``contact``: ``form`` make, break, changeover; ``actuator`` push, turn, key, mushroom, limit, process, none;
    ``quantity`` p, L, θ, F or other short text; ``level`` (the throw in line with the common pin); ``latched``;
    ``direct_opening``. ``coil``: ``suppression``, ``letter``. ``lamp``, ``meter``: ``letter``. ``valve``: ``earth``.
    ``potentiometer``, ``transformer``, transmitters, ``box``, ``proximity_three_wire``: ``pitch`` in mm; boxes also
    ``width``, ``letter``, ``lines``; ``box`` also ``pins``. ``proximity_three_wire``: ``output``;
    ``proximity_two_wire``: ``form``. ``earth``: ``protective``. ``cable``, ``screen``, ``twisted``: ``height``.
    ``breaker``: ``poles``, ``pitch``. ``motor``: ``phases``, ``pitch``.

    Raises ValueError for a kind that is not in `KINDS`, TypeError for an option that the kind does not have.
    """
    from wiregen.drawing.symbols.figure import convert

    symbol = convert(_figure(kind, practice)(**options), kind, practice)
    return replace(symbol.mirrored() if mirrored else symbol, options=tuple(sorted(options.items())))


def _figure(kind: str, practice: Practice) -> Callable[..., Figure]:
    from wiregen.drawing.symbols import boxes, cables, contacts_iec, contacts_nfpa, loads, passive, power

    if kind == "contact":
        return contacts_iec.Contact if practice == "iec" else contacts_nfpa.Contact
    if kind in _TRANSMITTER_PINS:
        return functools.partial(boxes.DeviceBox, practice, _TRANSMITTER_PINS[kind])
    classes: dict[str, Callable[..., Figure]] = {
        "coil": loads.Coil,
        "lamp": loads.Lamp,
        "horn": loads.Horn,
        "valve": loads.Valve,
        "meter": loads.Meter,
        "resistor": passive.Resistor,
        "thermistor": passive.Thermistor,
        "fuse": passive.Fuse,
        "potentiometer": passive.Potentiometer,
        "transformer": passive.Transformer,
        "earth": passive.Earth,
        "box": boxes.DeviceBox,
        "through": boxes.ThroughBox,
        "proximity_two_wire": boxes.ProximityTwoWire,
        "proximity_three_wire": boxes.ProximityThreeWire,
        "terminal": cables.StripTerminal,
        "cable": cables.CableRing,
        "screen": functools.partial(cables.CableRing, screened=True),
        "twisted": cables.Twisted,
        "breaker": power.Breaker,
        "motor": power.Motor,
    }
    if kind not in classes:
        raise ValueError(f"no symbol is called {kind!r}; known are {', '.join(KINDS)}")
    return functools.partial(classes[kind], practice)

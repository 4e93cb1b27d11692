"""What every cable brings besides its cores in use: spare cores, and the screen with its strip terminal."""

from __future__ import annotations

from dataclasses import replace

from wiregen.control.functions import Device
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.rows import Block, Row
from wiregen.drawing.sides import Side
from wiregen.drawing.zones import Span, Stop, Zones
from wiregen.terms import Pin
from wiregen.wiring.model import Cable


def with_ends(plans: list[tuple[Device, list[Side]]], circuit: Circuit) -> None:
    """Put the spare cores and the screen of each cable after the last block that uses the cable, in place."""
    for cable in circuit.cables.values():
        for device, sides in reversed(plans):
            zones = Zones(circuit, device.place)
            gap = zones.gap(cable)
            index = next((i for i in (1, 0) if any(_uses(b, cable.name) for b in sides[i].blocks)), None)
            if index is not None and gap is not None:
                sides[index] = _ended(sides[index], cable, circuit, zones, gap)
                break


def _ended(side: Side, cable: Cable, circuit: Circuit, zones: Zones, gap: int) -> Side:
    rows = [
        Row("spare", None, Span((stop,), ((gap, core),)), gap=gap)
        for core in circuit.spares.get(cable.name, [])
        if (stop := _stop(core.a, circuit, zones, gap)) is not None
    ]
    screen = circuit.screens.get(cable.name)
    landing = _stop(screen.b, circuit, zones, gap) if screen and screen.b else None
    if screen is not None and landing is not None:
        rows.append(Row("screen", screen.a, Span((landing,)), gap=gap))
    last = max(i for i, b in enumerate(side.blocks) if _uses(b, cable.name))
    used = side.blocks[last]
    home = used.ports[0] if used.ports else used.home
    far = cable.b if zones.of(cable.b) == gap + 1 else cable.a
    ends = [Block((row,), gap + 1, far, home) for row in rows]
    return replace(side, blocks=(*side.blocks[: last + 1], *ends, *side.blocks[last + 1 :]))


def _stop(terminal: Pin, circuit: Circuit, zones: Zones, gap: int) -> Stop | None:
    """The strip terminal at its edge of the gap, None where it lies at neither."""
    zone = zones.of(circuit.strips[terminal.device])
    if zone == gap:
        return Stop(terminal, zone, "out")
    return Stop(terminal, zone, "in") if zone == gap + 1 else None


def _uses(block: Block, cable: str) -> bool:
    return any(core.cable == cable for span in block.spans for _, core in span.cores)

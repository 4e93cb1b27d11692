"""A sequence as traces over its steps: inputs, internal states, outputs, speed. What a timing chart shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from wiregen.behaviour import drive
from wiregen.behaviour.controllers import Drive, Wire
from wiregen.behaviour.drive import DriveMemory
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.safety_relay import SafetyMemory
from wiregen.behaviour.sequence import Frame
from wiregen.behaviour.standing import Standing

Group = Literal["inputs", "states", "outputs", "speed"]


@dataclass(frozen=True, slots=True)
class Trace:
    """One line of a chart. ``values`` has one tuple a step, one number a standing that it passed.

    On and off are 1 and 0, an input that is neither -1; a speed is in Hz, negative in reverse.
    """

    name: str
    group: Group
    values: tuple[tuple[float, ...], ...]

    @property
    def still(self) -> bool:
        """Whether nothing ever changes."""
        return len({v for step in self.values for v in step}) < 2


def traces(plant: Plant, frames: Sequence[Frame]) -> tuple[Trace, ...]:
    """All traces, grouped; inputs and outputs that never change are left out."""
    return tuple(t for t in _all(plant, frames) if t.group == "speed" or not t.still)


def _all(plant: Plant, frames: Sequence[Frame]) -> Iterator[Trace]:
    def over(name: str, group: Group, value: object) -> Trace:
        assert callable(value)
        return Trace(name, group, tuple(tuple(float(value(s)) for s in frame.on_the_way) for frame in frames))

    for name, controller in plant.controllers:
        for wire in controller.wires:
            yield over(f"{wire.function} of {name}", "inputs", _level(wire))
    for name, wires in plant.cards:
        for wire in wires:
            yield over(f"{wire.function} at {name}", "inputs", _level(wire))
    for name, controller in plant.controllers:
        if isinstance(controller, Drive):
            yield over(f"{name} fed", "states", lambda s, n=name: s.drive(n).fed)
            yield over(f"{name} keeps its start", "states", lambda s, n=name: s.drive(n).sealed != 0)
            yield over(f"{name} tripped", "states", lambda s, n=name: bool(s.drive(n).tripped))
            yield over(f"{name} waits for a new command", "states", lambda s, n=name: bool(s.drive(n).waits))
        else:
            yield over(f"{name} picked up", "states", lambda s, n=name: _on(s, n))
    for name, controller in plant.controllers:
        if isinstance(controller, Drive):
            for out in controller.outputs:
                yield over(
                    f"{out.duty} of {name}",
                    "outputs",
                    lambda s, n=name, o=out: drive.tells(s.drive(n), o.duty, o.in_fault),
                )
    for device in plant.circuit.devices.values():
        if device.kind in ("lamp", "horn", "valve", "relay", "contactor"):
            text = f"{device.name} {device.text}".rstrip()
            yield over(text, "outputs", lambda s, n=device.name: n in s.lit or n in s.picked)
    for name in plant.drives:
        yield over(name, "speed", lambda s, n=name: _speed(s.drive(n)))


def _level(wire: Wire) -> object:
    def value(standing: Standing) -> float:
        reading = standing.reading
        return 0.0 if reading is None or wire.at is None else float(reading.levels[wire.at])

    return value


def _on(standing: Standing, name: str) -> bool:
    memory = dict(standing.memories)[name]
    return isinstance(memory, SafetyMemory) and memory.on


def _speed(memory: DriveMemory) -> float:
    return memory.moving * memory.hz

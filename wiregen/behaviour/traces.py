"""A sequence as traces over its steps: inputs, internal states, outputs, speed. What a timing chart shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from wiregen.behaviour import drive
from wiregen.behaviour.controllers import Controller, Drive, Output, Wire
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.sequence import Frame
from wiregen.behaviour.standing import Standing

Group = Literal["inputs", "states", "outputs", "speed"]
_Value = Callable[[Standing], float]


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
    def over(name: str, group: Group, value: _Value) -> Trace:
        return Trace(name, group, tuple(tuple(float(value(s)) for s in frame.on_the_way) for frame in frames))

    for name, controller in plant.controllers:
        for wire in controller.wires:
            yield over(f"{wire.function} of {name}", "inputs", _level(wire))
    for name, wires in plant.cards:
        for wire in wires:
            yield over(f"{wire.function} at {name}", "inputs", _level(wire))
    for name, controller in plant.controllers:
        for says, state in _states(name, controller):
            yield over(f"{name} {says}", "states", state)
    for name, controller in plant.controllers:
        if isinstance(controller, Drive):
            for out in controller.outputs:
                yield over(f"{out.duty} of {name}", "outputs", _told(name, out))
    for device in plant.circuit.devices.values():
        if device.kind in ("lamp", "horn", "valve", "relay", "contactor"):
            yield over(f"{device.name} {device.text}".rstrip(), "outputs", _works(device.name))
    for name in plant.drives:
        yield over(name, "speed", _speed(name))


def _level(wire: Wire) -> _Value:
    def value(standing: Standing) -> float:
        reading = standing.reading
        return 0.0 if reading is None or wire.at is None else float(reading.levels[wire.at])

    return value


def _states(name: str, controller: Controller) -> Iterator[tuple[str, _Value]]:
    if isinstance(controller, Drive):
        yield "fed", lambda s: s.drive(name).fed
        yield "keeps its start", lambda s: s.drive(name).sealed != 0
        yield "tripped", lambda s: bool(s.drive(name).tripped)
        yield "waits for a new command", lambda s: bool(s.drive(name).waits)
    else:
        yield "picked up", lambda s: s.is_on(name)


def _told(name: str, out: Output) -> _Value:
    return lambda s: drive.tells(s.drive(name), out.duty, out.in_fault)


def _works(name: str) -> _Value:
    return lambda s: name in s.lit or name in s.picked


def _speed(name: str) -> _Value:
    return lambda s: s.drive(name).moving * s.drive(name).hz

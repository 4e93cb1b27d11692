"""Sequences: what is done step by step, how the plant stands after each, and where it is not as expected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wiregen import quantities
from wiregen.behaviour.expectations import Deviation, deviations
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.standing import Hands, Standing
from wiregen.circuit import Change
from wiregen.scheme.steps import Step
from wiregen.terms import Pin


@dataclass(frozen=True, slots=True)
class Frame:
    """One step that was done: ``number`` counts from 1; ``on_the_way`` are standings that it passed.

    ``unfit`` says why a step could not be done; the plant then stands as before.
    """

    number: int
    step: Step
    says: str
    on_the_way: tuple[Standing, ...]
    deviations: tuple[Deviation, ...]
    unfit: str = ""

    @property
    def standing(self) -> Standing:
        return self.on_the_way[-1]


class _Unfit(Exception):
    """A step that this plant does not know how to do."""


def run(plant: Plant, steps: Sequence[Step]) -> tuple[Frame, ...]:
    """Do the steps from the plant's rest, one after the other."""
    found: list[Frame] = []
    standing = plant.at_rest()
    opened: tuple[str, ...] = ()
    for number, step in enumerate(steps, 1):
        unfit = ""
        passed: tuple[Standing, ...] = (standing,)
        try:
            opened = _opened(plant, step, opened)
            now = plant.changed(Change("steps", opened=opened)) if opened else plant
            stages = list(_stages(plant, standing.hands, step))
            passed = tuple(_through(now, standing, stages))
        except _Unfit as error:
            unfit = str(error)
        standing = passed[-1]
        own = tuple(deviations(plant, standing, step.expect))
        found.append(Frame(number, step, said(step), passed, own, unfit))
    return tuple(found)


def follow(plant: Plant, standing: Standing, step: Step) -> Standing:
    """How a plant stands after one step that it knows how to do and that breaks nothing."""
    return list(_through(plant, standing, list(_stages(plant, standing.hands, step))))[-1]


def _through(plant: Plant, standing: Standing, stages: list[Hands]) -> Iterator[Standing]:
    for hands in stages:
        standing = plant.after(standing, hands)
        yield standing


def said(step: Step) -> str:
    """What a step does, in words."""
    if step.says:
        return step.says
    match step.deed:
        case "press" | "operate" | "release" | "reset":
            return f"{step.deed} {', '.join(getattr(step, step.deed))}"
        case "turn":
            return "; ".join(f"{device} to {position}" for device, position in step.turn.items())
        case "set":
            return "; ".join(f"{device} to {value}" for device, value in step.set_.items())
        case "command" | "withdraw":
            named = getattr(step, step.deed)
            return "; ".join(f"{step.deed} {', '.join(names)} of {device}" for device, names in named.items())
        case "power":
            power = step.power
            each = power if isinstance(power, dict) else {"power": power}
            return "; ".join(f"{device} {state}" for device, state in each.items())
        case "break":
            return f"break {', '.join(step.break_)}"
        case "mend":
            return f"mend {', '.join(step.mend)}"
        case _:
            return "look"


def _opened(plant: Plant, step: Step, opened: tuple[str, ...]) -> tuple[str, ...]:
    """The conductors that are open after a step."""
    broken = [c for text in step.break_ for c in _conductors(plant, text)]
    mended = {c for text in step.mend for c in _conductors(plant, text)}
    return tuple(dict.fromkeys(c for c in (*opened, *broken) if c not in mended))


def _conductors(plant: Plant, text: str) -> list[str]:
    device, _, name = text.partition(":")
    pin = Pin(device, name)
    kinds = ("wire", "core", "bridge")
    found = [r.of for r in plant.circuit.fixed if r.kind in kinds and pin in (r.a, r.b)]
    if not found:
        raise _Unfit(f"no conductor ends at {text}; a pin is written as in -TA1:DI2")
    return found


def _stages(plant: Plant, hands: Hands, step: Step) -> Iterator[Hands]:
    """The hands of a step, one after the other: two where something is pressed and let go."""
    match step.deed:
        case "press":
            yield hands.operate(*_moving(plant, step.press))
            yield hands.release(*step.press)
        case "operate":
            yield hands.operate(*_moving(plant, step.operate))
        case "release":
            yield hands.release(*_moving(plant, step.release))
        case "turn":
            for device, position in step.turn.items():
                hands = hands.turn(*_position(plant, device, position))
            yield hands
        case "set":
            for device, value in step.set_.items():
                hands = _set(plant, hands, device, value)
            yield hands
        case "command" | "withdraw":
            named = getattr(step, step.deed)
            outputs = [_output(plant, device, name) for device, names in named.items() for name in names]
            yield hands.command(*outputs) if step.deed == "command" else hands.withdraw(*outputs)
        case "power":
            yield _powered(plant, hands, step)
        case "reset":
            for drive in step.reset:
                if drive not in plant.drives:
                    raise _Unfit(f"{drive} is no drive: only a drive has a reset key of its own")
                hands = hands.reset_at(drive)
            yield hands
            for drive in step.reset:
                hands = hands.reset_at(drive, pressed=False)
            yield hands
        case _:
            yield hands


def _moving(plant: Plant, names: Sequence[str]) -> Sequence[str]:
    kinds = ("contact", "emergency_stop", "proximity_two_wire", "proximity_three_wire", "thermistor")
    for name in names:
        if plant.circuit.devices[name].kind not in kinds:
            title = plant.circuit.devices[name].profile.title
            raise _Unfit(f"{name} ({title}) is nothing that a hand or the process operates")
    return names


def _position(plant: Plant, device: str, position: str) -> tuple[str, str]:
    known = plant.circuit.devices[device].positions
    if plant.circuit.devices[device].kind != "selector":
        raise _Unfit(f"{device} is no selector, and has no positions")
    if position not in known:
        raise _Unfit(f"{device} has no position {position}: it has {', '.join(known)}")
    return device, position


def _set(plant: Plant, hands: Hands, device: str, value: str) -> Hands:
    kind = plant.circuit.devices[device].kind
    number, unit = quantities.parse_any(value)
    if kind == "potentiometer":
        if unit != "%" or not 0 <= number <= 100:
            raise _Unfit(f"{device} is set in parts of its way, as in 50 %")
        return hands.set(device, number / 100)
    if not kind.startswith("transmitter") or unit not in ("A", "V") or number < 0:
        raise _Unfit(f"{device} gives no {value}: set a transmitter as in 12 mA or 5 V, a potentiometer as in 50 %")
    return hands.give(device, number)


def _output(plant: Plant, device: str, name: str) -> str:
    """The output of a card by the name of what it does, or a drive's command from the network."""
    known = {o.duty: o.pin for card, outputs in plant.card_outputs for o in outputs if card == device}
    if name in known:
        return known[name]
    if device in plant.drives and name == "run":
        return device
    raise _Unfit(f"{device} has no output {name!r}: it has {', '.join(sorted(known)) or 'none'}")


def _powered(plant: Plant, hands: Hands, step: Step) -> Hands:
    power = step.power
    if not isinstance(power, dict):
        return hands.off(plant.fed_devices) if power == "off" else hands.on(plant.fed_devices)
    for device, state in power.items():
        if device not in plant.fed_devices:
            raise _Unfit(f"{device} has no feed of its own: {', '.join(plant.fed_devices)} have")
        hands = hands.off((device,)) if state == "off" else hands.on((device,))
    return hands

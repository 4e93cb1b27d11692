"""What every rule looks at: the scheme, what control made of it, the allocation and the wiring."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from wiregen.allocation.model import Allocation
from wiregen.circuit.assumed import HOT_C
from wiregen.circuit.build import Circuit, build
from wiregen.control.functions import (
    Declared,
    Device,
    End,
    Function,
    Leg,
    Load,
    Meter,
    Potentiometer,
    Sensor,
    Thermistor,
    Transmitter,
    legs_in,
)
from wiregen.profiles.model import Terminal
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Pin
from wiregen.wiring.model import Wiring


@dataclass(frozen=True)
class Context:
    """One design as the rules see it. Made by `context_of`; ``circuit`` is built when a rule first asks for it."""

    scheme: Scheme
    declared: Declared
    allocation: Allocation
    wiring: Wiring
    devices: Mapping[str, Device]

    def of_kind(self, *kinds: str) -> Iterator[Device]:
        """The devices of these kinds, in declared order."""
        return (d for d in self.declared.devices if d.kind in kinds)

    @cached_property
    def circuit(self) -> Circuit:
        """The wired circuit as numbers, its conductors hot: at the most that readings allow for."""
        return build(self.declared, self.allocation, self.wiring, temperature_c=HOT_C)

    def device_of(self, end: End) -> str:
        """Where an end stands; of a bank the card that allocation chose, the first where it found none."""
        assignment = self.allocation.of_end(end.id)
        return assignment.device if assignment else end.devices[0]

    def terminal(self, pin: Pin) -> Terminal | None:
        """The terminal that holds ``pin``; None for a pin of a strip, or one that only the scheme's contacts give."""
        device = self.devices.get(pin.device)
        return device.profile.terminal_of(pin.name) if device else None


Rule = Callable[[Context], Iterator[Notice]]


def context_of(scheme: Scheme, declared: Declared, allocation: Allocation, wiring: Wiring) -> Context:
    """The context of one design."""
    return Context(scheme, declared, allocation, wiring, {d.name: d for d in declared.devices})


def called(function: Function) -> str:
    """A function with its controller, as messages name it: ``start of -TA1``."""
    return f"{function.name} of {function.controller}"


def legs_of(function: Function) -> tuple[Leg, ...]:
    """The contacts in the circuit of a function, in declared order; none where its partner is something else."""
    return legs_in(function.partner)


def partner_pins(function: Function) -> tuple[Pin, ...]:
    """The pins of what stands at the far side of a function; none where that is another controller."""
    partner = function.partner
    pins: tuple[Pin | None, ...]
    match partner:
        case Sensor():
            pins = (partner.plus, partner.minus, partner.output)
        case Potentiometer():
            pins = (partner.low, partner.wiper, partner.high)
        case Transmitter():
            pins = (partner.plus, partner.minus, partner.output, partner.output_return)
        case Load():
            pins = (partner.a, partner.b, partner.earth)
        case Thermistor():
            pins = (partner.a, partner.b)
        case Meter():
            pins = (partner.plus, partner.minus)
        case _:
            coil = (function.coil.a, function.coil.b, function.coil.earth) if function.coil else ()
            pins = (*(pin for leg in legs_of(function) for pin in (leg.a, leg.b)), *coil)
    return tuple(dict.fromkeys(pin for pin in pins if pin is not None))


def partner_devices(function: Function) -> tuple[str, ...]:
    """The names of the devices at the far side of a function, controllers excepted."""
    return tuple(dict.fromkeys(pin.device for pin in partner_pins(function)))


def by_partner(functions: tuple[Function, ...], *kinds: type) -> dict[str, list[Function]]:
    """The functions whose partner is of these kinds, by the partner's device."""
    found: dict[str, list[Function]] = defaultdict(list)
    for function in functions:
        if isinstance(function.partner, kinds):
            found[partner_devices(function)[0]].append(function)
    return dict(found)

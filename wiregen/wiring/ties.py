"""Which pins must be joined: the feeds, returns and signals of every function, before any wire is chosen.

Ties come in a fixed order, declared ones first: what is at the wanted potential already is not tied a second time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wiregen.allocation.model import Allocation
from wiregen.control.functions import Declared
from wiregen.terms import Notice
from wiregen.wiring.analog import AnalogTies
from wiregen.wiring.digital import DigitalTies
from wiregen.wiring.placement import Placement
from wiregen.wiring.returns import Returns
from wiregen.wiring.safety import SafetyTies
from wiregen.wiring.sides import category_of
from wiregen.wiring.tie import Tie


def ties_of(declared: Declared, allocation: Allocation, report: Callable[[Notice], None]) -> Iterator[Tie]:
    """Every tie of a scheme; what cannot be tied is reported."""
    placement = Placement(declared, allocation)
    returns = Returns(declared, placement, report)
    digital, analog = DigitalTies(placement, returns), AnalogTies(declared.functions, placement, returns, report)
    safety = SafetyTies(placement)
    yield from _fuses(declared)
    yield from returns.declared_ties()
    yield from returns.group_commons()
    of_purpose = {
        "input": digital.of_input,
        "output": digital.of_output,
        "coil": digital.of_coil,
        "analog_in": analog.of_input,
        "analog_out": analog.of_output,
        "safety_loop": safety.of_loop,
        "safe_torque_off": safety.of_torque_off,
        "motor_thermistor": safety.of_thermistor,
    }
    for function in declared.functions:
        yield from of_purpose[function.purpose](function)


def _fuses(declared: Declared) -> Iterator[Tie]:
    """What feeds every fuse; what it protects hangs on its outlet by ties of its own."""
    for fusing in declared.fusings:
        title = f"feed of {fusing.device}"
        yield Tie(fusing.source, fusing.inlet, title, category_of(fusing.supply), where=fusing.where)

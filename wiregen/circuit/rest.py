"""The state at rest: everything fed and healthy, nobody touches anything, no motor runs."""

from __future__ import annotations

from wiregen.allocation.model import Allocation
from wiregen.circuit.state import State
from wiregen.control.functions import Declared, Function

#: Duties of a controller that are true while it is fed, healthy and at rest.
_TRUE_AT_REST = frozenset({"ready"})


def energised_while_healthy(function: Function) -> bool:
    """Whether a duty's output is energised while there is no fault; `fault` is unless its setting says otherwise."""
    return function.meaning == "fault" and "in fault" not in function.setting


def at_rest(declared: Declared, allocation: Allocation) -> State:
    """The base state of a design.

    Energised are fault outputs that tell a fault by letting go, duties such as `ready`, and every safety relay, as it
    is after its reset. The relays of the scheme follow from the circuit.
    """
    placed = {a.end: a for a in allocation.assignments}
    energised = set()
    for function in declared.functions:
        if function.purpose != "output" or function.ends[0].id not in placed:
            continue
        if energised_while_healthy(function) or function.meaning in _TRUE_AT_REST:
            at = placed[function.ends[0].id]
            energised.add(f"{at.device}:{at.channel}")
    energised.update(d.name for d in declared.devices if d.kind == "safety_relay")
    return State(energised=frozenset(energised))

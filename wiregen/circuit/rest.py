"""The state at rest: everything fed and healthy, nobody touches anything, no motor runs."""

from __future__ import annotations

from wiregen.allocation.model import Allocation
from wiregen.circuit.state import State
from wiregen.control.functions import Declared

#: Duties of a controller that are true while it is fed, healthy and at rest.
_TRUE_AT_REST = frozenset({"ready"})


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
        if function.while_healthy or function.meaning in _TRUE_AT_REST:
            at = placed[function.ends[0].id]
            energised.add(f"{at.device}:{at.channel}")
    energised.update(d.name for d in declared.devices if d.kind == "safety_relay")
    return State(energised=frozenset(energised))

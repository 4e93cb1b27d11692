"""What is known only once allocation has chosen among the cards of a bank: the controller, and the supply."""

from __future__ import annotations

from dataclasses import replace

from wiregen.allocation.model import Allocation
from wiregen.control.functions import Declared, Function


def settle(declared: Declared, allocation: Allocation) -> Declared:
    """The functions with the card that allocation chose for each bank; the first card where a function is unplaced."""
    devices = {a.end: a.device for a in allocation.assignments}
    functions = tuple(_settled(function, devices) for function in declared.functions)
    return replace(declared, functions=functions)


def _settled(function: Function, devices: dict[str, str]) -> Function:
    if not function.ends:
        return function
    at = [devices.get(end.id, end.devices[0]) for end in function.ends]
    supplies = dict(function.supplies)
    supply = next((supplies[device] for device in at if device in supplies), function.supply)
    return replace(function, controller=at[0], supply=supply)

"""What stands at the head of a controller: how the contacts of its inputs are wired, and what feeds its circuits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.control.functions import Device, Supply
from wiregen.pipeline import Design
from wiregen.terms import Pin

WIRED = {"source": "contacts switch +24 V", "sink": "contacts switch 0 V"}
_KINDS = {"input": "Contacts", "output": "Outputs", "analog_in": "Signals", "analog_out": "Signals"}


@dataclass(frozen=True, slots=True)
class Remark:
    """One line. ``fed_from`` is the pin at whose sheet and zone it points when all sheets are drawn."""

    text: str
    fed_from: Pin | None = None


def remarks_of(design: Design, device: Device) -> tuple[Remark, ...]:
    """The lines at the head of one controller."""
    return (*_polarities(design, device), *_feeds(design, device))


def _polarities(design: Design, device: Device) -> Iterator[Remark]:
    """How the contacts of a controller's inputs are wired, in the words that cannot be misread."""
    groups = [g for g in design.declared.groups if g.device == device.name]
    said = {g.polarity for g in groups}
    if len(said) == 1:
        yield Remark(f"Inputs: {WIRED[said.pop()]}")
    else:
        yield from (Remark(f"Inputs of {g.group}: {WIRED[g.polarity]}") for g in groups)


def _feeds(design: Design, device: Device) -> Iterator[Remark]:
    """Supply, fuse and sheet of what feeds the circuits of a controller; one line for each supply."""
    fed: dict[Supply, dict[str, None]] = {}
    for function in design.functions:
        placed = function.ends and design.allocation.of_end(function.ends[0].id) is not None
        kind = _KINDS.get(function.purpose)
        if function.controller == device.name and function.supply is not None and placed and kind:
            fed.setdefault(function.supply, {})[kind] = None
    every = {kind for kinds in fed.values() for kind in kinds}
    for supply, kinds in fed.items():
        what = "Fed" if len(fed) == 1 and len(every) > 1 else f"{' and '.join(sorted(kinds))} fed".capitalize()
        if supply.own and supply.device == device.name:
            yield Remark(f"{what} from its own {supply.plus.name}")
        else:
            yield Remark(f"{what} from {supply.device}{_behind(supply)}", supply.plus)


def _behind(supply: Supply) -> str:
    return f" behind {supply.fuse}" if supply.fuse else ""

"""Cables that are to be kept apart: which part of a parted cable each pin belongs in."""

from __future__ import annotations

from wiregen.control.apart import ends_called
from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.terms import Pin
from wiregen.wiring.nets import Net
from wiregen.wiring.returns import title_of
from wiregen.wiring.serving import RETURN


class Parts:
    """A function or a device that `apart_cables` names has cables with those it is kept apart from left out.

    The first of each set stays with everything else; each further one goes into a cable of its own, with its own feed.
    """

    def __init__(self, scheme: Scheme, declared: Declared) -> None:
        devices = {d.name for d in declared.devices}
        titles: dict[str, dict[int, int]] = {}
        names: dict[str, dict[int, int]] = {}
        for number, members in enumerate(scheme.model.apart_cables):
            for index, member in enumerate(members):
                if member in devices:
                    names.setdefault(member, {})[number] = index
                    continue
                ends = {end.id for end in ends_called(member, declared.functions)}
                for function in declared.functions:
                    if ends & {end.id for end in function.ends}:
                        titles.setdefault(title_of(function), {})[number] = index
        self._of_device = {name: _label(sets) for name, sets in names.items()}
        self._of_title = {title: _label(sets) for title, sets in titles.items()}

    def part_of(self, net: Net, pin: Pin) -> str:
        """The label of the part that a pin's core belongs in, empty for what may lie with everything else."""
        title = net.uses[pin].function.removesuffix(RETURN)
        return self._of_device.get(pin.device) or self._of_title.get(title, "")


def _label(sets: dict[int, int]) -> str:
    return " ".join(f"{number + 1}.{index + 1}" for number, index in sorted(sets.items()) if index)

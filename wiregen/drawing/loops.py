"""Loops of one current through several receivers: at which controller the whole loop is drawn, and what is in it."""

from __future__ import annotations

from wiregen.control.functions import Function, Transmitter
from wiregen.pipeline import Design


class Loops:
    """The readers of every transmitter that has a loop, in electrical order."""

    def __init__(self, design: Design) -> None:
        self._readers: dict[str, list[Function]] = {}
        for device in design.declared.devices:
            for name in device.declared.loop:
                self._readers.setdefault(device.name, []).extend(
                    f
                    for f in design.functions
                    if f.controller == name and isinstance(f.partner, Transmitter) and f.partner.device == device.name
                )

    def last_of(self, function: Function) -> Function | None:
        """The last receiver of the loop of a function: there the whole loop is drawn. None where there is no loop."""
        readers = self._of(function)
        return readers[-1] if readers else None

    def before(self, function: Function) -> list[Function]:
        """The receivers before this one, in electrical order."""
        readers = self._of(function)
        return readers[: readers.index(function)] if readers else []

    def _of(self, function: Function) -> list[Function]:
        unit = function.partner
        readers = self._readers.get(unit.device, []) if isinstance(unit, Transmitter) else []
        return readers if function in readers else []

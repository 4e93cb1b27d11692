"""Current loops: a two-wire transmitter that nothing feeds, and an active output into a loop that something feeds."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Transmitter
from wiregen.review.context import Context, called
from wiregen.terms import Notice


def without_supply(context: Context) -> Iterator[Notice]:
    """A two-wire transmitter whose loop has no supply."""
    for function in context.declared.functions:
        unit = function.partner
        if isinstance(unit, Transmitter) and unit.wires == 2 and function.supply is None:
            text = (
                f"{unit.device} has two wires and lives on its loop, but nothing feeds the loop of {called(function)}"
            )
            yield Notice("loop-without-supply", function.where, unit.device, text)


def active_into_fed(context: Context) -> Iterator[Notice]:
    """An output that drives its own current, in a loop for which the scheme names a supply."""
    for controller, control in context.scheme.model.control.items():
        for name, reference in control.speed.items():
            source = context.devices.get(reference.from_ or "")
            if source is None or reference.supply is None:
                continue
            fed_itself = source.kind == "transmitter_four_wire" and source.declared.supply not in (
                None,
                reference.supply,
            )
            if source.kind in ("drive", "card") or fed_itself:
                text = (
                    f"reference {name} of {controller} is an active output of {source.name}, "
                    f"and {reference.supply} would feed its loop too"
                )
                yield Notice(
                    "active-into-fed-loop", ("control", controller, "speed", name, "supply"), source.name, text
                )
        for name, show in control.shows.items():
            if show.supply is not None:
                text = f"show {name} is an active output of {controller}, and {show.supply} would feed its loop too"
                yield Notice("active-into-fed-loop", ("control", controller, "shows", name, "supply"), controller, text)

"""Fuses: whether their supply can blow them, whether they protect anything, and feeds into the field without one."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen import quantities
from wiregen.control.functions import Fusing
from wiregen.formulas.fuses import fusing_current_a
from wiregen.review.context import Context
from wiregen.terms import Notice


def cannot_trip(context: Context) -> Iterator[Notice]:
    """A fuse that needs more current to blow than its supply gives. A transformer does not limit its current."""
    for fusing in context.declared.fusings:
        rated_a, limit_a = context.devices[fusing.device].figure("rating"), _limit_a(context, fusing)
        if rated_a is None or limit_a is None:
            continue
        needed_a = fusing_current_a(rated_a)
        if needed_a > limit_a:
            text = (
                f"{fusing.device} ({quantities.say(rated_a, 'A')}) needs {quantities.say(needed_a, 'A')} to blow, and "
                f"{fusing.supply.device} gives {quantities.say(limit_a, 'A')}: the supply gives way first"
            )
            yield Notice(
                "protection-cannot-trip", fusing.where, fusing.device, text, value=needed_a, limit=limit_a, unit="A"
            )


def _limit_a(context: Context, fusing: Fusing) -> float | None:
    terminal = context.terminal(fusing.source)
    return terminal.limit.si if terminal and terminal.limit else None


def idle(context: Context) -> Iterator[Notice]:
    """A fuse behind which nothing hangs."""
    fed = {c.a for c in context.wiring.conductors} | {c.b for c in context.wiring.conductors}
    for fusing in context.declared.fusings:
        if fusing.outlet not in fed:
            text = f"{fusing.device} is fed from {fusing.source}, and nothing hangs behind it"
            yield Notice("fuse-idle", fusing.where, fusing.device, text)


def field_feed(context: Context) -> Iterator[Notice]:
    """The ungrounded side of a supply that runs into the field without a fuse."""
    for supply in context.declared.supplies:
        if supply.own or supply.fuse:
            continue
        named = next((p.name for p in context.wiring.potentials if supply.plus in p.pins), None)
        cores = [c for c in context.wiring.conductors if c.kind == "core" and c.potential == named]
        if named is not None and cores:
            text = f"{supply.plus} goes into the field in {cores[0].cable}, and no fuse stands before it"
            yield Notice("field-feed-unprotected", ("devices", supply.device), supply.device, text)

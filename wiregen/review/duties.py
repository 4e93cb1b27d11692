"""Duties of a drive's outputs: what a lamp or a horn on the fault relay tells."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context
from wiregen.terms import Notice


def fault_by_make(context: Context) -> Iterator[Notice]:
    """A lamp or horn at a fault relay that is in while there is no fault, and nothing says by which contact."""
    for drive in context.of_kind("drive"):
        control = context.scheme.model.control.get(drive.name)
        duty = control.relays.get("fault") if control else None
        target = context.devices.get(duty.switches) if duty else None
        if duty is None or target is None or target.kind not in ("lamp", "horn"):
            continue
        if duty.contact is None and duty.energised != "in_fault":
            does = "is lit" if target.kind == "lamp" else "sounds"
            text = (
                f"{target.name} hangs on the make contact of the fault relay of {drive.name}, which is in while there "
                f"is no fault: it {does} all the time, and goes out with the fault"
            )
            where = ("control", drive.name, "relays", "fault")
            yield Notice("fault-shown-inverse", where, target.name, text)

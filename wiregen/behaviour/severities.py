"""How bad an outcome is, and what takes it away."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wiregen.behaviour.campaign import Outcome
from wiregen.behaviour.classes import DANGEROUS
from wiregen.control.functions import Declared
from wiregen.terms import Severity

#: A good design takes the dangerous classes away from these kinds of faults; from the others it cannot always.
_MUST_NOT = ("open", "no-close", "earth", "supply")


def independent_stops(declared: Declared) -> frozenset[str]:
    """The drives whose torque something takes away that is independent of their inputs."""
    return frozenset(
        f.controller
        for f in declared.functions
        if f.purpose == "safe_torque_off" and (f.partner is not None or f.follows is not None or len(f.ends) > 1)
    )


def severity(outcome: Outcome, independent: frozenset[str]) -> Severity:
    """How bad an outcome is.

    An error where an open conductor, a contact that does not close, an earth fault or a lost supply makes a motor do
    what nobody wants; a warning where another fault does and no independent stop is declared, and where something no
    longer protects or takes harm; else a note. What rests on a second fault, or is let out by a standard, is a note.
    """
    fault = outcome.fault
    if fault.assumed or fault.excluded:
        return Severity.NOTE
    if outcome.fault_class in DANGEROUS:
        if fault.kind in _MUST_NOT:
            return Severity.ERROR
        helped = outcome.drive in independent or outcome.stop == "other only"
        return Severity.NOTE if helped else Severity.WARNING
    return Severity.WARNING if outcome.fault_class in ("unprotected", "damages") else Severity.NOTE


@dataclass(frozen=True, slots=True)
class Remedy:
    """What takes a danger away, in words; ``patch`` does it to the scheme, where a merge patch can."""

    says: str
    patch: dict[str, object] | None = None


def remedies(outcome: Outcome, declared: Declared) -> Iterator[Remedy]:
    """What helps against an outcome, the surest first."""
    fault, drive = outcome.fault, outcome.drive
    sinks = any(g.device == drive and g.polarity == "sink" for g in declared.groups)
    earthed = any(z.mode in ("earthed", "inside") for z in declared.zero_volts)
    if fault.kind == "earth" and sinks and earthed:
        says = "wire the inputs for source (contacts switch +24 V): then an earth fault takes the signal away"
        yield Remedy(says, {"control": {drive: {"inputs": "source"}}})
    opened = [f for f in _of(outcome, declared) if f.acts_on == "closed" and f.meaning in _STOPS]
    for function in opened:
        says = f"let {function.name} act when its circuit opens, by a break contact: then a broken wire stops"
        yield Remedy(says)
    if fault.kind in ("open", "signal", "short") and outcome.fault_class in ("speeds-up", "damages"):
        for name, references in declared.references:
            for reference in (r for r in references if name == drive and r.signal.endswith("mA")):
                if reference.source in fault.devices and not (reference.on_low and reference.on_high):
                    says = (
                        f"say `on_loss: trip` at reference {reference.name}, so that a lost or impossible signal stops"
                    )
                    patch: dict[str, object] = {"on_low": None, "on_high": None, "on_loss": "trip"}
                    yield Remedy(says, {"control": {drive: {"speed": {reference.name: patch}}}})
    if fault.kind == "short" and len(fault.at) == 2 and "cores" in fault.name:
        yield Remedy("keep the two functions apart: in different cables, or in cores with a screen on PE between them")
    if outcome.fault_class in ("unstoppable", "self-start") and fault.kind in ("short", "weld"):
        yield Remedy("add a stop that does not depend on this input: safe torque off by a monitored emergency stop")
    if outcome.fault_class == "unprotected":
        yield Remedy("monitor the circuit: two channels that are compared, or a test at intervals that somebody signs")
    if outcome.fault_class == "damages":
        yield Remedy("limit the current: a fuse or a resistor in the feed of the loop")
    if outcome.fault_class == "restarts":
        yield Remedy("give the start by a button, or by a seal-in that drops with the supply of the inputs")


_STOPS = ("stop", "enable", "external trip", "limit forward", "limit reverse")


def _of(outcome: Outcome, declared: Declared) -> Iterable:  # type: ignore[type-arg]
    """The functions of the drive in whose circuit the fault lies."""
    devices = set(outcome.fault.devices)
    for function in declared.functions:
        pins = {getattr(function.partner, "device", "")}
        contact = getattr(function.partner, "contact", None)
        if contact is not None:
            pins.add(contact.device)
        if function.controller == outcome.drive and pins & devices:
            yield function

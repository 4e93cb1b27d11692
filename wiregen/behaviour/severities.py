"""How bad an outcome is."""

from __future__ import annotations

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

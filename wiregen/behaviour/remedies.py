"""What takes the danger of a fault away, in words, and as a change of the scheme where one can say it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from wiregen.behaviour.campaign import Outcome
from wiregen.behaviour.classes import DANGEROUS
from wiregen.behaviour.fault import Fault
from wiregen.behaviour.plant import DesignLike
from wiregen.behaviour.speed import is_current
from wiregen.control.functions import Function, Leg
from wiregen.wiring.model import Wiring

#: What a broken wire must bring about, with the key of a section that declares it.
_STOPS = {"enable": ("enable",), "external trip": ("external_trip",), "stop": ("run", "stop")}

#: What two functions in one cable may bring about when their cores touch.
_CORES = (*DANGEROUS, "unprotected")


@dataclass(frozen=True, slots=True)
class Remedy:
    """What helps. ``patch`` is a merge patch on the scheme that does it; None where only people can."""

    says: str
    patch: dict[str, Any] | None = None


def remedies(outcome: Outcome, design: DesignLike) -> Iterator[Remedy]:
    """What helps against an outcome; first what the scheme itself can say."""
    fault, worst = outcome.fault, outcome.fault_class
    yield from _by_polarity(outcome, design)
    if worst in ("self-start", "unstoppable", "unprotected") and fault.kind in ("open", "no-close"):
        yield from _by_break(outcome, design)
    if worst in ("speeds-up", "damages", "stoppable"):
        yield from _by_answer(outcome, design)
    if fault.kind == "short" and fault.name.startswith("cores") and worst in _CORES:
        yield Remedy("keep the two functions apart: cables of their own, or a screen on PE between the cores")
    if worst in ("self-start", "unstoppable") and fault.kind in ("short", "weld"):
        yield Remedy("add a stop that needs no input of the drive: safe torque off by a monitored emergency stop")
    if worst == "unprotected":
        yield Remedy("watch the circuit: a monitored input in two channels, or a test at intervals that somebody signs")
    if worst == "damages":
        yield Remedy("limit the current that can flow: a fuse or a resistor in the feed")
    if worst == "restarts":
        yield Remedy("start by a button, or by a seal-in that lets go together with the supply of the inputs")
    if worst in ("reverses", "speeds-up") and fault.kind in ("open", "no-close"):
        yield Remedy("let the state that a broken wire brings be the safe one: forward, and the slowest of the speeds")


def potentials_of(fault: Fault, wiring: Wiring) -> frozenset[str]:
    """The potentials whose conductors or pins a fault lies at."""
    found = {c.potential for c in wiring.conductors if c.id in fault.at and c.potential}
    found |= {p.name for p in wiring.potentials if any(str(pin) in fault.at for pin in p.pins)}
    return frozenset(found)


def _functions(outcome: Outcome, design: DesignLike) -> Iterator[Function]:
    """The functions of the drive in whose circuit the fault lies."""
    potentials = potentials_of(outcome.fault, design.wiring)
    for function in design.declared.functions:
        if function.controller == outcome.drive and f"{function.name} of {outcome.drive}" in potentials:
            yield function


def _by_polarity(outcome: Outcome, design: DesignLike) -> Iterator[Remedy]:
    """An earth fault on an earthed supply does what a contact does that switches 0 V."""
    sinks = any(g.device == outcome.drive and g.polarity == "sink" for g in design.declared.groups)
    if outcome.fault.kind == "earth" and sinks:
        says = "wire the inputs for source (contacts switch +24 V): an earth fault then takes the signal away"
        yield Remedy(says, {"control": {outcome.drive: {"inputs": {"wired": "source"}}}})


def _by_break(outcome: Outcome, design: DesignLike) -> Iterator[Remedy]:
    """A stop, enable or trip that acts when its circuit closes is lost with its wire."""
    for function in _functions(outcome, design):
        keys = _STOPS.get(function.meaning)
        if keys is None or function.acts_on != "closed":
            continue
        says = f"let {function.name} act when its circuit opens, by a break contact: a broken wire then stops"
        patch = None
        if isinstance(function.partner, Leg):
            device = function.partner.contact.device
            use: Any = device
            for key in reversed((keys[0], *((function.run,) if function.run and keys[0] == "run" else ()), *keys[1:])):
                use = {key: use}
            patch = {"devices": {device: {"contact": "NC"}}, "control": {outcome.drive: use}}
        yield Remedy(says, patch)


def _by_answer(outcome: Outcome, design: DesignLike) -> Iterator[Remedy]:
    """A signal that is lost, or cannot be true, should stop the drive."""
    touched = potentials_of(outcome.fault, design.wiring) | {
        f"{f.name} of {f.controller}"
        for f in design.declared.functions
        if getattr(f.partner, "device", "") in outcome.fault.devices
    }
    references = next((infos for name, infos in design.declared.references if name == outcome.drive), ())
    for reference in references:
        function = next(
            (
                f
                for f in design.declared.functions
                if f.meaning == f"reference {reference.name}" and f.controller == outcome.drive
            ),
            None,
        )
        if function is None or f"{function.name} of {outcome.drive}" not in touched or not is_current(function.signal):
            continue
        if {reference.on_low, reference.on_high} != {"trip"}:
            says = f"say `on_loss: trip` at reference {reference.name}: a signal that is lost or impossible then stops"
            answers = {"on_low": None, "on_high": None, "on_loss": "trip"}
            yield Remedy(says, {"control": {outcome.drive: {"speed": {reference.name: answers}}}})

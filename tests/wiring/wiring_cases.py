"""Schemes carried as far as their wires, and the questions that the tests of wiring ask of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from wiregen import pipeline, profiles
from wiregen.control.functions import Declared
from wiregen.scheme import read
from wiregen.terms import Pin
from wiregen.wiring.model import Cable, Conductor, Potential, StripTerminal, Wiring

CASES = Path(__file__).parent / "cases"
EXAMPLES = Path(__file__).parents[2] / "examples"


def pin(text: str) -> Pin:
    """``-TA1:DI1`` as a pin."""
    device, _, name = text.partition(":")
    return Pin(device, name)


@dataclass(frozen=True)
class Case:
    """A wired scheme."""

    declared: Declared
    wiring: Wiring

    @property
    def notices(self) -> dict[str, str]:
        """Code -> message of what control and wiring noticed."""
        return {n.code: n.message for n in (*self.declared.notices, *self.wiring.notices)}

    def potential(self, text: str) -> Potential:
        """The potential of a pin."""
        return next(p for p in self.wiring.potentials if pin(text) in p.pins)

    def on(self, text: str) -> set[str]:
        """The pins on the potential of a pin, those of strips left out; nothing where it is on none."""
        found = self.wiring.potential_of(pin(text))
        strips = {s.name for s in self.wiring.strips}
        return {str(p) for p in found.pins if p.device not in strips} if found else set()

    def at(self, text: str) -> list[Conductor]:
        """The conductors at a pin."""
        return [c for c in self.wiring.conductors if pin(text) in (c.a, c.b)]

    def of_kind(self, kind: str) -> list[Conductor]:
        return [c for c in self.wiring.conductors if c.kind == kind]

    def core_to(self, text: str) -> Conductor:
        """The one core that ends on a pin in the field."""
        (found,) = (c for c in self.at(text) if c.kind == "core")
        return found

    def wires(self) -> set[frozenset[str]]:
        """The pairs of pins that wires in one place join."""
        return {frozenset((str(c.a), str(c.b))) for c in self.of_kind("wire")}

    def cable(self, name: str) -> Cable:
        return next(c for c in self.wiring.cables if c.name == name)

    def terminals(self) -> tuple[StripTerminal, ...]:
        return tuple(t for s in self.wiring.strips for t in s.terminals)

    def cores_in(self, name: str) -> dict[str, str]:
        """Core mark -> the pin in the field, in core order; a spare one has none."""
        marks = {c.core: str(c.b) if c.b else "" for c in self.wiring.conductors if c.cable == name}
        return {mark: marks[mark] for mark in self.cable(name).marks}


@cache
def case(name: str, variant: str | None = None) -> Case:
    """The case of this name, or else the example of this name."""
    path = CASES / f"{name}.yaml"
    scheme = read(path if path.exists() else EXAMPLES / path.name, variant=variant, profiles=profiles.load())
    design = pipeline.design(scheme)
    return Case(design.declared, design.wiring)

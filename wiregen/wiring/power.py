"""The power side: protective device, drive, motor cable, motor. Its conductors go past the strips.

Nothing is sized: areas are those that the scheme says.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from wiregen.control.functions import Declared, PowerSide
from wiregen.formulas import colours
from wiregen.scheme import Scheme
from wiregen.scheme.model import CableClass
from wiregen.terms import Pin
from wiregen.wiring.makes import DEFAULT_SCREEN, EARTH_MARK, area_of, gauge_of
from wiregen.wiring.model import Cable, Conductor, ConductorKind, Potential, Wiring
from wiregen.wiring.sites import Sites

_CATEGORY = "power"


def with_power(scheme: Scheme, declared: Declared, wiring: Wiring) -> Wiring:
    """The wiring with the power side of every drive that declares one."""
    for number, power in enumerate(declared.powers, 1):
        wiring = _Builder(scheme, declared, wiring, power, number).built()
    return wiring


class _Builder:
    """The conductors, cable and potentials of one drive's power side."""

    def __init__(self, scheme: Scheme, declared: Declared, wiring: Wiring, power: PowerSide, number: int) -> None:
        self._scheme, self._wiring, self._power, self._number = scheme, wiring, power, number
        self._places = {d.name: d.place for d in declared.devices}
        self._devices = {d.name for d in declared.devices}
        self._earth = next(p for p in wiring.potentials if p.kind == "earth")
        self._said = scheme.model.cabling.classes.get("power") or CableClass()
        self._ids = {c.id for c in wiring.conductors}

    def built(self) -> Wiring:
        power, cables, conductors = self._power, self._wiring.cables, list(self._wiring.conductors)
        potentials = list(self._phases())
        by_pin = {pin: p for p in potentials for pin in p.pins}
        colour = colours.circuit_colour("power", self._scheme.model.practice).code()
        for a, b in power.feeders:
            conductors.append(self._conductor("wire", by_pin[a], a, b, colour))
        own: list[Pin] = []
        if power.motor is not None and power.motor_earth is not None:
            cable = self._cable(len(power.phases))
            cables = (*cables, cable)
            for mark, (a, b) in zip(cable.marks, power.phases, strict=False):
                conductors.append(self._conductor("core", by_pin[a], a, b, "BK", cable, mark))
            own.append(power.motor_earth)
            conductors.append(
                self._conductor("core", self._earth, power.earth, power.motor_earth, EARTH_MARK, cable, EARTH_MARK)
            )
            if cable.screened:
                screen = Pin(cable.name, "screen")
                own.append(screen)
                conductors.append(self._conductor("screen", self._earth, screen, power.earth, ""))
        earth = replace(self._earth, pins=(*self._earth.pins, *own))
        before = [earth if p is self._earth else p for p in self._wiring.potentials]
        return replace(
            self._wiring, potentials=(*before, *potentials), conductors=tuple(conductors), cables=tuple(cables)
        )

    def _phases(self) -> Iterator[Potential]:
        """One potential a phase on either side of the drive, numbered by the drive and the phase."""
        taken = {p.number for p in self._wiring.potentials}
        for a, b in (*self._power.feeders, *self._power.phases):
            own = b if a.device != self._power.drive else a
            yield Potential(
                name=f"{own.name} of {own.device}",
                number=next(n for n in _numbers(self._number, own.name) if n not in taken),
                kind="power",
                supply=None,
                pins=(a, b),
            )

    def _cable(self, phases: int) -> Cable:
        taken = {*self._devices, *(c.name for c in self._wiring.cables), *self._scheme.model.cabling.existing}
        near, far = self._places[self._power.drive], self._places[self._power.motor or ""]
        screen = self._said.screen or DEFAULT_SCREEN[_CATEGORY]
        cores = (*(str(n + 1) for n in range(phases)), EARTH_MARK)
        return Cable(
            name=next(name for n in itertools.count(1) if (name := f"-WG{n}") not in taken),
            a=near,
            b=far,
            category=_CATEGORY,
            cores=len(cores),
            pairs=None,
            used=len(cores),
            area_mm2=area_of(self._said.area) if self._said.area else None,
            screened=screen != "none",
            screen=screen,
            length_m=Sites(self._scheme).length_m(near, far, False),
            marks=cores,
            device=self._power.motor or "",
            gauge=gauge_of(self._said.area),
        )

    def _conductor(
        self,
        kind: ConductorKind,
        potential: Potential,
        a: Pin,
        b: Pin,
        colour: str,
        cable: Cable | None = None,
        core: str | None = None,
    ) -> Conductor:
        title = f"power of {self._power.drive}" if potential.kind == "power" else f"PE of {self._power.motor}"
        return Conductor(
            id=self._id(kind),
            number=potential.number,
            kind=kind,
            a=a,
            b=b,
            a_side=None,
            b_side=None,
            cable=cable.name if cable else None,
            core=core,
            area_mm2=cable.area_mm2 if cable else None,
            length_m=cable.length_m if cable else None,
            colour=colour,
            potential=potential.name,
            function=title,
            gauge=cable.gauge if cable else "",
        )

    def _id(self, kind: ConductorKind) -> str:
        letter = kind[0]
        found = next(i for n in itertools.count(1) if (i := f"{letter}{n:02d}") not in self._ids)
        self._ids.add(found)
        return found


def _numbers(drive: int, phase: str) -> Iterator[str]:
    """``1U`` for the first drive; with a letter behind it where a kept number is the same."""
    yield f"{drive}{phase}"
    yield from (f"{drive}{phase}{chr(c)}" for c in range(ord("a"), ord("z") + 1))

"""Cross-references between sheets: where a loop is whole, where a coil is, where its contacts are."""

from __future__ import annotations

from dataclasses import dataclass, field

from wiregen.drawing.branches import Unit
from wiregen.terms import Pin


@dataclass(slots=True)
class References:
    """Filled while pages are laid out, asked while they are drawn. A place is written sheet/zone, ``4/B2``."""

    controllers: frozenset[str]
    _pins: dict[Pin, str] = field(default_factory=dict)  # a controller's own terminal on its own sheet
    _coils: dict[str, str] = field(default_factory=dict)  # relay -> where its coil is drawn
    _inputs: dict[str, str] = field(default_factory=dict)  # end of an input -> where its contacts are drawn
    _units: dict[str, list[tuple[str, str]]] = field(default_factory=dict)  # device -> (pins, place) of every symbol

    def add_terminal(self, pin: Pin, place: str) -> None:
        self._pins.setdefault(pin, place)

    def add_loop(self, pin: Pin, place: str) -> None:
        """The place where the whole loop of a far controller's pin is drawn."""
        self._units.setdefault(f"loop {pin}", []).append((str(pin), place))

    def add_unit(self, device: str, pins: str, place: str) -> None:
        if (pins, place) not in self._units.setdefault(device, []):
            self._units[device].append((pins, place))

    def contacts_of(self, unit: Unit) -> tuple[str, ...]:
        """For a coil: each other symbol of its relay and where it stands."""
        mine = _marks(unit)
        return tuple(f"{pins} {place}" for pins, place in self._units.get(unit.device, []) if pins != mine)

    def add_coil(self, device: str, place: str) -> None:
        self._coils.setdefault(device, place)

    def add_input(self, end: str, place: str) -> None:
        """The place where the contacts of an input are drawn, if not at its terminal."""
        self._inputs.setdefault(end, place)

    def input_at(self, end: str) -> str:
        return f"see {self._inputs[end]}" if end in self._inputs else ""

    def loop_of(self, pin: Pin) -> str:
        found = self._units.get(f"loop {pin}")
        return f"see {found[0][1]}" if found else ""

    def notes_of(self, unit: Unit) -> tuple[str, ...]:
        """For a stub: where its own sheet shows these terminals. For a relay's symbol: where its others stand."""
        if unit.device in self.controllers:
            own = [self._pins[p] for _, name in unit.pins if (p := Pin(unit.device, name)) in self._pins]
            return (f"see {own[0]}",) if own else ()
        if unit.symbol.kind == "contact" and (coil := self._coils.get(unit.device)):
            return (f"coil {coil}",)
        mine = _marks(unit)
        return tuple(f"{pins} {place}" for pins, place in self._units.get(unit.device, []) if pins != mine)


def _marks(unit: Unit) -> str:
    return "-".join(name for _, name in sorted(unit.pins, key=lambda p: p[0]))


def marks_of(unit: Unit) -> str:
    """The pins of a unit as its other symbols quote them: ``13-14``, ``A1-A2``."""
    return _marks(unit)

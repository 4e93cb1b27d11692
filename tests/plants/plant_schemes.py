"""Invented plants of any size as scheme files: drives of four kinds in several cabinets, with cards, cables and places.

``python tests/plants/plant_schemes.py DRIVES > plant.yaml`` writes one. The same arguments give the same text.
"""

from __future__ import annotations

import sys

IN_CABINET = 10  # drives that share a cabinet, its supply and its cards
KINDS = ("Pump", "Conveyor", "Fan", "Dosing screw")


def plant(drives: int, *, in_cabinet: int = IN_CABINET, shared: bool = False, only: int | None = None) -> str:
    """The scheme of a plant of ``drives`` drives, ``in_cabinet`` of them in each cabinet.

    ``shared``: what the drives announce is read by one bank of cards in the first cabinet; else by cards of their own
    cabinet, and then the cabinets share nothing. ``only`` gives a single one of these cabinets, counted from 1.
    """
    chosen = [only] if only else range(1, -(-drives // in_cabinet) + 1)
    plant = _Plant(shared)
    for cabinet in chosen:
        first = (cabinet - 1) * in_cabinet + 1
        plant.cabinet(cabinet, range(first, min(first + in_cabinet, drives + 1)), drives)
    return plant.text()


class _Plant:
    """The lines of each section while cabinets are added."""

    def __init__(self, shared: bool) -> None:
        self._shared = shared
        self._places: list[str] = []
        self._devices: list[str] = []
        self._banks: list[str] = []
        self._control: list[str] = []

    def text(self) -> str:
        head = ["scheme: Mill of many drives", "drawing: MM-7000", "revision: A"]
        sections = {
            "places": self._places,
            "devices": self._devices,
            "banks": self._banks,
            "control": self._control,
            "cabling": ["  spare: 20 %"],
        }
        lines = [*head]
        for name, body in sections.items():
            lines += ["", f"{name}:", *body]
        return "\n".join(lines) + "\n"

    def cabinet(self, number: int, drives: range, of: int) -> None:
        at, first = f"+C{number}", not self._places
        route = "" if first else f", route: {{+C1: {20 + 5 * number} m}}"
        self._places.append(f"  {at}: {{name: Cabinet {number}{route}}}")
        joined = self._shared and not first
        self._device(f"-TB{number}", "supply_24v", at, f"zero_volt: {'{joined_to: -TB1}' if joined else 'earthed'}")
        self._cards(number, len(drives), of)
        for drive in drives:
            self._drive(drive, number)

    def _cards(self, number: int, drives: int, of: int) -> None:
        at = f"+C{number}"
        if not self._shared:
            self._bank(number, drives)
        elif number == 1:
            self._bank(1, of)
        self._bank_of(f"-KE{number}2", "io_relay_out_8", at, -(-drives // 8))
        self._bank_of(f"-KE{number}3", "io_analog_out_4", at, -(-drives // 8))

    def _bank(self, number: int, drives: int) -> None:
        """Inputs for two signals of each drive, a tenth spare."""
        name = f"-KE{number}1"
        self._bank_of(name, "io_digital_in_16", f"+C{number}", -(-drives * 22 // 160))
        self._control.append(f"  {name}: {{inputs: {{wired: source, supply: -TB{number}}}}}")

    def _bank_of(self, name: str, profile: str, at: str, cards: int) -> None:
        members = [f"{name}{card:02d}" for card in range(1, cards + 1)]
        for member in members:
            self._device(member, profile, at)
        self._banks.append(f"  {name}: [{', '.join(members)}]")

    def _device(self, name: str, profile: str, at: str, more: str = "") -> None:
        self._devices.append(f"  {name}: {{profile: {profile}, at: {at}{', ' + more if more else ''}}}")

    def _drive(self, n: int, cabinet: int) -> None:
        at, place, kind = f"+C{cabinet}", f"+F{n}", KINDS[n % len(KINDS)]
        self._places.append(f"  {place}: {{name: {kind} {n}, route: {{{at}: {10 + n * 7 % 60} m}}}}")
        self._device(f"-TA{n}", "drive_compact", at, f"text: {kind} {n}")
        trip = f"contact: NC, text: Winding {n}, operated_when: winding above 140 C"
        self._device(f"-BT{n}", "contact", place, trip)
        bank = "-KE11" if self._shared else f"-KE{cabinet}1"
        self._control += [
            f"  -TA{n}:",
            f"    inputs: {{wired: source, supply: -TB{cabinet}}}",
            f"    zero_volt: {{joined_to: -TB{cabinet}}}",
            "    restart: allowed",
            f"    external_trip: -BT{n}",
            *{0: self._pump, 1: self._conveyor, 2: self._fan, 3: self._screw}[n % len(KINDS)](n, cabinet),
            f"    relays: {{running: {{switches: {bank}}}, fault: {{switches: {bank}, contact: NC}}}}",
        ]

    def _pump(self, n: int, cabinet: int) -> list[str]:
        self._device(f"-SJ{n}1", "push_button", f"+F{n}", f"contact: NO, text: START {n}")
        self._device(f"-SJ{n}2", "push_button", f"+F{n}", f"contact: NC, text: STOP {n}")
        self._device(f"-SJ{n}3", "selector", f"+C{cabinet}", f"positions: [HAND, AUTO], text: Mode {n}")
        self._device(f"-RA{n}", "potentiometer", f"+C{cabinet}", "resistance: 4.7 kohm")
        self._device(f"-BL{n}", "transmitter_two_wire", f"+F{n}", f"measures: 0 to 3 m, text: Level {n}")
        return [
            f"    run: {{method: three-wire, start: -SJ{n}1, stop: -SJ{n}2}}",
            "    speed:",
            f"      hand: {{from: -RA{n}, signal: 0-10 V, spans: 0 to 50 Hz}}",
            f"      auto: {{from: -BL{n}, signal: 4-20 mA, spans: 15 to 50 Hz, on_low: trip, on_high: trip}}",
            f"    select: {{by: [-SJ{n}3], when: {{HAND: hand, AUTO: auto}}}}",
        ]

    def _conveyor(self, n: int, cabinet: int) -> list[str]:
        self._device(f"-BG{n}", "limit_switch", f"+F{n}", f"contact: NC, text: End {n}, operated_when: belt full")
        return [
            f"    run: {{method: two-wire, forward: -KE{cabinet}2, reverse: -KE{cabinet}2, both: stop}}",
            f"    enable: -BG{n}",
            "    speed: {steady: {preset: 40 Hz}}",
        ]

    def _fan(self, n: int, cabinet: int) -> list[str]:
        self._device(f"-SJ{n}1", "selector", f"+F{n}", f"positions: ['OFF', 'ON'], text: Fan {n}")
        return [
            f"    run: {{method: two-wire, forward: -SJ{n}1}}",
            f"    speed: {{led: {{from: -KE{cabinet}3, signal: 4-20 mA, spans: 10 to 50 Hz, on_loss: stop}}}}",
        ]

    def _screw(self, n: int, cabinet: int) -> list[str]:
        self._device(f"-SJ{n}2", "push_button", f"+F{n}", f"contact: NC, text: STOP {n}")
        self._device(f"-BW{n}", "transmitter_two_wire", f"+F{n}", f"measures: 0 to 50 kg, text: Weight {n}")
        return [
            f"    run: {{method: two-wire, forward: -KE{cabinet}2}}",
            f"    enable: -SJ{n}2",
            f"    speed: {{weighed: {{from: -BW{n}, signal: 4-20 mA, spans: 5 to 50 Hz, on_loss: stop}}}}",
        ]


if __name__ == "__main__":
    sys.stdout.write(plant(int(sys.argv[1]), shared="shared" in sys.argv[2:]))

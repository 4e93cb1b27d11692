"""A netlist for a circuit simulator, written from the wiring and the profiles and from nothing of the circuit room.

It says of the parts what the circuit room says of them: supplies with an internal resistance up to their limit, inputs
and loads as resistances, a diode as 0.7 V and 1 ohm. Which relays are picked up is given; `coil_volts` lets a test ask
the simulator whether they would be.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np

import wiregen
from wiregen.circuit.state import State
from wiregen.control.functions import Device, Meter, Transmitter
from wiregen.terms import Pin

NGSPICE = shutil.which("ngspice")
#: ohm/km of class 5 copper at 20 C. Source: IEC 60228, table 3.
CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30}
METAL, CONTACT, TRANSISTOR, BLEED = 1e-3, 0.01, 0.5, 1e-6


def per_km(area: float) -> float:
    """ohm/km of any area: beside the standard's areas, resistance times area in proportion between its neighbours."""
    products = {a: a * ohm for a, ohm in CLASS_5.items()}
    return float(np.interp(area, list(products), list(products.values()))) / area


def number(text: str) -> float:
    """The first number of a text in base units: ``4.7 kohm``, ``150 mA``."""
    match = re.match(r"\s*([-+.\d]+)\s*(k|m)?(?=ohm|A|V|W|Hz)", text)
    assert match, text
    return float(match[1]) * {"k": 1e3, "m": 1e-3, None: 1.0}[match[2]]


class Netlist:
    """One design in one state as lines of a netlist. ``picked`` are relays, ``unfed`` devices without their feed."""

    def __init__(self, design: wiregen.Design, state: State, picked: frozenset[str], unfed: frozenset[str]) -> None:
        self.design, self.state, self.picked, self.unfed = design, state, picked, unfed
        self.lines: list[str] = []
        self.nodes: dict[Pin, str] = {}
        self.signal = {Pin(a.device, a.channel): a.signal for a in design.allocation.assignments}
        ends = {a.end: a for a in design.allocation.assignments}
        self.partner: dict[str, str] = {}
        for f in design.declared.functions:
            if isinstance(f.partner, Transmitter | Meter):
                self.partner.setdefault(f.partner.device, next((ends[e.id].signal for e in f.ends if e.id in ends), ""))
        self.earth = {p for n in design.wiring.potentials if n.kind == "earth" for p in n.pins}
        for device in design.declared.devices:
            for terminal in (*device.profile.terminals, *device.profile.power):
                if terminal.role == "earth":
                    self.earth |= {Pin(device.name, p) for p in terminal.pins}
        self._conductors()
        for device in design.declared.devices:
            Parts(self, device).write()

    def node(self, pin: Pin) -> str:
        return "0" if pin in self.earth else self.nodes.setdefault(pin, f"n{len(self.nodes) + 1}")

    def resistor(self, a: Pin, b: Pin, ohm: float) -> None:
        if self.node(a) != self.node(b):
            self.lines.append(f"R{len(self.lines)} {self.node(a)} {self.node(b)} {ohm:.12g}")

    def current(self, a: Pin, b: Pin, law: str) -> None:
        """A current from ``a`` to ``b``; ``@`` in the law stands for the voltage between them."""
        across = f"V({self.node(a)},{self.node(b)})"
        self.lines.append(f"B{len(self.lines)} {self.node(a)} {self.node(b)} I = {law.replace('@', across)}")

    def _conductors(self) -> None:
        for c in self.design.wiring.conductors:
            if c.b is None:
                continue
            area, length = c.area_mm2 or 1.0, 1.0 if c.length_m is None else c.length_m
            ohm = length * per_km(area) / 1000
            self.resistor(c.a, c.b, METAL if c.kind in ("bridge", "link", "screen") else max(METAL, ohm))

    def run(self, start: dict[Pin, float]) -> dict[Pin, float]:
        """The voltage to earth of every pin, by the simulator, which begins its search at ``start``."""
        assert NGSPICE
        nodeset = [f".nodeset v({node})={start[pin]:.9g}" for pin, node in self.nodes.items() if pin in start]
        text = "\n".join(
            ["* one state", *self.lines, *nodeset, ".option rshunt=1e9 reltol=1e-6 abstol=1e-11 vntol=1e-7 itl1=2000",
             ".control", "set numdgt=12", "op", "print all", "quit", ".endc", ".end", ""]
        )  # fmt: skip
        done = subprocess.run([NGSPICE, "-b", "/dev/stdin"], input=text, capture_output=True, text=True, check=False)
        found = dict(re.findall(r"^(n\d+) = (\S+)", done.stdout, re.MULTILINE))
        assert len(found) == len(self.nodes), done.stdout[-2000:] + done.stderr[-2000:]
        return {pin: float(found[node]) for pin, node in self.nodes.items()}


class Parts:
    """The parts of one device."""

    def __init__(self, netlist: Netlist, device: Device) -> None:
        self.net, self.device, self.state = netlist, device, netlist.state
        self.dead = device.name in netlist.state.dead
        self.figures = {k: f.si for k, f in device.profile.figures.items()}
        self.by_role: dict[str, str] = {}
        for terminal in device.profile.terminals:
            self.by_role.setdefault(terminal.role, terminal.label)

    def pin(self, name: str) -> Pin:
        return Pin(self.device.name, name)

    def role(self, role: str) -> Pin:
        return self.pin(self.by_role[role])

    def write(self) -> None:
        for names in self.device.profile.joined_inside:
            for name in names[1:]:
                self.net.resistor(self.pin(names[0]), self.pin(name), METAL)
        for zero in self.net.design.declared.zero_volts:
            if zero.device == self.device.name and zero.mode == "inside":
                self.net.lines.append(f"R{len(self.net.lines)} {self.net.node(zero.zero)} 0 {METAL}")
        self._contacts()
        if self.device.profile.controller:
            self._controller()
        getattr(self, "_of_" + self.device.kind, lambda: None)()
        if "coil" in self.by_role or "load" in self.by_role:
            self._load()

    def closed(self, a: Pin, b: Pin) -> None:
        self.net.resistor(a, b, CONTACT)

    def _contacts(self) -> None:
        name = self.device.name
        moved = name in self.state.operated or name in self.net.picked
        if self.device.kind == "safety_relay":
            moved = name in self.state.energised and name not in self.net.unfed
        stands = dict(self.state.positions).get(name, (self.device.declared.positions or ("0", "1"))[0])
        for contact in self.device.contacts:
            at = stands == contact.position if contact.position is not None else (contact.form == "NO") == moved
            if at:
                self.closed(self.pin(contact.a), self.pin(contact.b))

    def _controller(self) -> None:
        polarity = {(g.device, g.group): g.polarity for g in self.net.design.declared.groups}
        for t in self.device.profile.terminals:
            first, on = self.pin(t.pins[0]), f"{self.device.name}:{t.pins[0]}" in self.state.energised and not self.dead
            zero = self.pin(t.common) if t.common else self.role("zero") if "zero" in self.by_role else None
            match t.role:
                case "supply_out" | "reference_out" if zero and not self.dead:
                    self._supply(t.role, first, zero, t)
                case "supply_in" if zero and t.draws:
                    self.net.resistor(first, zero, 24.0 / t.draws.si)
                case "relay":
                    if t.form in ("NO", "changeover") and on:
                        self.closed(first, self.pin(t.pins[-1]))
                    if t.form in ("NC", "changeover") and not on:
                        self.closed(first, self.pin(t.pins[1]))
                case "digital_out" if on:
                    self.net.resistor(self.pin(t.feed), first, TRANSISTOR)
                case "digital_in" if zero:
                    role = next((x.role for x in self.device.profile.terminals if x.label == t.common), "")
                    sink = polarity.get((self.device.name, t.group)) == "sink" and role != "common"
                    back = "supply_out" if "supply_out" in self.by_role else "supply_in"
                    self.net.resistor(first, self.role(back) if sink else zero, self._ohm(t, "", 4000.0))
                case "safe_torque_off":
                    self.net.resistor(first, self.pin(t.pins[-1]), self._ohm(t, "", 4000.0))
                case "motor_thermistor" if not self.dead:
                    self.net.current(first, self.pin(t.pins[-1]), f"@ < 5 ? (@-5)/3300 : {BLEED}*(@-5)")
                case "analog_in":
                    other = self.pin(t.pins[1]) if len(t.pins) == 2 else zero or self.role("analog_zero")
                    self.net.resistor(first, other, self._ohm(t, self.net.signal.get(first, ""), 4000.0))
                case "analog_out" if (
                    first in self.net.signal and not self.dead and self.device.name not in self.net.unfed
                ):
                    other = self.pin(t.pins[1]) if len(t.pins) == 2 else zero or self.role("analog_zero")
                    self._active(first, other, self.net.signal[first], str(first), t)

    def _ohm(self, terminal, signal: str, otherwise: float) -> float:  # type: ignore[no-untyped-def]
        given = terminal.resistance
        if given is None:
            return otherwise
        if isinstance(given, dict):
            return float((given.get(signal) or next(iter(given.values()))).si)
        return float(given.si)

    def _supply(self, role: str, plus: Pin, zero: Pin, terminal) -> None:  # type: ignore[no-untyped-def]
        volts = number(self.device.declared.voltage or terminal.volts)
        limit = terminal.limit.si
        sag = 0.15 if role == "supply_out" else 0.015
        self._source(plus, zero, volts, sag / limit, limit)

    def _source(self, plus: Pin, zero: Pin, volts: float, ohm: float, limit: float) -> None:
        knee = volts - limit * ohm
        low, high = f"-{limit:.12g}+{BLEED}*(@-{knee:.12g})", f"{BLEED}*(@-{volts:.12g})"
        self.net.current(
            plus, zero, f"@ < {knee:.12g} ? {low} : (@ < {volts:.12g} ? (@-{volts:.12g})/{ohm:.12g} : {high})"
        )

    def _active(self, a: Pin, b: Pin, signal: str, name: str, terminal) -> None:  # type: ignore[no-untyped-def]
        middle = {"0-10 V": 5.0, "-10-10 V": 0.0, "0-20 mA": 0.010}.get(signal, 0.012)
        value = dict(self.state.signals).get(name, dict(self.state.signals).get(self.device.name, middle))
        if "V" in signal:
            self._source(a, b, value, 1.0, 0.02)
        elif value > 0:
            most = 0.02 * (terminal.burden[signal].si if terminal is not None and signal in terminal.burden else 500.0)
            slope = f"-{value}+(@-{most})*{value}"
            self.net.current(a, b, f"@ < {most} ? -{value} : (@ < {most + 1} ? {slope} : 0)")

    def _load(self) -> None:
        pins = [p for t in self.device.profile.terminals if t.role in ("coil", "load") for p in t.pins]
        said = self.device.declared.coil or self.device.declared.voltage
        volts = number(said) if said else self.figures.get("voltage", 24.0)
        own = self.figures.get("voltage", volts)
        amps = self.figures["power"] / volts if "power" in self.figures else self.figures["current"] * own / volts
        a, b = self.pin(pins[0]), self.pin(pins[1])
        self.net.resistor(a, b, volts / amps)
        direct = not said or ("AC" not in said and volts <= 60)
        if self.device.profile.suppression == "diode" and direct:
            self.net.current(b, a, "@ < 0.7 ? 0 : (@-0.7)/1")

    def _of_safety_relay(self) -> None:
        coil = next(t for t in self.device.profile.terminals if t.role == "coil")
        for t in self.device.profile.terminals:
            if t.role in ("channel", "reset"):
                self.net.resistor(self.pin(coil.pins[0]), self.pin(t.pins[0]), 100.0)
                self.net.resistor(self.pin(t.pins[1]), self.pin(coil.pins[1]), 4000.0)

    def _of_fuse(self) -> None:
        self.net.resistor(self.pin("1"), self.pin("2"), 0.05)

    def _of_resistor(self) -> None:
        self.net.resistor(self.pin("1"), self.pin("2"), self.figures["resistance"])

    def _of_thermistor(self) -> None:
        hot = self.device.name in self.state.operated
        ohm = self.figures["hot_least" if hot else "cold_most"]
        self.net.resistor(self.pin(self.device.pins[0]), self.pin(self.device.pins[-1]), ohm)

    def _of_meter(self) -> None:
        terminal = next(t for t in self.device.profile.terminals if t.role == "plus")
        ohm = self._ohm(terminal, self.net.partner.get(self.device.name, ""), 100.0)
        self.net.resistor(self.role("plus"), self.role("minus"), ohm)

    def _of_potentiometer(self) -> None:
        said = self.device.declared.resistance
        whole = number(said) if said else self.figures["resistance"]
        at = min(max(dict(self.state.settings).get(self.device.name, 0.5), 0.0), 1.0)
        self.net.resistor(self.role("low_end"), self.role("wiper"), max(1.0, whole * at))
        self.net.resistor(self.role("wiper"), self.role("high_end"), max(1.0, whole * (1 - at)))

    def _of_transmitter_two_wire(self) -> None:
        amps = dict(self.state.signals).get(self.device.name, 0.012)
        least = self.figures["lift_off"]
        self.net.current(
            self.role("plus"), self.role("minus"), f"@ < 0 ? 0 : (@ < {least} ? {amps}*@/{least} : {amps})"
        )

    def _of_transmitter_three_wire(self) -> None:
        self._own_need()
        signal = self.net.partner.get(self.device.name) or "4-20 mA"
        if self.device.name in self.net.unfed:
            return
        if "V" in signal:
            self._active(self.role("output"), self.role("minus"), signal, self.device.name, None)
        else:
            amps = dict(self.state.signals).get(self.device.name, 0.010 if signal == "0-20 mA" else 0.012)
            if amps > 0:
                law = f"@ < 0 ? 0 : (@ < 2 ? {amps}*@/2 : {amps})"
                self.net.current(self.role("plus"), self.role("output"), law)

    def _of_transmitter_four_wire(self) -> None:
        self._own_need()
        if self.device.name not in self.net.unfed:
            output = next(t for t in self.device.profile.terminals if t.role == "output")
            signal = self.net.partner.get(self.device.name) or "4-20 mA"
            self._active(self.role("output"), self.role("output_return"), signal, self.device.name, output)

    def _own_need(self) -> None:
        plus = next(t for t in self.device.profile.terminals if t.role == "plus")
        self.net.resistor(self.role("plus"), self.role("minus"), 24.0 / plus.draws.si if plus.draws else 1200.0)

    def _of_proximity_two_wire(self) -> None:
        self._switch(self.role("plus"), self.role("minus"))

    def _of_proximity_three_wire(self) -> None:
        self._own_need()
        if self.device.name not in self.net.unfed:
            npn = self.device.declared.output == "NPN"
            self._switch(
                *((self.role("output"), self.role("minus")) if npn else (self.role("plus"), self.role("output")))
            )

    def _switch(self, a: Pin, b: Pin) -> None:
        if (self.device.name in self.state.operated) != (self.device.declared.contact == "NC"):
            drop = self.figures.get("drop", 3.0)
            self.net.current(a, b, f"@ < {drop} ? 0 : (@-{drop})/10")
        elif leak := self.figures.get("leakage", 0.0):
            self.net.current(a, b, f"@ < 0 ? 0 : (@ < 5 ? {leak}*@/5 : {leak})")

    def _of_transformer(self) -> None:
        a, b = (self.pin(t.label) for t in self.device.profile.terminals if t.role == "secondary")
        volts = number(self.device.declared.voltage) if self.device.declared.voltage else self.figures["voltage"]
        power = self.figures["power"]
        if said := self.device.declared.power:
            power = float(said.split()[0]) * (1000.0 if "kVA" in said else 1.0)
        ohm = 0.05 * volts**2 / power
        self.net.current(a, b, f"@ < {volts} ? (@-{volts})/{ohm:.12g} : {BLEED}*(@-{volts})")


def volts(
    design: wiregen.Design, state: State, picked: frozenset[str], unfed: frozenset[str], start: dict[Pin, float]
) -> dict[Pin, float]:
    """What the simulator finds at every pin."""
    return Netlist(design, state, picked, unfed).run(start)


def examples() -> Iterator[Path]:
    yield from sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))

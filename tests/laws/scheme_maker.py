"""Makes random schemes for hypothesis: one to three drives, shared cards, contacts, sensors, signals, loads, places.

Every contact and load is used once, and names are those of the format, so that what comes out can be read; whether it
can also be supplied and allocated is left open.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import yaml
from hypothesis import strategies as st

T = TypeVar("T")
Table = dict[str, Any]

PLACES: Table = {"+C1": {"name": "Cabinet"}, "+F1": {"route": "35 m"}, "+F2": {"route": "12 m"}}
CARDS = ("io_digital_in_16", "io_digital_out_16", "io_relay_out_8", "io_analog_in_8", "io_analog_out_4")
CONTACTS = ("push_button", "contact", "limit_switch", "selector")
LOADS = ("pilot_lamp", "horn", "solenoid_valve", "interposing_relay", "contactor")
ZERO_VOLTS = ("earthed", "floating", "inside", "joined")


class Maker:
    """Draws one scheme."""

    def __init__(self, draw: Callable[[st.SearchStrategy[Any]], Any]) -> None:
        self._draw = draw
        self._count = 0
        self.devices: Table = {}
        self.control: Table = {}
        self.supplies: list[str] = []
        self.drives: list[str] = []
        self.cards: dict[str, str] = {}
        self.looped: list[str] = []  # transmitters whose loop passes the analog card

    def one(self, *of: T) -> T:
        return self._draw(st.sampled_from(of))  # type: ignore[no-any-return]

    def maybe(self, percent: int = 50) -> bool:
        return bool(self._draw(st.integers(0, 99)) < percent)

    def device(self, letters: str, profile: str, at: str | None = None, **more: Any) -> str:
        self._count += 1
        name = f"-{letters}{self._count}"
        place = at or self.one("+C1", "+F1", "+F1", "+F2")
        self.devices[name] = {"profile": profile, "at": place, **{k: v for k, v in more.items() if v is not None}}
        return name

    def scheme(self) -> Table:
        for _ in range(self.one(1, 1, 1, 1, 1, 2, 0)):
            self.supplies.append(self.device("TB", "supply_24v", "+C1" if self.maybe(95) else "+F1"))
            if self.maybe(20):
                self.devices[self.supplies[-1]]["zero_volt"] = self.one("earthed", "floating", "inside")
        for profile in CARDS:
            if self.supplies and self.maybe(40):
                place = "+C1" if self.maybe(85) else "+F1"
                self.cards[profile] = self.device("KE", profile, place, supply=self.said_supply())
        self.drives = [
            self.device("TA", self.one("drive_compact", "drive_extended"), "+C1" if self.maybe(75) else "+F2")
            for _ in range(self.one(1, 1, 2, 3))
        ]
        for drive in self.drives:
            self.control[drive] = self.drive(drive)
        for card in self.cards.values():
            section = self.card(card)
            if section:
                self.control[card] = section
        scheme: Table = {"scheme": "Made up", "practice": self.one("iec", "nfpa"), "places": PLACES}
        scheme |= {"devices": self.devices, "control": self.control}
        if self.maybe(20):
            scheme["cabling"] = self.cabling()
        return scheme

    def cabling(self) -> Table:
        classes = {
            "control": {"area": self.one("0.5 mm2", "AWG 16"), "spare": self.one("0 %", "100 %")},
            "analog": {"screen": self.one("none", "cabinet end", "both ends"), "pairs": self.one("yes", "no")},
        }
        return {"spare": self.one("10 %", "50 %"), "classes": classes}

    def a_supply(self) -> str | None:
        return self.one(*self.supplies) if self.supplies else None

    def said_supply(self, own: str = "") -> str | None:
        """A supply, said always where the place does not have just one; ``own`` is a controller that could feed it."""
        if len(self.supplies) == 1:
            return self.supplies[0] if self.maybe(15) else None
        if self.maybe(5):
            return None
        return self.a_supply() or own or None

    # Drives

    def drive(self, drive: str) -> Table:
        section: Table = {"restart": self.one("allowed", "needs_start")}
        if zero := self.zero_volt():
            section["zero_volt"] = zero
        polarity = self.one("source", "source", "sink")
        section["inputs"] = self.inputs(polarity)
        section["run"] = self.run(polarity)
        if self.maybe(15):
            section |= self.runs(polarity)
        section |= self.travel(polarity)
        for key in ("enable", "external_trip", "reset", "reverse", "raise", "lower"):
            if self.maybe(25):
                section[key] = self.contact(polarity)
        section |= self.speed(drive)
        section["relays"] = self.relays(drive)
        if self.maybe(25):
            section["shows"] = {"speed": self.show()}
        return section

    def zero_volt(self) -> Any:
        said = self.one(None, "joined", "joined", "joined", "floating", "earthed", "inside")
        if said == "joined":
            return {"joined_to": self.a_supply()} if self.supplies else None
        return said

    def inputs(self, polarity: str) -> Any:
        if self.maybe(20) and self.supplies:
            return {"wired": polarity, "supply": self.a_supply()}
        return {"group 1": polarity, "group 2": self.one("source", "sink")} if self.maybe(10) else polarity

    def run(self, polarity: str) -> Table:
        if self.maybe():
            run = {"method": "three-wire", "start": self.contact(polarity), "stop": self.contact(polarity)}
            return run | ({"start_reverse": self.contact(polarity)} if self.maybe(20) else {})
        method = self.one("two-wire", "two-wire", "hold-to-run")
        run = {"method": method, "forward": self.driver(polarity)}
        return run | ({"reverse": self.driver(polarity)} if self.maybe(30) else {})

    def runs(self, polarity: str) -> Table:
        """Several runs; one of them may come over the network, and one stop may stop all."""
        runs: Table = {"near": self.run(polarity), "far": self.run(polarity)}
        if self.maybe(30):
            runs["net"] = {"method": "two-wire", "from": "network"}
        stop = runs["near"].get("stop")
        return {"run": runs} | ({"always_stops": stop or self.contact(polarity)} if self.maybe(40) else {})

    def travel(self, polarity: str) -> Table:
        """Limits, jog and an override."""
        found: Table = {}
        if self.maybe(10):
            found["limits"] = {"forward": self.contact(polarity), "reverse": self.contact(polarity)}
        if self.maybe(10):
            found["jog"] = {"forward": self.contact(polarity)}
        if self.maybe(10):
            override = {"by": self.contact(polarity), "ignores": self.one("stop", "enable"), "why": "made up"}
            found["override"] = {"fire": override}
        return found

    def contact(self, polarity: str) -> Any:
        """A contact of a new device, or a sensor that fits the polarity."""
        kind = self.one(*CONTACTS, *CONTACTS, "sensor")
        if kind == "sensor":
            return self.sensor(polarity)
        if kind == "selector":
            positions = self.one(["OFF", "ON"], ["AA", "MID", "BB"])
            return self.device("SJ", "selector", positions=positions) + f"@{positions[-1]}"
        use: Any = self.device("SJ", kind, contact=self.one("NO", "NC", None), supply=self.odd_supply())
        if self.maybe(15):
            use = self.device("SJ", kind, contacts=["NO", "NC"]) + self.one(".13-14", ".21-22")
        elif self.maybe(15):
            use = self.device("SJ", kind, contact="changeover") + self.one(".11-12", ".11-14")
        return {"by": use, "healthy": self.one("closed", "open")} if self.maybe(15) else use

    def odd_supply(self) -> str | None:
        return self.a_supply() if self.maybe(5) else None

    def sensor(self, polarity: str) -> str:
        if self.maybe(40):
            return self.device("BG", "proximity_two_wire")
        output = {"source": "PNP", "sink": "NPN"}[polarity]
        return self.device("BG", "proximity_three_wire", output=output if self.maybe(97) else "PNP")

    def driver(self, polarity: str) -> Any:
        outputs = [c for p, c in self.cards.items() if p in ("io_digital_out_16", "io_relay_out_8")]
        if outputs and self.maybe(60) and (polarity == "source" or self.maybe(30)):
            return self.one(*outputs)
        return self.contact(polarity)

    def speed(self, drive: str) -> Table:
        names = ["slow", "fast", "auto", "fill"][: self.one(1, 2, 2, 4)]
        speed = {name: self.reference(drive) for name in names}
        if len(names) == 1:
            return {"speed": speed}
        if len(names) == 2:
            by = [self.device("SJ", "selector", positions=["ONE", "TWO"])]
            return {"speed": speed, "select": {"by": by, "when": dict(zip(("ONE", "TWO"), names, strict=True))}}
        by = [self.device("SJ", "selector", positions=["L", "H"]), self.contact("source")]
        codes = dict(zip(("00", "01", "10", "11"), names, strict=True))
        return {"speed": speed, "select": {"by": by, "when": codes}}

    def reference(self, drive: str) -> Table:
        kind = self.one("preset", "preset", "preset", "pot", "transmitter", "card", "drive")
        if kind == "pot":
            return {"from": self.device("RA", "potentiometer"), "signal": "0-10 V", "spans": "0 to 50 Hz"}
        if kind == "transmitter" and self.maybe(25):
            feedback = {"from": self.transmitter(drive), "signal": "4-20 mA", "spans": "0 to 9 bar"}
            return {"spans": "20 to 50 Hz", "process": {"setpoint": {"preset": "4 bar"}, "feedback": feedback}}
        if kind == "transmitter":
            return {"from": self.transmitter(drive), "signal": "4-20 mA", "spans": "15 to 50 Hz", "on_low": "trip"}
        others = [d for d in self.drives if d != drive]
        if kind == "card" and "io_analog_out_4" in self.cards:
            return {"from": self.cards["io_analog_out_4"], "signal": self.one("0-10 V", "4-20 mA")}
        if kind == "drive" and others:
            return {"from": self.one(*others), "signal": "4-20 mA", "spans": "0 to 50 Hz"}
        return {"preset": self.one("10 Hz", "22 Hz", "48 Hz")}

    def transmitter(self, own: str = "") -> str:
        wires = self.one("two", "two", "three", "four")
        isolated = self.one(None, "yes", "no") if wires == "four" else None
        supply = self.said_supply(own) if wires == "four" else self.odd_supply()
        name = self.device("BP", f"transmitter_{wires}_wire", isolated=isolated, supply=supply)
        card = self.cards.get("io_analog_in_8")
        if card and own and self.maybe(30):
            self.devices[name]["loop"] = [card, own]
            self.looped.append(name)
        return name

    def relays(self, drive: str) -> Table:
        found: Table = {}
        for name in ("fault", "running", "at_speed"):
            if self.maybe(45):
                found[name] = self.duty(drive)
        if self.maybe(30) and self.devices[drive]["profile"] == "drive_extended":
            found["ready"] = {"switches": self.device("PF", "pilot_lamp"), "contact": "transistor"}
        return found

    def duty(self, drive: str) -> Any:
        if self.maybe(35) and "io_digital_in_16" in self.cards:
            return {"switches": self.cards["io_digital_in_16"]}
        # A valve is too much for the relays of the smaller drive.
        duty: Table = {"switches": self.load(*(p for p in LOADS if p != "solenoid_valve"))}
        if self.maybe(25):
            duty["contact"] = self.one("NO", "NC")
        if supply := self.said_supply(drive):
            duty["supply"] = supply
        return duty

    def load(self, *profiles: str) -> str:
        profile = self.one(*(profiles or LOADS))
        return self.device({"pilot_lamp": "PF", "horn": "PJ", "solenoid_valve": "QM"}.get(profile, "KF"), profile)

    def show(self) -> Table:
        if "io_analog_in_8" in self.cards and self.maybe():
            return {"on": self.cards["io_analog_in_8"], "signal": self.one("0-10 V", "4-20 mA")}
        return {"on": self.device("PG", "panel_meter"), "signal": "4-20 mA", "spans": "0 to 50 Hz"}

    # Cards

    def card(self, card: str) -> Table:
        profile = self.devices[card]["profile"]
        names = [f"point {n}" for n in range(self.one(0, 1, 3))]
        if profile == "io_digital_in_16":
            polarity = self.one("source", "source", "sink")
            reads = {name: self.contact(polarity) for name in names}
            return ({"inputs": polarity} if self.maybe(80) else {}) | ({"reads": reads} if reads else {})
        if profile == "io_analog_in_8":
            reads = {name: self.transmitter() for name in names}
            reads |= {f"of {transmitter}".replace("-", ""): transmitter for transmitter in self.looped[:4]}
            return {"reads": reads} if reads else {}
        if profile == "io_analog_out_4":
            return {"shows": {"load": self.show()}} if names else {}
        return {"operates": {name: self.operated() for name in names}} if names else {}

    def operated(self) -> Any:
        supply = self.said_supply()
        return {"switches": self.load(), "supply": supply} if supply else self.load()


def scheme_texts() -> st.SearchStrategy[str]:
    """Schemes as a user would write them, as text."""

    @st.composite
    def made(draw: Callable[[st.SearchStrategy[Any]], Any]) -> str:
        return yaml.safe_dump(Maker(draw).scheme(), sort_keys=False)

    return made()

"""Random schemes full of contacts in series and in parallel, relays that hold themselves in and relays between."""

from __future__ import annotations

import random
from typing import Any

import yaml

Table = dict[str, Any]
PLACES = ("+C1", "+F1", "+F2")


class TreeScheme:
    """A scheme with a drive and a card whose inputs, and with relays whose coils, hang on random trees of contacts."""

    def __init__(self, seed: int, practice: str = "iec") -> None:
        self.random = random.Random(seed)
        self.practice = practice
        self.devices: Table = {
            "-TB1": {"profile": "supply_24v", "at": "+C1"},
            "-TA1": {"profile": "drive_extended", "at": "+C1"},
            "-KE1": {"profile": "io_digital_in_16", "at": "+C1"},
        }
        self.control: Table = {}
        self._count = 0

    def text(self) -> str:
        drive: Table = {
            "inputs": {"wired": self.random.choice(("source", "sink")), "supply": "-TB1"},
            "zero_volt": {"joined_to": "-TB1"},
            "restart": "needs_start",
            "enable": self.tree(3),
            "external_trip": self.tree(2),
        }
        relays = self._relays()
        drive["reset"] = self.random.choice(relays)
        drive["relays"] = {"running": self._behind_a_relay()}
        if self.random.random() < 0.7:
            drive["reverse"] = {**self._long(self.tree(1)), "through": self._relay()}
        card = {"inputs": "source", "reads": {f"signal {n}": self.tree(2) for n in range(self.random.randint(0, 3))}}
        scheme: Table = {
            "scheme": "Trees of contacts",
            "practice": self.practice,
            "places": {
                "+C1": {"name": "Cabinet"},
                "+F1": {"name": "Machine", "route": "20 m"},
                "+F2": {"name": "Desk", "route": "7 m"},
            },
            "devices": self.devices,
            "control": {"-TA1": drive, "-KE1": card, **self.control},
        }
        return yaml.safe_dump(scheme, sort_keys=False)

    def tree(self, depth: int) -> str | Table:
        if depth == 0 or self.random.random() < 0.25:
            return self._contact()
        parts = [self.tree(depth - 1) for _ in range(self.random.randint(2, 4 if depth < 3 else 3))]
        return {self.random.choice(("all", "any")): parts}

    def _long(self, use: str | Table) -> Table:
        return {"by": use} if isinstance(use, str) else use

    def _contact(self) -> str:
        self._count += 1
        name = f"-SJ{self._count}"
        at = self.random.choice(PLACES)
        kind = self.random.randrange(4)
        if kind == 0:
            self.devices[name] = {"profile": "selector", "positions": ["A", "B", "C"], "at": at, "text": "Manner"}
            self.devices[name]["contacts"] = {"A": 1, "C": 2}
            return f"{name}@{self.random.choice(('A', 'C', 'C.2'))}"
        if kind == 1:
            self.devices[name] = {"profile": "push_button", "contacts": ["NC", "NO"], "at": at, "text": "Button"}
            return f"{name}.{self.random.choice(('11-12', '23-24'))}"
        if kind == 2:
            self.devices[name] = {"profile": "contact", "contact": "NC", "at": at, "text": "Oil"}
            self.devices[name]["operated_when"] = "oil pressure under 2 bar"
            return name
        self.devices[name] = {"profile": "limit_switch", "contact": "NO", "at": at}
        return name

    def _relay(self) -> str:
        self._count += 1
        name = f"-KF{self._count}"
        at = self.random.choice((*PLACES, "+C1"))
        self.devices[name] = {"profile": "interposing_relay", "poles": "4", "at": at, "supply": "-TB1"}
        return name

    def _relays(self) -> list[str]:
        """Relays that hold themselves in, and lock one another out."""
        first, second = self._relay(), self._relay()
        for one, other in ((first, second), (second, first)):
            hold = {"any": [self.tree(1), f"{one}.31-34"]}
            self.control[one] = {"energise": {"all": [self._contact(), hold, f"{other}.21-22"]}, "supply": "-TB1"}
        return [f"{first}.11-14", f"{second}.11-14"]

    def _behind_a_relay(self) -> Table:
        self._count += 1
        load = f"-MB{self._count}"
        profile = self.random.choice(("solenoid_valve", "pilot_lamp", "horn"))
        self.devices[load] = {"profile": profile, "at": self.random.choice(PLACES)}
        return {"switches": load, "supply": "-TB1", "through": self._relay()}

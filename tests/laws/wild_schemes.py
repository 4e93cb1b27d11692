"""Schemes that can be read and make no sense: names of devices exchanged, terminals and sections at random."""

from __future__ import annotations

import random as standard
from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st
from scheme_maker import Maker, Table

#: Keys whose text names a device, a contact, or a supply.
_NAMED = (
    "from",
    "switches",
    "on",
    "supply",
    "joined_to",
    "by",
    "start",
    "stop",
    "forward",
    "reverse",
    "enable",
    "reset",
)
_ZERO_VOLTS = ("earthed", "floating", "inside")


class Wild:
    """Spoils a scheme in a few places."""

    def __init__(self, scheme: Table, random: standard.Random) -> None:
        self.scheme = scheme
        self.random = random
        self.names: list[str] = list(scheme["devices"])
        self.cards = [n for n in self.names if n.startswith("-KE")]
        self.controllers = [n for n in self.names if n.startswith(("-TA", "-TB", "-KE"))]

    def spoil(self) -> Table:
        for _ in range(self.random.randint(1, 6)):
            self.random.choice((self.exchange, self.exchange, self.exchange, self.fix, self.tie, self.section))()
        return self.scheme

    def name(self) -> str:
        return self.random.choice(self.names)

    def exchange(self) -> None:
        """Another device where one is named."""
        tables = list(_tables(self.scheme["control"]))
        named = [
            (t, k) for t in tables for k, v in t.items() if k in _NAMED and isinstance(v, str) and v.startswith("-")
        ]
        if named:
            table, key = self.random.choice(named)
            table[key] = self.name()

    def fix(self) -> None:
        device = self.random.choice([n for n in self.names if n.startswith("-TA")])
        terminal = self.random.choice(("DI1", "DI2", "AI1", "24V", "21", "22", "AO1", "COM"))
        what = self.random.choice(("start", "stop", "fault", "run forward", "reference slow", {"keep_free": "broken"}))
        self.scheme.setdefault("fixed", {}).setdefault(device, {})[terminal] = what

    def tie(self) -> None:
        said = self.random.choice((*_ZERO_VOLTS, {"joined_to": self.name()}, {"joined_to": self.name()}))
        self.scheme["devices"][self.random.choice(self.controllers)]["zero_volt"] = said

    def section(self) -> None:
        """A card that reads and operates anything, twice under one name."""
        if not self.cards:
            return
        card = self.random.choice(self.cards)
        reads = {"point": self.name(), "running of -TA2": self.name()}
        self.scheme["control"][card] = {"reads": reads, "operates": {"point": self.name(), "lamp": self.name()}}


def _tables(value: Any) -> list[Table]:
    if not isinstance(value, dict):
        return []
    return [value, *(t for v in value.values() for t in _tables(v))]


def wild_schemes() -> st.SearchStrategy[Table]:
    @st.composite
    def made(draw: Callable[[st.SearchStrategy[Any]], Any]) -> Table:
        return Wild(Maker(draw).scheme(), draw(st.randoms(use_true_random=False))).spoil()

    return made()

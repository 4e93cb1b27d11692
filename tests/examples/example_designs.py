"""The examples, designed once, and short questions about them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import wiregen
from wiregen import documents
from wiregen.pipeline import Design
from wiregen.terms import Pin

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def designed(name: str) -> Design:
    return wiregen.design(wiregen.read(EXAMPLES / f"{name}.yaml"))


def terminals(name: str) -> dict[str, str]:
    """``-TA1 start`` -> the first pin of its channel."""
    return {f"{a.device} {a.function}": a.channel for a in designed(name).allocation.assignments}


def cables(name: str) -> list[tuple[str, str, str, int, int, float, bool, float | None]]:
    """From, to, class, cores, used, mm2, screened, m."""
    return [
        (c.a, c.b, c.category, c.cores, c.used, c.area_mm2, c.screened, c.length_m)
        for c in designed(name).wiring.cables
    ]


def findings(name: str) -> list[tuple[str, str]]:
    """Severity and code, errors first, then by code."""
    order = ("error", "warning", "note")
    found = [(str(f.severity), f.code) for f in designed(name).findings]
    return sorted(found, key=lambda f: (order.index(f[0]), f[1]))


def settings(name: str) -> dict[str, str]:
    """Function or subject -> what has to be set for it; of several drives the first."""
    found: dict[str, str] = {}
    for row in documents.function_table(designed(name)).records():
        if row["setting"]:
            found.setdefault(str(row["function"]), str(row["setting"]))
    return found


def closes(name: str, device: str, a: str, b: str, function: str, feed: str) -> bool:
    """Whether a contact lies between its feed and the terminal of a function, and joins nothing else."""
    wiring = designed(name).wiring
    near, far = wiring.potential_of(Pin(device, b)), wiring.potential_of(Pin(device, a))
    controller = function.split(" ")[0]
    terminal = Pin(controller, terminals(name)[function])
    if near is None or far is None or near == far:
        return False
    own = {p for p in near.pins if not p.device.startswith("-X")}
    return own == {terminal, Pin(device, b)} and Pin(*feed.split(":")) in far.pins

"""Sneak paths, against the voltages that a nodal analysis of the wired circuit gives in every state."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Mapping
from typing import Any

import networkx as nx
import numpy as np
import pytest
import yaml
from review_schemes import designed, found

from wiregen.control.functions import Contact, ContactTree, Function, Leg, Parallel, Series
from wiregen.drawing import sheet_set
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.netlist import graph, metal

HIGH = 15.0  # V, above which an input of type 1 or 3 is on: IEC 61131-2, from memory
OHM = {"contact": 0.01, "input": 4000.0, "load": 576.0}
LEAK = 1e9  # ohm to 0 V, so that a net that nothing is wired to has a voltage
Vector = np.ndarray[Any, Any]
State = Mapping[str, bool]

BUTTONS = {"-SJ1": ["NC", "NO", "NC", "NO"], "-SJ2": ["NC", "NC", "NO", "NO"], "-SJ3": ["NO", "NC", "NO", "NC"]}
RELAYS = {"-KF1": ["11-14", "11-12", "21-24", "31-32"], "-KF2": ["11-14", "21-22", "31-34", "31-32"]}
POOL = [
    f"{name}.{n}{'1-' + n + '2' if form == 'NC' else '3-' + n + '4'}"
    for name, forms in BUTTONS.items()
    for n, form in zip("1234", forms, strict=True)
]
POOL += [f"{name}.{contact}" for name, contacts in RELAYS.items() for contact in contacts]


def shared_scheme(seed: int) -> str:
    """Functions that share some contacts, and use both throws of one changeover."""
    chance = random.Random(seed)
    unused = chance.sample(POOL, len(POOL))
    again = chance.choice((0.0, 0.1, 0.3))  # how often a contact is used a second time

    def contact() -> str:
        if unused and chance.random() >= again:
            return unused.pop()
        return chance.choice(POOL)

    def tree(depth: int) -> Any:
        if depth == 0 or chance.random() < 0.3:
            return contact()
        return {chance.choice(("all", "any")): [tree(depth - 1) for _ in range(chance.randint(2, 3))]}

    def shares(name: str) -> dict[str, Any]:
        return {"at": "+C1", "shared": [c.partition(".")[2] for c in POOL if c.startswith(name)]}

    relay = {"profile": "interposing_relay", "poles": "3", "supply": "-TB1"}
    drive = {"inputs": {"wired": "source", "supply": "-TB1"}, "zero_volt": {"joined_to": "-TB1"}}
    buttons = {n: {"profile": "push_button", "contacts": forms, **shares(n)} for n, forms in BUTTONS.items()}
    scheme = {
        "scheme": "Shared contacts",
        "places": {"+C1": {"name": "Cabinet"}},
        "devices": {
            "-TB1": {"profile": "supply_24v", "at": "+C1"},
            "-TA1": {"profile": "drive_extended", "at": "+C1"},
            **buttons,
            **{name: {**relay, **shares(name)} for name in RELAYS},
        },
        "control": {
            "-TA1": {
                **drive,
                "restart": "needs_start",
                **{name: tree(2) for name in ("enable", "external_trip", "reverse")},
            },
            "-KF1": {"energise": tree(2), "supply": "-TB1"},
            "-KF2": {"energise": tree(1), "supply": "-TB1"},
        },
    }
    return yaml.safe_dump(scheme, sort_keys=False)


def is_closed(contact: Contact, state: State) -> bool:
    return (contact.form == "NO") == state[contact.device]


def conducts(tree: ContactTree, state: State) -> bool:
    if isinstance(tree, Leg):
        return is_closed(tree.contact, state)
    parts = [conducts(part, state) for part in tree.parts]
    return all(parts) if isinstance(tree, Series) else any(parts)


def tree_of(function: Function) -> ContactTree:
    assert isinstance(function.partner, Leg | Series | Parallel)
    return function.partner


class Bench:
    """The wired circuit with its supply on."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self.circuit = graph(design.declared, design.wiring)
        whole = metal(self.circuit)
        whole.add_nodes_from(self.circuit.nodes)
        self.net = {pin: n for n, part in enumerate(nx.connected_components(whole)) for pin in part}
        self.contacts = {d.name: d.contacts for d in design.declared.devices if d.contacts}

    def states(self) -> Iterator[State]:
        """Every state in which each relay stands as its declared circuit has it."""
        names = list(self.contacts)
        coils = [f for f in self.design.functions if f.coil is not None]
        for values in itertools.product((False, True), repeat=len(names)):
            state = dict(zip(names, values, strict=True))
            if all(state[f.controller] == conducts(tree_of(f), state) for f in coils):
                yield state

    def volts(self, state: State) -> Vector:
        size = len(set(self.net.values()))
        conductance = np.eye(size) / LEAK
        for a, b, data in self.circuit.edges(data=True):
            kind = data["kind"]
            if kind in ("input", "load"):
                self._add(conductance, a, b, OHM[kind])
        for contacts in self.contacts.values():
            for contact in contacts:
                if is_closed(contact, state):
                    self._add(
                        conductance, Pin(contact.device, contact.a), Pin(contact.device, contact.b), OHM["contact"]
                    )
        current = np.zeros(size)
        for name, value in (("24V", 24.0), ("0V", 0.0)):
            at = self.net[Pin("-TB1", name)]
            conductance[at, :] = 0.0
            conductance[at, at] = 1.0
            current[at] = value
        return np.linalg.solve(conductance, current)

    def _add(self, conductance: Vector, a: Pin, b: Pin, ohm: float) -> None:
        i, j = self.net[a], self.net[b]
        for one, other in ((i, j), (j, i)):
            conductance[one, one] += 1 / ohm
            conductance[one, other] -= 1 / ohm


def target(design: Design, function: Function) -> Pin:
    if function.coil is not None:
        return function.coil.a
    at = next(a for a in design.allocation.assignments if a.end == function.ends[0].id)
    return Pin(at.device, at.pins[0])


@pytest.mark.parametrize("seed", range(40))
def test_sneak_paths_are_those_that_the_voltages_show(seed: int) -> None:
    design = designed(shared_scheme(seed))
    bench = Bench(design)
    plus = bench.net[Pin("-TB1", "24V")]
    # What the wiring itself joins to the feed is wrong whatever the contacts do.
    fed = {f"{f.name} of {f.controller}" for f in design.functions if bench.net[target(design, f)] == plus}
    for state in bench.states():
        volts = bench.volts(state)
        for function in design.functions:
            high = volts[bench.net[target(design, function)]] > HIGH
            if conducts(tree_of(function), state):
                assert high, "what is declared closed is wired"
            elif high:
                fed.add(f"{function.name} of {function.controller}")
    assert {f.subject for f in found(design, "sneak-path")} == fed


def test_some_have_sneak_paths_and_some_have_none() -> None:
    with_path = [bool(found(designed(shared_scheme(seed)), "sneak-path")) for seed in range(40)]
    assert 5 < sum(with_path) < 38


@pytest.mark.parametrize("seed", range(0, 40, 5))
def test_shared_contacts_are_drawn_as_they_are_wired(seed: int) -> None:
    """Drawing reads its sheets back and refuses those that do not show the circuit."""
    titles = [sheet.title for sheet in sheet_set.draw(designed(shared_scheme(seed))).sheets]
    assert {"Contact circuits", "Relay circuits", "Contacts and relays"} & {title.split(",")[0] for title in titles}


def test_the_state_and_the_way_are_named() -> None:
    """Two functions over the two throws of one changeover: its common pin joins what lies before them."""
    text = """
scheme: Changeover
places: {+C1: {name: Cabinet}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_compact, at: +C1}
  -KF1: {profile: interposing_relay, at: +C1}
  -SJ1: {profile: push_button, contact: NC, at: +C1}
  -SJ2: {profile: push_button, contact: NC, at: +C1}
  -SJ3: {profile: push_button, contact: NO, at: +C1}
control:
  -TA1:
    inputs: {wired: source, supply: -TB1}
    zero_volt: {joined_to: -TB1}
    restart: needs_start
    enable: {all: [-SJ1, -KF1.11-14]}
    external_trip: {all: [-SJ2, -KF1.11-12]}
  -KF1: {energise: -SJ3, supply: -TB1}
"""
    first, second = found(designed(text), "sneak-path")
    assert first.subject == "enable of -TA1"
    assert "through -SJ2.11-12 and -KF1.11-14" in first.message
    assert "with -KF1 energised, -SJ1 operated, -SJ3 operated" in first.message
    assert second.subject == "external trip of -TA1"
    assert "with -SJ2 operated" in second.message
    assert first.severity == "error"

"""The plant: a wired circuit, the controllers in it, and how both come to rest together.

How to use it, for somebody who has a design in hand::

    from wiregen.behaviour import Plant

    plant = Plant.of(scheme, declared, allocation, wiring)     # or Plant.of_design(design)
    rest = plant.at_rest()                                     # fed, reset, nobody touches anything
    pressed = plant.after(rest, rest.hands.operate("-SJ1"))
    running = plant.after(pressed, pressed.hands.release("-SJ1"))
    running.drive("-TA1").moving, running.drive("-TA1").hz     # 1, 24.05
    running.lit, running.picked                                # lamps and relays

    broken = plant.changed(Change(opened=("w07",)))            # another plant, with a fault in its wiring
    after = broken.after(running, running.hands)               # the fault comes while the motor runs

A `Standing` never changes; every call gives new ones. Many at once cost little more than one: use `settle`, which takes
any number of standings, each under hands of its own. A fault that is no `Change` of the circuit, such as a welded
contact, an output that stays on or a supply that is gone, is said in the `Hands`.

Time has no length here: what is held is held long enough, and the motor has come to its speed. One instant is one
solution of the circuit; the controllers then see new levels, move their outputs, and the circuit is solved again, until
nothing moves any more. What never comes to rest is marked `restless`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from wiregen.allocation.model import Allocation
from wiregen.behaviour.controllers import Controller, Output, SafetyRelay, Wire, controllers, outputs, wires
from wiregen.behaviour.drive import DriveMemory
from wiregen.behaviour.observing import Observer
from wiregen.behaviour.safety_relay import SafetyMemory
from wiregen.behaviour.standing import Hands, Memory, Reading, Standing
from wiregen.circuit import AS_DRAWN, Change, Circuit, State, build, solve
from wiregen.circuit.changes import changed
from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.wiring.model import Wiring


class DesignLike(Protocol):
    """What a `Design` has of what a plant is made of."""

    @property
    def scheme(self) -> Scheme: ...
    @property
    def declared(self) -> Declared: ...
    @property
    def allocation(self) -> Allocation: ...
    @property
    def wiring(self) -> Wiring: ...


#: After so many instants without rest a plant has none.
_INSTANTS = 30


@dataclass
class Effort:
    """How much work a plant has done: circuit solutions that were computed, and standings that were asked for."""

    solved: int = 0
    asked: int = 0


@dataclass(frozen=True, eq=False)
class Plant:
    """A circuit with its controllers; ``cards`` gives the functions that cards read,
    ``card_outputs`` their outputs. Made by `of` or `of_design`.

    ``doubt`` is what controllers take an input for whose voltage promises neither on (1) nor off (0).
    """

    circuit: Circuit
    observer: Observer
    controllers: tuple[tuple[str, Controller], ...]
    cards: tuple[tuple[str, tuple[Wire, ...]], ...]
    card_outputs: tuple[tuple[str, tuple[Output, ...]], ...] = ()
    doubt: int = 0
    effort: Effort = field(default_factory=Effort)
    _known: dict[State, Reading] = field(default_factory=dict)
    _steps: dict[tuple[object, ...], Memory] = field(default_factory=dict)
    _states: dict[tuple[object, ...], State] = field(default_factory=dict)

    @classmethod
    def of(cls, scheme: Scheme, declared: Declared, allocation: Allocation, wiring: Wiring) -> Plant:
        """The plant of a scheme that has been carried through control, allocation and wiring."""
        circuit = build(declared, allocation, wiring)
        observer = Observer(circuit, declared, allocation)
        cards = [d for d in declared.devices if d.kind == "card"]
        return cls(
            circuit,
            observer,
            tuple(controllers(scheme, declared, allocation, observer)),
            tuple((d.name, tuple(wires(declared, allocation, d.name, observer))) for d in cards),
            tuple((d.name, tuple(outputs(declared, allocation, d))) for d in cards),
        )

    @classmethod
    def of_design(cls, design: DesignLike) -> Plant:
        """The plant of a design."""
        return cls.of(design.scheme, design.declared, design.allocation, design.wiring)

    def changed(self, change: Change) -> Plant:
        """The same plant with a change in its wiring. Raises ValueError for a conductor that is not there."""
        if change == AS_DRAWN:
            return self
        return replace(self, circuit=changed(self.circuit, change), _known={})

    def doubting(self, doubt: int) -> Plant:
        """The same plant, whose controllers take doubtful inputs for ``doubt``."""
        return self if doubt == self.doubt else replace(self, doubt=doubt, _steps={})

    @property
    def fed_devices(self) -> tuple[str, ...]:
        """What loses its feed when the mains go: supplies, transformers and drives, in declared order."""
        return tuple(n for n, d in self.circuit.devices.items() if d.has_feed)

    @property
    def drives(self) -> tuple[str, ...]:
        return tuple(name for name, c in self.controllers if not isinstance(c, SafetyRelay))

    def cold(self, hands: Hands | None = None) -> Standing:
        """The plant before it was ever fed."""
        memories = tuple(
            (name, SafetyMemory() if isinstance(c, SafetyRelay) else DriveMemory()) for name, c in self.controllers
        )
        return Standing(hands or Hands(), memories)

    def at_rest(self, hands: Hands | None = None) -> Standing:
        """Fed, safety relays reset, no trip, under ``hands``: as a shift finds the plant before the first start."""
        own = hands or Hands()
        memories = tuple(
            (n, SafetyMemory(on=True) if isinstance(c, SafetyRelay) else m)
            for (n, c), (_, m) in zip(self.controllers, self.cold().memories, strict=True)
        )
        return self.settle([Standing(own, memories)], [own])[0]

    def after(self, standing: Standing, hands: Hands) -> Standing:
        """How a plant stands when its hands have changed and everything has come to rest again."""
        return self.settle([standing], [hands])[0]

    def settle(self, standings: Sequence[Standing], hands: Sequence[Hands]) -> list[Standing]:
        """Each of ``standings`` under the hands at its place, come to rest."""
        self.effort.asked += len(standings)
        # Equal questions have equal answers: each is asked once.
        numbers: dict[tuple[object, ...], int] = {}
        lanes: list[Standing] = []
        which = []
        for before, own in zip(standings, hands, strict=True):
            number = numbers.setdefault((before.memories, before.picked, own), len(lanes))
            if number == len(lanes):
                lanes.append(replace(before, hands=own, restless=False, doubtful=False))
            which.append(number)
        self._come_to_rest(lanes)
        return [lanes[n] for n in which]

    def _come_to_rest(self, lanes: list[Standing]) -> None:
        """Replace each standing by the one it ends as."""
        left = list(range(len(lanes)))
        for _ in range(_INSTANTS):
            readings = self._readings([lanes[n] for n in left])
            moved = []
            for n, reading in zip(left, readings, strict=True):
                before = lanes[n]
                memories = self._step(before, reading)
                doubtful = before.doubtful or -1 in reading.levels
                lanes[n] = Standing(before.hands, memories, reading, reading.restless, doubtful)
                settled = memories == before.memories and before.reading == reading
                if not settled and not reading.restless:
                    moved.append(n)
            left = moved
            if not left:
                return
        for n in left:
            lanes[n] = replace(lanes[n], restless=True)

    def _step(self, standing: Standing, reading: Reading) -> tuple[tuple[str, Memory], ...]:
        found = []
        hands = standing.hands
        for (name, controller), (_, before) in zip(self.controllers, standing.memories, strict=True):
            key = (name, before, reading.levels, reading.values, reading.unfed, hands.dead, hands.keys, hands.commanded)
            memory = self._steps.get(key)
            if memory is None:
                memory = controller.step(before, reading, hands, self.doubt)
                self._steps[key] = memory
            found.append((name, memory))
        return tuple(found)

    def _readings(self, standings: Sequence[Standing]) -> list[Reading]:
        states = [self.state(s) for s in standings]
        new = list(dict.fromkeys(state for state in states if state not in self._known))
        if new:
            self.effort.solved += len(new)
            self._known.update(zip(new, self.observer.read(solve(self.circuit, new)), strict=True))
        return [self._known[state] for state in states]

    def state(self, standing: Standing) -> State:
        """How the circuit's devices stand under hands and controllers."""
        key = (standing.hands, standing.memories, standing.picked)
        found = self._states.get(key)
        if found is None:
            found = self._states[key] = self._state(standing)
        return found

    def _state(self, standing: Standing) -> State:
        hands = standing.hands
        energised = set(hands.stuck_on)
        energised.update(name for name in hands.commanded if ":" in name)
        signals = dict(hands.signals)
        for (_, controller), (_, memory) in zip(self.controllers, standing.memories, strict=True):
            energised.update(controller.energised(memory))
            for pin, value in controller.signals(memory):
                signals.setdefault(pin, value)
        return State(
            name="",
            operated=hands.operated,
            positions=hands.positions,
            energised=frozenset(energised),
            picked=standing.picked,
            settings=hands.settings,
            signals=tuple(sorted(signals.items())),
            dead=hands.dead,
            stuck=hands.stuck,
        )

    def card_reads(self, standing: Standing) -> frozenset[tuple[str, str]]:
        """The functions that cards read as on: (card, function)."""
        reading = standing.reading
        if reading is None:
            return frozenset()
        return frozenset(
            (card, w.function)
            for card, found in self.cards
            for w in found
            if w.at is not None and w.acts(reading.levels, self.doubt)
        )

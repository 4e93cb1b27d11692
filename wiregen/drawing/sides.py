"""The two sides of a controller: its terminals in physical order, and the blocks of rows that lead to devices."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from wiregen.control.functions import Device, Function, Leg, Parallel, Series, legs_in
from wiregen.drawing.branches import Box, Branch, BranchMaker
from wiregen.drawing.circuit import Circuit, FieldChain
from wiregen.drawing.rows import Block, Port, Row, See
from wiregen.drawing.rows import Leg as RowLeg
from wiregen.drawing.zones import Span, Zones
from wiregen.pipeline import Design
from wiregen.profiles.model import Terminal
from wiregen.terms import Pin

RIGHT_ROLES = frozenset({"relay", "digital_out", "analog_out"})
#: Terminals at whose last pin the device of the function is drawn; the first one feeds it.
SWITCHED_LAST = frozenset({"relay", "contact", "channel", "reset", "motor_thermistor"})
REACH = 6  # terminals between which one box is still drawn with wires


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a controller. Blocks stand in the order of their terminals."""

    ports: tuple[Port, ...]
    blocks: tuple[Block, ...]
    mirrored: bool


class Planner:
    """Plans the sides of every controller. Each core is drawn once, at the first block that uses it.

    ``on_contact_sheets`` collects functions whose contacts have no room beside their terminal, ``on_place_sheets`` the
    devices, by place, whose cables begin at a strip beside them.
    """

    def __init__(self, design: Design, circuit: Circuit) -> None:
        self.circuit = circuit
        self.maker = BranchMaker(design)
        self.on_contact_sheets: list[Function] = []
        self.on_place_sheets: dict[str, list[Branch]] = {}
        self._functions = [f for f in design.functions if f.purpose != "coil"]
        self._shared = _shared_pins(design.functions)
        self._drawn: set[Pin] = set()  # heads of the chains whose core has a row
        self.live = _live(design)
        self._at: dict[Pin, list[tuple[Function, bool]]] = {}
        for function in self._functions:
            for index, end in enumerate(function.ends):
                at = self.maker.assignment(end.id)
                if at is not None:
                    self._at.setdefault(Pin(at.device, at.channel), []).append((function, index == 0))

    def sides(self, device: Device) -> tuple[Side, Side]:
        """The left and the right side of one controller."""
        left, right = (SidePlan(self, device, mirrored) for mirrored in (False, True))
        for terminal in device.profile.terminals:
            mirrored = terminal.role in RIGHT_ROLES or (device.kind == "safety_relay" and terminal.role == "contact")
            (right if mirrored else left).take(terminal)
        return left.side(), right.side()

    def at(self, pin: Pin) -> list[tuple[Function, bool]]:
        """The functions on the channel that begins at a pin, and whether they are the controller's own."""
        return self._at.get(pin, [])

    def not_placed(self, device: Device, mirrored: bool) -> Iterator[Function]:
        for function in self._functions:
            ours = function.controller == device.name and (function.purpose in ("output", "analog_out")) == mirrored
            if ours and function.ends and self.maker.assignment(function.ends[0].id) is None:
                yield function

    def shares(self, function: Function) -> bool:
        """Whether a contact of a function stands in the circuits of others too."""
        return any(leg.b in self._shared for leg in legs_in(function.partner))

    def take_core(self, chain: FieldChain | None) -> FieldChain | None:
        """The chain, unless its core has a row already; from now on it has."""
        if chain is None or chain.head in self._drawn:
            return None
        self._drawn.add(chain.head)
        return chain


def _live(design: Design) -> frozenset[Pin]:
    """Terminals that stay live when the main switch of their cabinet is off, as the review has found them."""
    subjects = (f.subject.split(" ") for f in design.findings if f.code == "foreign-voltage")
    return frozenset(Pin(device, name) for device, *names in subjects for name in names)


def _shared_pins(functions: Iterable[Function]) -> frozenset[Pin]:
    """The switched pins of contacts that stand in the circuits of several functions."""
    count = Counter(pin for f in functions for pin in dict.fromkeys(leg.b for leg in legs_in(f.partner)))
    return frozenset(pin for pin, times in count.items() if times > 1)


class SidePlan:
    """One side while it is being planned."""

    def __init__(self, planner: Planner, device: Device, mirrored: bool) -> None:
        self._planner, self._device, self._mirrored = planner, device, mirrored
        self._circuit = planner.circuit
        self._zones = Zones(planner.circuit, device.place)
        self._terminals: list[Terminal] = []
        self._ports: list[Port] = []
        self._order: dict[Pin, int] = {}
        self._claimed: set[Pin] = set()
        self._blocks: list[Block] = []

    def take(self, terminal: Terminal) -> None:
        self._terminals.append(terminal)
        for pin in self._pins(terminal):
            self._order[pin] = len(self._ports)
            live = pin in self._planner.live
            self._ports.append(Port(pin, Pin(self._device.name, terminal.pins[0]), live=live))

    def side(self) -> Side:
        """Signals first, so that no other wire takes their terminals; then what feeds them, then the rest."""
        for terminal in self._terminals:
            self._name(terminal)
        own = list(self._own())
        self._claimed.update(signal for _, signal in own)
        for function, signal in own:
            self._blocks += self._of_function(function, signal)
        for function in self._planner.not_placed(self._device, self._mirrored):
            blocks = self._of_function(function, None)
            self._blocks += [replace(b, caption=function.name if i == 0 else "") for i, b in enumerate(blocks)]
        self._blocks = list(self._with_feeds(self._blocks))
        self._blocks += self._own_cores()
        return Side(tuple(self._ports), tuple(self._blocks), self._mirrored)

    # Terminals and their names

    def _name(self, terminal: Terminal) -> None:
        """The function's name at the channel's first pin."""
        first, *rest = self._pins(terminal)
        found = self._planner.at(first)
        if not found:
            wired = any(self._circuit.potential(pin) for pin in (first, *rest))
            if self._device.profile.holds_function(terminal) and not wired:
                self._say(first, "free")
            return
        function, own = found[0]
        elsewhere = not own or self._planner.maker.drawn_elsewhere(function)
        name = function.name if function.controller == first.device else f"{function.name} of {function.controller}"
        setting = function.setting if own and function.purpose != "output" else ""
        self._say(first, name, setting, function.where[2] if len(function.where) > 2 else "")
        for pin in (first, *rest) if elsewhere else ():
            self._refer(pin, ("loop", str(pin)))

    def _pins(self, terminal: Terminal) -> list[Pin]:
        return [Pin(self._device.name, name) for name in terminal.pins]

    def _say(self, pin: Pin, function: str, setting: str = "", group: str = "") -> None:
        at = self._order[pin]
        self._ports[at] = replace(self._ports[at], function=function, setting=setting, group=group)

    def _refer(self, pin: Pin, see: See) -> None:
        at = self._order[pin]
        self._ports[at] = replace(self._ports[at], see=see)

    def _own(self) -> Iterator[tuple[Function, Pin]]:
        """The functions whose devices are drawn here, and the pin at which each hangs."""
        for terminal in self._terminals:
            for function, own in self._planner.at(Pin(self._device.name, terminal.pins[0])):
                if own and not self._planner.maker.drawn_elsewhere(function):
                    yield function, self._signal(function, terminal)

    def _signal(self, function: Function, terminal: Terminal) -> Pin:
        at = self._planner.maker.assignment(function.ends[0].id)
        assert at is not None  # `at` of the planner holds placed ends only
        last = terminal.role in SWITCHED_LAST and len(at.pins) > 1
        return Pin(at.device, at.pins[1] if last else at.pins[0])

    # The blocks of one function

    def _of_function(self, function: Function, signal: Pin | None) -> list[Block]:
        branch = self._planner.maker.make(function, self._mirrored)
        if branch is None or self._planner.shares(function):
            return self._elsewhere(function, signal, None)
        beside = function.partner is not None and any(
            self._circuit.from_strip_beside(pin) for unit in branch.units for pin in unit.all_pins
        )
        if branch.box is not None:
            joined = signal is None or self._reaches(signal, branch.box.pins[branch.box.anchor], branch.box.place)
            if beside or (branch.box.unit.kind == "stub" and not joined):
                return self._elsewhere(function, signal, branch, placed=beside)
            return self._of_box(branch.box, signal)
        if beside:
            return self._elsewhere(function, signal, branch, placed=len(legs_in(function.partner)) < 2)
        block = self._of_pieces(branch, signal)
        return [block] if block is not None else self._elsewhere(function, signal, branch)

    def _elsewhere(
        self, function: Function, signal: Pin | None, branch: Branch | None, placed: bool = False
    ) -> list[Block]:
        """The device of a function is drawn on another sheet: with the devices of its place, or with other contacts."""
        if branch is not None and placed:
            turned = self._planner.maker.make(function, False)
            self._planner.on_place_sheets.setdefault(branch.place, []).append(turned or branch)
        elif isinstance(function.partner, Leg | Series | Parallel):
            self._planner.on_contact_sheets.append(function)
        if signal is None:
            return []
        see: See = ("input", function.ends[0].id)
        if function.partner is None and branch is not None and branch.box is not None:
            see = ("terminal", str(branch.box.unit.near_pin))
        near = branch.box.pins[branch.box.anchor] if branch and branch.box else None
        near = branch.pieces[0].grid.near if branch and branch.pieces else near
        span = self._zones.landing(self._circuit.way(signal, near)) if near is not None else None
        if span is None:
            self._refer(signal, see)
            return []
        stop = span.stops[-1].pin
        return [Block((Row("landing", stop, span, signal, see=see),), 1, self._circuit.strips[stop.device], signal)]

    def _of_pieces(self, branch: Branch, signal: Pin | None) -> Block | None:
        """The pieces in a row with their protective earths; None where they do not follow one another outwards."""
        first, *others = branch.pieces
        between = self._between(branch)
        if between is None or (others and signal and not self._reaches(signal, first.grid.near, first.place)):
            return None
        port, span = self._to(first.grid.near, first.place, signal)
        legs = [
            RowLeg(piece, self._zones.of(piece.place), s)
            for piece, s in zip(branch.pieces, (span, *between), strict=True)
        ]
        for leg in legs[1:]:
            self._take_cores(leg.span)
        rows = [Row("unit", first.grid.near, span, port)]
        rows += [Row("branch", None)] * (max(leg.piece.grid.rows for leg in legs) - 1)
        rows += [row for leg in legs for row in self._earths(leg)]
        return Block(tuple(rows), legs[-1].zone, legs[-1].piece.place, signal, tuple(legs))

    def _between(self, branch: Branch) -> list[Span] | None:
        """The spans from each piece to the next, None where one does not lead outwards."""
        spans = []
        for inner, outer in itertools.pairwise(branch.pieces):
            start, end = self._zones.of(inner.place), self._zones.of(outer.place)
            way = self._circuit.way(inner.grid.far, outer.grid.near) if inner.grid.far is not None else None
            span = self._zones.span(way, start, end) if end > start else None
            if span is None:
                return None
            spans.append(span)
        return spans

    def _earths(self, leg: RowLeg) -> Iterator[Row]:
        for unit in leg.piece.units:
            pin = unit.earth_pin
            if pin is not None and self._circuit.potential(pin) is not None:
                yield Row("earth", pin, self._core(pin))

    def _of_box(self, box: Box, signal: Pin | None) -> list[Block]:
        """A box; receivers that stand in its row if plain wires lead through them, else as boxes of their own."""
        passes = self._passes(box, signal)
        rows = []
        for index, pin in enumerate(box.pins):
            anchor = index == box.anchor
            wanted = signal if anchor else self._straight(pin, signal)
            if anchor and box.through:
                port, span = (signal, self._beyond(box) or Span()) if passes else (None, self._core(pin))
                self._take_cores(span)
            else:
                port, span = self._to(pin, box.place, wanted)
            if port is not None:
                self._claimed.add(port)
            rows.append(Row("lead", pin, span, port, through=box.through if anchor and passes else ()))
        block = Block(tuple(rows), self._zones.of(box.place), box.place, signal, box=box)
        if not box.through or passes:
            return [block]
        stubs = self._planner.maker.receivers(box)
        first = self._of_box(stubs[0], signal)
        return [*first, *(b for stub in stubs[1:] for b in self._of_box(stub, None)), block]

    def _passes(self, box: Box, signal: Pin | None) -> bool:
        """Whether plain wires lead from the terminal through every receiver, and on to the device."""
        if signal is None or not box.through:
            return False
        starts = [signal, *(unit.pin("in") for unit in box.through)]
        ways = [self._circuit.way(a, unit.pin("out")) for a, unit in zip(starts, box.through, strict=False)]
        plain = all(way is not None and not way.terminals for way in ways)
        return plain and self._beyond(box) is not None

    def _beyond(self, box: Box) -> Span | None:
        """From the last receiver to the device of a box."""
        way = self._circuit.way(box.through[-1].pin("in"), box.pins[box.anchor])
        return self._zones.span(way, 0, self._zones.of(box.place))

    # From a terminal, or from the strip, to a pin

    def _straight(self, pin: Pin, signal: Pin | None) -> Pin | None:
        """A free terminal near that of the signal that is wired straight to a pin of its device."""
        potential = self._circuit.potential(pin)
        if potential is None or signal is None:
            return None
        near = [p for p in potential.pins if p in self._order and p not in self._claimed]
        near = [p for p in near if abs(self._order[p] - self._order[signal]) <= REACH]
        return next((p for p in near if self._reaches(p, pin, self._circuit.places[pin.device])), None)

    def _reaches(self, port: Pin, pin: Pin, place: str) -> bool:
        return self._zones.span(self._circuit.way(port, pin), 0, self._zones.of(place)) is not None

    def _to(self, pin: Pin, place: str, wanted: Pin | None) -> tuple[Pin | None, Span]:
        """The terminal and the span from it to a pin; else the span from the strip, if a core ends here."""
        if wanted is not None:
            span = self._zones.span(self._circuit.way(wanted, pin), 0, self._zones.of(place))
            if span is not None:
                self._take_cores(span)
                return wanted, span
        return None, self._core(pin)

    def _core(self, pin: Pin) -> Span:
        """The span of the core that ends on a pin, if it has no row yet and runs outwards."""
        chain = self._circuit.core_of(pin)
        span = self._zones.core_span(chain)
        return span if span is not None and self._planner.take_core(chain) else Span()

    def _take_cores(self, span: Span) -> None:
        for _, core in span.cores:
            for pin in (core.a, core.b):
                if pin is not None:
                    self._planner.take_core(self._circuit.core_of(pin))

    # Cores that feed several devices, and cores of the controller itself

    def _with_feeds(self, blocks: Iterable[Block]) -> Iterator[Block]:
        """A feeding core stands before the first block that uses it."""
        for block in blocks:
            leg = block.legs[-1] if block.legs else None
            far = leg.piece.grid.far if leg else None
            if leg is not None and far is not None and leg.zone == self._zones.outermost:
                chain = self._circuit.chain_of(far)
                span = self._zones.core_span(chain)
                if chain is not None and span is not None and self._planner.take_core(chain):
                    yield self._feed(chain, span, leg, block.home)
            yield block

    def _feed(self, chain: FieldChain, span: Span, leg: RowLeg, home: Pin | None) -> Block:
        port: Pin | None = None
        potential = self._circuit.potential(chain.head)
        for pin in potential.pins if potential else ():
            if pin in self._order and pin not in self._claimed:
                straight = self._zones.span(self._circuit.way(pin, chain.head), 0, leg.zone)
                if straight is not None:
                    span, port = straight, pin
                    self._claimed.add(pin)
                    break
        return Block((Row("feed", chain.head, span, port, chain),), leg.zone, leg.piece.place, port or home)

    def _own_cores(self) -> Iterator[Block]:
        """A controller without a strip beside it: terminals whose core ends on one, and what lies beyond is a tag."""
        taken = {pin for block in self._blocks for pin in block.ports}
        for port in self._ports:
            chain = self._circuit.core_of(port.pin)
            span = self._zones.landing_core(chain) if port.pin not in taken else None
            if chain is not None and span is not None and self._planner.take_core(chain):
                row = Row("landing", chain.terminal, span, port.pin, chain, see=port.see)
                yield Block((row,), 1, self._zones.home, port.pin)

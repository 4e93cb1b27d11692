"""Which pins must be joined: the feeds, returns and signals of every function, before any wire is chosen.

A tie joins two pins at wire level. Ties come in a fixed order, firm ones first, because a return that is already at the wanted
potential is not tied a second time: a second way would be a loop in the 0 V system.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Allocation, Assignment
from wiregen.control.functions import (
    ContactTree,
    Declared,
    End,
    Function,
    InputGroup,
    Leg,
    Load,
    Meter,
    Parallel,
    Potentiometer,
    Sensor,
    Series,
    Supply,
    Transmitter,
)
from wiregen.terms import Notice, Pin


@dataclass(frozen=True, slots=True)
class Tie:
    """Two pins to be joined. ``loop`` names what must share one pair of an analog cable; ``spare_way``: only if not yet joined."""

    a: Pin
    b: Pin
    function: str = ""
    category: str = "control"
    loop: str = ""
    spare_way: bool = False


class TieMaker:
    """Walks what is declared and allocated and yields the ties; keeps the notices it makes on the way."""

    def __init__(self, declared: Declared, allocation: Allocation) -> None:
        self._declared = declared
        self._by_end = {a.end: a for a in allocation.assignments}
        self._devices = {d.name: d for d in declared.devices}
        self._zero = {z.device: z for z in declared.zero_volts}
        self.notices: list[Notice] = []

    def ties(self) -> Iterator[Tie]:
        yield from self._zero_volt()
        yield from self._card_feeds()
        yield from self._earths()
        functions = list(self._functions())
        yield from self._group_commons()
        yield from functions

    # What holds whatever the functions are

    def _zero_volt(self) -> Iterator[Tie]:
        for zero in self._declared.zero_volts:
            target = self._zero.get(zero.joined_to or "")
            if target is not None:
                yield Tie(zero.zero, target.zero, f"0 V of {zero.device}")

    def _card_feeds(self) -> Iterator[Tie]:
        for feed in self._declared.feeds:
            if feed.only_for and not feed.only_for & self._used_channels(feed.plus.device):
                continue
            yield Tie(feed.supply.plus, feed.plus, f"24 V of {feed.plus.device}")
            yield Tie(feed.supply.zero, feed.zero, f"0 V of {feed.plus.device}")

    def _used_channels(self, device: str) -> frozenset[str]:
        return frozenset(a.channel for a in self._by_end.values() if a.device == device)

    def _earths(self) -> Iterator[Tie]:
        """All protective terminals together; a single one is tied to itself so that it has a net."""
        earths = self._earth_pins()
        for pin in earths:
            yield Tie(earths[0], pin, "PE")

    def _group_commons(self) -> Iterator[Tie]:
        """The common of every group that some contact or sensor feeds goes to the far side of that feed's supply."""
        for group in self._declared.groups:
            supply = self._group_supply(group)
            if supply is None:
                continue
            far = supply.zero if group.polarity == "source" else supply.plus
            if group.common is not None:
                yield Tie(group.common, far, f"common of {group.device} {group.group}")
            elif supply.device != group.device:
                yield from self._foreign_return(group, supply)

    def _group_supply(self, group: InputGroup) -> Supply | None:
        for function in self._declared.functions:
            for end in function.ends:
                at = self._by_end.get(end.id)
                if end.role == "digital_in" and at and at.device == group.device and function.supply:
                    terminal = self._devices[at.device].profile.terminal_of(at.channel)
                    if terminal and terminal.group == group.group and not self._by_transistor(function):
                        return function.supply
        return None

    def _by_transistor(self, function: Function) -> bool:
        return any((a := self._by_end.get(e.id)) is not None and a.form == "transistor" for e in function.ends)

    def _foreign_return(self, group: InputGroup, supply: Supply) -> Iterator[Tie]:
        """Inputs that return inside, fed from outside: their 0 V must meet the supply's, unless it is declared apart."""
        own = self._zero.get(group.device)
        if own is None:
            return
        if own.declared and own.mode in ("floating", "inside"):
            text = (
                f"the inputs of {group.device} are fed from {supply.device}, but its 0 V ({own.zero}) is declared {own.mode}: "
                f"the current finds no way back; say zero_volt: {{joined_to: {supply.device}}}"
            )
            self.notices.append(Notice("return-missing", group.where, group.device, text))
            return
        yield Tie(own.zero, supply.zero, f"0 V of {group.device}", spare_way=True)

    # Functions

    def _functions(self) -> Iterator[Tie]:
        for function in self._declared.functions:
            if function.purpose == "input":
                yield from self._input(function)
            elif function.purpose == "output":
                yield from self._output(function)
            elif function.purpose == "analog_in":
                yield from self._analog_in(function)
            else:
                yield from self._analog_out(function)

    def _input(self, function: Function) -> Iterator[Tie]:
        title = _title(function)
        at = self._by_end.get(function.ends[0].id)
        if len(function.ends) == 2:
            yield from self._output_to_input(function.ends[1], function.ends[0], function.supply, title)
            return
        feed = self._feed(function.ends[0], function.supply)
        pin = Pin(at.device, at.pins[0]) if at else None
        if isinstance(function.partner, Leg | Series | Parallel):
            starts, ends, inner = _terminals(function.partner)
            yield from (Tie(a, b, title) for a, b in inner)
            yield from (Tie(s, feed, title) for s in starts if feed)
            yield from (Tie(e, pin, title) for e in ends if pin)
            yield from _joined(starts, title) if not feed else ()
            yield from _joined(ends, title) if not pin else ()
        elif isinstance(function.partner, Sensor) and function.supply:
            yield from self._sensor(function.partner, function.supply, pin, self._polarity(function.ends[0]), title)

    def _sensor(self, sensor: Sensor, supply: Supply, pin: Pin | None, polarity: str, title: str) -> Iterator[Tie]:
        source = polarity == "source"
        if sensor.output is not None:
            yield Tie(sensor.plus, supply.plus, title)
            yield Tie(sensor.minus, supply.zero, title)
            output = sensor.output
        else:
            fed, output = (sensor.plus, sensor.minus) if source else (sensor.minus, sensor.plus)
            yield Tie(fed, supply.plus if source else supply.zero, title)
        if pin is not None:
            yield Tie(output, pin, title)

    def _output(self, function: Function) -> Iterator[Tie]:
        title = _title(function)
        if len(function.ends) == 2:
            yield from self._output_to_input(function.ends[0], function.ends[1], function.supply, title)
            return
        at, load, supply = self._by_end.get(function.ends[0].id), function.partner, function.supply
        if not isinstance(load, Load):
            return
        if load.earth is not None:
            yield from (Tie(load.earth, earth, title) for earth in self._earth_pins()[:1])
        if at is not None and at.form == "transistor":
            yield Tie(Pin(at.device, at.pins[0]), load.a, title)
            yield from self._to_common(load.b, at, title)
            return
        if at is not None:
            yield Tie(Pin(at.device, at.pins[1]), load.a, title)
            if supply:
                yield Tie(Pin(at.device, at.pins[0]), supply.plus, title)
        if supply:
            yield Tie(load.b, supply.zero, title)

    def _output_to_input(self, out: End, inp: End, supply: Supply | None, title: str) -> Iterator[Tie]:
        """A dry contact is fed from the input's supply; a transistor output brings its own and shares its 0 V."""
        source, sink = self._by_end.get(out.id), self._by_end.get(inp.id)
        pin = Pin(sink.device, sink.pins[0]) if sink else None
        if source is None:
            return
        if source.form == "transistor":
            if pin is not None and sink is not None:
                yield Tie(Pin(source.device, source.pins[0]), pin, title)
                yield from self._to_common(self._return_of(sink), source, title)
            return
        feed = self._feed(inp, supply)
        if feed is not None:
            yield Tie(Pin(source.device, source.pins[0]), feed, title)
        if pin is not None:
            yield Tie(Pin(source.device, source.pins[1]), pin, title)

    def _analog_in(self, function: Function) -> Iterator[Tie]:
        title = _title(function)
        at = self._by_end.get(function.ends[0].id)
        if len(function.ends) == 2:
            yield from self._analog_pair(function.ends[1], function.ends[0], title)
            return
        partner, supply = function.partner, function.supply
        if isinstance(partner, Potentiometer):
            yield from self._potentiometer(function, partner, at, title)
        elif isinstance(partner, Transmitter) and supply:
            yield from self._transmitter(partner, supply, at, title)

    def _potentiometer(
        self, function: Function, pot: Potentiometer, at: Assignment | None, title: str
    ) -> Iterator[Tie]:
        profile = self._devices[function.controller].profile
        reference = profile.first("reference_out")
        if reference is None:
            text = f"{pot.device} needs a 10 V reference; {function.controller} ({profile.title}) has no such output"
            self.notices.append(Notice("reference-supply-missing", function.where, pot.device, text))
        else:
            yield self._loop(pot.high, Pin(function.controller, reference.label), title, pot.device)
        if at is not None:
            yield self._loop(pot.wiper, Pin(at.device, at.pins[0]), title, pot.device)
        zero = self._analog_zero(at) if at else self._own_zero(function.controller)
        if zero is not None:
            yield self._loop(pot.low, zero, title, pot.device)

    def _transmitter(self, unit: Transmitter, supply: Supply, at: Assignment | None, title: str) -> Iterator[Tie]:
        loop = unit.device
        category = "control" if unit.wires == 4 else "analog"
        yield Tie(unit.plus, supply.plus, title, category, loop if unit.wires != 4 else "")
        if unit.wires != 2:
            yield Tie(unit.minus, supply.zero, title, category, loop if unit.wires != 4 else "")
        if at is None:
            return
        yield self._loop(unit.output, Pin(at.device, at.pins[0]), title, loop)
        zero = self._analog_zero(at)
        if unit.output_return is not None and zero is not None:
            yield self._loop(unit.output_return, zero, title, loop)
        elif zero is not None:
            # The loop comes back to the supply that feeds it.
            yield Tie(zero, supply.zero, title, "analog", spare_way=True)

    def _analog_out(self, function: Function) -> Iterator[Tie]:
        title = _title(function)
        if len(function.ends) == 2:
            yield from self._analog_pair(function.ends[0], function.ends[1], title)
            return
        at, meter = self._by_end.get(function.ends[0].id), function.partner
        if at is None or not isinstance(meter, Meter):
            return
        yield self._loop(meter.plus, Pin(at.device, at.pins[0]), title, meter.device)
        zero = self._analog_zero(at)
        if zero is not None:
            yield self._loop(meter.minus, zero, title, meter.device)

    def _analog_pair(self, out: End, inp: End, title: str) -> Iterator[Tie]:
        source, sink = self._by_end.get(out.id), self._by_end.get(inp.id)
        if source is None or sink is None:
            return
        yield self._loop(Pin(source.device, source.pins[0]), Pin(sink.device, sink.pins[0]), title, title)
        first, second = self._analog_zero(source), self._analog_zero(sink)
        if first and second:
            yield Tie(first, second, title, "analog", title, spare_way=True)

    # Small questions

    def _feed(self, inp: End, supply: Supply | None) -> Pin | None:
        if supply is None:
            return None
        return supply.plus if self._polarity(inp) == "source" else supply.zero

    def _polarity(self, inp: End) -> str:
        """The polarity of the group that the input stands in; of its device's first group while it is not placed."""
        at = self._by_end.get(inp.id)
        if at and at.polarity:
            return at.polarity
        return next((g.polarity for g in self._declared.groups if g.device in inp.devices), "source")

    def _return_of(self, at: Assignment) -> Pin:
        terminal = self._devices[at.device].profile.terminal_of(at.channel)
        assert terminal is not None  # a channel is a terminal of its profile
        return Pin(at.device, terminal.common)

    def _to_common(self, pin: Pin, output: Assignment, title: str) -> Iterator[Tie]:
        yield Tie(pin, self._return_of(output), title, spare_way=True)

    def _analog_zero(self, at: Assignment) -> Pin | None:
        if len(at.pins) == 2:
            return Pin(at.device, at.pins[1])
        terminal = self._devices[at.device].profile.terminal_of(at.channel)
        return Pin(at.device, terminal.common) if terminal and terminal.common else self._own_zero(at.device)

    def _own_zero(self, device: str) -> Pin | None:
        profile = self._devices[device].profile
        terminal = profile.first("analog_zero") or profile.first("zero")
        return Pin(device, terminal.label) if terminal else None

    def _earth_pins(self) -> list[Pin]:
        supplies = [d for d in self._declared.devices if d.kind == "supply"]
        return [Pin(d.name, t.label) for d in supplies for t in d.profile.terminals if t.role == "earth"]

    def _loop(self, a: Pin, b: Pin, title: str, loop: str) -> Tie:
        return Tie(a, b, title, "analog", loop)


def _title(function: Function) -> str:
    return f"{function.name} of {function.controller}"


def _terminals(tree: ContactTree) -> tuple[list[Pin], list[Pin], list[tuple[Pin, Pin]]]:
    """The pins of a contact tree towards the feed, those towards the input, and the joins between."""
    if isinstance(tree, Leg):
        return [tree.a], [tree.b], []
    parts = [_terminals(part) for part in tree.parts]
    inner = [pair for part in parts for pair in part[2]]
    if isinstance(tree, Parallel):
        return [p for part in parts for p in part[0]], [p for part in parts for p in part[1]], inner
    for (_, ends, _), (starts, _, _) in zip(parts, parts[1:], strict=False):
        inner += [(end, starts[0]) for end in ends] + [(starts[0], start) for start in starts[1:]]
    return parts[0][0], parts[-1][1], inner


def _joined(pins: list[Pin], title: str) -> Iterator[Tie]:
    yield from (Tie(pins[0], pin, title) for pin in pins[1:])

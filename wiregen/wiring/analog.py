"""Ties of analog signals: potentiometers, transmitters, meters, and one controller's output to another's input."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wiregen.control.functions import Function, Meter, Potentiometer, Supply, Transmitter
from wiregen.terms import Notice, Pin
from wiregen.wiring.placement import Placement
from wiregen.wiring.returns import Returns, title_of
from wiregen.wiring.tie import Tie


class AnalogTies:
    """The ties of one analog function at a time."""

    def __init__(
        self,
        functions: tuple[Function, ...],
        placement: Placement,
        returns: Returns,
        report: Callable[[Notice], None],
    ) -> None:
        self._readers: dict[str, list[Function]] = {}  # transmitter -> the functions that read it
        for function in functions:
            if isinstance(function.partner, Transmitter):
                self._readers.setdefault(function.partner.device, []).append(function)
        self._placement = placement
        self._returns = returns
        self._report = report

    def of_input(self, function: Function) -> Iterator[Tie]:
        partner = function.partner
        if len(function.ends) == 2:
            yield from self._pair(function, out=1, into=0)
        elif isinstance(partner, Potentiometer):
            yield from self._potentiometer(function, partner)
        elif isinstance(partner, Transmitter) and function.supply:
            yield from self._transmitter(function, partner, function.supply)

    def of_output(self, function: Function) -> Iterator[Tie]:
        if len(function.ends) == 2:
            yield from self._pair(function, out=0, into=1)
            return
        at, meter = self._placement.at(function.ends[0]), function.partner
        if at is None or not isinstance(meter, Meter):
            return
        yield _loop(function, meter.plus, Pin(at.device, at.pins[0]), meter.device)
        yield from self._way_back(function, meter.minus, self._placement.analog_return(at), meter.device)

    def _potentiometer(self, function: Function, pot: Potentiometer) -> Iterator[Tie]:
        """High end to the controller's own 10 V, wiper to the input, low end to its analog 0 V."""
        profile = self._placement.device(function.controller).profile
        reference = profile.first("reference_out")
        if reference is None:
            text = f"{pot.device} needs a 10 V reference; {function.controller} ({profile.title}) has no such output"
            self._report(Notice("reference-supply-missing", function.where, pot.device, text))
        else:
            yield _loop(function, pot.high, Pin(function.controller, reference.label), pot.device)
        at = self._placement.at(function.ends[0])
        if at is not None:
            yield _loop(function, pot.wiper, Pin(at.device, at.pins[0]), pot.device)
        zero = self._placement.analog_return(at) if at else self._placement.analog_zero(function.controller)
        yield from self._way_back(function, pot.low, zero, pot.device)

    def _transmitter(self, function: Function, unit: Transmitter, supply: Supply) -> Iterator[Tie]:
        title, where = title_of(function), function.where
        before, last = self._place_in_loop(function, unit)
        # The supply of a four-wire transmitter is a pair of its own in the cable of its signal.
        category, loop = "analog", unit.device
        if before is None:
            yield Tie(unit.plus, supply.plus, title, category, loop, where)
            if unit.wires != 2:
                yield Tie(unit.minus, supply.zero, title, category, loop, where)
        at = self._placement.at(function.ends[0])
        if at is None:
            return
        comes_from = unit.output if before is None else self._way_out(before)
        if comes_from is not None:
            yield _loop(function, comes_from, Pin(at.device, at.pins[0]), unit.device)
        zero = self._placement.analog_return(at)
        if not last:
            return
        if unit.output_return is not None:
            yield from self._way_back(function, unit.output_return, zero, unit.device)
        else:
            # The loop comes back to the supply that feeds it.
            yield from self._returns.shared(zero, supply.zero, title, where, category="analog", loop=unit.device)

    def _place_in_loop(self, function: Function, unit: Transmitter) -> tuple[Function | None, bool]:
        """The receiver before this one in the loop of its transmitter, and whether it is the last."""
        loop = self._placement.device(unit.device).declared.loop
        readers = [f for name in loop for f in self._readers.get(unit.device, ()) if f.controller == name]
        if function not in readers:
            return None, True
        place = readers.index(function)
        return readers[place - 1] if place else None, function is readers[-1]

    def _way_out(self, function: Function) -> Pin | None:
        """The terminal at which the current leaves a receiver; None where it goes to the common 0 V of its device."""
        at = self._placement.at(function.ends[0])
        return Pin(at.device, at.pins[1]) if at is not None and len(at.pins) == 2 else None

    def _pair(self, function: Function, out: int, into: int) -> Iterator[Tie]:
        """Output to input; the two share 0 V once."""
        source, sink = self._placement.at(function.ends[out]), self._placement.at(function.ends[into])
        if source is None or sink is None:
            return
        title = title_of(function)
        yield _loop(function, Pin(source.device, source.pins[0]), Pin(sink.device, sink.pins[0]), title)
        first, second = self._placement.analog_return(source), self._placement.analog_return(sink)
        yield from self._returns.shared(first, second, title, function.where, category="analog", loop=title)

    def _way_back(self, function: Function, pin: Pin, zero: Pin | None, loop: str) -> Iterator[Tie]:
        """The second wire of a signal, to where its current returns."""
        if zero is None:
            self._returns.missing(title_of(function), function.where)
        else:
            yield _loop(function, pin, zero, loop, back=True)


def _loop(function: Function, a: Pin, b: Pin, loop: str, *, back: bool = False) -> Tie:
    """A tie whose core belongs in the pair of ``loop``; ``back``: the way back of its signal."""
    title = f"{title_of(function)}, return" if back else title_of(function)
    return Tie(a, b, title, "analog", loop, function.where)

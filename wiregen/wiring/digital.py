"""Ties of digital signals: contacts and sensors to inputs, outputs to loads and to other controllers' inputs."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wiregen.allocation.model import Assignment
from wiregen.control.functions import ContactTree, Function, Leg, Load, Parallel, Sensor, Series
from wiregen.terms import Pin
from wiregen.wiring.placement import Placement
from wiregen.wiring.returns import Returns, title_of
from wiregen.wiring.tie import Tie


class DigitalTies:
    """The ties of one digital function at a time."""

    def __init__(self, placement: Placement, returns: Returns) -> None:
        self._placement = placement
        self._returns = returns

    def of_input(self, function: Function) -> Iterator[Tie]:
        if len(function.ends) == 2:
            yield from self._output_to_input(function, out=1, into=0)
        elif isinstance(function.partner, Leg | Series | Parallel):
            yield from self._contacts(function, function.partner)
        elif isinstance(function.partner, Sensor):
            yield from self._sensor(function, function.partner)

    def of_output(self, function: Function) -> Iterator[Tie]:
        if len(function.ends) == 2:
            yield from self._output_to_input(function, out=0, into=1)
        elif isinstance(function.partner, Load):
            yield from self._load(function, function.partner)

    def of_coil(self, function: Function) -> Iterator[Tie]:
        """+24 V, the contacts, the coil or another load, 0 V."""
        load, supply = function.coil, function.supply
        if load is None or not isinstance(function.partner, Leg | Series | Parallel):
            return
        yield from self._tree(function, function.partner, supply.plus if supply else None, load.a)
        if supply:
            yield Tie(load.b, supply.zero, title_of(function), function.category, where=function.where)

    def _contacts(self, function: Function, tree: ContactTree) -> Iterator[Tie]:
        feed = self._placement.feed(function.ends[0], function.supply)
        yield from self._tree(function, tree, feed, self._placement.pin(function.ends[0]))

    def _tree(self, function: Function, tree: ContactTree, feed: Pin | None, pin: Pin | None) -> Iterator[Tie]:
        """From the feed through the contacts to ``pin``. What has no feed or no pin is joined all the same."""
        title, category = title_of(function), function.category
        starts, ends, inner = ends_of(tree)
        pairs = [*inner, *((start, feed or starts[0]) for start in starts), *((end, pin or ends[0]) for end in ends)]
        yield from (Tie(a, b, title, category, where=function.where) for a, b in pairs if a != b)

    def _sensor(self, function: Function, sensor: Sensor) -> Iterator[Tie]:
        title, supply, pin = title_of(function), function.supply, self._placement.pin(function.ends[0])
        source = self._placement.polarity(function.ends[0]) == "source"
        if sensor.output is not None:
            feeds = [(sensor.plus, supply.plus), (sensor.minus, supply.zero)] if supply else []
            output = sensor.output
        else:
            fed, output = (sensor.plus, sensor.minus) if source else (sensor.minus, sensor.plus)
            feeds = [(fed, supply.plus if source else supply.zero)] if supply else []
        pairs = [*feeds, (output, pin)] if pin else feeds
        yield from (Tie(a, b, title, where=function.where) for a, b in pairs)

    def _load(self, function: Function, load: Load) -> Iterator[Tie]:
        title, at, supply = title_of(function), self._placement.at(function.ends[0]), function.supply

        def tie(a: Pin, b: Pin) -> Tie:
            return Tie(a, b, title, function.category, where=function.where)

        if at is not None and at.form == "transistor":
            yield tie(Pin(at.device, at.pins[0]), load.a)
            common = self._placement.return_of(at)
            if common is not None:
                yield tie(common, load.b)
            else:
                self._returns.missing(title, function.where)
            return
        if at is not None:
            yield tie(Pin(at.device, at.pins[1]), load.a)
            if supply:
                yield tie(Pin(at.device, at.pins[0]), supply.plus)
        if supply:
            yield tie(load.b, supply.zero)

    def _output_to_input(self, function: Function, out: int, into: int) -> Iterator[Tie]:
        """A dry contact is fed from the input's supply; a transistor output brings its own and shares its 0 V."""
        title = title_of(function)
        source, sink = self._placement.at(function.ends[out]), self._placement.at(function.ends[into])
        if source is None:
            return
        if source.form == "transistor":
            if sink is not None:
                yield Tie(
                    Pin(source.device, source.pins[0]), Pin(sink.device, sink.pins[0]), title, where=function.where
                )
                yield from self._transistor_return(function, source, sink)
            return
        feed = self._placement.feed(function.ends[into], function.supply)
        if feed is not None:
            yield Tie(Pin(source.device, source.pins[0]), feed, title, where=function.where)
        if sink is not None:
            yield Tie(Pin(source.device, source.pins[1]), Pin(sink.device, sink.pins[0]), title, where=function.where)

    def _transistor_return(self, function: Function, source: Assignment, sink: Assignment) -> Iterator[Tie]:
        back, common = self._placement.return_of(sink), self._placement.return_of(source)
        yield from self._returns.shared(back, common, title_of(function), function.where)


def ends_of(tree: ContactTree) -> tuple[list[Pin], list[Pin], list[tuple[Pin, Pin]]]:
    """The pins of a contact tree towards the feed, those towards the input, and the joins between."""
    if isinstance(tree, Leg):
        return [tree.a], [tree.b], []
    parts = [ends_of(part) for part in tree.parts]
    inner = [pair for part in parts for pair in part[2]]
    if isinstance(tree, Parallel):
        return [p for part in parts for p in part[0]], [p for part in parts for p in part[1]], inner
    for (_, ends, _), (starts, _, _) in itertools.pairwise(parts):
        inner += [(end, starts[0]) for end in ends] + [(starts[0], start) for start in starts[1:]]
    return parts[0][0], parts[-1][1], inner

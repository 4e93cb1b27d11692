"""Start and stop buttons: one in every place that starts, and what a short in the cable of both leaves of the stop."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function
from wiregen.control.senses import sense_of
from wiregen.review.context import Context, called, legs_of
from wiregen.terms import Notice, Pin

_STARTS = ("start", "start reverse")
_BY_HAND = ("push", "turn", "mushroom")


def stop_at_every_station(context: Context) -> Iterator[Notice]:
    """Start buttons in several places, one of which has no stop."""
    for drive in context.of_kind("drive"):
        own = [f for f in context.declared.functions if f.controller == drive.name and f.purpose == "input"]
        starts = _places(context, [f for f in own if f.meaning in _STARTS])
        stops = _places(context, [f for f in own if f.meaning == "stop"])
        stops |= {d.place: d.name for d in context.of_kind("emergency_stop")}
        if len(starts) < 2 or not stops:
            continue
        for place, button in starts.items():
            if place not in stops:
                where = next(f.where for f in own if f.meaning in _STARTS)
                text = f"{button} starts {drive.name} from {place}, where nothing stops it"
                yield Notice("stop-not-at-station", where, f"{drive.name} {place}", text)


def _places(context: Context, functions: list[Function]) -> dict[str, str]:
    """The places of the contacts of functions, and the first contact's device in each."""
    found: dict[str, str] = {}
    for function in functions:
        for leg in legs_of(function):
            device = context.devices[leg.contact.device]
            found.setdefault(device.place, device.name)
    return found


def start_beside_stop(context: Context) -> Iterator[Notice]:
    """Start, stop and their feed in one cable, and nothing else that stops: one damaged cable takes control away."""
    carried = _carried(context)
    for stop in context.declared.functions:
        if stop.meaning != "stop" or stop.purpose != "input" or context.devices[stop.controller].kind != "drive":
            continue
        own = [f for f in context.declared.functions if f.controller == stop.controller]
        for start in (f for f in own if f.meaning in _STARTS and f.run == stop.run and f.supply == stop.supply):
            feed = _feed(context, start)
            needed = {feed, _signal(context, start), _signal(context, stop)}
            cable = next((name for name, potentials in carried.items() if needed <= potentials), None)
            if None in needed or cable is None or _stops_otherwise(context, own, stop, carried[cable]):
                continue
            text = (
                f"{called(stop)}, {start.name} and what feeds both ({feed}) lie in {cable}, and nothing else stops "
                f"{stop.controller}: cores that touch there start the motor or hold it against its stop"
            )
            yield Notice("start-beside-stop", stop.where, called(stop), text)
            break


def _carried(context: Context) -> dict[str, set[str | None]]:
    """The potentials in the cores of each cable, spare cores aside."""
    found: dict[str, set[str | None]] = {}
    for conductor in context.wiring.conductors:
        if conductor.kind == "core" and conductor.cable is not None and conductor.potential is not None:
            found.setdefault(conductor.cable, set()).add(conductor.potential)
    return found


def _signal(context: Context, function: Function) -> str | None:
    """The potential of the terminal at which a function stands."""
    assignment = context.allocation.of_end(function.ends[0].id)
    if assignment is None:
        return None
    potential = context.wiring.potential_of(Pin(assignment.device, assignment.pins[0]))
    return potential.name if potential else None


def _feed(context: Context, function: Function) -> str | None:
    """The potential of what feeds a function's contacts."""
    legs = legs_of(function)
    potential = context.wiring.potential_of(legs[0].a) if legs else None
    return potential.name if potential else None


def _stops_otherwise(context: Context, own: list[Function], stop: Function, beside: set[str | None]) -> bool:
    """Whether somebody can stop the drive by what no core in the cable carries."""
    control = context.scheme.model.control[stop.controller]
    if control.safe_torque_off is not None and not isinstance(control.safe_torque_off, str):
        return True
    stopping = [f for f in own if f is not stop and f.purpose == "input" and _stops_at_will(context, f)]
    if any(row == "stop" for s in context.declared.selections if s.controller == stop.controller for _, row in s.rows):
        stopping += [f for f in own if f.name.startswith("select ")]
    return any(_signal(context, f) not in beside for f in stopping)


def _stops_at_will(context: Context, function: Function) -> bool:
    """A stop, enable or trip that a hand or another controller operates, as a thermostat is not."""
    if not sense_of(function.meaning).stops or function.meaning.startswith("limit"):
        return False
    legs = legs_of(function)
    return not legs or any(context.devices[leg.contact.device].profile.actuator in _BY_HAND for leg in legs)

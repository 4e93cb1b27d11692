"""Checks an allocation from the problem and the answer alone. Shares no code with the rooms that found it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable

from wiregen.allocation.model import Allocation, Assignment, Channel, End, Problem
from wiregen.terms import InternalFault

Placed = list[tuple[End, Channel, Assignment]]


def verify(problem: Problem, allocation: Allocation) -> None:
    """Raises InternalFault where the answer breaks a rule of the problem, or a level is not what the answer costs."""
    placed = _matched(problem, allocation)
    for rule in (_channel, _fixed, _details, _preferences):
        for end, channel, assignment in placed:
            rule(end, channel, assignment)
    _one_function_a_channel(placed)
    _one_polarity_a_group(problem, placed)
    _apart(problem, placed)
    _levels(problem, allocation, placed)
    _status(problem, allocation)


def _demand(holds: bool, says: str) -> None:
    if not holds:
        raise InternalFault(f"the allocation fails its check: {says}")


def _matched(problem: Problem, allocation: Allocation) -> Placed:
    """Every end once, placed or unplaced, in declared order, each placed one on a channel that exists."""
    channels = {(channel.device, channel.name): channel for channel in problem.channels}
    ends = {end.id: end for end in problem.ends}
    answered = [a.end for a in allocation.assignments] + [u.end for u in allocation.unplaced]
    _demand(sorted(answered) == sorted(ends), "not every function is answered once")
    order = {end.id: number for number, end in enumerate(problem.ends)}
    for names in ([a.end for a in allocation.assignments], [u.end for u in allocation.unplaced]):
        _demand(names == sorted(names, key=order.__getitem__), "the answer is not in declared order")
    placed = []
    for assignment in allocation.assignments:
        channel = channels.get((assignment.device, assignment.channel))
        _demand(channel is not None, f"{assignment.device}:{assignment.channel} does not exist")
        if channel is not None:
            placed.append((ends[assignment.end], channel, assignment))
    return placed


def _channel(end: End, channel: Channel, assignment: Assignment) -> None:
    name = f"{channel.device}:{channel.name} for {end.function}"
    _demand(channel.device in end.devices, f"{name}: wrong device")
    _demand(channel.role == end.role, f"{name}: wrong role")
    _demand(channel.keep_free is None, f"{name}: kept free")
    _demand(not end.signals or any(s in channel.signals for s in end.signals), f"{name}: wrong signal")
    _demand(all(ability in channel.abilities for ability in end.abilities), f"{name}: lacks an ability")
    _demand(not end.forms or any(form in channel.forms for form in end.forms), f"{name}: wrong contact form")
    limit_a = channel.limit_a if end.load_ac_v is None else channel.limit_ac_a
    _demand(end.load_a is None or limit_a is None or end.load_a <= limit_a, f"{name}: overloaded")
    if end.load_ac_v is not None and channel.limit_ac_v:
        _demand(end.load_ac_v <= channel.limit_ac_v, f"{name}: not rated for the voltage")
    _demand(end.polarity is None or not channel.polarities or end.polarity in channel.polarities, f"{name}: polarity")


def _fixed(end: End, channel: Channel, assignment: Assignment) -> None:
    _demand(end.fixed is None or end.fixed == channel.pin, f"{end.function} is not where it is fixed")


def _details(end: End, channel: Channel, assignment: Assignment) -> None:
    """What the answer says of pins, form, signal and polarity."""
    says = assignment
    _demand(says.function == end.function, f"{end.function} is called {says.function}")
    _demand(bool(says.form) == bool(channel.forms), f"{end.function}: contact form missing, or none to have")
    _demand(not says.form or says.form in channel.forms, f"{end.function}: {channel.name} has no {says.form} contact")
    _demand(not end.forms or says.form in end.forms, f"{end.function}: a {says.form} contact does not serve")
    _demand(bool(says.signal) == bool(end.signals), f"{end.function}: signal missing, or none to have")
    _demand(not says.signal or says.signal in end.signals & channel.signals, f"{end.function}: wrong signal")
    expected = list(channel.pins)
    if "changeover" in channel.forms and says.form == "NO":
        del expected[1]
    elif "changeover" in channel.forms and says.form == "NC":
        del expected[2]
    _demand(list(says.pins) == expected, f"{end.function}: wrong pins")
    if "transistor" in channel.forms and len(channel.polarities) == 1:
        _demand({says.polarity} == set(channel.polarities), f"{end.function}: wrong polarity of an output")
    elif channel.role != "digital_in":
        _demand(says.polarity == "", f"{end.function}: a polarity where none is")


def _preferences(end: End, channel: Channel, assignment: Assignment) -> None:
    _demand(assignment.usual == (not end.usual or channel.pin in end.usual), f"{end.function}: `usual` is wrong")
    _demand(assignment.moved == (end.kept not in (None, channel.pin)), f"{end.function}: `moved` is wrong")


def _one_function_a_channel(placed: Placed) -> None:
    taken = Counter((channel.device, channel.name) for _, channel, _ in placed)
    twice = [f"{device}:{name}" for (device, name), times in taken.items() if times > 1]
    _demand(not twice, f"{', '.join(twice)} serves two functions")


def _one_polarity_a_group(problem: Problem, placed: Placed) -> None:
    wired = dict(problem.polarity)
    for end, channel, assignment in placed:
        if channel.role != "digital_in":
            continue
        polarity = wired.setdefault((channel.device, channel.group), assignment.polarity)
        _demand(assignment.polarity in ("source", "sink"), f"{end.function}: no polarity")
        _demand(assignment.polarity == polarity, f"{end.function}: two polarities in one group of {channel.device}")
        _demand(end.polarity in (None, polarity), f"{end.function} does not fit inputs wired for {polarity}")
        fits = not channel.polarities or polarity in channel.polarities
        _demand(fits, f"{channel.device}:{channel.name} cannot be wired for {polarity}")


def _apart(problem: Problem, placed: Placed) -> None:
    device = {end.id: channel.device for end, channel, _ in placed}
    for members in problem.apart:
        used = [device[member] for member in sorted(set(members)) if member in device]
        _demand(len(used) == len(set(used)), f"{' and '.join(members)} are not apart")


def _together(placed: Placed) -> int:
    uses: dict[tuple[str, str], set[tuple[str, str]]] = defaultdict(set)
    for end, channel, _ in placed:
        if end.bundle:
            uses[end.bundle, end.role].add((channel.device, channel.group))
    return sum(len(groups) for groups in uses.values())


_COST: dict[str, Callable[[Placed], int]] = {
    "moves": lambda placed: sum(end.kept not in (None, channel.pin) for end, channel, _ in placed),
    "unusual": lambda placed: sum(bool(end.usual) and channel.pin not in end.usual for end, channel, _ in placed),
    "scarce": lambda placed: sum(channel.scarce for _, channel, _ in placed),
    "together": _together,
    "from the top": lambda placed: sum(channel.position for _, channel, _ in placed),
}


def _levels(problem: Problem, allocation: Allocation, placed: Placed) -> None:
    """Each level's value is what the answer costs. The tie-break chooses among equals: nothing to cost."""
    names = ["unplaced"] * bool(allocation.unplaced) + [*_COST, "tie-break"]
    _demand([level.name for level in allocation.levels] == names, "the levels are not those of the answer")
    for level in allocation.levels:
        cost = len(allocation.unplaced) if level.name == "unplaced" else level.value
        if level.name in _COST:
            cost = _COST[level.name](placed)
        if level.name == "moves":
            seated = {end.id for end, _, _ in placed}
            cost += sum(end.kept is not None and end.id not in seated for end in problem.ends)
        _demand(level.value == cost, f"{level.name} costs {cost}, not {level.value}")
        _demand(0 <= level.bound <= level.value, f"{level.name} has a bound above its value")
        _demand(level.proven == (level.bound == level.value), f"{level.name} claims a proof that it lacks")


def _status(problem: Problem, allocation: Allocation) -> None:
    missing = bool(allocation.unplaced)
    _demand((allocation.status == "infeasible") == missing, "the status does not tell whether all is placed")
    _demand(bool(allocation.conflicts) == missing, "something is unplaced without a conflict, or the reverse")
    _demand(all(u.why for u in allocation.unplaced), "something is unplaced without a reason")
    known = {end.id for end in problem.ends}
    _demand(all(set(c.members) <= known and c.says for c in allocation.conflicts), "a conflict names what is not there")
    if allocation.status == "optimal":
        proven = all(level.proven for level in allocation.levels if level.name != "together")
        _demand(proven, "`optimal` is claimed without proof")

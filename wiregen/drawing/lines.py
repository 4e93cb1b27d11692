"""The lines of a terminal diagram before they have a place: which terminal, by which way, to which device.

A line is one horizontal run. A block is lines that stay together: a device and all terminals that it is drawn at.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wiregen.allocation.model import Assignment
from wiregen.control.functions import Device, Function, Leg, Parallel, Series
from wiregen.drawing import fonts
from wiregen.drawing.branches import Branch, BranchMaker, Lead, Unit
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.circuit import Circuit, FieldChain, Way
from wiregen.drawing.relay_layout import is_plain, shared_pins
from wiregen.pipeline import Design
from wiregen.profiles.model import Terminal
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor

# Room above and below a line, mm, by what stands on it.
FREE = (3.6, 3.6)
PLAIN = (4.8, 4.8)
NOTED = (4.8, 6.4)  # a tag with a second text under it
ONWARD = (8.0, 9.8)  # the strip of another place, whose name stands above it
CONTACT = (10.0, 6.0)
LOAD = (9.6, 10.8)
EARTHED_LOAD = (13.8, 9.0)
BOX_TOP, BOX_BOTTOM = 10.0, 10.0
BOX_NOTE = 8.9  # room below the last pin of a box with one line of text under it
NOTE_STEP = 4.2  # for each further line of a text beside a symbol; a dense sheet leaves 3.65
MOST_TERMINALS = 2  # of a strip, that have room in one row
MOST_THROUGH = 2  # receivers that have room in one row before a strip
MOST_THROUGH_NEAR = 1  # before a device in the same place
NAME_WIDTH = 22.0  # least room for a function inside the outline, mm
RIGHT_ROLES = frozenset({"relay", "digital_out", "analog_out"})
#: Terminals at whose last pin the device of the function is drawn; the first one feeds it.
_LAST = frozenset({"relay", "contact", "channel", "reset", "motor_thermistor"})


@dataclass(frozen=True, slots=True)
class Line:
    """One run, from the controller outwards.

    ``inner`` is the controller's terminal, None where the line begins at a tag. ``way`` leads from there to the device.
    ``outer`` says what is at the far end: nothing, tag, unit, lead, chain, earth, spare, elsewhere.
    """

    above: float
    below: float
    inner: Pin | None = None
    function: str = ""
    setting: str = ""
    outer: str = "nothing"
    lead: Lead | None = None
    way: Way | None = None
    chain: FieldChain | None = None
    spare: Conductor | None = None
    contacts_of: str = ""  # the end of an input whose contacts are drawn on a sheet of their own
    through: tuple[Unit, ...] = ()  # what stands in the row between ``inner`` and the way


@dataclass(frozen=True, slots=True)
class Block:
    """Lines that stay together on one sheet, with the branch they belong to. ``first`` is the branch's first line."""

    lines: tuple[Line, ...]
    branch: Branch | None = None
    first: int = 0

    @property
    def height(self) -> float:
        return sum(line.above + line.below for line in self.lines)


class Planner:
    """Plans the blocks of every controller. A core's chain is drawn once: at the first block that uses it."""

    def __init__(self, design: Design, circuit: Circuit) -> None:
        self._circuit = circuit
        self._functions_of: dict[str, list[Function]] = {}
        self._maker = BranchMaker(design)
        self._shared = shared_pins(design.functions)
        self._places = {d.name: d.place for d in design.declared.devices}
        self._drawn: set[Pin] = set()  # heads of the chains whose core has a line
        self._at: dict[Pin, tuple[Function, bool]] = {}
        far: dict[Pin, tuple[str, bool]] = {}  # the far pin of units in a row -> controller and side
        for function in design.functions:
            if function.purpose == "coil":  # on the sheet of relay circuits
                continue
            self._functions_of.setdefault(function.controller, []).append(function)
            branch = self._branch(function, False)
            if branch and not branch.is_box and branch.far_pin:
                far[branch.far_pin] = (function.controller, function.purpose in ("output", "analog_out"))
            for index, end in enumerate(function.ends):
                at = self._maker.assignment(end.id)
                if at is not None:
                    self._at[Pin(at.device, at.channel)] = (function, index == 0)
        near = [c for c in circuit.chains if not circuit.from_strip_beside(c.pins[0])]
        self._rails = [(c, {far[p] for p in c.pins if p in far}) for c in near]

    def sides(self, device: Device) -> tuple[list[Block], list[Block]]:
        """The left and the right side of one controller, terminals in physical order."""
        left: list[Block] = []
        right: list[Block] = []
        for terminal in device.profile.terminals:
            mirrored = terminal.role in RIGHT_ROLES or (device.kind == "safety_relay" and terminal.role == "contact")
            (right if mirrored else left).extend(self._terminal(device, terminal, mirrored))
        left += self._not_placed(device)
        return self._merged(left), self._merged(right)

    def _branch(self, function: Function, mirrored: bool) -> Branch | None:
        """What hangs on a function's terminal; None where it is drawn on the sheet of relay circuits."""
        tree = function.partner
        if isinstance(tree, Leg | Series | Parallel) and not is_plain(tree, self._shared):
            return None
        made = self._maker.make(function, mirrored)
        place = self._places[function.controller]
        return None if made is not None and is_beyond_strip(made, place, self._circuit) else made

    # One terminal

    def _terminal(self, device: Device, terminal: Terminal, mirrored: bool) -> list[Block]:
        pins = [Pin(device.name, name) for name in terminal.pins]
        found = self._at.get(pins[0])
        if found is None:
            holds = device.profile.holds_function(terminal)
            return [Block(tuple(self._plain(pin, mirrored, holds and pin == pins[0]) for pin in pins))]
        function, own = found
        if not own or self._maker.drawn_elsewhere(function):
            return [Block(tuple(self._elsewhere(pin, function, i == 0) for i, pin in enumerate(pins)))]
        branch = self._branch(function, mirrored)
        at = self._maker.assignment(function.ends[0].id)
        assert at is not None  # `_at` holds placed ends only
        onward = self._onward(device, function, at, pins, mirrored)
        if onward is not None:
            return onward
        if branch is None:
            first = replace(self._plain(pins[0], mirrored), function=function.name, contacts_of=function.ends[0].id)
            return [Block((first,)), *(Block((self._plain(pin, mirrored),)) for pin in pins[1:])]
        signal = Pin(device.name, at.pins[1] if terminal.role in _LAST else at.pins[0])
        return self._with_branch(function, branch, pins, signal, mirrored)

    def _onward(
        self, device: Device, function: Function, at: Assignment, pins: list[Pin], mirrored: bool
    ) -> list[Block] | None:
        """A function whose device lies beyond a strip of another place: its line ends there, with a tag.

        The device itself is on the sheet of that place, another controller on its own.
        """
        made = self._maker.make(function, mirrored)
        if made is None or not (function.partner is None or is_beyond_strip(made, device.place, self._circuit)):
            return None
        relay = at.form in ("NO", "NC", "changeover") and len(at.pins) > 1
        signal = Pin(device.name, at.pins[1] if relay else at.pins[0])
        way = self._circuit.onward(signal, made.near_pin, device.place)
        places = [self._circuit.strips[terminal.device] for terminal in way.terminals] if way else []
        if way is None or places[-1] != made.place or (len(places) > 1 and places[0] != device.place):
            return None
        first = Line(*ONWARD, signal, outer="onward", way=way, contacts_of=function.ends[0].id)
        lines = [first if pin == signal else self._plain(pin, mirrored) for pin in pins]
        setting = function.setting if function.purpose != "output" else ""
        return _titled([Block((line,)) for line in lines], pins[0], function.name, setting)

    def _plain(self, pin: Pin, mirrored: bool, free: bool = False) -> Line:
        """A terminal at which no device is drawn: free, tagged with its potential, or inner end of a feeding core."""
        chain = self._own_chain(pin, mirrored)
        if chain is not None:
            self._drawn.add(chain.pins[0])
            way = self._circuit.way(pin, chain.pins[0])
            return Line(*NOTED, pin, outer="chain", way=way, chain=chain)
        if self._circuit.potential(pin) is None:
            return Line(*FREE, pin, function="free" if free else "")
        return Line(*NOTED, pin, outer="tag")

    def _own_chain(self, pin: Pin, mirrored: bool) -> FieldChain | None:
        """The chain that feeds devices on this side and whose core's strip terminal is wired to this very pin."""
        neighbours = self._circuit.neighbours(pin)
        for chain, sides in self._rails:
            if chain.terminal in neighbours and (pin.device, mirrored) in sides and chain.pins[0] not in self._drawn:
                return chain
        return None

    def _elsewhere(self, pin: Pin, function: Function, first: bool) -> Line:
        own = pin.device == function.controller
        name = (function.name if own else f"{function.name} of {function.controller}") if first else ""
        if self._circuit.potential(pin) is None:
            return Line(*FREE, pin, name)
        return Line(*NOTED, pin, name, outer="elsewhere")

    def _with_branch(
        self, function: Function, branch: Branch, pins: list[Pin], signal: Pin, mirrored: bool
    ) -> list[Block]:
        """A function's other pins, then the lines of its device, all under the name at the channel's first pin."""
        at = pins.index(signal)
        before = [Block((self._plain(pin, mirrored),)) for pin in pins[:at]]
        after = [Block((self._plain(pin, mirrored),)) for pin in pins[at + 1 :]]
        own = self._box_blocks(branch, signal, pins) if branch.is_box else [self._row_block(branch, signal, mirrored)]
        taken = {line.inner for block in own for line in block.lines}
        blocks = [*before, *own, *(b for b in after if b.lines[0].inner not in taken)]
        return _titled(blocks, pins[0], function.name, function.setting if function.purpose != "output" else "")

    def _box_blocks(self, branch: Branch, signal: Pin | None, pins: list[Pin]) -> list[Block]:
        """The box of a function. Receivers that have no room in its row stand as boxes of their own, joined by tags."""
        if branch.through and not self._passes(signal, branch):
            stubs = [self._maker.receiver(branch.function, unit) for unit in branch.through]
            starts = [signal, *(None for _ in stubs)]
            found = [self._box_block(box, at, pins) for box, at in zip((*stubs, branch), starts, strict=True)]
        else:
            found = [self._box_block(branch, signal, pins)]
        if signal is not None and all(line.inner != signal for block in found for line in block.lines):
            found.insert(0, Block((self._plain(signal, False),)))
        return found

    def _box_block(self, branch: Branch, signal: Pin | None, pins: list[Pin]) -> Block:
        return Block(tuple(self._lead_lines(branch, signal, pins)), branch)

    def _row_block(self, branch: Branch, signal: Pin | None, mirrored: bool) -> Block:
        lines = self._row_lines(branch, signal, mirrored)
        return Block(tuple(lines), branch, next(i for i, line in enumerate(lines) if line.outer == "unit"))

    def _row_lines(self, branch: Branch, signal: Pin | None, mirrored: bool) -> list[Line]:
        """Units in a row, and the line of the core that feeds their far pin, where this block is first to use it."""
        way = self._circuit.way(signal, branch.near_pin) if signal else None
        earth = branch.earth_pin
        lines = [Line(*_room(branch, way), signal, outer="unit", way=way)]
        if earth is not None and self._circuit.potential(earth) is not None:
            core = self._circuit.chain_of(earth)
            lines.append(Line(*PLAIN, outer="earth", way=_core_way(core) if core else None, chain=core))
        far = branch.far_pin
        chain = self._circuit.chain_of(far) if far else None
        if chain is not None and chain.pins[0] not in self._drawn:
            self._drawn.add(chain.pins[0])
            feed = Line(*PLAIN, outer="chain", chain=chain, way=_core_way(chain))
            lines = [*lines, feed] if mirrored else [feed, *lines]
        return lines

    def _lead_lines(self, branch: Branch, signal: Pin | None, pins: list[Pin]) -> list[Line]:
        """One line a lead; a lead goes to the terminal of this channel that is wired straight to it, else to a tag."""
        lines: list[Line] = []
        last = len(branch.leads) - 1
        unit = branch.units[0]
        texts = len(unit.text(note_width(unit, False))) + unit.elsewhere
        under = max(BOX_BOTTOM, BOX_NOTE + 3.6 * (texts - 1))
        top, bottom = (NOTED[0], NOTED[1]) if unit.symbol.kind == "potentiometer" else (BOX_TOP, under)
        for row, lead in enumerate(branch.leads):
            inner = signal if row == branch.anchor else self._straight(lead.pin, pins, {signal})
            through = branch.through if row == branch.anchor and self._passes(inner, branch) else ()
            start = _far_pin(through[-1]) if through else inner
            way = self._in_a_row(start, lead.pin) if start else None
            if way is None and inner is not None and self._wired(inner, lead.pin):
                inner = None  # nothing leads straight there, so each end has a tag
            if way is None and (chain := self._circuit.chain_of(lead.pin)) and chain.pins[0] == lead.pin:
                way = _core_way(chain)
            above = top if row == 0 else branch.pitch / 2
            below = bottom if row == last else branch.pitch / 2
            lines.append(Line(above, below, inner, outer="lead", lead=lead, way=way, through=through))
        return lines

    def _wired(self, *pins: Pin) -> bool:
        return any(self._circuit.potential(pin) is not None for pin in pins)

    def _passes(self, inner: Pin | None, branch: Branch) -> bool:
        """Whether plain wires lead from the terminal through every receiver, and a row has room for them."""
        through = branch.through
        near = inner is not None and branch.place == self._places[inner.device]
        if inner is None or not 0 < len(through) <= (MOST_THROUGH_NEAR if near else MOST_THROUGH):
            return False
        starts = [inner, *(_far_pin(unit) for unit in through)]
        ways = [self._circuit.way(a, _near_pin(unit)) for a, unit in zip(starts, through, strict=False)]
        return all(way is not None and not way.terminals for way in ways)

    def _straight(self, pin: Pin, pins: list[Pin], taken: set[Pin | None]) -> Pin | None:
        return next((p for p in pins if p not in taken and self._in_a_row(p, pin) is not None), None)

    def _in_a_row(self, start: Pin, goal: Pin) -> Way | None:
        """The way between two pins where a row has room for it: strip terminals stand there only before a core."""
        way = self._circuit.way(start, goal)
        if way is None or len(way.terminals) > MOST_TERMINALS:
            return None
        return way if not way.terminals or any(c.cable for c in way.conductors) else None

    def _not_placed(self, device: Device) -> list[Block]:
        """Functions without a terminal, drawn with an open end below the last terminal."""
        blocks: list[Block] = []
        for function in self._functions_of.get(device.name, []):
            if self._maker.assignment(function.ends[0].id) is not None:
                continue
            branch = self._branch(function, False)
            if branch is None:
                continue
            own = self._box_blocks(branch, None, []) if branch.is_box else [self._row_block(branch, None, False)]
            blocks += [_named(own[0], f"not placed: {function.name}"), *own[1:]]
        return blocks

    # Neighbouring blocks

    def _merged(self, blocks: list[Block]) -> list[Block]:
        """A tagged terminal just above or below a box joins it where a wire leads straight to its nearest lead."""
        merged: list[Block] = []
        for block in blocks:
            previous = merged[-1] if merged else None
            if previous is not None and self._joins(block, 0, previous):
                merged[-1] = _taking(block, 0, previous.lines[0], self._circuit)
            elif previous is not None and self._joins(previous, -1, block):
                merged[-1] = _taking(previous, -1, block.lines[0], self._circuit)
            else:
                merged.append(block)
        return merged

    def _joins(self, box: Block, at: int, single: Block) -> bool:
        if box.branch is None or not box.branch.is_box or single.branch is not None or len(single.lines) != 1:
            return False
        line, tag = box.lines[at], single.lines[0]
        if line.inner is not None or line.lead is None or tag.inner is None or tag.outer != "tag":
            return False
        return self._in_a_row(tag.inner, line.lead.pin) is not None


def note_width(unit: Unit, far: bool) -> float:
    """How wide a text beside a symbol may be, mm: in the cabinet a contact stands close to the conductor's number."""
    return (27.0 if far else 20.0) if unit.symbol.kind == "contact" else 30.0


def _room(branch: Branch, way: Way | None) -> tuple[float, float]:
    """Room above and below units in a row, for their symbols and all lines of their texts."""
    far = way is not None and any(c.cable for c in way.conductors)
    lines = max(len(unit.text(note_width(unit, far))) + unit.elsewhere for unit in branch.units)
    more = NOTE_STEP * max(lines - 2, 0)
    if branch.units[0].symbol.kind == "contact":
        return CONTACT[0] + more, CONTACT[1]
    if branch.earth_pin is not None:
        return EARTHED_LOAD[0] + NOTE_STEP * max(lines - 1, 0), EARTHED_LOAD[1]
    return LOAD[0], LOAD[1] + more


def _near_pin(unit: Unit) -> Pin:
    return Pin(unit.device, dict(unit.pins)[unit.near])


def _far_pin(unit: Unit) -> Pin:
    return Pin(unit.device, dict(unit.pins)[unit.far or unit.near])


def is_beyond_strip(branch: Branch, place: str, circuit: Circuit) -> bool:
    """Whether a device is drawn on the sheet of its own place, seen from a controller in ``place``.

    So it is where its cores begin at a strip beside it, where its own place has the last strip on the way, and where
    the way to a device beside the controller leads out and back.
    """
    pins = [Pin(unit.device, name) for unit in branch.units for _, name in unit.pins]
    if any(circuit.from_strip_beside(pin) or (branch.place == place and circuit.core_at(pin)) for pin in pins):
        return True
    there = branch.place != place and branch.place in circuit.strips.values()
    return branch.function.partner is not None and there


def _core_way(chain: FieldChain) -> Way:
    return Way((chain.core,), (chain.terminal,))


def _titled(blocks: list[Block], pin: Pin, function: str, setting: str) -> list[Block]:
    """The function's name at the line of the channel's first pin."""
    return [
        replace(
            block,
            lines=tuple(
                _told(line, function, setting, block, i) if line.inner == pin else line
                for i, line in enumerate(block.lines)
            ),
        )
        for block in blocks
    ]


def _told(line: Line, function: str, setting: str, block: Block, at: int) -> Line:
    """The line with function and setting, and room below for all their rows; a box keeps the pitch of its pins."""
    if block.branch is not None and block.branch.is_box and at < len(block.lines) - 1:
        return replace(line, function=function, setting=setting)
    names = max(1, len(fonts.wrap(function, TEXT, NAME_WIDTH)))
    settings = len(fonts.wrap(shown_setting(setting), LEAST, NAME_WIDTH)) if setting else 0
    below = 1.9 * (names - 1) + 3.2 * settings + 3.0 if settings else 1.9 * names
    return replace(line, function=function, setting=setting, below=max(line.below, below))


def shown_setting(setting: str) -> str:
    """What of a setting stands on the sheet; the function table has it whole."""
    return setting.split(",")[0]


def _named(block: Block, name: str) -> Block:
    at = block.first + (block.branch.anchor if block.branch else 0)
    lines = tuple(replace(line, function=name) if i == at else line for i, line in enumerate(block.lines))
    return replace(block, lines=lines)


def _taking(box: Block, at: int, tag: Line, circuit: Circuit) -> Block:
    index = at % len(box.lines)
    line = box.lines[index]
    assert tag.inner is not None and line.lead is not None
    way = circuit.way(tag.inner, line.lead.pin)
    taken = replace(line, inner=tag.inner, function=tag.function, setting=tag.setting, way=way)
    return replace(box, lines=(*box.lines[:index], taken, *box.lines[index + 1 :]))

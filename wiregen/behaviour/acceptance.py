"""The sequence by which a machine is taken over, written from what is declared: methods, trips, selection, restart.

What is expected stands in the declaration; the plant is asked only what to operate so that a function acts.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from wiregen.behaviour.controllers import Drive
from wiregen.behaviour.deeds import Deed, deeds_for, resets
from wiregen.behaviour.drive import WAYS
from wiregen.behaviour.drive_spec import RunSpec
from wiregen.behaviour.exploring import Lead, search
from wiregen.behaviour.plant import DesignLike, Plant
from wiregen.behaviour.sequence import follow
from wiregen.behaviour.standing import Standing
from wiregen.control.functions import SelectionInfo, Transmitter
from wiregen.scheme.steps import Step

StepData = dict[str, Any]


def acceptance(plant: Plant, design: DesignLike) -> tuple[Step, ...]:
    """The steps of taking over every drive of a design, one drive after the other."""
    return tuple(Step.model_validate(data) for data in acceptance_data(plant, design))


def acceptance_data(plant: Plant, design: DesignLike) -> list[StepData]:
    """The same as it would stand in a scheme file, under ``steps``."""
    found: list[StepData] = []
    standing = plant.at_rest()
    for drive in plant.drives:
        writer = _Writer(plant, design, drive, standing)
        writer.write()
        found += writer.steps
        standing = writer.standing
    return found


class _Writer:
    """Writes the steps of one drive, and follows them in the plant."""

    def __init__(self, plant: Plant, design: DesignLike, drive: str, standing: Standing) -> None:
        self._plant, self._design, self._drive = plant, design, drive
        controller = dict(plant.controllers)[drive]
        assert isinstance(controller, Drive)
        self._spec = controller.spec
        self._deeds = deeds_for(design.declared, design.allocation, drive)
        self._resets = [d for d in resets(design.declared, self._deeds) if d.kind == "press"]
        control = design.scheme.model.control.get(drive)
        self._needs_start = control is not None and control.restart == "needs_start"
        self._restart_known = control is not None and control.restart is not None
        self.standing = standing
        self._leads: list[Lead] | None = None  # where deeds lead to, once it is asked for
        self._way = 1  # where the drive turned last
        self.steps: list[StepData] = []

    def write(self) -> None:
        self._do({}, "still", says=f"take over {self._drive}: nobody touches anything")
        for run in self._spec.runs:
            lead = self._way_to(run)
            if lead is None:
                continue
            for deed, back in lead:
                last = deed is lead[-1][0]
                self._do(self._data(deed, tap=back), "running" if last else None)
            self._stops(run, lead)
            self._other_way(run, lead)
            self._speeds()
            self._lost_signals(lead)
            self._protects(run, lead)
            self._power(run, lead)
            self._leave(lead)

    # What is tried in a run

    def _stops(self, run: RunSpec, lead: list[tuple[Deed, bool]]) -> None:
        """What stops the run keeps it still when it is let go; the start runs it again."""
        start, tap = lead[-1]
        if run.method == "three-wire" or tap:
            deeds = [self._deed_for(stop) for stop in run.stops] or [self._deed_against(run)]
            for deed in (d for d in deeds if d is not None):
                self._there_and_back(deed, "still", "still")
                self._again(lead)
            return
        self._there_and_back(start, "still", self._running())

    def _other_way(self, run: RunSpec, lead: list[tuple[Deed, bool]]) -> None:
        """The other direction of a run that has two; both at once; the end of the travel."""
        start = lead[-1][0]
        if run.levels and run.forward and run.reverse:
            other = self._deed_for(run.reverse if self._moving > 0 else run.forward)
            if other is not None and run.both_stop:
                self._there_and_back(other, "still", None)
                self._again(lead)
        limit = self._deed_for("limit forward" if self._moving > 0 else "limit reverse")
        if limit is not None and limit != start:
            self._there_and_back(limit, "still", None)
            self._again(lead)

    def _speeds(self) -> None:
        """Every position of a selector that selects speeds, where the speed is set in the drive."""
        found = [s for s in self._design.declared.selections if s.controller == self._drive and s.by_position]
        for selection in found:
            device = self._device_of(selection.contacts[0])
            if device is None:
                continue
            at = dict(self.standing.hands.positions).get(device)
            for key, (_, name) in zip(selection.keys, selection.rows, strict=True):
                reference = self._spec.reference(name)
                known = key in self._plant.circuit.devices[device].declared.positions
                if not known or reference is None or reference.kind != "preset" or selection.run_of(0):
                    continue
                hz = self._spec.limited(reference.preset_hz)
                self._do({"turn": {device: key}}, f"running at {hz:g} Hz")
            positions = self._plant.circuit.devices[device].declared.positions
            if positions and self._drive_reference != self._reference_at(selection, at or positions[0]):
                self._do({"turn": {device: at or positions[0]}}, None)

    def _device_of(self, contact: str) -> str | None:
        """The device of a contact as written, ``-SJ3@AUTO`` or ``-KF1.11-14``; a name may hold a dot itself."""
        names = self._plant.circuit.devices
        fits = [n for n in names if contact == n or contact.startswith((f"{n}@", f"{n}."))]
        return max(fits, key=len, default=None)

    @property
    def _drive_reference(self) -> str:
        return self.standing.drive(self._drive).reference

    @staticmethod
    def _reference_at(selection: SelectionInfo, position: str) -> str:
        return next(
            (name for key, (_, name) in zip(selection.keys, selection.rows, strict=True) if key == position), ""
        )

    def _lost_signals(self, lead: list[tuple[Deed, bool]]) -> None:
        """The signal in force taken away, and what is declared for that."""
        reference = self._spec.reference(self._drive_reference)
        source = next(
            (
                f.partner.device
                for f in self._design.declared.functions
                if reference is not None and f.controller == self._drive and f.name == reference.function
                if isinstance(f.partner, Transmitter)
            ),
            None,
        )
        if reference is None or source is None or reference.signal != "4-20 mA" or not reference.on_low:
            return
        expect = {"trip": "tripped", "stop": "still"}.get(reference.on_low, "running")
        if reference.on_low.startswith("run at "):
            expect = f"running at {reference.on_low.removeprefix('run at ')}"
        self._do({"set": {source: "0 mA"}}, expect)
        self._do({"set": {source: "12 mA"}}, expect if expect in ("tripped",) else None)
        if expect == "tripped":
            self._do({"reset": self._drive}, None)
        self._again(lead)

    @property
    def _moving(self) -> int:
        return self.standing.drive(self._drive).moving

    def _protects(self, run: RunSpec, lead: list[tuple[Deed, bool]]) -> None:
        """Every trip stops and stays; every enable stops; torque that is taken away does not come back by itself."""
        for function in ("external trip", "motor thermistor", "enable", *self._spec.torque[:1]):
            deed = self._deed_for(function)
            if deed is None:
                continue
            trips = function in ("external trip", "motor thermistor")
            back = "tripped" if trips else "still" if self._stays_still(run) else None
            self._there_and_back(deed, "tripped" if trips else "still", back)
            if trips:
                self._do({"reset": self._drive}, "still" if self._stays_still(run) else None)
            self._again(lead)

    def _power(self, run: RunSpec, lead: list[tuple[Deed, bool]]) -> None:
        """A supply that goes and returns: still where a start is needed, running where a command may run it again.

        A command that a button gave and something holds, such as a relay by its own contact, may have gone with it.
        """
        self._do({"power": "off"}, "still")
        stands = not any(tap for _, tap in lead)
        runs_again = stands and not self._stays_still(run) and self._restart_known
        self._do({"power": "on"}, self._running() if runs_again else "still" if self._stays_still(run) else None)
        self._again(lead)

    def _stays_still(self, run: RunSpec) -> bool:
        return run.method == "three-wire" or self._needs_start

    def _again(self, lead: list[tuple[Deed, bool]]) -> None:
        """The last deed once more, unless the drive runs already."""
        if self._moving:
            return
        for reset in self._resets if set(self._spec.torque) & self.standing.drive(self._drive).acting else ():
            self._do(self._data(reset, tap=True), "still")
        start, tap = lead[-1]
        if not tap:
            self._there_and_back(start, "still", self._running())
            return
        run = next((r for r in self._spec.runs if set(r.levels) & self.standing.drive(self._drive).waits), None)
        against = self._deed_against(run) if run is not None else None
        if against is not None:
            self._there_and_back(against, "still", "still")
        self._do(self._data(start, tap=True), "running")

    def _there_and_back(self, deed: Deed, there: str, back: str | None) -> None:
        """Do something and undo it, whatever it was."""
        before = self._position(deed.device) if deed.kind == "turn" else ""
        self._do(self._data(deed, tap=False), there)
        if deed.kind == "turn":
            other = before if before != self._position(deed.device) else str(deed.value)
            self._do({"turn": {deed.device: other}}, back)
        else:
            self._do(self._data(deed, tap=False), back)

    def _position(self, selector: str) -> str:
        """Where a selector stands."""
        return dict(self.standing.hands.positions).get(selector, self._at_rest(selector))

    def _at_rest(self, selector: str) -> str:
        return self._plant.circuit.devices[selector].positions[0]

    def _leave(self, lead: list[tuple[Deed, bool]]) -> None:
        """Everything back as it was before the run."""
        for deed, tap in reversed(lead):
            if not tap and (deed.device in self.standing.hands.operated | self.standing.hands.commanded):
                self._do(self._data(deed, tap=False), None)
            elif deed.kind == "turn":
                self._do({"turn": {deed.device: self._at_rest(deed.device)}}, None)
        stop = next((d for s in self._spec.runs for n in s.stops if (d := self._deed_for(n))), None)
        if self.standing.drive(self._drive).moving and stop is not None:
            self._do(self._data(stop, tap=True), "still")

    # Finding what to do

    def _way_to(self, run: RunSpec) -> list[tuple[Deed, bool]] | None:
        """The fewest deeds from the rest that make a run run; the deed that starts it comes last."""
        if self._leads is None:
            self._leads = sorted(search(self._plant, self._drive, self._deeds), key=lambda lead: lead.rank)
        for lead in self._leads:
            memory = lead.standing.drive(self._drive)
            named = not self._spec.rows or memory.run in ("", run.name)
            overridden = any(o.function in memory.acting for o in self._spec.overrides)
            if (
                memory.moving
                and named
                and not overridden
                and lead.path
                and self._is_of(run, lead.start, lead.path[-1][0])
            ):
                return list(lead.path)
        return None

    def _is_of(self, run: RunSpec, start: Deed | None, last: Deed) -> bool:
        return start is not None and start == last and bool(run.start or run.forward or run.network)

    def _deed_for(self, function: str) -> Deed | None:
        """One deed after which a function acts that does not act now."""
        if function in self.standing.drive(self._drive).acting:
            return None
        return next((d for d, acting in self._tried() if function in acting), None)

    def _deed_against(self, run: RunSpec) -> Deed | None:
        """One deed after which a command that lasts does not act any more."""
        acting = self.standing.drive(self._drive).acting
        command = next((name for name in run.levels if name in acting), None)
        if command is None:
            return None
        return next((d for d, acting in self._tried() if command not in acting), None)

    def _tried(self) -> Iterator[tuple[Deed, frozenset[str]]]:
        """Each deed that moves a contact or an output now, and the functions that act after it."""
        kinds, hands = ("press", "actuate", "turn", "command"), self.standing.hands
        options = [d for d in self._deeds if d.kind in kinds and d.on(hands) != hands]
        after = self._plant.settle([self.standing] * len(options), [d.on(hands) for d in options])
        return ((d, s.drive(self._drive).acting) for d, s in zip(options, after, strict=True))

    # Writing

    def _running(self) -> str:
        memory = self.standing.drive(self._drive)
        reference = self._spec.reference(memory.reference)
        if reference is not None and reference.kind == "preset":
            return f"running {WAYS[self._way]} at {self._spec.limited(reference.preset_hz):g} Hz"
        return f"running {WAYS[self._way]}"

    def _data(self, deed: Deed, *, tap: bool) -> StepData:
        hands, device = self.standing.hands, deed.device
        match deed.kind:
            case "press" | "actuate" if tap:
                return {"press": device}
            case "press" | "actuate":
                return {"release" if device in hands.operated else "operate": device}
            case "turn" if dict(hands.positions).get(device) == deed.value:
                return {"turn": {device: self._at_rest(device)}}
            case "turn":
                return {"turn": {device: str(deed.value)}}
            case "network":
                return {"withdraw" if device in hands.commanded else "command": {device: "run"}}
            case _:
                card = device.split(":")[0]
                duty = next(
                    o.duty for name, outs in self._plant.card_outputs if name == card for o in outs if o.pin == device
                )
                return {"withdraw" if device in hands.commanded else "command": {card: duty}}

    def _do(self, data: StepData, expect: str | None, says: str = "") -> None:
        """Write a step and take it."""
        if not data and expect is None:
            return
        step = {**data, **({"expect": {self._drive: expect}} if expect else {}), **({"says": says} if says else {})}
        self.standing = follow(self._plant, self.standing, Step.model_validate(step))
        self._way = self._moving or self._way
        self.steps.append(step)

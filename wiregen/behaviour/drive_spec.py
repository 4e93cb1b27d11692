"""What a drive is set to do, as data: its runs, selection, references, overrides and limits, from what is declared.

Everything is generic: a drive as common practice knows it, with the settings that the scheme needs, made as listed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen import quantities
from wiregen.control.functions import Declared, Device, Function, ReferenceInfo
from wiregen.scheme.model import Control, Override, Process, ProcessSignal

#: Where nothing says how fast: the mains frequency. common practice, no source.
_TOP_HZ = 50.0


@dataclass(frozen=True, slots=True)
class RunSpec:
    """One run. ``stops`` are the functions that stop it; ``both_stop``: both directions at once stop."""

    name: str
    method: str
    network: bool
    both_stop: bool
    start: str = ""
    start_reverse: str = ""
    forward: str = ""
    reverse: str = ""
    stops: tuple[str, ...] = ()

    @property
    def levels(self) -> tuple[str, ...]:
        """The commands that are taken as long as they last."""
        return tuple(name for name in (self.forward, self.reverse) if name)


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed loop. Setpoint and feedback are parts of their spans; ``setpoint`` None comes in at a terminal."""

    setpoint: float | None
    setpoint_from: str
    feedback_from: str
    rises: bool  # speeds up when the feedback rises


@dataclass(frozen=True, slots=True)
class ReferenceSpec:
    """One speed reference. ``function`` brings it in at a terminal; ``low_hz`` and ``high_hz`` are its span [Hz]."""

    name: str
    kind: str
    function: str
    signal: str
    low_hz: float
    high_hz: float
    preset_hz: float
    on_low: str
    on_high: str
    loop: Loop | None = None


@dataclass(frozen=True, slots=True)
class OverrideSpec:
    function: str
    direction: int
    speed: str
    ignores: frozenset[str]


@dataclass(frozen=True, slots=True)
class DriveSpec:
    """A drive. ``by_edge``: commands that last are taken by their closing edge, so that each needs to be given anew.

    ``start_by_edge`` is the same for a start of three-wire; ``with_stop_closed``: and only with stop closed before.
    ``rows`` of the selection are (digits, reference, run); ``answers`` what a lost signal of each function does.
    """

    name: str
    runs: tuple[RunSpec, ...]
    references: tuple[ReferenceSpec, ...]
    rows: tuple[tuple[str, str, str], ...]
    overrides: tuple[OverrideSpec, ...]
    by_edge: bool
    start_by_edge: bool
    with_stop_closed: bool
    starts_after_changeover: bool
    limits_hz: tuple[float, float] | None
    jog_speed: str
    jogs: tuple[str, ...]
    torque: tuple[str, ...]
    answers: tuple[tuple[str, str, str, str], ...]  # (function, signal, low, high)

    @property
    def level_commands(self) -> frozenset[str]:
        return frozenset(name for run in self.runs for name in run.levels) | frozenset(self.jogs)

    def reference(self, name: str) -> ReferenceSpec | None:
        return next((r for r in self.references if r.name == name), None)

    def limited(self, hz: float) -> float:
        """A speed [Hz] within the limits."""
        return hz if self.limits_hz is None else min(max(hz, self.limits_hz[0]), self.limits_hz[1])

    @property
    def top_hz(self) -> float:
        """The most that the drive runs at [Hz]."""
        if self.limits_hz:
            return self.limits_hz[1]
        return max((r.high_hz for r in self.references), default=_TOP_HZ)


def drive_spec(declared: Declared, device: Device, control: Control) -> DriveSpec:
    """The data of one drive."""
    own = [f for f in declared.functions if f.controller == device.name]
    infos = next((infos for name, infos in declared.references if name == device.name), ())
    selection = next((s for s in declared.selections if s.controller == device.name), None)
    needs_start = control.restart == "needs_start"
    edge = device.profile.start_by == "edge"
    rows = () if selection is None else [(d, r, selection.run_of(i)) for i, (d, r) in enumerate(selection.rows)]
    return DriveSpec(
        name=device.name,
        runs=tuple(_runs(declared, device, control, own)),
        references=tuple(_reference(info, control, own) for info in infos),
        rows=tuple(rows),
        overrides=tuple(_override(name, o) for name, o in control.override.items()),
        by_edge=needs_start and edge,
        start_by_edge=edge,
        with_stop_closed=device.profile.start_with_stop_closed is not None,
        starts_after_changeover=control.starts_after_changeover,
        limits_hz=quantities.parse_range(control.speed_limits, "Hz") if control.speed_limits else None,
        jog_speed=(control.jog.speed or "") if control.jog else "",
        jogs=tuple(f.name for f in own if f.meaning.startswith("jog ")),
        torque=tuple(f.name for f in own if f.purpose == "safe_torque_off"),
        answers=tuple((f.name, f.signal, f.on_low, f.on_high) for f in own if f.purpose == "analog_in"),
    )


def _runs(declared: Declared, device: Device, control: Control, own: list[Function]) -> Iterator[RunSpec]:
    declared_runs = control.run.named if control.run else {}
    infos = next((runs for name, runs in declared.runs if name == device.name), ())
    for info in infos:
        found = {f.meaning: f.name for f in own if f.run == info.name and f.purpose == "input"}
        stops = tuple(
            f.name
            for f in own
            if f.meaning == "stop" and (f.run == info.name or not f.run or "stops every run" in f.setting)
        )
        yield RunSpec(
            name=info.name,
            method=info.method,
            network=info.network,
            both_stop=declared_runs[info.name].both == "stop",
            start=found.get("start", ""),
            start_reverse=found.get("start reverse", ""),
            forward=found.get("run forward", ""),
            reverse=found.get("run reverse", ""),
            stops=stops,
        )


def _reference(info: ReferenceInfo, control: Control, own: list[Function]) -> ReferenceSpec:
    declared = control.speed[info.name]
    low = 0.0 if info.low_hz is None else info.low_hz
    high = _TOP_HZ if info.high_hz is None else info.high_hz
    function = next((f for f in own if f.meaning == f"reference {info.name}" and f.purpose == "analog_in"), None)
    return ReferenceSpec(
        name=info.name,
        kind=info.kind,
        function=function.name if function else "",
        signal=function.signal if function else info.signal,
        low_hz=low,
        high_hz=high,
        preset_hz=info.preset_hz or 0.0,
        on_low=info.on_low,
        on_high=info.on_high,
        loop=_loop(info.name, declared.process, own) if declared.process else None,
    )


def _loop(name: str, process: Process, own: list[Function]) -> Loop:
    def function(plain: str) -> str:
        found = [f for f in own if f.meaning == plain and f.run in ("", name)]
        return found[0].name if found else ""

    setpoint = function("setpoint")
    return Loop(
        setpoint=None if setpoint else _preset_part(process),
        setpoint_from=setpoint,
        feedback_from=function("feedback"),
        rises=process.when_feedback_rises == "speed_up",
    )


def _preset_part(process: Process) -> float:
    """A setpoint that is set in the drive, as a part of the feedback's span; half of it where nothing says more."""
    said: ProcessSignal | None = process.setpoint
    spans = process.feedback.spans if process.feedback else None
    if said is None or said.preset is None or spans is None:
        return 0.5
    try:
        low, high, _ = quantities.parse_span(spans)
        value = float(said.preset.split()[0])
    except (ValueError, IndexError):
        return 0.5
    return min(1.0, max(0.0, (value - low) / (high - low))) if high != low else 0.5


def _override(name: str, said: Override) -> OverrideSpec:
    ignores = frozenset(text.replace("_", " ") for text in said.ignores)
    return OverrideSpec(f"override {name}", -1 if said.runs == "reverse" else 1, said.speed or "", ignores)

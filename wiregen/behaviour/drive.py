"""The state machine of a drive: what it remembers, and what it makes of its inputs from one instant to the next.

An input *acts* when it does what its name says: a stop acts when its circuit opens, a start when it closes. A broken
wire and an input without a terminal read as open.
"""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.behaviour.drive_spec import DriveSpec, OverrideSpec, RunSpec
from wiregen.behaviour.speed import Speed, Values, speed

#: A command from the network, as it stands among the inputs that act.
NETWORK = "run from the network"
#: The key at the drive itself that resets it.
KEY = "reset at the drive"
#: What `moving` says, in words.
WAYS = {1: "forward", -1: "reverse"}


@dataclass(frozen=True, slots=True)
class DriveSeen:
    """What a drive sees in one instant: whether it is fed, the functions that act, its analog values [V or A]."""

    fed: bool
    acting: frozenset[str]
    values: Values = ()


@dataclass(frozen=True, slots=True)
class DriveMemory:
    """What a drive remembers, and what it does: ``moving`` is 1 forward, -1 reverse, 0; ``hz`` [Hz] is never negative.

    ``sealed`` is the direction that a start keeps up; ``waits`` holds commands that must be taken away before they
    count again; ``trim`` [Hz] is where raise and lower have led; ``why`` says why it stands still,
    ``answered`` which lost signal it runs on without, as declared.
    """

    fed: bool = False
    acting: frozenset[str] = frozenset()
    run: str = ""
    sealed: int = 0
    waits: frozenset[str] = frozenset()
    tripped: str = ""
    moving: int = 0
    hz: float = 0.0
    trim: float | None = None
    reference: str = ""
    why: str = "no supply"
    answered: str = ""


def step(spec: DriveSpec, before: DriveMemory, seen: DriveSeen) -> DriveMemory:
    """The drive one instant later. Edges are counted against the instant before; none at power-up."""
    if not seen.fed:
        return DriveMemory(acting=seen.acting)
    acting, fresh = seen.acting, not before.fed
    rising = frozenset() if fresh else acting - before.acting
    override = next((o for o in spec.overrides if o.function in acting), None)
    ignored = override.ignores if override else frozenset()
    run, name = _in_force(spec, acting)
    if override is not None:
        name = override.speed or name
    asked = speed(spec, "" if name == "stop" else name, seen.values, before.hz)
    tripped = _tripped(spec, before, acting, rising, asked, ignored, fresh)
    halted = _halted(spec, run, name, acting, asked, tripped, ignored, override)
    waits = _waits(spec, before, acting, run, fresh, halted)
    sealed = 0 if halted or fresh or run != before.run else before.sealed
    sealed = sealed if halted else _started(spec, run, before, acting, rising, sealed)
    moving, name, why = _direction(spec, run, acting, waits, sealed, before, override, name, halted)
    blocked = _limit(moving, acting, ignored)
    if blocked:
        moving, sealed, why = 0, 0, blocked
        waits |= (acting & spec.level_commands) if spec.by_edge else frozenset()
    trim = None if fresh else _trim(spec, before.trim, acting)
    found = speed(spec, name, seen.values, before.hz) if name != "stop" else asked
    hz = found.hz if trim is None else trim
    return DriveMemory(
        fed=True,
        acting=acting - {KEY},
        run=run,
        sealed=sealed,
        waits=waits,
        tripped=tripped,
        moving=moving,
        hz=round(hz, 3) if moving else 0.0,
        trim=trim,
        reference=name,
        why="" if moving else why,
        answered=found.why if moving else "",
    )


def _in_force(spec: DriveSpec, acting: frozenset[str]) -> tuple[str, str]:
    """The run and the reference that the selection brings into force; `stop` where it says so, or no row fits."""
    first = spec.references[0].name if spec.references else ""
    if not spec.rows:
        return "", first
    code = "".join("1" if f"select {n + 1}" in acting else "0" for n in range(len(spec.rows[0][0])))
    for digits, reference, run in spec.rows:
        if all(d in ("x", c) for d, c in zip(digits, code, strict=False)):
            return run, reference or first
    return "", "stop"


def _runs(spec: DriveSpec, run: str) -> tuple[RunSpec, ...]:
    """The runs in force: the one that the selection names, else all."""
    return tuple(r for r in spec.runs if not run or r.name == run)


def _tripped(
    spec: DriveSpec,
    before: DriveMemory,
    acting: frozenset[str],
    rising: frozenset[str],
    asked: Speed,
    ignored: frozenset[str],
    fresh: bool,
) -> str:
    """Why the drive has tripped. A trip stays until it is reset with its cause gone, or the drive loses its supply."""
    causes: list[str] = [
        name for name in ("external trip", "motor thermistor") if name in acting and name not in ignored
    ]
    if asked.answer == "trip" and "lost signal" not in ignored:
        causes.append(asked.why)
    if causes:
        return before.tripped or causes[0]
    reset = "reset" in rising or KEY in acting
    return "" if fresh or reset or before.tripped in ignored else before.tripped


def _halted(
    spec: DriveSpec,
    run: str,
    name: str,
    acting: frozenset[str],
    asked: Speed,
    tripped: str,
    ignored: frozenset[str],
    override: OverrideSpec | None,
) -> str:
    """What holds the motor still whatever is commanded; empty where nothing does. Nothing goes over torque off."""
    off = next((t for t in spec.torque if t in acting), "")
    if off:
        return off
    if tripped:
        return f"tripped: {tripped}"
    if "enable" in acting and "enable" not in ignored:
        return "enable"
    stops = {stop for r in _runs(spec, run) for stop in r.stops} & acting
    if "always stops" in acting:
        stops.add("always stops")
    if stops and not ignored & {"stop", "always stops"}:
        return min(stops)
    if override is not None:
        return ""
    if name == "stop":
        return "selection: stop"
    return asked.why if asked.answer == "stop" else ""


def _waits(
    spec: DriveSpec, before: DriveMemory, acting: frozenset[str], run: str, fresh: bool, halted: str
) -> frozenset[str]:
    """The commands that last and must be taken away before they count again."""
    waits = before.waits & acting
    if spec.by_edge and (fresh or halted):
        waits |= acting & (spec.level_commands | {NETWORK})
    if not fresh and run != before.run and not spec.starts_after_changeover:
        waits |= acting & frozenset(name for r in _runs(spec, run) for name in r.levels)
    return waits


def _started(
    spec: DriveSpec, run: str, before: DriveMemory, acting: frozenset[str], rising: frozenset[str], sealed: int
) -> int:
    """The direction that the starts of three-wire runs keep up."""
    for r in _runs(spec, run):
        if r.method != "three-wire":
            continue
        taken = rising if spec.start_by_edge else acting
        if spec.with_stop_closed and set(r.stops) & before.acting:
            taken = frozenset()
        forward, backward = r.start in taken, r.start_reverse in taken
        if r.start in acting and r.start_reverse in acting:
            sealed = 0 if r.both_stop else sealed
        elif forward or backward:
            sealed = 1 if forward else -1
    return sealed


def _direction(
    spec: DriveSpec,
    run: str,
    acting: frozenset[str],
    waits: frozenset[str],
    sealed: int,
    before: DriveMemory,
    override: OverrideSpec | None,
    name: str,
    halted: str,
) -> tuple[int, str, str]:
    """Where the motor turns, by which reference, and why it does not."""
    if halted:
        return 0, name, halted
    if override is not None:
        return override.direction, name, ""
    moving = sealed
    counts = acting - waits
    for r in _runs(spec, run):
        if r.network and NETWORK in counts:
            moving = 1
        if r.method == "three-wire":
            continue
        forward, backward = r.forward in counts, r.reverse in counts
        if forward and backward:
            # Undeclared, the command that came first stays; both out of rest start nothing.
            moving = 0 if r.both_stop else before.moving
        elif forward or backward:
            moving = 1 if forward else -1
    if moving and "reverse" in acting:
        moving = -moving
    if not moving:
        jogs = [d for d, jog in ((1, "jog forward"), (-1, "jog reverse")) if jog in counts]
        if len(jogs) == 1:
            return jogs[0], spec.jog_speed or name, ""
    return moving, name, "waits for a new command" if waits else "no command"


def _limit(moving: int, acting: frozenset[str], ignored: frozenset[str]) -> str:
    name = {1: "limit forward", -1: "limit reverse"}.get(moving, "")
    return name if name in acting and name not in ignored else ""


def _trim(spec: DriveSpec, before: float | None, acting: frozenset[str]) -> float | None:
    """Raise and lower lead to the ends when they are held long enough; else the speed stays where they have led."""
    if ("raise" in acting) == ("lower" in acting):
        return before
    return spec.top_hz if "raise" in acting else (spec.limits_hz[0] if spec.limits_hz else 0.0)


def running(moving: int, hz: float) -> str:
    """What a motor that turns does, in words."""
    return f"running {WAYS[moving]} at {hz:.3g} Hz"


#: What a drive's outputs tell, by the name of the duty.
def tells(memory: DriveMemory, duty: str, in_fault: bool = False) -> bool:
    """Whether the output of a duty is energised. A name that no drive knows tells that the motor runs."""
    if not memory.fed:
        return False
    match duty:
        case "fault":
            return bool(memory.tripped) == in_fault
        case "ready":
            return not memory.tripped and not memory.why.startswith("safe torque off")
        case "reverse" | "running reverse" | "runs reverse":
            return memory.moving < 0
        case "forward" | "running forward" | "runs forward":
            return memory.moving > 0
        case "tripped":
            return bool(memory.tripped)
        case _:
            return memory.moving != 0

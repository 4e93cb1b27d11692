"""What `wiregen allocate --why` shows: one function, its terminal, and what every other terminal would cost."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from wiregen.cli.group import near
from wiregen.cli.printing import aligned, printable

if TYPE_CHECKING:
    from wiregen.advice.why import Alternative, Move, Reason
    from wiregen.cli.progress import Progress
    from wiregen.control.functions import End
    from wiregen.pipeline import Design


def reason(design: Design, function: str, device: str | None, progress: Progress) -> Reason:
    """Why ``function`` has its terminal. Raises click.UsageError where it is unknown or stands at several devices."""
    from wiregen.advice.why import why
    from wiregen.allocation.intake import problem_of

    end = _end(design, function, device)
    problem = problem_of(design.scheme, design.declared)
    return why(problem, end, design.allocation, lambda pin: progress.step(f"Trying {pin}"))


def _end(design: Design, function: str, device: str | None) -> End:
    ends = [end for f in design.functions for end in f.ends]
    known = {name: None for end in ends for name in (end.function, end.also) if name}
    named = [end for end in ends if function and function in (end.function, end.also)]
    if not named:
        there = near(function, known) or f"; functions: {', '.join(known) or 'none'}"
        raise click.UsageError(f"the scheme has no function {function!r} with a terminal{there}")
    own = [end for end in named if device is None or device in end.devices]
    devices = list(dict.fromkeys(d for end in named for d in end.devices))
    if not own:
        meant = near(device or "", devices)
        raise click.UsageError(f"{function!r} is not at {device!r}{meant}; it is at {_or(devices)}")
    if len(own) > 1:
        raise click.UsageError(f"{function!r} is at {len(own)} devices: add --at {_or(devices)}")
    return own[0]


def _or(devices: list[str]) -> str:
    return " or ".join(filter(None, [", ".join(devices[:-1]), devices[-1]]))


def reason_text(found: Reason) -> str:
    """For people."""
    from wiregen.advice.why import TIE_BREAK

    end = found.end
    where = f"stands on {found.terminal}" if found.terminal else "has no terminal"
    head = [f"{end.function} {where}", f"decided by: {found.decided_by}: {found.says}"]
    rows = [(_named(a), a.decided_by or "impossible", _costs(a, TIE_BREAK)) for a in found.alternatives]
    if not rows:
        return printable("\n".join([*head, "there is no other terminal of that kind"]))
    table = aligned(("instead", "differs in", "it would mean"), rows)
    return "\n".join([printable("\n".join(head)), "", table])


def _named(a: Alternative) -> str:
    return f"{a.terminal} and {len(a.like)} like it" if a.like else str(a.terminal)


def _costs(a: Alternative, tie_break: str) -> str:
    from wiregen.advice.why import in_words

    if not a.possible:
        return a.because
    says = [in_words(level, more) for level, more in a.costs]
    if a.decided_by == tie_break:
        says.append("as good")
    return "; ".join([*says, *(_move(m) for m in a.moves)])


def _move(m: Move) -> str:
    if m.now is None:
        return f"{m.function} without a terminal"
    return f"{m.function} then on {m.now}"


def reason_json(found: Reason) -> dict[str, Any]:
    """For programs."""
    return {
        "function": found.end.function,
        "devices": list(found.end.devices),
        "terminal": _pin(found.terminal),
        "decided_by": found.decided_by,
        "says": found.says,
        "alternatives": [_alternative(a) for a in found.alternatives],
    }


def _alternative(a: Alternative) -> dict[str, Any]:
    return {
        "terminal": str(a.terminal),
        "like": [str(pin) for pin in a.like],
        "possible": a.possible,
        "because": a.because or None,
        "decided_by": a.decided_by or None,
        "costs": [{"level": level, "more": more} for level, more in a.costs],
        "moves": [
            {"function": m.function, "device": m.device, "from": _pin(m.was), "to": _pin(m.now)} for m in a.moves
        ],
    }


def _pin(pin: object) -> str | None:
    return None if pin is None else str(pin)

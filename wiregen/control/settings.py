"""What must be set in a device beside what its terminals do: runs, selection, loops, presets, limits, motor, ramps."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.answers import said
from wiregen.control.functions import SelectionInfo, Setting
from wiregen.control.interpreter import Interpreter
from wiregen.control.runs import BOTH_STOP
from wiregen.scheme.model import Control, Model, Reference, Run
from wiregen.terms import Where


def device_settings(book: Interpreter) -> Iterator[Setting]:
    """The settings of every drive, in the order of its section; a card has nothing to set."""
    drives = {device.name for device in book.devices if device.kind == "drive"}
    sections = book.scheme.model.control.items()
    for controller, control in ((name, section) for name, section in sections if name in drives):
        selection = next((s for s in book.selections if s.controller == controller), None)
        where: Where = ("control", controller)
        for subject, says, keys in (*_of_commands(control, selection), *_of_speed(control), *_of_motor(control)):
            yield Setting(controller, subject, says, (*where, *keys))


_Said = tuple[str, str, tuple[str, ...]]  # subject, what is to be set, keys in the section


def _of_commands(control: Control, selection: SelectionInfo | None) -> Iterator[_Said]:
    runs = control.run.named if control.run else {}
    for name, run in runs.items():
        yield f"run {name}".rstrip(), _run(run), ("run", *((name,) if name else ()))
    if selection is not None:
        yield from _of_selection(selection)
    if len(runs) > 1:
        says = "starts at once" if control.starts_after_changeover else "does not start by itself"
        yield "changeover between runs", says, ("run",)
    if control.restart:
        says = "needs a new start" if control.restart == "needs_start" else "starts again by itself"
        yield "supply returns, trip reset", says, ("restart",)


def _run(run: Run) -> str:
    parts = [run.method, "from the network" if run.from_ == "network" else "from terminals"]
    return ", ".join([*parts, BOTH_STOP] if run.both else parts)


def _of_selection(selection: SelectionInfo) -> Iterator[_Said]:
    """One row of the table: its code, and what it brings into force."""
    for row, ((digits, reference), key) in enumerate(zip(selection.rows, selection.keys, strict=True)):
        run = selection.run_of(row)
        speed = reference if reference in ("", "stop") else f"reference {reference}"
        says = ", ".join(part for part in (f"run {run}" if run else "", speed) if part)
        code = digits if key == digits else f"{digits} ({key})"
        yield f"select code {code}", says, ("select", "when", key)


def _of_speed(control: Control) -> Iterator[_Said]:
    for name, reference in control.speed.items():
        keys = ("speed", name)
        if reference.preset is not None:
            yield f"reference {name}", f"preset {reference.preset}", keys
        elif reference.from_ == "network":
            yield f"reference {name}", _of_network(reference), keys
        elif reference.process is not None:
            yield f"reference {name}", _closed_loop(reference), keys
            setpoint = reference.process.setpoint
            if setpoint is not None and setpoint.preset is not None:
                yield f"setpoint of {name}", f"preset {setpoint.preset}", (*keys, "process", "setpoint")
            for key in ("setpoint", "feedback"):
                signal = getattr(reference.process, key)
                if signal is not None and signal.from_ == "network":
                    yield f"{key} of {name}", _of_network(signal), (*keys, "process", key)
    if control.speed_limits:
        yield "speed limits", control.speed_limits, ("speed_limits",)


def _of_network(reference: Reference) -> str:
    parts = ["from the network"]
    if reference.spans:
        parts.append(f"spans {reference.spans}")
    if lost := said(reference.on_loss or reference.on_low):
        parts.append(f"network lost: {lost}")
    return ", ".join(parts)


def _closed_loop(reference: Reference) -> str:
    parts = ["closed loop"]
    assert reference.process is not None  # only such a reference is asked
    if reference.process.when_feedback_rises:
        parts.append(f"{reference.process.when_feedback_rises.replace('_', ' ')} when the feedback rises")
    if reference.spans:
        parts.append(f"spans {reference.spans}")
    return ", ".join(parts)


def _of_motor(control: Control) -> Iterator[_Said]:
    for subject, values in (("motor", control.motor), ("ramps", control.ramps)):
        if values is not None:
            yield subject, _listed(values), (subject,)


def _listed(values: Model) -> str:
    """The figures of a motor's plate or of the ramps, as written."""
    given = ((name, getattr(values, name)) for name in type(values).model_fields)
    return ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in given if value is not None)

"""Process control inside a reference: a setpoint and a feedback belong together."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen import quantities
from wiregen.review.context import Context
from wiregen.scheme.model import Process
from wiregen.terms import Notice, Where


def feedback_without_setpoint(context: Context) -> Iterator[Notice]:
    """A controller that is told what the process does, and not what it shall do."""
    for where, named, process in _processes(context):
        if process.feedback is not None and process.setpoint is None:
            text = f"{named} has a feedback and no setpoint: it has nothing to hold the process at"
            yield Notice("feedback-without-setpoint", (*where, "feedback"), named, text)


def setpoint_without_feedback(context: Context) -> Iterator[Notice]:
    """A controller that is told what the process shall do, and never what it does."""
    for where, named, process in _processes(context):
        if process.setpoint is not None and process.feedback is None:
            text = f"{named} has a setpoint and no feedback: it would run to one end of its range and stay there"
            yield Notice("setpoint-without-feedback", (*where, "setpoint"), named, text)


def sense_missing(context: Context) -> Iterator[Notice]:
    """A closed loop that is not told which way its feedback answers to the speed."""
    for where, named, process in _processes(context):
        if process.when_feedback_rises is None:
            text = f"{named} does not say whether to slow down or to speed up when the feedback rises"
            yield Notice("process-sense-missing", where, named, text)


def setpoint_unfit(context: Context) -> Iterator[Notice]:
    """A setpoint in another unit than the feedback, or one that the feedback can never reach."""
    for where, named, process in _processes(context):
        feedback = _span(process.feedback.spans) if process.feedback else None
        setpoint = _of_setpoint(process)
        if feedback is None or setpoint is None:
            continue
        (low, high, unit), (least, most, own) = feedback, setpoint
        low, high = sorted((low, high))
        where = (*where, "setpoint")
        if unit != own:
            text = f"the setpoint of {named} is in {own}, its feedback in {unit}: they cannot be compared"
            yield Notice("setpoint-unfit", where, named, text)
        elif max(least, most) > high or min(least, most) < low:
            text = f"the setpoint of {named} lies outside its feedback, which spans {low:g} to {high:g} {unit}"
            yield Notice("setpoint-unfit", where, named, text)


def _of_setpoint(process: Process) -> tuple[float, float, str] | None:
    """The least and the most that the setpoint asks for, and its unit; None where it has no figures."""
    setpoint = process.setpoint
    if setpoint is None:
        return None
    if setpoint.preset is None:
        return _span(setpoint.spans)
    number, _, unit = setpoint.preset.partition(" ")
    try:
        return float(number), float(number), unit.strip()
    except ValueError:
        return None


def _span(text: str | None) -> tuple[float, float, str] | None:
    return quantities.parse_span(text) if text else None


def _processes(context: Context) -> Iterator[tuple[Where, str, Process]]:
    for controller, control in context.scheme.model.control.items():
        for name, reference in control.speed.items():
            if reference.process is not None:
                yield ("control", controller, "speed", name, "process"), f"{name} of {controller}", reference.process

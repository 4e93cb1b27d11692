"""Process control inside a reference: a setpoint and a feedback belong together."""

from __future__ import annotations

from collections.abc import Iterator

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


def _processes(context: Context) -> Iterator[tuple[Where, str, Process]]:
    for controller, control in context.scheme.model.control.items():
        for name, reference in control.speed.items():
            if reference.process is not None:
                yield ("control", controller, "speed", name, "process"), f"{name} of {controller}", reference.process

"""Sequences: steps whose end is not as they expect, and steps that nobody can do."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context
from wiregen.terms import Notice


def not_as_expected(context: Context) -> Iterator[Notice]:
    """The steps of a scheme, done one after the other in the plant as it is wired."""
    steps = context.scheme.model.steps
    if not steps:
        return
    # Late: most schemes have no steps, and need not wait for what solves circuits.
    from wiregen.behaviour.plant import Plant
    from wiregen.behaviour.sequence import run

    plant = Plant.of(context.scheme, context.declared, context.allocation, context.wiring)
    for frame in run(plant, steps):
        where = ("steps", str(frame.number - 1))
        subject = f"step {frame.number}"
        if frame.unfit:
            yield Notice("step-unfit", (*where, frame.step.deed), subject, f"{frame.unfit} (step {frame.number})")
        for d in frame.deviations:
            place = (*where, "expect", d.subject)
            if d.unfit:
                text = f"{d.subject} cannot be {d.expected!r} after step {frame.number}: {d.found}"
                yield Notice("step-unfit", place, subject, text)
            else:
                text = f"{d.subject} should be {d.expected} after step {frame.number} ({frame.says}), and is {d.found}"
                yield Notice("step-not-as-expected", place, subject, text)

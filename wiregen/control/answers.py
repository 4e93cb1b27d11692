"""What is said of an analog signal beside its source: its direction, and what a controller does when it is lost."""

from __future__ import annotations

from wiregen import quantities
from wiregen.scheme.model import Reference, RunAt, UseReference


def said(answer: str | RunAt | UseReference | None) -> str:
    """What a controller does when a signal is lost, in plain words; empty where nothing is said."""
    if isinstance(answer, RunAt):
        return f"run at {answer.run_at}"
    if isinstance(answer, UseReference):
        return f"use {answer.use}"
    return answer or ""


def is_inverse(reference: Reference) -> bool:
    """Whether less signal means more: it is said, or the span runs downwards."""
    if reference.inverse or not reference.spans:
        return reference.inverse
    low, high, _ = quantities.parse_span(reference.spans)
    return low > high


def signal_setting(signal: str, reference: Reference) -> str:
    """What has to be set in a controller for an analog input."""
    parts = [f"set {signal}"]
    if reference.spans:
        parts.append(f"spans {reference.spans}")
    if low := said(reference.on_low or reference.on_loss):
        parts.append(f"signal low: {low}")
    if high := said(reference.on_high or reference.on_loss):
        parts.append(f"signal high: {high}")
    return ", ".join(parts)

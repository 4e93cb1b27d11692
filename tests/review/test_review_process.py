"""Setpoint and feedback, on models that reading refuses as yet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from review_schemes import designed, drive

from wiregen.review.context import context_of
from wiregen.review.process import feedback_without_setpoint, setpoint_without_feedback
from wiregen.scheme import SchemeModel

BASE = drive("-BP1: {profile: transmitter_two_wire, at: +F1}", "speed: {p: {from: -BP1, spans: 20 to 50 Hz}}")
SIGNAL = {"from": "-BP1", "signal": "4-20 mA", "spans": "0 to 6 bar"}


@pytest.mark.parametrize(
    ("process", "expected"),
    [
        ({"setpoint": {"preset": "3 bar"}, "feedback": SIGNAL}, []),
        ({"feedback": SIGNAL}, ["feedback-without-setpoint"]),
        ({"setpoint": {"preset": "3 bar"}}, ["setpoint-without-feedback"]),
    ],
)
def test_setpoint_and_feedback_belong_together(process: dict[str, Any], expected: list[str]) -> None:
    design = designed(BASE)
    data = design.scheme.model.model_dump(by_alias=True, exclude_none=True, exclude_defaults=True)
    data["control"]["-TA1"]["speed"] = {"pressure": {"process": process, "spans": "20 to 50 Hz"}}
    scheme = replace(design.scheme, model=SchemeModel.model_validate(data))
    context = context_of(scheme, design.declared, design.allocation, design.wiring)
    notices = [*feedback_without_setpoint(context), *setpoint_without_feedback(context)]
    assert [n.code for n in notices] == expected
    assert all(n.subject == "pressure of -TA1" for n in notices)

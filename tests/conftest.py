"""What all tests share: a busy machine is no failure, and in .ci/run a skipped test is one."""

from __future__ import annotations

import os
from collections.abc import Generator
from typing import TypeVar

import pytest
from hypothesis import HealthCheck, settings

# How long an example takes says how busy the machine is; what is slow is told by tests/benchmarks.
settings.register_profile("wiregen", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("wiregen")

#: Set to 1 where every tool that a test may want is installed, so that a test which skips has something to answer for.
STRICT = "WIREGEN_TESTS_STRICT"

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    return _judged(report)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    return _judged(report)


def _judged(report: Report) -> Report:
    if report.skipped and not hasattr(report, "wasxfail") and os.environ.get(STRICT) == "1":
        report.outcome = "failed"
        report.longrepr = f"skipped, though {STRICT} is set: {report.longrepr}"
    return report

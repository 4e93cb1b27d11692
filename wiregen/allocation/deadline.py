"""How long the search for a better answer may take.

The one place where a clock has a say, and only where the user set a limit: what is found then depends on the machine,
and the levels say what is proven of it.
"""

from __future__ import annotations

import time
from dataclasses import dataclass


class OutOfTime(Exception):
    """The time is over, and the solver has found no answer of its own yet."""


@dataclass(frozen=True, slots=True)
class Deadline:
    """``end`` is a moment of the monotonic clock in seconds; None: there is no limit."""

    end: float | None = None

    def left_s(self) -> float | None:
        """Seconds left, 0 when it is over; None where there is no limit."""
        return None if self.end is None else max(0.0, self.end - time.monotonic())


NEVER = Deadline()


def within(seconds: float | None) -> Deadline:
    """The deadline ``seconds`` from now; None: there is none."""
    return NEVER if seconds is None else Deadline(time.monotonic() + seconds)

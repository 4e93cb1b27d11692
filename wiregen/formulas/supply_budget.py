"""The budget of a control supply: what its loads take together, at rest and when one of them starts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from wiregen.formulas import tables
from wiregen.formulas.arguments import not_negative, positive, proper_share


class Consumer(NamedTuple):
    """One load: its current, and at its start the inrush, in A; no inrush where it has none."""

    name: str
    current_a: float
    inrush_a: float | None = None


class Budget(NamedTuple):
    """The sums of a supply in A. ``steady_a``: all on. ``one_starts_a``: the worst one starting while the others are
    on.

    ``all_start_a``: all at once, as when the supply comes on.
    """

    steady_a: float
    one_starts_a: float
    all_start_a: float
    limit_a: float

    @property
    def spare_a(self) -> float:
        """What is left for more loads; negative where it is overloaded."""
        return self.limit_a - self.steady_a

    @property
    def used_share(self) -> float:
        return self.steady_a / self.limit_a

    @property
    def holds(self) -> bool:
        return self.steady_a <= self.limit_a


def budget(consumers: Sequence[Consumer], limit_a: float, derating_factor: float = 1.0) -> Budget:
    """What a supply has to give.

    ``limit_a`` [A] is what it gives for ever, ``derating_factor`` [1] what of that is left at its ambient temperature.
    Raises ValueError for a limit that is not more than nothing, a factor outside 0 to 1, a negative current, and an
    inrush below the current that follows it. Source: common practice, no source (sums).

    >>> loads = [Consumer("card", 0.12), Consumer("relay", 0.04), Consumer("valve", 0.5, 1.5)]
    >>> found = budget(loads, 2.5)
    >>> round(found.steady_a, 2), round(found.one_starts_a, 2), round(found.spare_a, 2)
    (0.66, 1.66, 1.84)
    """
    limit = positive("the limit of a supply", limit_a) * proper_share("a derating", derating_factor)
    extra = [_extra(c) for c in consumers]
    steady = math.fsum(c.current_a for c in consumers)
    return Budget(steady, steady + max(extra, default=0.0), steady + math.fsum(extra), limit)


def current_a(power_w: float, supply_v: float) -> float:
    """The current [A] of a load of ``power_w`` [W] at ``supply_v`` [V] DC.

    Raises ValueError for a negative power and no supply. Source: common practice, no source (Ohm's law).

    >>> round(current_a(5, 24), 3)
    0.208
    """
    return not_negative("a power", power_w) / positive("a supply", supply_v)


@cache
def sizes_a() -> tuple[float, ...]:
    """Rated currents [A] of control supplies, ascending. Source: common practice, no source, from memory.

    >>> sizes_a()[:4]
    (0.6, 1.3, 2.5, 5.0)
    """
    return tuple(float(r["rated"]) for r in tables.rows("supply_sizes"))


def next_size_a(needed_a: float, spare_share: float = 0.0) -> float | None:
    """The smallest usual supply [A] for ``needed_a`` [A] and ``spare_share`` [1] of it more; None above the largest.

    Raises ValueError for a negative current or share. Source: common practice, no source, from memory.

    >>> next_size_a(0.66), next_size_a(2.3, 0.2), next_size_a(100)
    (1.3, 5.0, None)
    """
    needed = not_negative("a current", needed_a) * (1 + not_negative("a share", spare_share))
    return next((size for size in sizes_a() if size >= needed), None)


def _extra(consumer: Consumer) -> float:
    """What a load takes more at its start."""
    not_negative(f"the current of {consumer.name}", consumer.current_a)
    if consumer.inrush_a is None:
        return 0.0
    not_negative(f"the inrush of {consumer.name}", consumer.inrush_a)
    if consumer.inrush_a < consumer.current_a:
        raise ValueError(f"the inrush of {consumer.name} must not be less than its current of {consumer.current_a:g} A")
    return consumer.inrush_a - consumer.current_a

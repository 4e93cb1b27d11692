"""One figure that is held against what is printed, and how it was come by."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

#: Marks of what was seen in print, in the document itself or where others quote it.
PUBLISHED = ("read", "extract", "reported")


class Row(NamedTuple):
    """``got`` is what the code says; ``within`` is relative, and nothing where both must be the same."""

    source: str
    mark: str
    what: str
    got: Callable[[], object]
    expected: object
    within: float = 0.0

    def agrees(self) -> bool:
        got = self.got()
        if not self.within:
            return got == self.expected
        assert isinstance(got, float)
        assert isinstance(self.expected, int | float)
        return math.isclose(got, self.expected, rel_tol=self.within)

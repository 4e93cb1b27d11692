"""How the cables of each class are made: area, pairs, screen, spare cores, and the sizes to choose from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wiregen import quantities
from wiregen.formulas import conductors
from wiregen.formulas import cores as core_counts
from wiregen.scheme import Scheme
from wiregen.scheme.model import CableClass

#: Area of a core by class, mm2. common practice, no source.
DEFAULT_AREA_MM2 = {
    "control": 1.0,
    "control_ac": 1.5,
    "analog": 0.75,
    "pulse": 0.75,
    "safety": 1.0,
    "thermistor": 0.75,
    "power": 2.5,
}
#: Analog and pulse signals run in screened pairs. common practice, no source.
PAIRED = frozenset({"analog", "pulse"})
DEFAULT_SCREEN = {"analog": "cabinet end", "pulse": "both ends", "power": "both ends"}
DEFAULT_SPARE = "20 %"
CLASS_ORDER = ("control", "control_ac", "safety", "analog", "pulse", "thermistor", "power")
EARTH_MARK = "GNYE"
#: Cores that have colours of their own (DIN 47100).
COLOURED = 44


@dataclass(frozen=True, slots=True)
class Make:
    """How the cables of one class are made in a scheme."""

    paired: bool
    spare_percent: float
    area_mm2: float
    screen: str
    gauge: str = ""

    @property
    def sizes(self) -> Sequence[int]:
        """The numbers of cores, or of pairs, that are made."""
        return (
            [n for n in core_counts.pair_counts() if n <= COLOURED // 2] if self.paired else core_counts.core_counts()
        )

    def size(self, used: int, *, single: bool = False) -> int:
        """The next size made for so many cores or pairs and their spares; a single instrument needs no spare pair.

        Where no size holds all the spares that are asked for, the largest made.
        """
        wanted = used if single else core_counts.needed(used, self.spare_percent)
        return core_counts.next_size(max(used, min(wanted, self.sizes[-1])), self.sizes).chosen

    @property
    def most(self) -> int:
        """How many cores or pairs one cable can use and still have its spares; at least one."""
        return next(
            (n for n in range(self.sizes[-1], 1, -1) if core_counts.needed(n, self.spare_percent) <= self.sizes[-1]), 1
        )


def make_of(scheme: Scheme, category: str) -> Make:
    """How a scheme has the cables of one class made: as it says, else as is usual."""
    said = scheme.model.cabling.classes.get(category) or CableClass()  # type: ignore[call-overload]
    spare = said.spare or scheme.model.cabling.spare or DEFAULT_SPARE
    return Make(
        paired=said.pairs if said.pairs is not None else category in PAIRED,
        spare_percent=quantities.parse(spare, "%"),
        area_mm2=area_of(said.area) if said.area else DEFAULT_AREA_MM2[category],
        screen=said.screen or DEFAULT_SCREEN.get(category, "none"),
        gauge=gauge_of(said.area),
    )


def gauge_of(text: str | None) -> str:
    """An area that is declared in American wire gauge, as lists have it; empty for mm2."""
    gauge = conductors.awg_gauge(text) if text else None
    return "" if gauge is None else f"{gauge} AWG"


def area_of(text: str) -> float:
    """The area of a core, mm2, from a text in mm2 or AWG."""
    gauge = conductors.awg_gauge(text)
    return quantities.parse(text, "mm2") if gauge is None else round(conductors.awg_area_mm2(gauge), 2)

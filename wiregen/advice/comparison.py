"""Alternatives side by side: each read, designed and measured; and which of them no other beats."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wiregen import profiles, scheme
from wiregen.advice.measures import DIRECTIONS, Measures, first_built, measured
from wiregen.pipeline import Design, design
from wiregen.scheme.as_built import AsBuilt
from wiregen.terms import InternalFault, UnusableInput


@dataclass(frozen=True, slots=True)
class Source:
    """What an alternative is made of: a file, one of its variants, a merge patch over that."""

    name: str
    path: Path
    variant: str | None = None
    patch: Mapping[str, Any] | None = None
    profiles_dir: Path | None = None

    def design(self, built: AsBuilt | None = None) -> Design:
        """The alternative, worked out. Raises UnusableInput where the patched scheme cannot be read."""
        known = profiles.load(self.profiles_dir)
        read = scheme.read(self.path, variant=self.variant, profiles=known, patch=self.patch)
        return design(read if built is None else scheme.keeping(read, built))


@dataclass(frozen=True, slots=True)
class Alternative:
    """One alternative, measured; without ``measures`` it cannot be: ``because`` says why."""

    name: str
    measures: Measures | None
    because: str = ""

    @property
    def counts(self) -> bool:
        """Whether it can be built as it is declared."""
        return self.measures is not None and self.measures.fits and self.measures.errors == 0


def compared(
    sources: Sequence[Source], tell: Callable[[str], None] = lambda _: None, *, faults: bool = False
) -> tuple[Alternative, ...]:
    """Every source measured; ``moved`` counts what it takes to make each from the first. Raises UnusableInput.

    With ``faults`` every conductor is opened, which takes its time.
    """
    found: list[Alternative] = []
    built: AsBuilt | None = None
    for source in sources:
        tell(source.name)
        own = source.design()
        if built is None:
            built = first_built(own)
            found.append(Alternative(source.name, measured(own, built, faults=faults)))
            continue
        kept = source.design(built)
        moved = measured(kept, built).moved
        found.append(Alternative(source.name, measured(own, faults=faults).with_moved(moved)))
    return tuple(found)


def tried(source: Source, built: AsBuilt | None = None) -> Alternative:
    """One alternative that may turn out to be none."""
    try:
        found = source.design(built)
    except UnusableInput as error:
        return Alternative(source.name, None, error.complaints[0].message)
    except InternalFault as error:  # one combination of many: told, and the others go on
        return Alternative(source.name, None, f"internal fault: {error}")
    return Alternative(source.name, measured(found, built))


def unbeaten(alternatives: Sequence[Alternative], columns: Sequence[str] = ()) -> tuple[int, ...]:
    """Indices of those that can be built and that no other beats: none is as good in every column and better in one.

    ``columns`` are keys of `DIRECTIONS`; all of them where none is named. Alternatives that are equal in every column
    stay. A figure that is not known is neither better nor worse than any other, so it keeps its alternative in.
    """
    chosen = [(key, better) for key, better in DIRECTIONS if not columns or key in columns]
    rows = [(i, _row(a.measures, chosen)) for i, a in enumerate(alternatives) if a.counts and a.measures]
    return tuple(i for i, row in rows if not any(_beats(other, row) for _, other in rows))


_Row = tuple[float | None, ...]


def _row(measures: Measures, chosen: Sequence[tuple[str, str]]) -> _Row:
    """The figures, turned so that less is better."""
    figures = ((measures.figure(key), better) for key, better in chosen)
    return tuple(None if f is None else float(f) if better == "less" else -float(f) for f, better in figures)


def _beats(one: _Row, other: _Row) -> bool:
    better = False
    for a, b in zip(one, other, strict=True):
        if a is None and b is None:
            continue
        if a is None or b is None or a > b:
            return False
        better = better or a < b
    return better

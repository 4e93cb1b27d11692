"""Alternatives as tables: one row each for programs, one column each for people."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from wiregen.advice.comparison import Alternative
from wiregen.advice.measures import Measures
from wiregen.documents.table import PARTED, Cell, Column, Table

_FIGURES = (
    Column("unplaced", "Functions without a terminal", "number"),
    Column("errors", "Errors", "number"),
    Column("warnings", "Warnings", "number"),
    Column("notes", "Notes", "number"),
    Column("devices", "Devices", "number"),
    Column("settings", "Settings to change", "number"),
    Column("conductors", "Conductors", "number"),
    Column("cables", "Cables", "number"),
    Column("core_m", "Cores", "number", "m"),
    Column("reference_error_percent", "Worst reference error", "number", "%"),
    Column("stops_unseen", "Stops that a broken wire disables", "number"),
    Column("dangerous_opens", "Conductors that endanger when they open", "number"),
    Column("moved", "Conductors to move, take off or lay", "number"),
)
_TEXTS = (
    Column("used", "Terminals used"),
    Column("spare", "Terminals spare"),
    Column("load_ma", "Greatest 24 V load", "text", "mA"),
    Column("restart", "When the supply returns"),
    Column("broken_wire", "A broken wire"),
)
_COLUMNS = (Column("alternative", "Alternative"), Column("fits", "Fits"), *_FIGURES, *_TEXTS)


def comparison_table(alternatives: Sequence[Alternative]) -> Table:
    """One row an alternative; one that cannot be says so under ``fits``."""
    rows = tuple((a.name, *(_cell(a, c.key) for c in _COLUMNS[1:])) for a in alternatives)
    return Table("comparison", "Comparison of alternatives", _COLUMNS, rows)


def side_by_side(alternatives: Sequence[Alternative]) -> Table:
    """One column an alternative, one row a measure; terminals, loads and the like have one for each kind or device."""
    columns = (
        Column("measure", "Measure"),
        *(Column(f"alternative_{number}", a.name) for number, a in enumerate(alternatives, start=1)),
    )
    rows = (
        ("Fits", *(str(_cell(a, "fits")) for a in alternatives)),
        *(
            (c.heading, *(_shown(_cell(a, c.key)) for a in alternatives))
            for c in _FIGURES
            if any(_cell(a, c.key) is not None for a in alternatives)
        ),
        *_by_kind(alternatives, "Terminals: {}", _terminals),
        *_by_kind(alternatives, "Greatest load of {} [mA]", lambda m: {n: f"{ma:g}" for n, ma in m.load_ma}),
        *_by_kind(alternatives, "When the supply of {} returns", lambda m: dict(m.restart)),
        *_by_kind(alternatives, "A broken wire: {}", _broken),
        *_by_kind(
            alternatives,
            "Conductors and cables that open: {}",
            lambda m: {what: str(number) for what, number in m.open_faults or ()},
        ),
    )
    return Table("comparison", "Comparison of alternatives", columns, rows)


def _by_kind(
    alternatives: Sequence[Alternative], title: str, of: Callable[[Measures], dict[str, str]]
) -> Iterator[tuple[str, ...]]:
    own = [of(a.measures) if a.measures else {} for a in alternatives]
    for kind in dict.fromkeys(kind for one in own for kind in one):
        yield title.format(kind), *(one.get(kind, "") for one in own)


def _terminals(m: Measures) -> dict[str, str]:
    spare = dict(m.spare)
    return {kind: f"{used} used, {spare[kind]} spare" for kind, used in m.used}


def _broken(m: Measures) -> dict[str, str]:
    return {what: ", ".join(names) for what, names in m.broken_wire}


def comparison_json(alternatives: Sequence[Alternative]) -> list[dict[str, Any]]:
    """One entry an alternative, every measure in full."""
    return [_json(a) for a in alternatives]


def _json(a: Alternative) -> dict[str, Any]:
    m = a.measures
    if m is None:
        return {"name": a.name, "possible": False, "because": a.because}
    return {
        "name": a.name,
        "possible": True,
        "fits": m.fits,
        **{c.key: _cell(a, c.key) for c in _FIGURES},
        **{key: dict(getattr(m, key)) for key in ("used", "spare", "load_ma", "reference_errors", "restart")},
        "broken_wire": {what: list(names) for what, names in m.broken_wire},
        "open_faults": None if m.open_faults is None else dict(m.open_faults),
    }


def _cell(a: Alternative, key: str) -> Cell:
    m = a.measures
    if m is None:
        return f"cannot be: {a.because}" if key == "fits" else None
    if key == "fits":
        return "yes" if m.fits else "no"
    if key in ("used", "spare"):
        return PARTED.join(f"{number} {kind}" for kind, number in getattr(m, key))
    if key == "load_ma":
        return PARTED.join(f"{number:g} from {name}" for name, number in m.load_ma)
    if key == "restart":
        return PARTED.join(f"{says}: {name}" for name, says in m.restart)
    if key == "broken_wire":
        return PARTED.join(f"{what}: {', '.join(names)}" for what, names in m.broken_wire)
    if key == "reference_error_percent":
        worst = m.figure("reference_error")
        return None if worst is None else round(worst * 100.0, 2)
    if key == "dangerous_opens":
        return m.figure(key)
    value = getattr(m, key)
    assert value is None or isinstance(value, int | float)
    return value


def _shown(cell: Cell) -> str:
    return "" if cell is None else f"{cell:g}" if isinstance(cell, float) else str(cell)

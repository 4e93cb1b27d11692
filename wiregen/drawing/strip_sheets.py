"""The strip tables on sheets: for those who build a strip and those who land cables on it."""

from __future__ import annotations

from collections.abc import Sequence

from wiregen.documents import Table
from wiregen.documents.table import PARTED, Cell
from wiregen.drawing.references import References
from wiregen.drawing.tables import Block, Column, Late, block
from wiregen.terms import Pin

REMARK = "works: wired where the place is built. site: landed where the machine is set up."

PANEL, FIELD = "Panel side", "Field side"
COLUMNS = (
    Column("Terminal", strong=True, wraps=False),
    Column("Bridged to"),
    Column("To", PANEL),
    Column("Wire or core", PANEL),
    Column("Fitted", PANEL, wraps=False),
    Column("Cable", FIELD, wraps=False),
    Column("Core", FIELD, wraps=False),
    Column("To", FIELD),
    Column("Fitted", FIELD, wraps=False),
    Column("Number", wraps=False),
    Column("Potential"),
    Column("Sheet", wraps=False),
)


def strip_blocks(strips: Table, places: dict[str, str], references: References) -> list[Block]:
    """One block a strip; ``places`` holds the name of each place in words."""
    by_strip: dict[str, list[dict[str, Cell]]] = {}
    for record in strips.records():
        by_strip.setdefault(str(record["terminal"]).partition(":")[0], []).append(record)
    remarks = [(REMARK,), *[()] * len(by_strip)]
    return [
        block(COLUMNS, (_row(r, references) for r in records), _heading(name, records, places), remark, name)
        for (name, records), remark in zip(by_strip.items(), remarks, strict=False)
    ]


def _heading(name: str, records: Sequence[dict[str, Cell]], places: dict[str, str]) -> str:
    place = str(records[0]["place"])
    words = places.get(place, "")
    return f"{name}  at {place} {words}".strip()


def _row(record: dict[str, Cell], references: References) -> tuple[str | Late, ...]:
    device, _, name = str(record["terminal"]).partition(":")
    cables, cores = _parted(record["outside_core"])
    inside = record["inside_core"] or record["inside_conductor"]
    return (
        name,
        ", ".join(pin.rpartition(":")[2] for pin in _parts(record["bridged_to"])),
        _far(record["inside_to"], record["inside_core"]),
        _shown(inside),
        _shown(record["inside_fitted"]),
        cables,
        cores or _shown(record["outside_conductor"]),
        _far(record["outside_to"], record["outside_core"]),
        _shown(record["outside_fitted"]),
        _shown(record["number"]),
        _shown(record["potential"]),
        Late(lambda: references.of_pin(Pin(device, name))),
    )


def _far(to: Cell, core: Cell) -> str:
    """Where a side leads; a screen leads nowhere else."""
    pins = [pin for pin in _parts(to) if pin not in _parts(core)]
    return ", ".join(pins) or ("spare" if core and not to else "")


def _parted(cell: Cell) -> tuple[str, str]:
    """``-WG1:3; -WG2:1`` as cables and cores."""
    both = [part.rpartition(":") for part in _parts(cell)]
    return ", ".join(dict.fromkeys(b[0] for b in both)), ", ".join(b[2] for b in both)


def _parts(cell: Cell) -> list[str]:
    return str(cell).split(PARTED) if cell else []


def _shown(cell: Cell) -> str:
    return ", ".join(_parts(cell))

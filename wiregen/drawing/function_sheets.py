"""The functions on sheets: what each terminal does and what must be set for it, and the table of each selection."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wiregen.control.functions import SelectionInfo
from wiregen.documents import Table
from wiregen.documents.table import PARTED, Cell
from wiregen.drawing.references import References
from wiregen.drawing.tables import Block, Column, Late, block
from wiregen.terms import Pin

COLUMNS = (
    Column("Terminal", strong=True, wraps=False),
    Column("Function"),
    Column("As supplied or to be set"),
    Column("Acts when", wraps=False),
    Column("Signal", wraps=False),
    Column("Span"),
    Column("Setting that this wiring needs"),
    Column("Sheet", wraps=False),
)
SETTINGS = (Column("Setting", strong=True), Column("To be set to"))


def function_blocks(
    functions: Table, titles: dict[str, str], selections: Sequence[SelectionInfo], references: References
) -> list[Block]:
    """For each device its terminals, then what is set without a terminal, then its selection; ``titles`` says what each
    device is, in words.
    """
    by_device: dict[str, list[dict[str, Cell]]] = {}
    for record in functions.records():
        by_device.setdefault(str(record["device"]), []).append(record)
    return [b for name, records in by_device.items() for b in _of_device(name, records, titles, selections, references)]


def _of_device(
    name: str,
    records: Sequence[dict[str, Cell]],
    titles: dict[str, str],
    selections: Sequence[SelectionInfo],
    references: References,
) -> Iterator[Block]:
    own = [r for r in records if r["terminal"] or r["terminal_function"] == "not placed"]
    wired = dict.fromkeys(str(r["polarity"]) for r in own if r["polarity"])
    yield block(
        COLUMNS, (_row(r, references) for r in own), f"{name}  {titles.get(name, '')}".rstrip(), tuple(wired), name
    )
    chosen = [s for s in selections if s.controller == name]
    others = [r for r in records if r not in own and not (chosen and str(r["function"]).startswith("select code "))]
    if others:
        rows = ((_shown(r["function"]), _shown(r["setting"])) for r in others)
        yield block(SETTINGS, rows, f"{name}  settings without a terminal", (), name)
    for selection in chosen:
        yield _truth_table(selection)


def _row(record: dict[str, Cell], references: References) -> tuple[str | Late, ...]:
    first = str(record["terminal"] or "")
    pins = str(record["pins"] or "").split(PARTED)
    return (
        " ".join(pin.partition(":")[2] for pin in pins) if first else "not placed",
        _shown(record["function"]),
        "" if record["terminal_function"] == "not placed" else _shown(record["terminal_function"]),
        _shown(record["acts_when"]),
        _shown(record["signal"]),
        _shown(record["spans"]),
        _shown(record["setting"]),
        Late(lambda: references.of_pin(Pin(*first.split(":", 1)))) if first else "",
    )


def _truth_table(selection: SelectionInfo) -> Block:
    """A column for each selecting contact, a row for each code, and what the code brings into force."""
    digits = tuple(Column(f"select {n}", "Digit at", wraps=False) for n in range(1, len(selection.contacts) + 1))
    position = (Column("Position", strong=True),) if selection.by_position else ()
    run = (Column("Run"),) if any(selection.runs) else ()
    columns = (*position, *digits, *run, Column("In force", strong=not position))
    rows: list[tuple[str, ...]] = []
    for index, ((code, reference), key) in enumerate(zip(selection.rows, selection.keys, strict=True)):
        told = (key,) if position else ()
        marks = tuple(code) if len(code) == len(digits) else (key, *("",) * (len(digits) - 1))
        runs = (selection.run_of(index),) if run else ()
        rows.append((*told, *marks, *runs, reference or "as before"))
    named = "; ".join(f"select {n} is {c}" for n, c in enumerate(selection.contacts, 1))
    says = f"1: the input is on. x: either. {named}." + _turned(selection)
    heading = f"{selection.controller}  what the selection brings into force"
    return block(columns, rows, heading, (says,), selection.controller)


def _turned(selection: SelectionInfo) -> str:
    names = [f"select {n}" for n, turned in enumerate(selection.turned, 1) if turned]
    return f" {' and '.join(names)}: on while the contact is open." if names else ""


def _shown(cell: Cell) -> str:
    return "" if cell is None else str(cell)


def device_titles(devices: Iterable[tuple[str, str, str]]) -> dict[str, str]:
    """From name, profile's title and own text to what stands in a heading."""
    return {name: ", ".join(part for part in (title, text) if part) for name, title, text in devices}

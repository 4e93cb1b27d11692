"""Digital inputs: what starts, stops, reverses, enables, trips, resets and selects, as functions of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import SelectionInfo
from wiregen.control.interpreter import Interpreter
from wiregen.scheme.model import ContactUse, Control, Run, Select
from wiregen.terms import Where


def add_commands(book: Interpreter, controller: str, control: Control) -> None:
    """The digital inputs that a drive's section declares, in the order stop, start ... of the section."""
    where: Where = ("control", controller)
    if control.run:
        for run in control.run.named.values():
            for name, use, key in _of_run(run):
                book.input(controller, name, use, (*where, "run", key))
            book.run_complete(controller, run, (*where, "run"))
    for name, use, key in _of_section(control):
        book.input(controller, name, use, (*where, key))
    if control.select:
        _add_selection(book, controller, control.select, (*where, "select"))


def _of_run(run: Run) -> Iterator[tuple[str, ContactUse, str]]:
    names = {
        "start": ("start", run.start),
        "start_reverse": ("start reverse", run.start_reverse),
        "stop": ("stop", run.stop),
        "forward": ("run forward", run.forward),
        "reverse": ("run reverse", run.reverse),
    }
    for key, (name, use) in names.items():
        if use is not None:
            yield name, use, key


def _of_section(control: Control) -> Iterator[tuple[str, ContactUse, str]]:
    named = {
        "reverse": control.reverse,
        "enable": control.enable,
        "external_trip": control.external_trip,
        "reset": control.reset,
        "raise": control.raise_,
        "lower": control.lower,
    }
    for key, use in named.items():
        if isinstance(use, ContactUse):
            yield key.replace("_", " "), use, key


def _add_selection(book: Interpreter, controller: str, select: Select, where: Where) -> None:
    """One function `select N` a digit, and the truth table with position names turned into digits."""
    names: list[str] = []
    positions: dict[str, str] = {}
    for index, use in enumerate(select.by):
        at: Where = (*where, "by", str(index))
        contacts = book.partners.contacts_of(use.by or "", at) if use.by else ()
        selector = book.device(use.by.partition("@")[0].partition(".")[0]) if use.by else None
        if len(select.by) == 1 and selector is not None and selector.declared.positions and contacts:
            positions = _codes(selector.declared.positions, [c.position for c in contacts])
        if len(contacts) > 1:
            for contact in contacts:
                one = ContactUse(by=f"{use.by}@{contact.position}" if contact.position else f"{use.by}.{contact.name}")
                names.append(one.by or "")
                book.input(controller, f"select {len(names)}", one, at)
        else:
            names.append(use.by or "a combination")
            book.input(controller, f"select {len(names)}", use, at)
    rows = [(positions.get(key, key), when.speed or "", (*where, "when", key)) for key, when in select.when.items()]
    book.selections.append(
        SelectionInfo(
            controller,
            tuple(names),
            tuple((code, speed) for code, speed, _ in rows),
            where,
            tuple(select.when),
            bool(positions),
        )
    )


def _codes(positions: tuple[str, ...], closed_in: list[str | None]) -> dict[str, str]:
    """Position name -> one digit a contact: 1 where that contact is closed in the position."""
    return {p: "".join("1" if c == p else "0" for c in closed_in) for p in positions}

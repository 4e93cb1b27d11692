"""Digital inputs: what starts, stops, reverses, enables, trips, resets and selects, as functions of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Contact, Leg, SelectionInfo
from wiregen.control.interpreter import Interpreter
from wiregen.scheme.model import ContactUse, Control, Run, Select
from wiregen.terms import Where

#: The keys that a run of each method must have, and those that do not belong to it.
_WANTED = {"three-wire": ("start", "stop"), "two-wire": ("forward",)}
_UNFIT = {"three-wire": ("forward", "reverse"), "two-wire": ("start", "start_reverse", "stop")}


def add_commands(book: Interpreter, controller: str, control: Control) -> None:
    """The digital inputs that a drive's section declares, in the order stop, start ... of the section."""
    where: Where = ("control", controller)
    if control.run:
        for run in control.run.named.values():
            for name, use, key in _of_run(run):
                book.input(controller, name, use, (*where, "run", key))
            _check_run(book, controller, run, (*where, "run"))
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


def _check_run(book: Interpreter, controller: str, run: Run, where: Where) -> None:
    """A run needs its contacts: three-wire a start and a stop, two-wire a forward; others do not belong to it."""
    wanted = _WANTED.get(run.method, ())
    for key in wanted:
        if getattr(run, key) is None:
            text = f"a {run.method} run of {controller} needs `{key}:`"
            book.notice("run-incomplete", where, controller, text)
    for key in _UNFIT.get(run.method, ()):
        if getattr(run, key) is not None:
            text = f"`{key}` does not belong to a {run.method} run of {controller}; it takes {' and '.join(wanted)}"
            book.notice("run-incomplete", (*where, key), controller, text)


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
    contacts: list[Contact] = []
    for index, use in enumerate(select.by):
        for one in book.partners.digits_of(use):
            names.append(one.by or "a combination")
            found = book.input(controller, f"select {len(names)}", one, (*where, "by", str(index)))
            if isinstance(found, Leg):
                contacts.append(found.contact)
    whole = len(select.by) == 1 and len(contacts) == len(names)
    positions = _position_codes(book, contacts) if whole else {}
    rows = tuple((positions.get(key, key), when.speed or "") for key, when in select.when.items())
    book.selections.append(
        SelectionInfo(controller, tuple(names), rows, where, tuple(select.when), by_position=bool(positions))
    )


def _position_codes(book: Interpreter, contacts: list[Contact]) -> dict[str, str]:
    """Position name -> one digit a contact: 1 where that contact is closed in the position."""
    device = book.device(contacts[0].device) if contacts else None
    names = device.declared.positions if device else ()
    return {name: "".join("1" if c.position == name else "0" for c in contacts) for name in names}

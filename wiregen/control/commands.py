"""Digital inputs: what starts, stops, reverses, enables, trips, resets and selects, as functions of a controller."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wiregen.control.functions import Contact, Leg, SelectionInfo
from wiregen.control.interpreter import Interpreter
from wiregen.control.overrides import override_setting
from wiregen.control.runs import add_runs
from wiregen.control.senses import acts_on
from wiregen.scheme.model import ContactUse, Control, Select
from wiregen.terms import Where


def add_commands(book: Interpreter, controller: str, control: Control) -> None:
    """The digital inputs that a drive's section declares, in the order stop, start ... of the section."""
    where: Where = ("control", controller)
    add_runs(book, controller, control)
    for name, use, key in _of_section(control):
        book.input(controller, name, use, (*where, *key))
    for jog, use, direction in _of_jog(control):
        setting = f"at reference {control.jog.speed}" if control.jog and control.jog.speed else ""
        book.input(controller, jog, use, (*where, "jog", direction), setting=setting)
    for name, override in control.override.items():
        setting = override_setting(override)
        use = override.by if override.acts_on is None else override.by.model_copy(update={"acts_on": override.acts_on})
        book.input(controller, f"override {name}", use, (*where, "override", name, "by"), setting=setting)
    if control.select:
        _add_selection(book, controller, control.select, (*where, "select"))


def _of_section(control: Control) -> Iterator[tuple[str, ContactUse, tuple[str, ...]]]:
    """The inputs that a section declares beside its runs, each with its keys in the section."""
    limits = control.limits
    named: dict[tuple[str, ...], object] = {
        ("reverse",): control.reverse,
        ("enable",): control.enable,
        ("external_trip",): control.external_trip,
        ("limits", "forward"): limits.forward if limits else None,
        ("limits", "reverse"): limits.reverse if limits else None,
        ("reset",): control.reset,
        ("raise",): control.raise_,
        ("lower",): control.lower,
    }
    for key, use in named.items():
        if isinstance(use, ContactUse):
            yield " ".join(key).replace("limits", "limit").replace("_", " "), use, key


def _of_jog(control: Control) -> Iterator[tuple[str, ContactUse, str]]:
    jog = control.jog
    for direction, use in (("forward", jog.forward), ("reverse", jog.reverse)) if jog else ():
        if use is not None:
            yield f"jog {direction}", use, direction


def _add_selection(book: Interpreter, controller: str, select: Select, where: Where) -> None:
    """One function `select N` a digit, and the truth table with position names turned into digits."""
    names: list[str] = []
    contacts: list[Contact] = []
    turned: list[bool] = []
    for index, use in enumerate(select.by):
        for one in book.partners.digits_of(use):
            names.append(one.by or "a combination")
            turned.append(acts_on("select", one)[0] in ("open", "opening"))
            found = book.input(controller, f"select {len(names)}", one, (*where, "by", str(index)))
            if isinstance(found, Leg):
                contacts.append(found.contact)
    whole = len(select.by) == 1 and len(contacts) == len(names)
    positions = _position_codes(book, contacts) if whole else {}
    runs = tuple(when.run or "" for when in select.when.values())
    info = SelectionInfo(controller, tuple(names), (), where, tuple(select.when), bool(positions), runs, tuple(turned))
    codes = {name: info.turn(closed) for name, closed in positions.items()}
    rows = tuple((codes.get(key, key), when.speed or "") for key, when in select.when.items())
    book.selections.append(replace(info, rows=rows))


def _position_codes(book: Interpreter, contacts: list[Contact]) -> dict[str, str]:
    """Position name -> one digit a contact: 1 where that contact is closed in the position."""
    device = book.device(contacts[0].device) if contacts else None
    names = device.declared.positions if device else ()
    return {name: "".join("1" if c.position == name else "0" for c in contacts) for name in names}

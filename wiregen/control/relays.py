"""Relays and contactors: what energises their coils, and interposing relays between a contact and what it acts on."""

from __future__ import annotations

from wiregen.control.functions import Contact, ContactTree, Device, Load, Sensor, Supply
from wiregen.control.interpreter import Interpreter, output_forms
from wiregen.control.loads import load_of, rated_voltage
from wiregen.control.partners import FromController, Resolved, leg_of
from wiregen.scheme.model import Control
from wiregen.terms import Where


def add_coil(book: Interpreter, name: str, control: Control) -> None:
    """What `energise` says of a relay or contactor, as the circuit of its coil."""
    if control.energise is None:
        return
    where: Where = ("control", name, "energise")
    found = book.partners.find(control.energise, where)
    if found is not None:
        _energised(book, name, found, where)


def add_interposed(book: Interpreter) -> None:
    """The coil circuits of the relays that stand between: what would act there drives the coil instead."""
    # A combination that drives one relay may itself hold a contact behind another one.
    done = 0
    while done < len(book.partners.interposed):
        between = book.partners.interposed[done]
        done += 1
        found = book.partners.find(between.use, between.where)
        if found is not None:
            _energised(book, between.relay, found, between.where)


def add_switched(
    book: Interpreter, name: str, contact: Contact, load: Load, supply: Supply | None, where: Where
) -> None:
    """A contact of an interposing relay that switches the load of a duty."""
    tree: ContactTree = leg_of(contact)
    book.add(name, contact.device, "coil", (), tree, supply, where, acts_on="closed", coil=load)


def supply_of_coil(book: Interpreter, relay: Device, where: Where, otherwise: str | None = None) -> Supply | None:
    """What feeds a coil: said in the relay's section or at the relay, else ``otherwise``, else its place's supply."""
    control = book.scheme.model.control.get(relay.name)
    if control and control.supply:
        return book.supplies.named(control.supply, ("control", relay.name, "supply"), into_load=True)
    if relay.declared.supply:
        return book.supplies.named(relay.declared.supply, (*relay.where, "supply"), into_load=True)
    voltage = rated_voltage(relay)
    if otherwise and book.supplies.gives(otherwise, voltage):
        return book.supplies.named(otherwise, (*where, "supply"), into_load=True)
    return book.supplies.of_place(relay.place, where, f"the coil of {relay.name}", voltage)


def _energised(book: Interpreter, name: str, found: Resolved, where: Where) -> None:
    relay = book.device(name)
    coil = load_of(relay) if relay else None
    if relay is None or coil is None:
        return
    if isinstance(found, Sensor):
        says = f"the coil of {name} is energised by contacts or by an output, and {found.device} is a sensor"
        book.notice("coil-driver-unfit", where, name, says)
        return
    supply = supply_of_coil(book, relay, where)
    if isinstance(found, FromController):
        _by_output(book, relay, coil, found.device, supply, where)
    else:
        book.add("coil", name, "coil", (), found, supply, where, acts_on="closed", coil=coil)


def _by_output(
    book: Interpreter, relay: Device, coil: Load, controller: str, supply: Supply | None, where: Where
) -> None:
    """An output of a controller that drives a coil: a duty of that controller, called by the coil."""
    there = book.cards(controller)[0]
    forms = output_forms(there)
    title = f"coil of {relay.name}"
    end = book.end(controller, title, "output", frozenset(), where, forms=forms, far=relay.place, load=relay)
    fed = None if forms == {"transistor"} else supply
    book.add(title, controller, "output", (end,), coil, fed, where, setting="", acts_on="closed")

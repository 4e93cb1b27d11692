"""Safety relays: the channels that they watch, the reset, what they tell, and what feeds them."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import CardFeed, Contact, ContactTree, Device, Leg, Parallel, Series, legs_in
from wiregen.control.guards import opening, too_few
from wiregen.control.interpreter import Interpreter
from wiregen.control.outputs import add_duty
from wiregen.control.partners import leg_of
from wiregen.scheme import split_contact
from wiregen.scheme.model import ContactUse, Control, Duty, SafetyReset, Show
from wiregen.terms import Pin, Where


def add_safety_relay(book: Interpreter, name: str, control: Control) -> None:
    """The channels, the reset and the signals of a safety relay."""
    device = book.device(name)
    if device is None or device.kind != "safety_relay":
        return
    _add_channels(book, device, control)
    _add_reset(book, device, control)
    where: Where = ("control", name)
    for key, duty in control.relays.items():
        add_duty(book, name, key.replace("_", " "), duty, (*where, "relays", key))
    for key, show in control.shows.items():
        _add_show(book, name, key, show, (*where, "shows", key))


def relay_feeds(book: Interpreter) -> Iterator[CardFeed]:
    """The supply at the coil of every safety relay that is used, unless contacts energise it."""
    used = {name for function in book.functions for end in function.ends for name in end.devices}
    for device in book.devices:
        control = book.scheme.model.control.get(device.name)
        if device.kind != "safety_relay" or not (control or device.name in used) or (control and control.energise):
            continue
        coil, supply = device.profile.first("coil"), book.supplies.of_card(device)
        if coil is not None and supply is not None:
            yield CardFeed(Pin(device.name, coil.pins[0]), Pin(device.name, coil.pins[-1]), supply, frozenset())


def watched_channels(device: Device, control: Control) -> int:
    """How many channels of a safety relay its guards are led through: as said, else all, at most two."""
    there = sum(t.role == "channel" for t in device.profile.terminals)
    return min(there, 1 if control.channels == "one" else 2)


def _add_channels(book: Interpreter, device: Device, control: Control) -> None:
    """One function a channel: the guards' contacts in series, the n-th of each in channel n."""
    count = watched_channels(device, control)
    found = _guards(book, device.name, control)
    for guard, contacts, where in found:
        if len(contacts) < count:
            too_few(book, guard, contacts, count, f"{device.name} watches", where)
    for number in range(1, count + 1):
        legs = tuple(leg_of(contacts[number - 1]) for _, contacts, _ in found if len(contacts) >= number)
        if legs:
            tree = legs[0] if len(legs) == 1 else Series(legs)
            _add_loop(book, device, f"channel {number}", "channel", tree, ("control", device.name, "guards"))


def _guards(book: Interpreter, name: str, control: Control) -> list[tuple[Device, list[Contact], Where]]:
    """Every guard with its contacts, in declared order: those that are named, else those that open when it acts."""
    found: dict[str, tuple[Device, list[Contact], Where]] = {}
    names = {d.name for d in book.devices}
    for index, text in enumerate(control.guards):
        where: Where = ("control", name, "guards", str(index))
        said = split_contact(text, names)
        device = book.device(said.device)
        if device is None or not device.contacts:
            title = device.profile.title if device else "unknown"
            says = f"{said.device} ({title}) has no contact that {name} could watch"
            book.notice("guard-unfit", where, said.device, says)
            continue
        contacts = found.setdefault(device.name, (device, [], where))[1]
        if said.contact is None and said.position is None:
            contacts += opening(device)
        elif isinstance(leg := book.partners.find(ContactUse(by=text), where), Leg):
            contacts.append(leg.contact)
    return list(found.values())


def _add_reset(book: Interpreter, device: Device, control: Control) -> None:
    if control.reset is None:
        return
    where: Where = ("control", device.name, "reset")
    said = control.reset
    found = book.partners.find(ContactUse(by=said.by) if isinstance(said, SafetyReset) else said, where)
    if isinstance(found, Leg | Series | Parallel):
        _add_loop(book, device, "reset", "reset", found, where)
    elif found is not None:
        says = f"the reset of {device.name} is a contact between its two terminals, and {found.device} has none"
        book.notice("guard-unfit", where, device.name, says)


def _add_loop(book: Interpreter, device: Device, name: str, role: str, tree: ContactTree, where: Where) -> None:
    """Contacts between the two pins of one channel or of the reset."""
    places = [d.place for leg in legs_in(tree) if (d := book.device(leg.contact.device))]
    far = next((place for place in places if place != device.place), device.place)
    end = book.end(device.name, name, role, frozenset(), where, far=far, category="safety")
    book.add(name, device.name, "safety_loop", (end,), tree, None, where, category="safety")


def _add_show(book: Interpreter, name: str, key: str, show: Show, where: Where) -> None:
    """The signalling contact: closed while the relay has dropped, so it tells that a guard was operated."""
    if key != "operated" or show.signal or show.spans:
        says = (
            f"a safety relay shows one thing, `operated`, by its signalling contact, which carries no signal and spans "
            f"nothing; {name} cannot show {key!r} so"
        )
        book.notice("safety-show-unfit", where, name, says)
        return
    add_duty(book, name, f"show {key}", Duty(switches=show.on, contact="NC", supply=show.supply), where)

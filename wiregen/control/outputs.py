"""Outputs: relay and transistor duties, what cards operate, values shown, and the signals that cards read."""

from __future__ import annotations

from wiregen.control.functions import Device, End, Meter, Partner, Supply
from wiregen.control.interpreter import CONTACT, Interpreter, output_forms
from wiregen.control.loads import load_of, rated_voltage
from wiregen.control.partners import leg_of
from wiregen.control.relays import add_switched, supply_of_coil
from wiregen.control.speed import add_analog_input, gives_analog
from wiregen.scheme.model import ContactUse, Control, Duty, Reference, Show
from wiregen.terms import Pin, Where


def add_outputs(book: Interpreter, controller: str, control: Control) -> None:
    """All outputs of one section, and a card's own inputs."""
    where: Where = ("control", controller)
    for name, duty in control.relays.items():
        add_duty(book, controller, name.replace("_", " "), duty, (*where, "relays", name))
    for name, duty in control.operates.items():
        add_duty(book, controller, name.replace("_", " "), duty, (*where, "operates", name))
    for name, use in control.reads.items():
        _add_read(book, controller, name.replace("_", " "), use, (*where, "reads", name))
    for name, show in control.shows.items():
        _add_show(book, controller, name.replace("_", " "), show, (*where, "shows", name))


def _add_read(book: Interpreter, controller: str, name: str, use: ContactUse, where: Where) -> None:
    """What a card reads: an analog signal from what gives one, else a contact."""
    source = book.device(use.by or "")
    if source is not None and gives_analog(source):
        add_analog_input(book, controller, name, Reference.model_validate({"from": source.name}), where)
    else:
        book.input(controller, name, use, where)


def add_duty(book: Interpreter, controller: str, name: str, duty: Duty, where: Where) -> None:
    """One output and what it switches: a load, or the input of another controller."""
    device, target = book.device(controller), book.device(duty.switches)
    if device is None or target is None:
        return
    receiver = target.kind in ("drive", "card")
    load = None if receiver else load_of(target)
    if load is None and not receiver:
        text = f"{target.name} ({target.profile.title}) is no load that {name} of {controller} could switch"
        book.notice("load-unfit", (*where, "switches"), target.name, text)
        return
    if duty.through is not None:
        _add_through(book, controller, name, duty, where)
        return
    forms = _duty_forms(book, device, name, duty, where)
    loaded = None if receiver else target
    end = book.end(controller, name, "output", frozenset(), where, forms=forms, far=target.place, load=loaded)
    second = _receiver(book, controller, duty.switches, name, forms, where) if receiver else None
    ends = (end, second) if second else (end,)
    supplies = _duty_supplies(book, controller, duty, forms, where)
    supply = supplies[0][1] if supplies else None
    setting = _duty_setting(name, duty) if device.kind != "safety_relay" else ""
    book.add(
        name,
        controller,
        "output",
        ends,
        load,
        supply,
        where,
        setting=setting,
        acts_on="closed",
        supplies=supplies,
        while_healthy=_while_healthy(name, duty),
    )


def _add_through(book: Interpreter, controller: str, name: str, duty: Duty, where: Where) -> None:
    """A duty behind an interposing relay: the output drives its coil, and its contact the load or the input."""
    relay = book.device(duty.through or "")
    contact = book.partners.make_contact(duty.through or "", (*where, "through"))
    coil = load_of(relay) if relay else None
    if relay is None or contact is None or coil is None:
        return
    device, target = book.cards(controller)[0], book.cards(duty.switches)[0]
    forms = _duty_forms(book, device, name, duty, where)
    end = book.end(controller, name, "output", frozenset(), where, forms=forms, far=relay.place, load=relay)
    fed = None if forms == {"transistor"} else supply_of_coil(book, relay, where, duty.supply)
    healthy = _while_healthy(name, duty)
    setting = _duty_setting(name, duty)
    book.add(
        name, controller, "output", (end,), coil, fed, where, setting=setting, acts_on="closed", while_healthy=healthy
    )
    makes = frozenset({"NO"})
    supplies = _duty_supplies(book, controller, duty, makes, where)
    supply = supplies[0][1] if supplies else None
    if (load := load_of(target)) is not None and target.kind not in ("drive", "card"):
        add_switched(book, name, contact, load, supply, where)
        return
    there = _receiver(book, controller, duty.switches, name, makes, where, far=relay.place)
    tree = leg_of(contact)
    book.add(there.function, duty.switches, "input", (there,), tree, supply, where, acts_on="closed", supplies=supplies)


def _duty_forms(book: Interpreter, device: Device, name: str, duty: Duty, where: Where) -> frozenset[str]:
    if duty.contact == "changeover":
        text = (
            f"{name} of {device.name} switches one thing, by a make or a break contact: say contact: NO or contact: NC"
        )
        book.notice("contact-unclear", (*where, "contact"), f"{device.name} {name}", text)
        return frozenset({"NO"})
    return frozenset({duty.contact}) if duty.contact else output_forms(device)


def _receiver(
    book: Interpreter,
    controller: str,
    receiver: str,
    name: str,
    forms: frozenset[str],
    where: Where,
    far: str = "",
) -> End:
    """The input of another controller that a duty drives. A drive does not know what such an input means."""
    function = f"{name} of {controller}"
    device, target = book.cards(controller)[0], book.cards(receiver)[0]
    if target.kind == "drive":
        text = (
            f"{function} drives an input of {target.name}, and nothing says what {target.name} does with it; "
            f"declare it there instead, as in `enable: {device.name}`"
        )
        book.notice("input-without-meaning", (*where, "switches"), f"{target.name} {function}", text)
    polarity = "source" if forms == {"transistor"} else None
    return book.end(
        receiver,
        function,
        "digital_in",
        CONTACT,
        where,
        polarity=polarity,
        owner=controller,
        far=far or device.place,
    )


def _duty_supplies(
    book: Interpreter, controller: str, duty: Duty, forms: frozenset[str], where: Where
) -> list[tuple[str, Supply | None]]:
    """What feeds a duty, by the card at either end that it depends on."""
    devices, targets = book.cards(controller), book.cards(duty.switches)
    into_inputs = targets[0].kind in ("drive", "card")
    return [
        (
            at.name,
            _duty_supply(
                book, devices[0] if into_inputs else at, at if into_inputs else targets[0], duty, forms, where
            ),
        )
        for at in (targets if into_inputs else devices)
    ]


def _duty_supply(
    book: Interpreter, device: Device, target: Device, duty: Duty, forms: frozenset[str], where: Where
) -> Supply | None:
    """A dry contact into an input takes the input's supply; a transistor output brings its own; a load its place's."""
    if forms == {"transistor"}:
        return None
    found = _unfused(book, device, target, duty, where)
    return book.supplies.fused(found, duty.fuse, (*where, "fuse")) if found else None


def _unfused(book: Interpreter, device: Device, target: Device, duty: Duty, where: Where) -> Supply | None:
    into_load = target.kind not in ("drive", "card")
    if duty.supply:
        return book.supplies.named(duty.supply, (*where, "supply"), into_load=into_load)
    if not into_load:
        return book.supplies.of_inputs(target)
    if target.declared.supply:
        return book.supplies.named(target.declared.supply, (*target.where, "supply"), into_load=True)
    need = f"the relay of {device.name} that switches {target.name}"
    return book.supplies.of_place(device.place, where, need, rated_voltage(target))


def _add_show(book: Interpreter, controller: str, name: str, show: Show, where: Where) -> None:
    device, target = book.device(controller), book.device(show.on)
    if device is None or target is None:
        return
    signal = show.signal or "4-20 mA"
    title = f"show {name}"
    signals = frozenset({signal})
    end = book.end(controller, title, "analog_out", signals, where, far=target.place, category="analog")
    partner: Partner | None = None
    ends: tuple[End, ...] = (end,)
    if target.kind == "meter":
        pins = {t.role: Pin(target.name, t.label) for t in target.profile.terminals}
        partner = Meter(target.name, pins["plus"], pins["minus"])
    elif target.kind in ("drive", "card"):
        there = f"{title} of {controller}"
        ends = (
            end,
            book.end(
                show.on, there, "analog_in", signals, where, category="analog", owner=controller, far=device.place
            ),
        )
    else:
        text = f"{target.name} ({target.profile.title}) shows no analog value"
        book.notice("load-unfit", (*where, "on"), target.name, text)
        return
    book.add(
        title,
        controller,
        "analog_out",
        ends,
        partner,
        None,
        where,
        category="analog",
        signal=signal,
        spans=show.spans or "",
        setting=f"set {signal}" + (f", spans {show.spans}" if show.spans else ""),
    )


def _while_healthy(name: str, duty: Duty) -> bool:
    """A fault output is energised while there is no fault, unless the scheme says otherwise."""
    return name == "fault" and duty.energised != "in_fault"


def _duty_setting(name: str, duty: Duty) -> str:
    said = duty.energised or ("while_healthy" if name == "fault" else "")
    return f"set {name}" + (f", energised {said.replace('_', ' ')}" if said else "")

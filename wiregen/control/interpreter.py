"""Collects the functions of a scheme: one entry an input, an output or a signal, with the needs of both ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wiregen.control.banks import banks_of
from wiregen.control.fixed import fixed_pin, wired_pin
from wiregen.control.functions import (
    Device,
    End,
    Function,
    Leg,
    Load,
    Parallel,
    Partner,
    Premise,
    Purpose,
    ReferenceInfo,
    RunInfo,
    SelectionInfo,
    Sensor,
    Series,
    Supply,
    legs_in,
)
from wiregen.control.loads import load_current_a, rated_voltage
from wiregen.control.partners import FromController, PartnerFinder, Resolved, named_contacts
from wiregen.control.senses import acts_on
from wiregen.control.supplies import Supplies
from wiregen.scheme import Scheme
from wiregen.scheme.model import ContactUse
from wiregen.terms import Notice, Pin, Where

CONTACT = frozenset({"contact"})


class Interpreter:
    """The state of one reading of a scheme's control sections. Thrown away when `Declared` has been made of it."""

    def __init__(self, scheme: Scheme, devices: tuple[Device, ...]) -> None:
        self.scheme = scheme
        self.devices = devices
        self.notices: list[Notice] = []
        self.functions: list[Function] = []
        self.references: dict[str, list[ReferenceInfo]] = {}
        self.selections: list[SelectionInfo] = []
        self.runs: dict[str, list[RunInfo]] = {}
        self._by_name = {d.name: d for d in devices}
        self._ends: set[tuple[str, str]] = set()
        self._usual_taken: set[tuple[str, str]] = set()  # (device, plain name of a function)
        self._banks = banks_of(scheme, devices)
        self.partners = PartnerFinder(devices, self._banks, self.notices.append, named_contacts(scheme.model))
        self.supplies = Supplies(scheme, devices, self.notices.append)

    def device(self, name: str) -> Device | None:
        """The device of this name; of a bank its first card, which stands for all."""
        cards = self.cards(name)
        return cards[0] if cards else None

    def cards(self, name: str) -> tuple[Device, ...]:
        """The cards of a bank, in declared order; a device alone."""
        if name in self._by_name:
            return (self._by_name[name],)
        return self._banks.get(name, ())

    def notice(self, code: str, where: Where, subject: str, message: str, remedy: str = "") -> None:
        self.notices.append(Notice(code, where, subject, message, remedy))

    # Functions

    def input(
        self,
        controller: str,
        name: str,
        use: ContactUse,
        where: Where,
        *,
        plain: str = "",
        run: str = "",
        setting: str = "",
    ) -> Resolved | None:
        """A digital input of ``controller``, called ``name``. Gives what drives it, None if that is wrong.

        ``plain`` is the name that gives its sense where it differs; ``setting`` is added to what the sense needs.
        """
        found = self.partners.find(use, where)
        if found is None:
            return None
        partner, ends = self._driven(controller, name, found, where)
        ends = (self.known_as(ends[0], plain, run), *ends[1:])
        acts, own = acts_on(plain or name, use)
        setting = ", ".join(part for part in (own, setting) if part)
        by_transistor = len(ends) == 2 and ends[1].forms == {"transistor"}
        supplies = [] if by_transistor else [(c.name, self._feed(c, found, where)) for c in self.cards(controller)]
        supply = supplies[0][1] if supplies else None
        self.add(
            name,
            controller,
            "input",
            ends,
            partner,
            supply,
            where,
            setting=setting,
            acts_on=acts,
            supplies=supplies,
            plain=plain,
            run=run,
        )
        return found

    def known_as(self, end: End, plain: str, run: str) -> End:
        """An end with its other name in `fixed`, and the usual terminal of its plain name while no other has that."""
        device, also = self.cards(end.devices[0])[0], f"{plain} {run}" if run else ""
        key = (device.name, plain or end.function)
        own = _usual(device, plain)
        usual = () if key in self._usual_taken else end.usual or ((own,) if own else ())
        self._usual_taken.add(key)
        if not also or also == end.function:
            return replace(end, usual=usual)
        fixed = end.fixed or fixed_pin(self.scheme, device, also)
        kept = end.kept or (None if fixed else wired_pin(self.scheme, device, also))
        return replace(end, usual=usual, fixed=fixed, kept=kept, also=also)

    def _driven(
        self, controller: str, name: str, found: Resolved, where: Where
    ) -> tuple[Partner | None, tuple[End, ...]]:
        """The partner of a digital input and its ends; where another controller drives it, that is the second end."""
        if isinstance(found, FromController):
            there, here = self.cards(found.device)[0], self.cards(controller)[0]
            forms = output_forms(there)
            polarity = "source" if forms == {"transistor"} else None
            near = self.end(controller, name, "digital_in", CONTACT, where, polarity=polarity, far=there.place)
            far = self.end(
                found.device,
                f"{name} of {controller}",
                "output",
                frozenset(),
                where,
                forms=forms,
                owner=controller,
                far=here.place,
            )
            return None, (near, far)
        sensor = found if isinstance(found, Sensor) else None
        polarity = sensor.polarity if sensor else None
        place = self._place_of(found, self.cards(controller)[0].place)
        return found, (self.end(controller, name, "digital_in", CONTACT, where, polarity=polarity, far=place),)

    def _place_of(self, found: Leg | Series | Parallel | Sensor, here: str) -> str:
        """Where the wire of an input goes to: a far place, if any contact that is wired to the input stands in one."""
        devices = [found.device] if isinstance(found, Sensor) else [leg.contact.device for leg in last_legs(found)]
        places = [self._by_name[device].place for device in devices]
        return next((place for place in places if place != here), places[0])

    def _feed(self, controller: Device, found: Resolved, where: Where) -> Supply | None:
        """What feeds a contact or sensor: said at the device, else what feeds the controller's inputs."""
        if not isinstance(found, FromController):
            device = self._by_name[_first_device(found)]
            # A relay's own supply is that of its coil; its contacts are dry.
            if device.declared.supply and device.kind not in ("relay", "contactor"):
                return self.supplies.named(device.declared.supply, (*device.where, "supply"))
        return self.supplies.of_inputs(controller)

    def add(
        self,
        name: str,
        controller: str,
        purpose: Purpose,
        ends: tuple[End, ...],
        partner: Partner | None,
        supply: Supply | None,
        where: Where,
        *,
        category: str = "control",
        signal: str = "",
        spans: str = "",
        setting: str = "",
        acts_on: str = "",
        coil: Load | None = None,
        plain: str = "",
        run: str = "",
        on_low: str = "",
        on_high: str = "",
        inverse: bool = False,
        while_healthy: bool = False,
        supplies: Sequence[tuple[str, Supply | None]] = (),
        follows: End | None = None,
    ) -> None:
        """Take in a function, unless one of its names is taken already at its device."""
        if (supply and supply.alternating) or any(end.load_ac_v for end in ends):
            category = "control_ac"
        function = Function(
            name=name,
            controller=controller,
            purpose=purpose,
            ends=ends,
            partner=partner,
            supply=supply,
            category=category,
            acts_on=acts_on,
            signal=signal,
            spans=spans,
            setting=setting,
            where=where,
            while_healthy=while_healthy,
            coil=coil,
            plain=plain,
            run=run,
            on_low=on_low,
            on_high=on_high,
            inverse=inverse,
            supplies=tuple(supplies) if len(supplies) > 1 else (),
            follows=follows,
        )
        for end in ends:
            twice = next((d for d in end.devices if (d, end.function) in self._ends), None)
            if twice is not None:
                text = f"{twice} has two functions called {end.function}; only the first is wired"
                self.notice("function-declared-twice", where, f"{twice} {end.function}", text)
                return
        self._ends.update((device, end.function) for end in ends for device in end.devices)
        self.functions.append(replace(function, order=len(self.functions)))

    def end(
        self,
        device: str,
        function: str,
        role: str,
        signals: frozenset[str],
        where: Where,
        *,
        forms: frozenset[str] = frozenset(),
        polarity: str | None = None,
        load: Device | None = None,
        far: str = "",
        owner: str = "",
        category: str = "control",
    ) -> End:
        """One side of a function at ``device``, or at any card of that bank, with what is fixed and usual there."""
        items = self.cards(device)
        voltage = rated_voltage(load) if load else None
        alternating = voltage is not None and voltage.kind == "AC"
        category = "control_ac" if alternating else category
        return End(
            id=f"{device} {function}",
            function=function,
            devices=tuple(item.name for item in items),
            role=role,
            signals=signals,
            forms=forms,
            polarity=polarity,
            load_a=load_current_a(load) if load else None,
            load_ac_v=voltage.volts if alternating and voltage else None,
            usual=tuple(pin for item in items if (pin := _usual(item, function)) is not None),
            fixed=next((pin for item in items if (pin := fixed_pin(self.scheme, item, function))), None),
            kept=next((pin for item in items if (pin := wired_pin(self.scheme, item, function))), None),
            bundle=f"{far} {category}" if far and far != items[0].place else "",
            premises=(Premise("need", f"{device} {function}", where, f"{function} of {owner or device}"),),
            where=where,
        )


def _usual(item: Device, function: str) -> Pin | None:
    label = item.profile.usual.get(function)
    terminal = item.profile.terminal_of(label) if label else None
    return Pin(item.name, terminal.pins[0]) if terminal else None


def _first_device(found: Leg | Series | Parallel | Sensor) -> str:
    return found.device if isinstance(found, Sensor) else legs_in(found)[0].contact.device


def last_legs(tree: Leg | Series | Parallel) -> list[Leg]:
    """The contacts of a tree that lie next to what it switches."""
    if isinstance(tree, Leg):
        return [tree]
    return [leg for part in (tree.parts if isinstance(tree, Parallel) else tree.parts[-1:]) for leg in last_legs(part)]


def output_forms(device: Device) -> frozenset[str]:
    """The form in which a controller drives another's input: a make contact where it has one, else a transistor."""
    own = {t.form for t in device.profile.terminals if t.role in ("relay", "digital_out")}
    if own & {"NO", "changeover"} or "transistor" not in own:
        return frozenset({"NO"})
    return frozenset({"transistor"})

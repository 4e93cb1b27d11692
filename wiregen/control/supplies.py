"""Where 24 V, or an AC control voltage, comes from for each thing that needs it."""

from __future__ import annotations

from dataclasses import replace

from wiregen.control.functions import CardFeed, Device, Fusing, Supply
from wiregen.control.loads import Rated, rated_voltage
from wiregen.control.partners import Report
from wiregen.scheme import Scheme
from wiregen.scheme.places import cabinets_of
from wiregen.terms import Notice, Pin, Where


class Supplies:
    """Finds the supply of an input, a load or a card, and reports where none or several could be meant."""

    def __init__(self, scheme: Scheme, devices: tuple[Device, ...], report: Report) -> None:
        self._scheme = scheme
        self._devices = {d.name: d for d in devices}
        self._report = report
        self._reported: set[tuple[str, str]] = set()
        self._cabinets = cabinets_of(scheme.model.places)
        self._fusings: dict[str, Fusing] = {}
        found = [(d, s) for d in devices if (s := supply_of(d)) is not None]
        self.all = tuple(self.fused(s, d.declared.fuse, (*d.where, "fuse")) for d, s in found)
        self._by_name = {s.device: s for s in self.all}

    @property
    def fusings(self) -> tuple[Fusing, ...]:
        """Every fuse that stands in the feed of something, in the order in which it was asked for."""
        return tuple(self._fusings.values())

    def fused(self, supply: Supply, fuse: str | None, where: Where) -> Supply:
        """The supply as it is behind ``fuse``; itself without one, or where that is no fuse."""
        device = self._devices.get(fuse or "")
        if device is None:
            return supply
        pins = [Pin(device.name, t.label) for t in device.profile.terminals if t.role == "link"]
        if device.kind != "fuse" or len(pins) != 2:
            text = f"{device.name} ({device.profile.title}) is no fuse, so it protects nothing"
            self._once(Notice("fuse-unfit", where, device.name, text))
            return supply
        inlet, outlet = pins
        known = self._fusings.setdefault(device.name, Fusing(device.name, supply.plus, inlet, outlet, supply, where))
        if known.source != supply.plus:
            text = f"{device.name} would stand behind {known.source} and behind {supply.plus}: a fuse has one feed"
            self._once(Notice("fuse-unfit", where, device.name, text))
            return supply
        return replace(supply, plus=known.outlet, fuse=device.name)

    def named(self, name: str, where: Where, *, into_load: bool = False) -> Supply | None:
        """The supply called ``name``: a supply unit, a transformer, or a controller with a 24 V output.

        Only loads may be fed with AC.
        """
        found = self._by_name.get(name)
        if found is None:
            text = f"{name} is not a supply: it has no 24 V output with a 0 V of its own"
            self._once(Notice("supply-unknown", where, name, text))
        elif found.alternating and not into_load:
            text = f"{name} gives {found.volts:g} V AC, and what it is to feed here works on 24 V DC; it is not wired"
            self._once(Notice("input-fed-with-ac", where, name, text))
            return None
        return found

    def gives(self, name: str, voltage: Rated | None) -> bool:
        """Whether the supply called ``name`` gives this voltage; True where either is not known."""
        found = self._by_name.get(name)
        return found is None or voltage is None or _gives(found, voltage)

    def of_inputs(self, controller: Device) -> Supply | None:
        """What feeds the contacts of a controller's inputs and the two-wire transmitters that it reads.

        Said at its inputs, in its section or at the device; else its own 24 V output; else the one supply of its place.
        """
        control = self._scheme.model.control.get(controller.name)
        where: Where = ("control", controller.name)
        if control and control.inputs and control.inputs.supply:
            return self.named(control.inputs.supply, (*where, "inputs", "supply"))
        if said := self._said(controller):
            return self.named(*said)
        need = f"the inputs of {controller.name}"
        return self._by_name.get(controller.name) or self.of_place(controller.place, (*where, "inputs"), need)

    def _said(self, controller: Device) -> tuple[str, Where] | None:
        """The supply that a controller's section or its device names, and where it stands."""
        control = self._scheme.model.control.get(controller.name)
        if control and control.supply:
            return control.supply, ("control", controller.name, "supply")
        if controller.declared.supply:
            return controller.declared.supply, (*controller.where, "supply")
        return None

    def of_card(self, card: Device) -> Supply | None:
        """What feeds the 24 V terminals of a card: said in its section or at the device, else its place's."""
        if said := self._said(card):
            return self.named(*said)
        return self.of_place(card.place, card.where, card.name)

    def of_place(self, place: str, where: Where, need: str, voltage: Rated | None = None) -> Supply | None:
        """The one supply unit of a place that gives ``voltage``, by default direct current; else of the cabinet.

        Where none gives it, the only one of another voltage: that it does not fit is told of the load.
        """
        places = tuple(dict.fromkeys((place, *self._cabinets)))
        of = {at: [s for s in self.all if not s.own and self._devices[s.device].place == at] for at in places}
        fitting = {at: [s for s in units if _gives(s, voltage)] for at, units in of.items()}
        for at in places:
            units = fitting[at] or ([] if voltage is None or any(fitting.values()) else of[at])
            if len(units) == 1:
                return units[0]
            if units:
                names = " or ".join(s.device for s in units)
                text = f"{need} could be fed from {names}; say which by `supply:`"
                self._once(Notice("supply-unclear", where, need, text))
                return None
        text = f"nothing feeds {need}: {place} holds no {voltage or '24 V'} supply"
        self._once(Notice("supply-missing", where, need, text))
        return None

    def _once(self, notice: Notice) -> None:
        if (notice.code, notice.subject) not in self._reported:
            self._reported.add((notice.code, notice.subject))
            self._report(notice)


def _gives(supply: Supply, voltage: Rated | None) -> bool:
    if voltage is None:
        return not supply.alternating
    same = supply.volts is None or supply.volts == voltage.volts
    return same and supply.alternating == (voltage.kind == "AC")


def supply_of(device: Device) -> Supply | None:
    """The device as a supply, if it has a 24 V output and a 0 V, or a secondary winding; before any fuse.

    The first pin of a winding is its ungrounded side, the second the earthed one (X1 X2, NEMA practice, from memory).
    """
    winding = [Pin(device.name, pin) for t in device.profile.terminals if t.role == "secondary" for pin in t.pins]
    voltage = rated_voltage(device)
    kind = voltage is not None and voltage.kind == "AC"
    volts = voltage.volts if voltage else None
    if device.kind == "transformer":
        return Supply(device.name, winding[0], winding[1], False, kind, volts)
    plus, zero = device.profile.first("supply_out"), device.profile.first("zero")
    if plus is None or zero is None:
        return None
    pins = Pin(device.name, plus.label), Pin(device.name, zero.label)
    return Supply(device.name, *pins, device.kind != "supply", kind, volts)


def card_feeds(devices: tuple[Device, ...], supplies: Supplies) -> tuple[CardFeed, ...]:
    """What feeds every 24 V terminal of every card, and for which channels it is needed."""
    found: list[CardFeed] = []
    for device in devices:
        inlets = [t for t in device.profile.terminals if t.role == "supply_in"]
        supply = supplies.of_card(device) if inlets else None
        first_zero = device.profile.first("zero")
        for inlet in inlets if supply else ():
            zero = inlet.common or (first_zero.label if first_zero else "")
            if zero and supply:
                channels = frozenset(t.pins[0] for t in device.profile.terminals if t.feed == inlet.label)
                found.append(CardFeed(Pin(device.name, inlet.label), Pin(device.name, zero), supply, channels))
    return tuple(found)

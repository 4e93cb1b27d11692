"""Where 24 V comes from for each thing that needs it."""

from __future__ import annotations

from wiregen.control.functions import CardFeed, Device, Supply
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
        self.all = tuple(s for d in devices if (s := supply_of(d)) is not None)

    def named(self, name: str, where: Where) -> Supply | None:
        """The supply called ``name``: a supply unit, or a controller with a 24 V output."""
        device = self._devices.get(name)
        found = supply_of(device) if device else None
        if found is None:
            text = f"{name} is not a supply: it has no 24 V output with a 0 V of its own"
            self._once(Notice("supply-unknown", where, name, text))
        return found

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
        return supply_of(controller) or self.of_place(controller.place, (*where, "inputs"), need)

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

    def of_place(self, place: str, where: Where, need: str) -> Supply | None:
        """The one supply unit of a place; of the cabinet where the place has none."""
        for at in dict.fromkeys((place, *self._cabinets)):
            units = [s for s in self.all if not s.own and self._devices[s.device].place == at]
            if len(units) == 1:
                return units[0]
            if units:
                names = " or ".join(s.device for s in units)
                text = f"{need} could be fed from {names}; say which by `supply:`"
                self._once(Notice("supply-unclear", where, need, text))
                return None
        text = f"nothing feeds {need}: {place} holds no 24 V supply"
        self._once(Notice("supply-missing", where, need, text))
        return None

    def _once(self, notice: Notice) -> None:
        if (notice.code, notice.subject) not in self._reported:
            self._reported.add((notice.code, notice.subject))
            self._report(notice)


def supply_of(device: Device) -> Supply | None:
    """The device as a supply, if it has a 24 V output and a 0 V."""
    plus, zero = device.profile.first("supply_out"), device.profile.first("zero")
    if plus is None or zero is None:
        return None
    return Supply(device.name, Pin(device.name, plus.label), Pin(device.name, zero.label), device.kind != "supply")


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

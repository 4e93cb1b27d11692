"""Where 24 V comes from for each thing that needs it, and how each 0 V is tied."""

from __future__ import annotations

from wiregen.control.functions import CardFeed, Device, InputGroup, Supply, ZeroVolt
from wiregen.control.partners import Report
from wiregen.scheme import Scheme
from wiregen.scheme.model import Inputs, JoinedTo
from wiregen.terms import Notice, Pin, Where


class Supplies:
    """Finds the supply of an input, a load or a card, and reports where none or several could be meant."""

    def __init__(self, scheme: Scheme, devices: tuple[Device, ...], report: Report) -> None:
        self._scheme = scheme
        self._devices = {d.name: d for d in devices}
        self._report = report
        self._reported: set[tuple[str, str]] = set()
        self._cabinets = [name for name, place in scheme.model.places.items() if place.route is None]
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
        """What feeds the contacts of a controller's inputs and the two-wire transmitters that it reads."""
        control = self._scheme.model.control.get(controller.name)
        where = ("control", controller.name, "inputs")
        if control and control.inputs and control.inputs.supply:
            return self.named(control.inputs.supply, (*where, "supply"))
        return supply_of(controller) or self.of_place(controller.place, where, f"the inputs of {controller.name}")

    def of_place(self, place: str, where: Where, need: str) -> Supply | None:
        """The one supply unit of a place; of the cabinet where the place has none."""
        for at in dict.fromkeys((place, *self._cabinets)):
            units = [s for s in self.all if not s.own and self._devices[s.device].place == at]
            if len(units) == 1:
                return units[0]
            if units:
                names = " or ".join(s.device for s in units)
                self._once(
                    Notice("supply-unclear", where, need, f"{need} could be fed from {names}; say which by `supply:`")
                )
                return None
        text = f"{need} has no supply: {place} holds no 24 V supply"
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


def input_groups(
    scheme: Scheme, devices: tuple[Device, ...], supplies: Supplies, report: Report
) -> tuple[InputGroup, ...]:
    """The groups of digital inputs of every controller, each with its polarity, common and supply."""
    groups: list[InputGroup] = []
    for device in devices:
        terminals = [t for t in device.profile.terminals if t.role == "digital_in"]
        control = scheme.model.control.get(device.name)
        declared = control.inputs if control else None
        for group in dict.fromkeys(t.group for t in terminals):
            groups.append(_group(device, group, terminals[0].common, declared, supplies))
        if terminals and control and not _says(declared):
            text = f"{device.name} does not say how its inputs are wired; taken as source (contacts switch +24 V)"
            report(Notice("polarity-not-declared", ("control", device.name), device.name, text))
    return tuple(groups)


def _says(declared: Inputs | None) -> bool:
    return declared is not None and (declared.wired is not None or bool(declared.groups))


def _group(device: Device, group: str, first_common: str, declared: Inputs | None, supplies: Supplies) -> InputGroup:
    terminal = next(t for t in device.profile.terminals if t.role == "digital_in" and t.group == group)
    common = terminal.common or first_common
    own = device.profile.terminal_of(common)
    by_group = declared.groups.get(group) if declared else None
    polarity = by_group or (declared.wired if declared else None) or "source"
    where: Where = ("control", device.name, "inputs") if declared else ("devices", device.name)
    return InputGroup(
        device=device.name,
        group=group,
        common=Pin(device.name, common) if own is not None and own.role == "common" else None,
        polarity=polarity,
        declared=_says(declared),
        supply=None,  # found when a function of the group needs it
        where=(*where, group) if by_group else where,
    )


def zero_volts(scheme: Scheme, devices: tuple[Device, ...], report: Report) -> tuple[ZeroVolt, ...]:
    """How the 0 V of every supply, and of every controller with a 24 V output, is tied."""
    found: list[ZeroVolt] = []
    for device in devices:
        supply = supply_of(device)
        if supply is None:
            continue
        control = scheme.model.control.get(device.name)
        said = (control.zero_volt if control else None) or device.declared.zero_volt
        place = (
            ("control", device.name, "zero_volt")
            if control and control.zero_volt
            else ("devices", device.name, "zero_volt")
        )
        if said is None and supply.own:
            text = (
                f"{device.name} has a 24 V output of its own, and the scheme does not say how its 0 V ({supply.zero}) is tied; "
                "drawn floating"
            )
            report(Notice("zero-volt-not-declared", ("control", device.name), device.name, text))
        if isinstance(said, JoinedTo):
            found.append(ZeroVolt(device.name, "joined", said.joined_to, True, supply.zero, place))
        else:
            mode = said or ("floating" if supply.own else "earthed")
            found.append(ZeroVolt(device.name, mode, None, said is not None, supply.zero, place))
    return tuple(found)


def card_feeds(scheme: Scheme, devices: tuple[Device, ...], supplies: Supplies) -> tuple[CardFeed, ...]:
    """What feeds the 24 V terminals of every card: said at the card, else the one supply of its place."""
    found: list[CardFeed] = []
    for device in devices:
        inlets = [t for t in device.profile.terminals if t.role == "supply_in"]
        if not inlets:
            continue
        control = scheme.model.control.get(device.name)
        said = (control.supply if control else None) or device.declared.supply
        where: Where = ("devices", device.name)
        supply = (
            supplies.named(said, (*where, "supply")) if said else supplies.of_place(device.place, where, device.name)
        )
        if supply is None:
            continue
        for inlet in inlets:
            channels = frozenset(t.pins[0] for t in device.profile.terminals if t.feed == inlet.label)
            first_zero = device.profile.first("zero")
            zero = inlet.common or (first_zero.label if first_zero else "")
            found.append(CardFeed(Pin(device.name, inlet.label), Pin(device.name, zero), supply, channels))
    return tuple(found)

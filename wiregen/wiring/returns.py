"""Returns: 0 V terminals, commons of input groups and protective earth, tied so that every current finds back."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wiregen.control.functions import Declared, Function, InputGroup, Load, Supply
from wiregen.terms import Notice, Pin, Where
from wiregen.wiring.placement import Placement
from wiregen.wiring.sides import category_of
from wiregen.wiring.tie import Tie
from wiregen.wiring.zero_system import ZeroSystem


class Returns:
    """Ties of 0 V. A return that is there already is not tied again: that would be a loop in the 0 V system."""

    def __init__(self, declared: Declared, placement: Placement, report: Callable[[Notice], None]) -> None:
        self._declared = declared
        self._placement = placement
        self._report = report
        self._zeros = ZeroSystem(declared)

    def declared_ties(self) -> Iterator[Tie]:
        """What holds whatever the functions are: 0 V joined as declared, the feeds of cards, protective earth."""
        yield from self._joined_zeros()
        yield from self._card_feeds()
        yield from self._earths()

    def shared(
        self, a: Pin | None, b: Pin | None, title: str, where: Where, *, category: str = "control", loop: str = ""
    ) -> Iterator[Tie]:
        """Two 0 V pins between which a current must pass; reported where they are declared apart, or one is missing."""
        if a is None or b is None:
            self.missing(title, where)
            return
        if self._zeros.joined(a, b):
            return
        if objection := self._zeros.objection(a, b):
            text = f"{title} needs {a} and {b} on one 0 V, but {objection}: its current finds no way back"
            remedy = f"Say at {_other(objection, a, b)} how the two are joined, as in zero_volt: {{joined_to: ...}}."
            self._report(Notice("return-missing", where, title, text, remedy))
            return
        self._zeros.join(a, b)
        yield Tie(a, b, title, category, loop, where)

    def missing(self, title: str, where: Where) -> None:
        """Report that a controller has no terminal to which a current could return."""
        text = f"{title}: its current finds no way back, since its controller has no 0 V terminal for it"
        self._report(Notice("return-missing", where, title, text))

    def group_commons(self) -> Iterator[Tie]:
        """The common of every group in use lies on the far side of its supply; others return to their 0 V."""
        feeding = self._feeding()
        for group in self._declared.groups:
            supplies = list(feeding.get((group.device, group.group), ()))
            title = f"common of {group.device} {group.group}"
            if not supplies:
                continue
            if group.common is None:
                yield from self._inner_return(group, supplies)
                continue
            first = supplies[0]
            if group.polarity == "source":
                self._zeros.join(group.common, first.zero)
                yield Tie(group.common, first.zero, title, where=group.where)
            else:
                yield Tie(group.common, first.plus, title, where=group.where)
            for other in supplies[1:]:
                yield from self.shared(other.zero, first.zero, title, group.where)

    def _joined_zeros(self) -> Iterator[Tie]:
        supplies = self._declared.cold
        for zero in self._declared.zero_volts:
            if zero.mode == "earthed":
                # Tied to itself, so that it has a net at which the link stands even where nothing else is wired to it.
                supply = supplies.get(zero.zero)
                category = category_of(supply) if supply else "control"
                title = f"{zero.zero.name if category == 'control_ac' else '0 V'} of {zero.device}"
                yield Tie(zero.zero, zero.zero, title, category, where=zero.where)
            terminal = self._placement.device(zero.joined_to).profile.first("zero") if zero.joined_to else None
            if terminal is None or zero.joined_to in (None, zero.device):
                continue
            target = Pin(str(zero.joined_to), terminal.label)
            self._zeros.join(target, zero.zero)
            yield Tie(zero.zero, target, f"0 V of {zero.device}", where=zero.where)

    def _card_feeds(self) -> Iterator[Tie]:
        for feed in self._declared.feeds:
            device = feed.plus.device
            if feed.only_for and not feed.only_for & self._placement.used_channels(device):
                continue
            where: Where = ("devices", device)
            self._zeros.join(feed.supply.zero, feed.zero)
            yield Tie(feed.supply.plus, feed.plus, f"24 V of {device}", where=where)
            yield Tie(feed.supply.zero, feed.zero, f"0 V of {device}", where=where)

    def _earths(self) -> Iterator[Tie]:
        """All protective terminals together; a single one is tied to itself so that it has a net."""
        controllers = [d for d in self._declared.devices if d.profile.controller]
        own = [Pin(d.name, t.label) for d in controllers for t in d.profile.terminals if t.role == "earth"]
        earths = [(pin, "PE", "control") for pin in (*own, *(p.earth for p in self._declared.powers))]
        for function in self._declared.functions:
            load = function.partner if isinstance(function.partner, Load) else function.coil
            if load is not None and load.earth is not None:
                earths.append((load.earth, title_of(function), function.category))
        for pin, title, category in dict.fromkeys(earths):
            yield Tie(earths[0][0], pin, title, category)

    def _feeding(self) -> dict[tuple[str, str], dict[Supply, None]]:
        """What feeds the contacts and sensors at the inputs of each group, in declared order, each once."""
        found: dict[tuple[str, str], dict[Supply, None]] = {}
        for function in self._declared.functions:
            for end in function.ends:
                at = self._placement.at(end)
                if end.role != "digital_in" or at is None or function.supply is None or self._by_transistor(function):
                    continue
                found.setdefault((at.device, self._placement.group(at)), {})[function.supply] = None
        return found

    def _by_transistor(self, function: Function) -> bool:
        return any((a := self._placement.at(e)) is not None and a.form == "transistor" for e in function.ends)

    def _inner_return(self, group: InputGroup, supplies: list[Supply]) -> Iterator[Tie]:
        """Inputs that return inside to a 0 V of their device: it must be that of every supply that feeds them."""
        terminal = self._placement.device(group.device).profile.first("zero")
        own = Pin(group.device, terminal.label) if terminal else None
        for supply in supplies:
            if supply.device != group.device:
                yield from self.shared(own, supply.zero, f"0 V of {group.device}", group.where)


def title_of(function: Function) -> str:
    """A function with its controller, as conductors name what they are for."""
    return f"{function.name} of {function.controller}"


def _other(objection: str, a: Pin, b: Pin) -> str:
    return a.device if a.device in objection.split() else b.device

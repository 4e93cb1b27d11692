"""Collects the functions of a scheme: one entry an input, an output or an analog signal, with the needs of both ends."""

from __future__ import annotations

import difflib

from wiregen.control.functions import (
    Device,
    End,
    Function,
    InputGroup,
    Leg,
    Parallel,
    Partner,
    Premise,
    Purpose,
    ReferenceInfo,
    SelectionInfo,
    Sensor,
    Series,
    Supply,
)
from wiregen.control.partners import FromController, PartnerFinder, Resolved
from wiregen.control.senses import acts_on
from wiregen.control.supplies import Supplies, input_groups
from wiregen.scheme import Scheme
from wiregen.scheme.model import ContactUse, FixedEntry, Run
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
        self._by_name = {d.name: d for d in devices}
        self.partners = PartnerFinder(devices, self.notices.append)
        self.supplies = Supplies(scheme, devices, self.notices.append)
        self.groups = input_groups(scheme, devices, self.supplies, self.notices.append)

    def device(self, name: str) -> Device | None:
        return self._by_name.get(name)

    def notice(self, code: str, where: Where, subject: str, message: str, remedy: str = "") -> None:
        self.notices.append(Notice(code, where, subject, message, remedy))

    # Digital inputs

    def input(self, controller: str, name: str, use: ContactUse, where: Where) -> None:
        """A digital input of ``controller``, called ``name``, driven by what ``use`` names."""
        found = self.partners.find(use, where)
        if found is None:
            return
        device = self._by_name[controller]
        partner, second, polarity = self._driver(controller, name, found, where)
        sense = acts_on(name, use)
        end = self.end(device.name, name, "digital_in", CONTACT, where, polarity=polarity, far=self._place_of(found))
        dry = not (second and "transistor" in second.forms and len(second.forms) == 1)
        self.functions.append(
            Function(
                name=name,
                controller=controller,
                purpose="input",
                ends=(end, second) if second else (end,),
                partner=partner,
                supply=self.supplies.of_inputs(device) if dry else None,
                category="control",
                acts_on=sense[0],
                setting=sense[1],
                order=len(self.functions),
                where=where,
            )
        )

    def _driver(
        self, controller: str, name: str, found: Resolved, where: Where
    ) -> tuple[Partner | None, End | None, str | None]:
        if isinstance(found, FromController):
            other = self._by_name[found.device]
            forms = output_forms(other)
            far = self.end(
                other.name, f"{name} of {controller}", "output", frozenset(), where, forms=forms, owner=controller
            )
            return None, far, "source" if forms == {"transistor"} else None
        if isinstance(found, Sensor):
            return found, None, found.polarity
        return found, None, None

    def _place_of(self, found: Resolved) -> str:
        name = found.device if isinstance(found, FromController | Sensor) else legs_of(found)[0].contact.device
        return self._by_name[name].place

    def run_complete(self, controller: str, run: Run, where: Where) -> None:
        """A run needs its contacts: three-wire a start and a stop, two-wire at least one direction."""
        wanted = {"three-wire": ("start", "stop"), "two-wire": ("forward",)}.get(run.method, ())
        unfit = {"three-wire": ("forward", "reverse"), "two-wire": ("start", "start_reverse", "stop")}.get(
            run.method, ()
        )
        for key in wanted:
            if getattr(run, key) is None:
                text = f"a {run.method} run of {controller} needs `{key}:`"
                self.notice("run-incomplete", where, controller, text)
        for key in unfit:
            if getattr(run, key) is not None:
                text = f"`{key}` does not belong to a {run.method} run of {controller}; it takes {' and '.join(wanted)}"
                self.notice("run-incomplete", (*where, key), controller, text)

    # Ends

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
        load_a: float | None = None,
        far: str = "",
        owner: str = "",
        category: str = "control",
    ) -> End:
        """One side of a function at ``device``, with what is fixed and usual there."""
        item = self._by_name[device]
        fixed = self.fixed_pins(device, function)
        usual = item.profile.usual.get(function)
        terminal = item.profile.terminal_of(usual) if usual else None
        return End(
            id=f"{device} {function}",
            function=function,
            devices=(device,),
            role=role,
            signals=signals,
            forms=forms,
            polarity=polarity,
            load_a=load_a,
            usual=(Pin(device, terminal.pins[0]),) if terminal else (),
            fixed=fixed[0] if fixed else None,
            bundle=f"{far} {category}" if far and far != item.place else "",
            premises=(Premise("need", f"{device} {function}", where, f"{function} of {owner or device}"),),
            where=where,
        )

    def fixed_pins(self, device: str, function: str) -> list[Pin]:
        """The channels on which `fixed` puts a function, by the first pin of each."""
        found: list[Pin] = []
        for label, entries in self.scheme.model.fixed.get(device, {}).items():
            terminal = self._by_name[device].profile.terminal_of(label)
            if terminal and any(e.function == function for e in entries):
                found.append(Pin(device, terminal.pins[0]))
        return found

    def check_fixed(self) -> None:
        """What `fixed` says must exist: the terminal, the function, and one terminal a function."""
        known = {(e.devices[0], e.function) for f in self.functions for e in f.ends}
        for device, entries in self.scheme.model.fixed.items():
            names = sorted(function for at, function in known if at == device)
            seen: dict[str, str] = {}
            for label, those in entries.items():
                where: Where = ("fixed", device, label)
                terminal = self._by_name[device].profile.terminal_of(label)
                if terminal is None or not terminal.is_channel:
                    self._unfit_terminal(device, label, where, those)
                for entry in those:
                    self._check_entry(device, label, entry, names, seen, where)

    def _unfit_terminal(self, device: str, label: str, where: Where, entries: tuple[FixedEntry, ...]) -> None:
        if all(e.function is None and e.keep_free is None for e in entries):
            return
        labels = [t.label for t in self._by_name[device].profile.terminals if t.is_channel]
        near = difflib.get_close_matches(label, labels, 1)
        hint = f" (did you mean {near[0]}?)" if near else f"; it has {', '.join(labels) or 'none'}"
        text = f"{device} has no terminal {label} that could carry a function{hint}"
        self.notice("fixed-terminal-unknown", where, f"{device}:{label}", text)

    def _check_entry(
        self, device: str, label: str, entry: FixedEntry, names: list[str], seen: dict[str, str], where: Where
    ) -> None:
        function = entry.function
        if function is None:
            return
        if function not in names:
            near = difflib.get_close_matches(function, names, 1)
            hint = f" (did you mean {near[0]}?)" if near else f"; declared there: {', '.join(names) or 'nothing'}"
            text = (
                f"`fixed` puts {function!r} on {device}:{label}, but nothing declares that function at {device}{hint}"
            )
            self.notice("fixed-function-unknown", where, f"{device}:{label}", text)
        elif function in seen:
            text = f"{function} of {device} is fixed on {seen[function]} and on {label}; one function stands on one terminal"
            self.notice("function-on-two-terminals", where, f"{device} {function}", text)
        else:
            seen[function] = label

    # Signals and outputs

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
    ) -> None:
        """A function that is not a digital input."""
        order = len(self.functions)
        self.functions.append(
            Function(
                name,
                controller,
                purpose,
                ends,
                partner,
                supply,
                category,
                acts_on,
                signal,
                spans,
                setting,
                "",
                order,
                where,
            )
        )

    def group(self, device: str, group: str) -> InputGroup:
        return next(g for g in self.groups if (g.device, g.group) == (device, group))


def legs_of(tree: Leg | Series | Parallel) -> list[Leg]:
    """The contacts of a tree, in declared order."""
    if isinstance(tree, Leg):
        return [tree]
    return [leg for part in tree.parts for leg in legs_of(part)]


def output_forms(device: Device) -> frozenset[str]:
    """The forms in which a controller can drive another's input: its make contacts and its transistor outputs."""
    own = {t.form for t in device.profile.terminals if t.role in ("relay", "digital_out")}
    relay = {"NO"} if own & {"NO", "changeover"} else set()
    transistor = {"transistor"} if "transistor" in own else set()
    if device.kind == "drive" and relay:
        return frozenset(relay)
    return frozenset(relay | transistor)

"""What `fixed` says, against the functions that are declared: the terminal, the function, one terminal a function."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from wiregen.control.functions import Device, Function
from wiregen.scheme import Scheme
from wiregen.scheme.model import FixedEntry
from wiregen.terms import Notice, Pin, Where


def fixed_pin(scheme: Scheme, device: Device, function: str) -> Pin | None:
    """The channel on which `fixed` puts a function, by its first pin; the first where it names several."""
    return _pin_in(scheme.model.fixed.get(device.name, {}), device, function)


def wired_pin(scheme: Scheme, device: Device, function: str) -> Pin | None:
    """The channel on which `wired`, or else an earlier pack, has a function; None where `fixed` decides its place."""
    if fixed_pin(scheme, device, function):
        return None
    pin = _pin_in(scheme.model.wired.get(device.name, {}), device, function) or _built_pin(scheme, device, function)
    terminal = device.profile.terminal_of(pin.name) if pin else None
    return pin if terminal and device.profile.holds_function(terminal) else None


def _built_pin(scheme: Scheme, device: Device, function: str) -> Pin | None:
    """Where an earlier pack has a function, unless `wired` has another there: no two are kept on one terminal."""
    pin = scheme.as_built.terminal_of(device.name, function) if scheme.as_built else None
    terminal = device.profile.terminal_of(pin.name) if pin else None
    if pin is None or terminal is None or pin.name != terminal.pins[0]:
        return None
    wired = scheme.model.wired.get(device.name, {})
    said = (entry for label, entries in wired.items() if label in terminal.pins for entry in entries)
    return None if any(entry.function for entry in said) else pin


def _pin_in(section: dict[str, tuple[FixedEntry, ...]], device: Device, function: str) -> Pin | None:
    for label, entries in section.items():
        terminal = device.profile.terminal_of(label)
        if terminal and any(e.function == function for e in entries):
            return Pin(device.name, terminal.pins[0])
    return None


def check_fixed(scheme: Scheme, devices: tuple[Device, ...], functions: list[Function]) -> Iterator[Notice]:
    """Terminals in `fixed` that carry no function, functions that nothing declares, functions on two terminals."""
    known = _known(functions)
    of_device: dict[str, dict[str, str]] = {}
    for (at, name), function in sorted(known.items()):
        of_device.setdefault(at, {})[name] = function
    for device in devices:
        names = of_device.get(device.name, {})
        seen: dict[str, str] = {}
        for label, entries in scheme.model.fixed.get(device.name, {}).items():
            yield from _unfit_terminal(device, label, entries)
            for entry in entries:
                yield from _check_entry(device, label, entry, names, seen)


def check_wired(scheme: Scheme, devices: tuple[Device, ...], functions: list[Function]) -> Iterator[Notice]:
    """What `wired` says of terminals or functions that the scheme does not have any more: nothing keeps them."""
    known = _known(functions)
    for device in devices:
        for label, entries in scheme.model.wired.get(device.name, {}).items():
            terminal = device.profile.terminal_of(label)
            for function in (e.function for e in entries if e.function):
                if (device.name, function) not in known:
                    text = f"{device.name}:{label} is wired for {function!r}, which nothing declares there any more"
                elif terminal is None or not device.profile.holds_function(terminal):
                    text = f"{device.name}:{label} is no input and no output, so {function!r} cannot be kept on it"
                else:
                    continue
                where: Where = ("wired", device.name, label)
                yield Notice("wired-not-kept", where, f"{device.name}:{label} {function}", text)


def check_built(scheme: Scheme, devices: tuple[Device, ...], functions: list[Function]) -> Iterator[Notice]:
    """Devices of an earlier pack that are gone while a new one has to do the same: it may be the same, renamed."""
    if scheme.as_built is None:
        return
    before: dict[str, set[str]] = {}
    for pin, function in scheme.as_built.assignments:
        before.setdefault(pin.device, set()).add(function)
    now = [d.name for d in devices]
    for gone in (name for name in before if name not in now):
        own = {name: {f for at, f in _known(functions) if at == name} for name in now if name not in before}
        like = max(own, key=lambda name: (len(own[name] & before[gone]), -now.index(name)), default=None)
        if like is not None and len(own[like] & before[gone]) * 2 > len(before[gone]):
            text = (
                f"{gone} of the earlier pack is not in the scheme, and {like} does the same: nothing of {gone} is kept"
            )
            remedy = f"If {like} is {gone} under another name, change the name back, pack, and rename at the machine."
            yield Notice("wired-not-kept", ("devices", like), gone, text, remedy)


def _known(functions: list[Function]) -> dict[tuple[str, str], str]:
    """Every device with every name of its functions, and the function's own name."""
    ends = [end for function in functions for end in function.ends]
    names = [(end, name) for end in ends for name in (end.also, end.function) if name]
    return {(device, name): end.function for end, name in names for device in end.devices}


def _unfit_terminal(device: Device, label: str, entries: tuple[FixedEntry, ...]) -> Iterator[Notice]:
    terminal = device.profile.terminal_of(label)
    if terminal is not None and device.profile.holds_function(terminal):
        return
    if all(e.function is None and e.keep_free is None for e in entries):
        return
    labels = [t.label for t in device.profile.terminals if device.profile.holds_function(t)]
    near = difflib.get_close_matches(label, labels, 1)
    hint = f" (did you mean {near[0]}?)" if near else f"; it has {', '.join(labels) or 'none'}"
    text = f"{device.name} has no terminal {label} that could carry a function{hint}"
    yield Notice("fixed-terminal-unknown", _where(device, label), f"{device.name}:{label}", text)


def _check_entry(
    device: Device, label: str, entry: FixedEntry, names: dict[str, str], seen: dict[str, str]
) -> Iterator[Notice]:
    """``names`` maps every name under which a function of the device is known to its own."""
    if entry.function is None:
        return
    function = names.get(entry.function, entry.function)
    if function not in names:
        near = difflib.get_close_matches(function, names, 1)
        hint = f" (did you mean {near[0]}?)" if near else f"; declared there: {', '.join(names) or 'nothing'}"
        text = f"`fixed` puts {function!r} on {device.name}:{label}, but nothing declares that function there{hint}"
        yield Notice("fixed-function-unknown", _where(device, label), f"{device.name}:{label}", text)
    elif function in seen:
        text = (
            f"{function} of {device.name} is fixed on {seen[function]} and on {label}; "
            "one function stands on one terminal"
        )
        yield Notice("function-on-two-terminals", _where(device, label), f"{device.name} {function}", text)
    else:
        seen[function] = label


def _where(device: Device, label: str) -> Where:
    return ("fixed", device.name, label)

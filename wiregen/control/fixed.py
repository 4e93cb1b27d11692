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
    for label, entries in scheme.model.fixed.get(device.name, {}).items():
        terminal = device.profile.terminal_of(label)
        if terminal and any(e.function == function for e in entries):
            return Pin(device.name, terminal.pins[0])
    return None


def check_fixed(scheme: Scheme, devices: tuple[Device, ...], functions: list[Function]) -> Iterator[Notice]:
    """Terminals in `fixed` that carry no function, functions that nothing declares, functions on two terminals."""
    known = {(e.devices[0], name): e.function for f in functions for e in f.ends for name in (e.also, e.function)}
    for device in devices:
        names = {name: function for (at, name), function in sorted(known.items()) if at == device.name and name}
        seen: dict[str, str] = {}
        for label, entries in scheme.model.fixed.get(device.name, {}).items():
            yield from _unfit_terminal(device, label, entries)
            for entry in entries:
                yield from _check_entry(device, label, entry, names, seen)


def _unfit_terminal(device: Device, label: str, entries: tuple[FixedEntry, ...]) -> Iterator[Notice]:
    terminal = device.profile.terminal_of(label)
    if terminal is not None and terminal.is_channel:
        return
    if all(e.function is None and e.keep_free is None for e in entries):
        return
    labels = [t.label for t in device.profile.terminals if t.is_channel]
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

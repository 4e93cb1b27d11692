"""Plain words for needs, channels and obstacles, as a technician says them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from wiregen.allocation.model import Channel, End
from wiregen.allocation.problem import Obstacle

ROLES = {
    "digital_in": "digital input",
    "digital_out": "transistor output",
    "relay": "relay contact",
    "output": "output",  # a relay contact or a transistor, as its form says
    "analog_in": "analog input",
    "analog_out": "analog output",
    "safe_torque_off": "safe torque off input",
    "motor_thermistor": "motor thermistor input",
    "channel": "monitored channel",
    "reset": "reset input",
}
_CONTACTS = {
    "NO": "make contact",
    "NC": "break contact",
    "changeover": "changeover contact",
    "transistor": "transistor output",
}
_SWITCHED = {"source": "+24 V", "sink": "0 V"}
_LISTED = 6


def need(end: End) -> str:
    """What an end needs, as a noun: ``current input``, ``pulse input``, ``break contact``."""
    noun = ROLES.get(end.role, end.role.replace("_", " "))
    kind = noun.rsplit(" ", 1)[-1]
    if end.abilities:
        noun = f"{' and '.join(sorted(end.abilities))} {kind}"
    if end.role in ("analog_in", "analog_out"):
        units = {signal.rsplit(" ", 1)[-1] for signal in end.signals}
        noun = {"mA": f"current {kind}", "V": f"voltage {kind}"}.get("".join(sorted(units)), noun)
    if end.role == "digital_in" and end.signals and "contact" not in end.signals:
        noun += f" for {' or '.join(sorted(end.signals))}"
    if end.forms and len(end.forms) <= 2:
        noun = " or ".join(_CONTACTS.get(form, form) for form in sorted(end.forms))
    return noun


def exact_need(end: End) -> str:
    """The same to the letter, where the short noun would also fit channels that do not serve."""
    noun = need(end)
    if end.role in ("analog_in", "analog_out"):
        noun = f"{ROLES[end.role]} for {' or '.join(sorted(end.signals))}"
    if end.polarity in _SWITCHED and end.role == "digital_in":
        noun += f" whose contacts switch {_SWITCHED[end.polarity]}"
    elif end.polarity:
        noun += f" that fits inputs wired for {end.polarity}"
    if end.load_a is not None:
        noun += f" for {end.load_a:.3g} A"
    if end.load_ac_v is not None:
        noun += f" at {end.load_ac_v:g} V AC"
    return noun


def switching(polarity: str) -> str:
    """What contacts of this polarity switch."""
    return f"contacts that switch {_SWITCHED[polarity]}"


def article(noun: str) -> str:
    """The noun with its article."""
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def number(count: int) -> str:
    """A count as it stands in a sentence."""
    return {0: "none", 1: "one"}.get(count, str(count))


def listed(names: Iterable[str], last: str = "and") -> str:
    """``a, b and c``; beyond six only how many more."""
    shown = list(names)
    if len(shown) > _LISTED:
        shown = [*shown[: _LISTED - 1], f"{len(shown) - _LISTED + 1} more"]
    return f" {last} ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)


def functions(ends: Sequence[End]) -> str:
    """The functions of the ends, listed."""
    return listed(end.function for end in ends)


def terminals(channels: Sequence[Channel]) -> str:
    """Names from the top, runs shortened: ``DI1 to DI6, DI9``."""
    runs: list[list[str]] = []
    for channel in channels:
        if runs and _follows(runs[-1][-1], channel.name):
            runs[-1].append(channel.name)
        else:
            runs.append([channel.name])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def having(channels: Sequence[Channel]) -> str:
    """``-TA1 has one: AI2 and -KE1 has 8: DI1 to DI8``."""
    by_device: dict[str, list[Channel]] = {}
    for channel in channels:
        by_device.setdefault(channel.device, []).append(channel)
    return listed(f"{device} has {number(len(own))}: {terminals(own)}" for device, own in by_device.items())


def _follows(earlier: str, later: str) -> bool:
    a, b = (re.fullmatch(r"(\D*)(\d+)(\D*)", name) for name in (earlier, later))
    if a is None or b is None or not a[1]:
        return False
    return a[1] == b[1] and a[3] == b[3] and int(b[2]) == int(a[2]) + 1


def several(reason: str) -> str:
    """An obstacle of one channel, said of several."""
    verb, rest = reason.split(" ", 1)
    return f"{ {'is': 'are', 'carries': 'carry', 'has': 'have'}.get(verb, verb) } {rest}"


def obstacle(reason: Obstacle, end: End, channel: Channel) -> str:
    """Why ``channel`` cannot serve ``end``, as the rest of a sentence that begins with the channel."""
    if reason.kind == "signals":
        kind = "carry" if end.role in ("analog_in", "analog_out") else "take"
        return f"cannot {kind} {listed(sorted(end.signals), 'or')}"
    return {
        "device": f"is not on {listed(end.devices, 'or')}",
        "role": f"is {article(ROLES.get(channel.role, channel.role))}, not {article(ROLES.get(end.role, end.role))}",
        "keep_free": f"is kept free ({channel.keep_free})",
        "abilities": f"is no {reason.wanted} input" if end.role.endswith("_in") else f"cannot do {reason.wanted}",
        "forms": f"has no {listed((_CONTACTS.get(form, form) for form in sorted(end.forms)), 'or')}",
        "load": _overload(end, channel),
        "polarity": _misfit(end, channel),
    }[reason.kind]


def _overload(end: End, channel: Channel) -> str:
    carries_a, load_a = channel.carries_a(end), end.load_a
    if carries_a is None or load_a is None:
        return ""
    if end.load_ac_v is None:
        return f"carries at most {carries_a:g} A, not {load_a:.3g} A"
    if carries_a == 0:
        return f"carries nothing at {end.load_ac_v:g} V AC"
    return f"carries at most {carries_a:g} A at {end.load_ac_v:g} V AC, not {load_a:.3g} A"


def _misfit(end: End, channel: Channel) -> str:
    if channel.role == "digital_in":
        other = {"source": "sink", "sink": "source"}.get(end.polarity or "", "source")
        return f"is wired for {switching(other)}"
    return f"is {' and '.join('sourcing' if p == 'source' else 'sinking' for p in sorted(channel.polarities))}"

"""Contacts of devices: used for two functions, or of a process with nothing said of when they operate."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from wiregen.control.functions import Function, Sensor, Thermistor
from wiregen.review.context import Context, called, legs_of
from wiregen.terms import Notice


def used_twice(context: Context) -> Iterator[Notice]:
    """One contact, or one sensor's output, for two functions, unless `shared` says so and one supply feeds both."""
    users: dict[tuple[str, str], list[Function]] = defaultdict(list)
    for function in context.declared.functions:
        if isinstance(function.partner, Sensor | Thermistor):
            users[function.partner.device, ""].append(function)
        for key in dict.fromkeys((leg.contact.device, leg.contact.name) for leg in legs_of(function)):
            users[key].append(function)
    for (device, contact), (first, *others) in users.items():
        for other in others:
            if contact in context.devices[device].declared.shared and first.supply == other.supply:
                continue
            named = f"contact {contact} of {device}" if contact else f"the output of {device}"
            if context.devices[device].kind == "thermistor":
                named = device
            text = f"{named} is used for {called(first)} and for {called(other)}; it joins both inputs"
            yield Notice("contact-used-twice", other.where, f"{device} {contact}".rstrip(), text)


def operated_when_missing(context: Context) -> Iterator[Notice]:
    """A contact that a process operates, and nothing says when."""
    for device in context.declared.devices:
        if device.profile.actuator == "process" and not device.declared.operated_when:
            text = f"{device.name} ({device.profile.title}) does not say when its contact is operated"
            yield Notice("operated-when-missing", device.where, device.name, text)

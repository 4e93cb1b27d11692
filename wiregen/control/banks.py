"""Banks: I/O cards that serve as one, so that allocation chooses the card."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wiregen.control.functions import Device
from wiregen.scheme import Scheme

#: What a bank's section may say for every card of it that does not say it itself.
_SHARED = ("inputs", "zero_volt", "supply")

Banks = Mapping[str, tuple[Device, ...]]


def banks_of(scheme: Scheme, devices: tuple[Device, ...]) -> Banks:
    """The cards of every bank, in declared order."""
    by_name = {d.name: d for d in devices}
    return {
        name: tuple(by_name[card] for card in dict.fromkeys(cards) if card in by_name)
        for name, cards in scheme.model.banks.items()
    }


def with_sections_of_cards(scheme: Scheme) -> Scheme:
    """The scheme with what the section of a bank says of its inputs and its supply said at each of its cards."""
    sections = dict(scheme.model.control)
    for name, cards in scheme.model.banks.items():
        bank = sections.get(name)
        said = {key: value for key in _SHARED if bank and (value := getattr(bank, key)) is not None}
        for card in cards if said else ():
            own = sections.get(card)
            if own is None:
                sections[card] = type(bank)(**said)  # type: ignore[misc]
            else:
                missing = {key: value for key, value in said.items() if getattr(own, key) is None}
                sections[card] = own.model_copy(update=missing)
    if sections.keys() == scheme.model.control.keys() and not scheme.model.banks:
        return scheme
    return replace(scheme, model=scheme.model.model_copy(update={"control": sections}))

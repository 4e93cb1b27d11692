"""The sense of digital inputs: when each acts, and what a broken wire must do."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.scheme.model import ContactUse


@dataclass(frozen=True, slots=True)
class Sense:
    """How a controller takes an input by default: when it acts, and whether a broken wire must stop the machine."""

    acts_on: str  # closed, open, closing
    stops: bool = False  # a broken wire must bring about the safe side


#: The sense of every digital input by name. A start is taken by its closing edge; stops, enables and trips act when
#: they open.
SENSES = {
    "start": Sense("closing"),
    "start reverse": Sense("closing"),
    "stop": Sense("open", stops=True),
    "run forward": Sense("closed"),
    "run reverse": Sense("closed"),
    "reverse": Sense("closed"),
    "enable": Sense("open", stops=True),
    "external trip": Sense("open", stops=True),
    "always stops": Sense("open", stops=True),
    "limit forward": Sense("open", stops=True),
    "limit reverse": Sense("open", stops=True),
    "reset": Sense("closing"),
    "jog forward": Sense("closed"),
    "jog reverse": Sense("closed"),
    "raise": Sense("closed"),
    "lower": Sense("closed"),
}


def sense_of(function: str) -> Sense:
    """The sense of a digital input; a selecting contact or a card's own name is plainly ``closed``."""
    return SENSES.get(function, Sense("closed"))


def acts_on(function: str, use: ContactUse) -> tuple[str, str]:
    """When the input acts, and the setting that any sense but the usual one needs (else an empty text)."""
    usual = sense_of(function).acts_on
    if use.healthy is not None:
        acts = "open" if use.healthy == "closed" else "closed"
    elif use.acts_on is not None:
        edge = usual == "closing"
        acts = {"closing": "closing" if edge else "closed", "opening": "opening" if edge else "open"}[use.acts_on]
    else:
        return usual, ""
    return acts, "" if acts == usual else f"set {function} to act when its input is {_STATE[acts]}"


_STATE = {"closed": "closed", "open": "open", "closing": "closed (edge)", "opening": "opened (edge)"}

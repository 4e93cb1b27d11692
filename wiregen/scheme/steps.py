"""The part of the model that says what is to be done with the machine, step by step, and what it is to do then."""

from collections.abc import Container
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Discriminator, Field, Tag, model_validator

from wiregen import quantities
from wiregen.scheme.forms import Model
from wiregen.scheme.names import DeviceName
from wiregen.scheme.values import Line, Name, OneOrMany, Position, shape


def _quantity(text: str) -> str:
    quantities.parse_any(text)
    return text


Quantity = Annotated[Line, AfterValidator(_quantity)]
Devices = Annotated[tuple[DeviceName, ...], OneOrMany()]
Names = Annotated[tuple[Name, ...], OneOrMany()]
Lines = Annotated[tuple[Line, ...], OneOrMany()]
OnOff = Literal["on", "off"]
Expected = Annotated[
    Annotated[Line, Tag("a text")] | Annotated[dict[Name, OnOff], Tag("a table")],
    Discriminator(shape),
]

#: What may be done in a step, by the keys of a file.
DEEDS = ("press", "operate", "release", "turn", "set", "command", "withdraw", "power", "reset", "break", "mend")


class Step(Model):
    """One step: one thing that is done, and what is expected once everything has come to rest."""

    press: Devices = ()
    operate: Devices = ()
    release: Devices = ()
    turn: dict[DeviceName, Position] = {}
    set_: dict[DeviceName, Quantity] = Field(default={}, alias="set")
    command: dict[DeviceName, Names] = {}
    withdraw: dict[DeviceName, Names] = {}
    power: (
        Annotated[
            Annotated[OnOff, Tag("a text")] | Annotated[dict[DeviceName, OnOff], Tag("a table")], Discriminator(shape)
        ]
        | None
    ) = None
    reset: Devices = ()
    break_: Lines = Field(default=(), alias="break")
    mend: Lines = ()
    expect: dict[DeviceName, Expected] = {}
    says: Line = ""

    @property
    def deed(self) -> str:
        """The key of what is done; empty where the step only looks."""
        return next((key for key in DEEDS if getattr(self, self.key_fields()[key])), "")

    def within(self, names: Container[str]) -> "Step | None":
        """What of the step concerns some devices; None where nothing does."""

        def here(value: object) -> object:
            if isinstance(value, dict):
                return {name: v for name, v in value.items() if name in names}
            if isinstance(value, tuple):
                return tuple(text for text in value if text.split(":")[0] in names)
            return value

        found = self.model_copy(update={key: here(getattr(self, key)) for key in type(self).model_fields})
        return found if found.deed or found.expect else None

    @model_validator(mode="after")
    def _one_deed(self) -> Self:
        given = [key for key in DEEDS if getattr(self, self.key_fields()[key])]
        if len(given) > 1:
            raise ValueError(f"a step does one thing: `{given[0]}` and `{given[1]}` are two steps")
        if not given and not self.expect:
            raise ValueError(f"a step does something, or expects something: give one of {', '.join(DEEDS)} or `expect`")
        return self

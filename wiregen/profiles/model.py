"""The model of a terminal profile: a generic device type, its terminals in order and their electrical character."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag, model_validator

from wiregen import quantities

Role = Literal[
    # terminals of controllers
    "supply_out",  # a 24 V output that may feed contacts and transmitters
    "supply_in",  # must be fed with 24 V
    "zero",  # 0 V
    "common",  # the common of a group of inputs, a terminal of its own
    "digital_in",
    "digital_out",
    "relay",
    "reference_out",  # 10 V for a potentiometer
    "analog_in",
    "analog_zero",  # 0 V of the analog side
    "analog_out",
    "safe_torque_off",
    "motor_thermistor",
    "mains",
    "motor",  # one phase of a motor
    "earth",
    # pins of other devices
    "contact",
    "coil",
    "load",
    "plus",
    "minus",
    "output",
    "output_return",
    "low_end",
    "wiper",
    "high_end",
    "link",  # either end of a fuse, a resistor or a string of thermistors
    "channel",  # a monitored channel of a safety relay
    "reset",
    "primary",
    "secondary",
    "line",  # of a protective device: towards the mains
    "feeder",  # and towards what it feeds
]
Form = Literal["NO", "NC", "changeover", "transistor"]
ControllerKind = Literal["drive", "card", "supply", "safety_relay"]
DeviceKind = Literal[
    "contact",
    "selector",
    "emergency_stop",
    "proximity_two_wire",
    "proximity_three_wire",
    "potentiometer",
    "transmitter_two_wire",
    "transmitter_three_wire",
    "transmitter_four_wire",
    "lamp",
    "horn",
    "valve",
    "relay",
    "contactor",
    "fuse",
    "resistor",
    "meter",
    "thermistor",
    "transformer",
    "circuit_breaker",
    "motor",
]

#: Roles whose terminals are channels: places where one function may stand.
CHANNEL_ROLES: frozenset[str] = frozenset(
    {
        "digital_in",
        "digital_out",
        "relay",
        "analog_in",
        "analog_out",
        "safe_torque_off",
        "motor_thermistor",
        "channel",
        "reset",
    }
)


def _one_or_many(value: object) -> object:
    return (value,) if isinstance(value, str) else value


Many = Annotated[tuple[str, ...], BeforeValidator(_one_or_many)]
Truth = Annotated[bool, BeforeValidator(lambda v: {"yes": True, "no": False}.get(v, v) if isinstance(v, str) else v)]


class Model(BaseModel):
    """Frozen; unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Figure(Model):
    """One electrical figure and where it comes from."""

    value: str
    basis: str = Field(min_length=3)

    @model_validator(mode="after")
    def _readable(self) -> Figure:
        quantities.parse_any(self.value)
        return self

    @property
    def si(self) -> float:
        """The value in its base unit."""
        return quantities.parse_any(self.value)[0]

    @property
    def unit(self) -> str:
        return quantities.parse_any(self.value)[1]


def _one_figure_or_by_signal(value: object) -> str:
    return "figure" if isinstance(value, Figure) or (isinstance(value, dict) and "value" in value) else "by signal"


Resistance = Annotated[
    Annotated[Figure, Tag("figure")] | Annotated[dict[str, Figure], Tag("by signal")],
    Discriminator(_one_figure_or_by_signal),
]


class Terminal(Model):
    """One terminal, or the pins that one channel occupies."""

    label: str
    role: Role
    pins: Many = ()
    group: str = ""  # inputs of one group share one polarity
    common: str = ""  # the pin that this terminal's current returns to: COM, COM1, 0VA, ACOM
    feed: str = ""  # digital_out: the pin that its current comes from
    form: Form | None = None
    accepts: Many = ()  # inputs: contact, pulse, 0-10 V, 4-20 mA ...
    gives: Many = ()  # outputs: 0-10 V, 4-20 mA
    polarities: Many = ()  # inputs: source, sink (how contacts may be wired); transistor outputs: what they fit
    abilities: Many = ()
    input_type: Literal["1", "2", "3"] | None = None  # IEC 61131-2
    resistance: Resistance | None = None  # by signal where it depends on the signal
    burden: dict[
        str, Figure
    ] = {}  # outputs, by signal: the most ohms that a current, the least that a voltage may drive
    volts: str | None = None
    limit: Figure | None = None  # the most that it gives or carries
    draws: Figure | None = None  # the current that the device itself takes here
    rating: dict[str, str] = {}  # of a contact, by utilisation category: "1 A 230 V"; the key `basis` says where from
    conductors: int = Field(default=1, ge=1, le=4)  # how many conductors one clamp takes
    scarce: int = Field(default=0, ge=0)  # how dear this channel is, because it can do what others cannot
    isolated: Truth = False  # neither joined to 0 V nor to another channel inside

    @model_validator(mode="after")
    def _own_label(self) -> Terminal:
        if not self.pins:
            object.__setattr__(self, "pins", (self.label,))
        return self

    @property
    def is_channel(self) -> bool:
        return self.role in CHANNEL_ROLES


class ContactMarks(Model):
    """The pin marks that one contact of a device carries, by its form."""

    NO: Many = ()
    NC: Many = ()
    changeover: Many = ()


class Profile(Model):
    """One generic device type."""

    profile: str = Field(pattern=r"^[a-z][a-z0-9_]*$")
    title: str = Field(min_length=1)
    controller: ControllerKind | None = None
    device: DeviceKind | None = None
    designated_as: str = ""  # its row in the table of letter codes, `formulas.designations`
    symbol: str = ""  # which symbol draws it; by default that of its kind
    terminals: tuple[Terminal, ...] = ()  # in physical order
    power: tuple[Terminal, ...] = ()  # of a drive: mains, motor and protective earth, in physical order
    marks: tuple[ContactMarks, ...] = ()  # contacts whose form the scheme chooses, first, second ...
    actuator: Literal["push", "turn", "key", "mushroom", "limit", "process", "none"] = "none"
    conductors: int = Field(default=1, ge=1, le=4)  # of every pin that `marks` names
    joined_inside: tuple[tuple[str, ...], ...] = ()
    usual: dict[str, str] = {}  # function -> label of its usual terminal
    suppression: Literal["", "diode", "varistor", "rc"] = ""  # across the coil
    start_by: Literal["edge", "level"] = "level"  # `{with_stop_closed: 20 ms}`: by edge, and only with stop closed
    start_with_stop_closed: Figure | None = None  # how long the stop must have been closed before a start edge counts
    figures: dict[str, Figure] = {}

    @model_validator(mode="before")
    @classmethod
    def _edge_with_stop(cls, value: Any) -> Any:
        start = value.get("start_by") if isinstance(value, dict) else None
        if not isinstance(start, dict):
            return value
        if set(start) != {"with_stop_closed"}:
            raise ValueError("start_by is `edge`, `level` or `{with_stop_closed: 20 ms}`")
        closed = start["with_stop_closed"]
        figure = {"value": closed, "basis": "not stated"} if isinstance(closed, str) else closed
        return {**value, "start_by": "edge", "start_with_stop_closed": figure}

    def terminal_of(self, pin: str) -> Terminal | None:
        """The terminal that holds ``pin``."""
        return next((t for t in (*self.terminals, *self.power) if pin in t.pins), None)

    def holds_function(self, terminal: Terminal) -> bool:
        """Whether one function may stand at the terminal; the contacts of a safety relay take one each."""
        return terminal.is_channel or (self.controller == "safety_relay" and terminal.role == "contact")

    def first(self, role: str) -> Terminal | None:
        """The first terminal of a role."""
        return next((t for t in self.terminals if t.role == role), None)

    def conductors_at(self, pin: str) -> int:
        """How many conductors the clamp of ``pin`` takes."""
        terminal = self.terminal_of(pin)
        return terminal.conductors if terminal else self.conductors

"""The model of a scheme file. Every scalar arrives as text; short forms are widened before validation.

The order of fields is the order in which a JSON Schema and a message list them. Quantities stay text here: they are
checked when read, and `wiregen.quantities` turns them into floats where a room needs them.
"""

from typing import Annotated, Any, ClassVar, Literal, Self

from pydantic import Discriminator, Field, GetJsonSchemaHandler, Tag, model_validator
from pydantic_core import CoreSchema

from wiregen.scheme.decided import Acceptance as Acceptance
from wiregen.scheme.decided import CableClass as CableClass
from wiregen.scheme.decided import Cabling, FixedEntries, Numbers
from wiregen.scheme.decided import ExistingCable as ExistingCable
from wiregen.scheme.decided import FixedEntry as FixedEntry
from wiregen.scheme.forms import Model as Model
from wiregen.scheme.names import (
    ContactName,
    DeviceName,
    FunctionName,
    PartnerName,
    PlaceName,
    ProfileName,
    SourceName,
    shown,
)
from wiregen.scheme.steps import Step as Step
from wiregen.scheme.values import (
    AnySpan,
    CosPhi,
    Count,
    Current,
    Date,
    Duration,
    Frequency,
    FrequencySpan,
    Length,
    Line,
    Misplaced,
    Name,
    OneOrMany,
    Poles,
    Position,
    PowerFigure,
    Resistance,
    RotationalSpeed,
    Said,
    Title,
    Voltage,
    Yes,
    shape,
)

Polarity = Literal["source", "sink"]
ContactForm = Literal["NO", "NC", "changeover"]
DutyForm = Literal["NO", "NC", "changeover", "transistor"]
Colour = Literal["red", "yellow", "green", "blue", "white", "grey", "black"]
Signal = Literal["0-10 V", "-10-10 V", "0-20 mA", "4-20 mA"]


class Place(Model):
    """A cabinet (no route) or a field place with the route of its cables from the cabinet."""

    name: Line = ""
    route: (
        Annotated[
            Annotated[Length, Tag("a text")] | Annotated[dict[PlaceName, Length], Tag("a table")], Discriminator(shape)
        ]
        | None
    ) = None
    strip: Line | None = None
    spread: Yes = False


class JoinedTo(Model):
    """The 0 V of this device is that of another one."""

    joined_to: DeviceName


ZeroVolt = Annotated[
    Annotated[Literal["earthed", "floating", "inside"], Tag("a text")] | Annotated[JoinedTo, Tag("a table")],
    Discriminator(shape),
]


def _contacts_shape(value: object) -> str:
    return "a table" if isinstance(value, dict) else "a list"


class Device(Model):
    """One real item."""

    profile: ProfileName
    at: PlaceName
    text: Line = ""
    contact: ContactForm | None = None
    contacts: (
        Annotated[
            Annotated[tuple[ContactForm, ...], OneOrMany(), Tag("a list")]
            | Annotated[dict[Position, Count], Tag("a table")],
            Discriminator(_contacts_shape),
        ]
        | None
    ) = None
    positions: Annotated[tuple[Position, ...], OneOrMany()] = ()
    contact_per_position: Yes = False
    operated_when: Line = ""
    opens: Literal["positively"] | None = None
    shared: Annotated[tuple[Line, ...], OneOrMany()] = ()
    output: Literal["PNP", "NPN"] | None = None
    resistance: Resistance | None = None
    measures: AnySpan | None = None
    signal: Signal | None = None
    isolated: Yes | None = None
    zero_volt: ZeroVolt | None = None
    supply: DeviceName | None = None
    poles: Poles | None = None
    voltage: Voltage | None = None
    coil: Voltage | None = None
    rating: Current | None = None
    power: PowerFigure | None = None
    colour: Colour | None = None
    fuse: DeviceName | None = None
    loop: Annotated[tuple[DeviceName, ...], OneOrMany()] = ()
    figures: dict[Name, Line] = {}

    @model_validator(mode="after")
    def _contacts_agree(self) -> Self:
        if self.contact_per_position and isinstance(self.contacts, dict):
            says = (
                "`contacts` gives each position its contacts, `contact_per_position` one each: give one of the two keys"
            )
            raise Misplaced("contact_per_position", says)
        if len(set(self.positions)) < len(self.positions):
            raise Misplaced("positions", "two positions have one name")
        if self.contact is not None and self.contacts is not None:
            raise Misplaced("contacts", "`contact` is one contact, `contacts` are several: give one of the two keys")
        if isinstance(self.contacts, dict) and (unknown := [p for p in self.contacts if p not in self.positions]):
            raise Misplaced("contacts", f"`contacts` names a position that `positions` does not: `{shown(unknown[0])}`")
        return self


class ContactUse(Model):
    """What stands wherever a contact may stand: one contact, a sensor, another controller, or a combination."""

    short: ClassVar[str] = "by"
    by: ContactName | None = None
    all: Annotated[tuple["ContactUse", ...], OneOrMany()] = ()
    any: Annotated[tuple["ContactUse", ...], OneOrMany()] = ()
    healthy: Literal["closed", "open"] | None = None
    acts_on: Literal["closing", "opening"] | None = None
    through: DeviceName | None = None

    @classmethod
    def widen(cls, value: Any) -> Any:
        if isinstance(value, list | tuple):
            raise ValueError(
                "a list of contacts does not say how they are joined: "
                "write {all: [...]} for contacts in series, {any: [...]} for contacts in parallel"
            )
        return super().widen(value)

    @model_validator(mode="after")
    def _one_meaning(self) -> Self:
        if sum((self.by is not None, bool(self.all), bool(self.any))) != 1:
            raise ValueError("give exactly one of `by`, `all` (in series) and `any` (in parallel)")
        if self.healthy and self.acts_on:
            raise Misplaced("acts_on", "`healthy` and `acts_on` both state the sense: give one of them")
        return self


class Inputs(Model):
    """How the contacts of a controller's inputs are wired; by group where groups differ."""

    short: ClassVar[str] = "wired"
    wired: Polarity | None = None
    supply: DeviceName | None = None
    groups: dict[Name, Polarity] = {}

    @classmethod
    def widen(cls, value: Any) -> Any:
        value = super().widen(value)
        if isinstance(value, dict) and (by_group := {k: v for k, v in value.items() if k.startswith("group ")}):
            rest = {k: v for k, v in value.items() if k not in by_group}
            declared = rest.get("groups")
            return {**rest, "groups": {**declared, **by_group} if isinstance(declared, dict) else by_group}
        return value

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        schema = super().__get_pydantic_json_schema__(core, handler)
        schema["anyOf"][1]["patternProperties"] = {"^group ": {"enum": ["source", "sink"]}}
        return schema


class Run(Model):
    """One way of running the motor."""

    method: Literal["two-wire", "three-wire", "hold-to-run"]
    start: ContactUse | None = None
    start_reverse: ContactUse | None = None
    stop: ContactUse | None = None
    forward: ContactUse | None = None
    reverse: ContactUse | None = None
    both: Literal["stop"] | None = None
    from_: Literal["network"] | None = Field(default=None, alias="from")


class Runs(Model):
    """One run (under the empty name), or several by name."""

    named: dict[str, Run]

    @classmethod
    def widen(cls, value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        return {"named": value if cls._is_named(value) else {"": value}}

    @staticmethod
    def _is_named(value: dict[Any, Any]) -> bool:
        if not value or not all(isinstance(run, dict) for run in value.values()):
            return False
        return all("method" in run for run in value.values()) or not any(key in Run.key_fields() for key in value)

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        schema = handler.resolve_ref_schema(handler(core))
        several = dict(schema["properties"]["named"])
        schema.clear()
        schema["anyOf"] = [several["additionalProperties"], several]
        return schema


class RunAt(Model):
    """Runs on at a frequency of its own when the signal is lost."""

    run_at: Frequency


class UseReference(Model):
    """Goes over to another reference when the signal is lost."""

    use: Name


def _answer_shape(value: object) -> str:
    return ("another" if "use" in value else "a frequency") if isinstance(value, dict) else "a text"


SignalAnswer = Annotated[
    Annotated[Literal["trip", "stop", "hold"], Tag("a text")]
    | Annotated[RunAt, Tag("a frequency")]
    | Annotated[UseReference, Tag("another")],
    Discriminator(_answer_shape),
]


class Process(Model):
    """A closed loop inside a reference."""

    setpoint: "ProcessSignal | None" = None
    feedback: "ProcessSignal | None" = None
    when_feedback_rises: Literal["slow_down", "speed_up"] | None = None


class Reference(Model):
    """Where a speed reference comes from, as what signal, and what it spans."""

    from_: SourceName | None = Field(default=None, alias="from")
    signal: Signal | None = None
    spans: FrequencySpan | None = None
    inverse: Yes = False
    on_low: SignalAnswer | None = None
    on_high: SignalAnswer | None = None
    on_loss: SignalAnswer | None = None
    preset: Frequency | None = None
    process: Process | None = None
    supply: DeviceName | None = None
    fuse: DeviceName | None = None

    @model_validator(mode="after")
    def _one_source(self) -> Self:
        if len(given := [k for k in ("from_", "preset", "process") if getattr(self, k) is not None]) > 1:
            raise Misplaced(given[1], "a reference has one source: give one of `from`, `preset` and `process`")
        wired = ("signal", "spans", "on_low", "on_high", "on_loss", "supply", "fuse")
        if self.preset and (given := [key for key in wired if getattr(self, key) is not None]):
            raise Misplaced(given[0], f"a preset is set in the device and has no signal: leave out `{given[0]}`")
        if self.on_loss and (self.on_low or self.on_high):
            raise Misplaced("on_loss", "`on_loss` stands for both `on_low` and `on_high`: give it alone, or the two")
        if self.signal == "0-10 V" and self.on_low is not None:
            says = "a 0-10 V signal cannot tell a broken wire from its low end: leave out `on_low`, or use 4-20 mA"
            raise Misplaced("on_low", says)
        return self


class ProcessSignal(Reference):
    """Where a setpoint or a feedback comes from; it spans the process's own unit."""

    spans: AnySpan | None = None
    preset: Line | None = None


class When(Model):
    """What one code of the selecting contacts brings into force."""

    short: ClassVar[str] = "speed"
    speed: Name | None = None
    run: Name | None = None


class Select(Model):
    """Which contacts select, in order, and what each of their codes brings into force."""

    by: Annotated[tuple[ContactUse, ...], Field(min_length=1), OneOrMany()]
    when: dict[Name, When] = {}


class Duty(Model):
    """What an output switches."""

    short: ClassVar[str] = "switches"
    switches: PartnerName
    contact: DutyForm | None = None
    supply: DeviceName | None = None
    energised: Literal["in_fault", "while_healthy"] | None = None
    through: DeviceName | None = None
    fuse: DeviceName | None = None


class Show(Model):
    """A value that an analog output shows."""

    short: ClassVar[str] = "on"
    on: PartnerName
    signal: Signal | None = None
    spans: AnySpan | None = None
    supply: DeviceName | None = None


class Limits(Model):
    """The contacts at the ends of a travel."""

    forward: ContactUse | None = None
    reverse: ContactUse | None = None


class Jog(Model):
    """Moving by hand, as long as a contact is held."""

    forward: ContactUse | None = None
    reverse: ContactUse | None = None
    speed: Name | None = None


class SafeTorqueOff(Model):
    """What takes the torque away."""

    by: DeviceName
    channels: Literal["one", "two"] = "two"


class Override(Model):
    """A command that goes over others, and why it may."""

    by: ContactUse
    acts_on: Literal["closing", "opening"] | None = None
    runs: Literal["forward", "reverse"] | None = None
    speed: Name | None = None
    ignores: Annotated[tuple[Name, ...], OneOrMany()] = ()
    why: Said


class SafetyReset(Model):
    """The reset of a safety relay."""

    short: ClassVar[str] = "by"
    by: ContactName
    monitored: Yes = False


def _reset_shape(value: object) -> str:
    return "a safety reset" if isinstance(value, dict) and "monitored" in value else "a contact"


class Power(Model):
    """The power side of a drive."""

    supply: DeviceName | None = None
    motor: DeviceName | None = None


class Motor(Model):
    """What the motor's plate says."""

    power: PowerFigure | None = None
    voltage: Voltage | None = None
    current: Current | None = None
    cos_phi: CosPhi | None = None
    frequency: Frequency | None = None
    speed: RotationalSpeed | None = None


class Ramps(Model):
    """How long the motor takes to its full speed, and from it to rest."""

    up: Duration | None = None
    down: Duration | None = None


class Control(Model):
    """What one controller has to do."""

    like: DeviceName | None = None
    with_: dict[DeviceName, DeviceName] = Field(default={}, alias="with")
    inputs: Inputs | None = None
    zero_volt: ZeroVolt | None = None
    restart: Literal["allowed", "needs_start"] | None = None
    starts_after_changeover: Yes = False
    run: Runs | None = None
    always_stops: ContactUse | None = None
    reverse: ContactUse | None = None
    enable: ContactUse | None = None
    external_trip: ContactUse | None = None
    reset: (
        Annotated[
            Annotated[ContactUse, Tag("a contact")] | Annotated[SafetyReset, Tag("a safety reset")],
            Discriminator(_reset_shape),
        ]
        | None
    ) = None
    jog: Jog | None = None
    raise_: ContactUse | None = Field(default=None, alias="raise")
    lower: ContactUse | None = None
    limits: Limits | None = None
    speed: dict[Name, Reference] = {}
    speed_limits: FrequencySpan | None = None
    select: Select | None = None
    relays: dict[Name, Duty] = {}
    shows: dict[Name, Show] = {}
    reads: dict[Name, ContactUse] = {}
    operates: dict[Name, Duty] = {}
    energise: ContactUse | None = None
    supply: DeviceName | None = None
    guards: Annotated[tuple[ContactName, ...], OneOrMany()] = ()
    channels: Literal["one", "two"] | None = None
    safe_torque_off: (
        Annotated[
            Annotated[Literal["linked"], Tag("a text")] | Annotated[SafeTorqueOff, Tag("a table")],
            Discriminator(shape),
        ]
        | None
    ) = None
    motor_thermistor: DeviceName | None = None
    override: dict[Name, Override] = {}
    power: Power | None = None
    motor: Motor | None = None
    ramps: Ramps | None = None


Apart = Annotated[tuple[FunctionName, ...], Field(min_length=2), OneOrMany()]
ApartCables = Annotated[tuple[Line, ...], Field(min_length=2), OneOrMany()]


class SchemeModel(Model):
    """A whole scheme after merging; ``variants`` and ``include`` are consumed by then."""

    scheme: Title
    drawing: Line = ""
    revision: Line = ""
    date: Date | None = None
    practice: Literal["iec", "nfpa"] = "iec"
    places: dict[str, Place]
    devices: dict[str, Device]
    control: dict[PartnerName, Control] = {}
    fixed: dict[DeviceName, dict[str, FixedEntries]] = {}
    wired: dict[DeviceName, dict[str, FixedEntries]] = {}
    banks: dict[str, Annotated[tuple[DeviceName, ...], OneOrMany()]] = {}
    apart: Annotated[tuple[Apart, ...], OneOrMany()] = ()
    apart_cables: Annotated[tuple[ApartCables, ...], OneOrMany()] = ()
    cabling: Cabling = Cabling()
    numbers: Numbers = Numbers()
    steps: Annotated[tuple[Step, ...], OneOrMany()] = ()
    accepted: Annotated[tuple[Acceptance, ...], OneOrMany()] = ()

"""The model of a scheme file. Every scalar arrives as text; short forms are widened before validation.

The order of fields is the order in which a JSON Schema and a message list them.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

Polarity = Literal["source", "sink"]
ContactForm = Literal["NO", "NC", "changeover"]
DutyForm = Literal["NO", "NC", "changeover", "transistor"]
Signal = Literal["0-10 V", "-10-10 V", "0-20 mA", "4-20 mA"]
Yes = Annotated[bool, BeforeValidator(lambda v: {"yes": True, "no": False}.get(v, v) if isinstance(v, str) else v)]


def _one_or_many(value: object) -> object:
    return [value] if isinstance(value, str | dict) else value


class Model(BaseModel):
    """Frozen; unknown keys are errors. ``short`` names the field that a bare text stands for."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)
    short: ClassVar[str] = ""

    @model_validator(mode="before")
    @classmethod
    def _widen(cls, value: Any) -> Any:
        return {cls.short: value} if cls.short and isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        schema = handler.resolve_ref_schema(handler(core))
        if cls.short and "anyOf" not in schema:
            whole = dict(schema)
            schema.clear()
            schema["anyOf"] = [{"type": "string"}, whole]
        return schema


class Place(Model):
    """A cabinet (no route) or a field place with the route of its cables from the cabinet."""

    name: str = ""
    route: str | dict[str, str] | None = None
    strip: str | None = None
    spread: Yes = False


class JoinedTo(Model):
    joined_to: str


ZeroVolt = Literal["earthed", "floating", "inside"] | JoinedTo


class Device(Model):
    """One real item."""

    profile: str
    at: str
    text: str = ""
    contact: ContactForm | None = None
    contacts: Annotated[tuple[ContactForm, ...], BeforeValidator(_one_or_many)] | dict[str, str] | None = None
    positions: tuple[str, ...] = ()
    contact_per_position: Yes = False
    operated_when: str = ""
    opens: Literal["positively"] | None = None
    shared: Annotated[tuple[str, ...], BeforeValidator(_one_or_many)] = ()
    output: Literal["PNP", "NPN"] | None = None
    resistance: str | None = None
    measures: str | None = None
    signal: Signal | None = None
    isolated: Yes | None = None
    zero_volt: ZeroVolt | None = None
    supply: str | None = None
    poles: str | None = None
    voltage: str | None = None
    coil: str | None = None
    rating: str | None = None
    power: str | None = None
    colour: str | None = None
    fuse: str | None = None
    loop: tuple[str, ...] = ()
    figures: dict[str, str] = {}


class ContactUse(Model):
    """What stands wherever a contact may stand: one contact, a sensor, another controller, or a combination."""

    short: ClassVar[str] = "by"
    by: str | None = None
    all: tuple[ContactUse, ...] = ()
    any: tuple[ContactUse, ...] = ()
    healthy: Literal["closed", "open"] | None = None
    acts_on: Literal["closing", "opening"] | None = None
    through: str | None = None

    @model_validator(mode="after")
    def _one_meaning(self) -> ContactUse:
        if sum((self.by is not None, bool(self.all), bool(self.any))) != 1:
            raise ValueError("give exactly one of `by`, `all` (in series) and `any` (in parallel)")
        return self


class Inputs(Model):
    """How the contacts of a controller's inputs are wired; by group where groups differ."""

    short: ClassVar[str] = "wired"
    wired: Polarity | None = None
    supply: str | None = None
    groups: dict[str, Polarity] = {}

    @model_validator(mode="before")
    @classmethod
    def _by_group(cls, value: Any) -> Any:
        if isinstance(value, dict) and any(str(k).startswith("group ") for k in value):
            rest = {k: v for k, v in value.items() if not str(k).startswith("group ")}
            return {**rest, "groups": {k: v for k, v in value.items() if str(k).startswith("group ")}}
        return value


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
    """One run, or several by name."""

    named: dict[str, Run]

    @model_validator(mode="before")
    @classmethod
    def _name(cls, value: Any) -> Any:
        if isinstance(value, dict) and "named" not in value:
            one = "method" in value or not all(isinstance(v, dict) and "by" not in v for v in value.values())
            return {"named": {"": value} if one or not value else value}
        return value


class RunAt(Model):
    run_at: str


class UseReference(Model):
    use: str


SignalAnswer = Literal["trip", "stop", "hold"] | RunAt | UseReference


class Process(Model):
    """A closed loop inside a reference."""

    setpoint: Reference | None = None
    feedback: Reference | None = None
    when_feedback_rises: Literal["slow_down", "speed_up"] | None = None


class Reference(Model):
    """Where a speed reference comes from, as what signal, and what it spans."""

    from_: str | None = Field(default=None, alias="from")
    signal: Signal | None = None
    spans: str | None = None
    inverse: Yes = False
    on_low: SignalAnswer | None = None
    on_high: SignalAnswer | None = None
    on_loss: SignalAnswer | None = None
    preset: str | None = None
    process: Process | None = None
    supply: str | None = None
    fuse: str | None = None


class When(Model):
    """What one code of the selecting contacts brings into force."""

    short: ClassVar[str] = "speed"
    speed: str | None = None
    run: str | None = None


class Select(Model):
    by: Annotated[tuple[ContactUse, ...], BeforeValidator(_one_or_many)] = ()
    when: dict[str, When] = {}


class Duty(Model):
    """What an output switches."""

    short: ClassVar[str] = "switches"
    switches: str
    contact: DutyForm | None = None
    supply: str | None = None
    energised: Literal["in_fault", "while_healthy"] | None = None
    through: str | None = None
    fuse: str | None = None


class Show(Model):
    """A value that an analog output shows."""

    short: ClassVar[str] = "on"
    on: str
    signal: Signal | None = None
    spans: str | None = None
    supply: str | None = None


class Limits(Model):
    forward: ContactUse | None = None
    reverse: ContactUse | None = None


class Jog(Model):
    forward: ContactUse | None = None
    reverse: ContactUse | None = None
    speed: str | None = None


class SafeTorqueOff(Model):
    by: str
    channels: Literal["one", "two"] = "two"


class Override(Model):
    by: ContactUse
    acts_on: Literal["closing", "opening"] | None = None
    runs: Literal["forward", "reverse"] | None = None
    speed: str | None = None
    ignores: Annotated[tuple[str, ...], BeforeValidator(_one_or_many)] = ()
    why: str


class SafetyReset(Model):
    short: ClassVar[str] = "by"
    by: str
    monitored: Yes = False


class Power(Model):
    supply: str | None = None
    motor: str | None = None


class Motor(Model):
    power: str | None = None
    voltage: str | None = None
    current: str | None = None
    cos_phi: str | None = None
    frequency: str | None = None
    speed: str | None = None


class Ramps(Model):
    up: str | None = None
    down: str | None = None


class Control(Model):
    """What one controller has to do."""

    like: str | None = None
    with_: dict[str, str] = Field(default={}, alias="with")
    inputs: Inputs | None = None
    zero_volt: ZeroVolt | None = None
    restart: Literal["allowed", "needs_start"] | None = None
    starts_after_changeover: Yes = False
    run: Runs | None = None
    always_stops: ContactUse | None = None
    reverse: ContactUse | None = None
    enable: ContactUse | None = None
    external_trip: ContactUse | None = None
    reset: ContactUse | SafetyReset | None = None
    jog: Jog | None = None
    raise_: ContactUse | None = Field(default=None, alias="raise")
    lower: ContactUse | None = None
    limits: Limits | None = None
    speed: dict[str, Reference] = {}
    speed_limits: str | None = None
    select: Select | None = None
    relays: dict[str, Duty] = {}
    shows: dict[str, Show] = {}
    reads: dict[str, ContactUse] = {}
    operates: dict[str, Duty] = {}
    energise: ContactUse | None = None
    supply: str | None = None
    guards: Annotated[tuple[str, ...], BeforeValidator(_one_or_many)] = ()
    channels: Literal["one", "two"] | None = None
    safe_torque_off: Literal["linked"] | SafeTorqueOff | None = None
    motor_thermistor: str | None = None
    override: dict[str, Override] = {}
    power: Power | None = None
    motor: Motor | None = None
    ramps: Ramps | None = None


class FixedEntry(Model):
    """What is decided for one terminal."""

    short: ClassVar[str] = "function"
    function: str | None = None
    keep_free: str | None = None
    strip: str | None = None
    cable: str | None = None
    core: str | None = None
    number: str | None = None


FixedEntries = Annotated[tuple[FixedEntry, ...], BeforeValidator(_one_or_many)]


class CableClass(Model):
    area: str | None = None
    pairs: Yes | None = None
    screen: Literal["none", "cabinet end", "both ends"] | None = None
    pe: Yes | None = None
    spare: str | None = None


class ExistingCable(Model):
    from_: str = Field(alias="from")
    to: str
    cores: str
    marks: Literal["numbers", "colours"] | None = None


class Tails(Model):
    cabinet: str | None = None
    device: str | None = None


ClassName = Literal["control", "control_ac", "analog", "pulse", "safety", "thermistor", "power"]


class Cabling(Model):
    spare: str | None = None
    classes: dict[ClassName, CableClass] = {}
    tails: Tails | None = None
    existing: dict[str, ExistingCable] = {}


class Numbers(Model):
    by: Literal["potential", "line"] = "potential"
    first: str | None = None
    keep: dict[str, str] = {}


class Acceptance(Model):
    code: str
    at: str | None = None
    why: str


class SchemeModel(Model):
    """A whole scheme after merging; ``variants`` and ``include`` are consumed by then."""

    scheme: str
    drawing: str = ""
    revision: str = ""
    date: str | None = None
    practice: Literal["iec", "nfpa"] = "iec"
    places: dict[str, Place]
    devices: dict[str, Device]
    control: dict[str, Control] = {}
    fixed: dict[str, dict[str, FixedEntries]] = {}
    wired: dict[str, dict[str, FixedEntries]] = {}
    banks: dict[str, tuple[str, ...]] = {}
    apart: tuple[tuple[str, ...], ...] = ()
    apart_cables: tuple[tuple[str, ...], ...] = ()
    cabling: Cabling = Cabling()
    numbers: Numbers = Numbers()
    accepted: tuple[Acceptance, ...] = ()


Process.model_rebuild()
ContactUse.model_rebuild()

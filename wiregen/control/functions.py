"""Functions with their ends and partners: what the declared control asks of terminals and wires."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wiregen.profiles.model import Profile
from wiregen.scheme.model import Device as DeclaredDevice
from wiregen.terms import Notice, Pin, Where

Purpose = Literal[
    "input", "output", "analog_in", "analog_out", "coil", "safety_loop", "safe_torque_off", "motor_thermistor"
]


@dataclass(frozen=True, slots=True)
class Contact:
    """One contact of a device. A changeover is two: its make half and its break half, with one common pin."""

    device: str
    name: str  # "13-14"
    form: Literal["NO", "NC"]
    a: str
    b: str
    position: str | None = None  # the selector position in which it is closed
    element: int = 0  # which contact of the device; both halves of a changeover share it


@dataclass(frozen=True, slots=True)
class Device:
    """One real item, with its profile and what the scheme says of it."""

    name: str
    profile: Profile  # with the figures that the scheme states for this device
    place: str
    text: str
    declared: DeclaredDevice
    contacts: tuple[Contact, ...]
    pins: tuple[str, ...]  # in physical order
    order: int  # in the scheme file
    where: Where

    @property
    def kind(self) -> str:
        """``drive``, ``card``, ``supply``, ``contact``, ``lamp`` ..."""
        return self.profile.controller or self.profile.device or "device"

    @property
    def has_feed(self) -> bool:
        """Whether it has a feed of its own from the mains."""
        return self.kind in ("supply", "transformer", "drive")

    @property
    def positions(self) -> tuple[str, ...]:
        """The positions of a selector, in order; 0 and 1 where the scheme names none."""
        return self.declared.positions or ("0", "1")

    def figure(self, name: str) -> float | None:
        """A figure in its base unit, as the scheme states it for this device or else its profile; None without one."""
        found = self.profile.figures.get(name)
        return found.si if found is not None else None


#: The kinds of devices whose terminals are given to functions, in the order in which their potentials are numbered.
CONTROLLERS = ("drive", "card", "safety_relay")


@dataclass(frozen=True, slots=True)
class Supply:
    """Where a control voltage comes from: a supply unit, a transformer, or a controller's own 24 V output.

    ``plus`` is the ungrounded side, behind the fuse where there is one; ``zero`` is 0 V, or a transformer's other side.
    """

    device: str
    plus: Pin
    zero: Pin
    own: bool  # True: the 24 V output of a controller
    alternating: bool = False
    volts: float | None = None
    fuse: str = ""  # through which ``plus`` is fed


# Partners: what stands at the far side of a function. Contacts form a tree.


@dataclass(frozen=True, slots=True)
class Leg:
    """One contact in the circuit of a function; ``a`` lies towards the feed, ``b`` towards the terminal."""

    contact: Contact
    a: Pin
    b: Pin


@dataclass(frozen=True, slots=True)
class Series:
    parts: tuple[Leg | Series | Parallel, ...]


@dataclass(frozen=True, slots=True)
class Parallel:
    parts: tuple[Leg | Series | Parallel, ...]


ContactTree = Leg | Series | Parallel


def legs_in(partner: object) -> tuple[Leg, ...]:
    """The contacts of a tree, in declared order; none of what is no tree."""
    if isinstance(partner, Leg):
        return (partner,)
    if isinstance(partner, Series | Parallel):
        return tuple(leg for part in partner.parts for leg in legs_in(part))
    return ()


@dataclass(frozen=True, slots=True)
class Sensor:
    """A proximity switch; ``output`` is None for a two-wire one. ``polarity``: source for PNP, sink for NPN."""

    device: str
    plus: Pin
    minus: Pin
    output: Pin | None
    polarity: str | None


@dataclass(frozen=True, slots=True)
class Potentiometer:
    device: str
    low: Pin
    wiper: Pin
    high: Pin


@dataclass(frozen=True, slots=True)
class Transmitter:
    """A transmitter by its wires: two (``output`` is ``minus``), three, or four (with ``output_return``)."""

    device: str
    wires: Literal[2, 3, 4]
    plus: Pin
    minus: Pin
    output: Pin
    output_return: Pin | None
    isolated: bool


@dataclass(frozen=True, slots=True)
class Load:
    """A lamp, horn, valve or coil; ``a`` lies on the switched side, ``b`` on 0 V."""

    device: str
    a: Pin
    b: Pin
    earth: Pin | None = None


@dataclass(frozen=True, slots=True)
class Meter:
    device: str
    plus: Pin
    minus: Pin


@dataclass(frozen=True, slots=True)
class Thermistor:
    """The sensors in a motor's windings, in series; ``a`` lies towards the first pin of the input."""

    device: str
    a: Pin
    b: Pin


Partner = Leg | Series | Parallel | Sensor | Potentiometer | Transmitter | Load | Meter | Thermistor


@dataclass(frozen=True, slots=True)
class Premise:
    """A declaration or a profile's limit that a constraint rests on."""

    kind: str
    subject: str
    where: Where
    says: str


@dataclass(frozen=True, slots=True)
class End:
    """One side of a function: what it needs of a channel. ``id`` is unique, ``function`` its name at that device."""

    id: str
    function: str
    devices: tuple[str, ...]
    role: str
    signals: frozenset[str]
    forms: frozenset[str] = frozenset()  # outputs: the contact forms that serve; empty where it does not matter
    polarity: str | None = None  # the only polarity that its partner fits
    abilities: frozenset[str] = frozenset()
    load_a: float | None = None  # A that an output must carry
    load_ac_v: float | None = None  # V of a load on alternating current; None on direct current
    usual: tuple[Pin, ...] = ()  # its usual channels, one a device at most; empty: none
    fixed: Pin | None = None
    kept: Pin | None = None
    bundle: str = ""  # what will share a cable: far place and class
    premises: tuple[Premise, ...] = ()
    where: Where = ()
    also: str = ""  # another name under which `fixed` may mean it


@dataclass(frozen=True, slots=True)
class Function:
    """Something a terminal must do. ``ends[0]`` is at ``controller``; a second end stands at another controller.

    A function of purpose ``coil`` takes no terminal: ``partner`` is a tree of contacts that switches ``coil``, the coil
    of a relay or, behind an interposing relay, another load. Its ``controller`` is the relay.
    ``controller`` is a bank until allocation has chosen the card.
    A ``safety_loop`` is a monitored channel or the reset of a safety relay: ``partner`` holds the contacts between its
    two pins. A ``safe_torque_off`` with one end and neither ``partner`` nor ``follows`` is linked to its supply.
    """

    name: str
    controller: str
    purpose: Purpose
    ends: tuple[End, ...]
    partner: Partner | None
    supply: Supply | None
    category: str  # class of its cable: control, analog ...
    acts_on: str  # "closed", "open", "closing", "opening": when it acts; "" for analog
    signal: str = ""
    spans: str = ""
    setting: str = ""  # what must be set in the device for this wiring, in plain words
    text: str = ""
    order: int = 0
    where: Where = ()
    coil: Load | None = None
    supplies: tuple[tuple[str, Supply | None], ...] = ()  # by card, where a bank leaves the card to allocation
    follows: End | None = None  # the end at another controller whose contact serves this function too
    plain: str = ""  # its name without that of its run or reference, where several have one of the same name
    run: str = ""  # the named run that it belongs to
    on_low: str = ""  # what the controller does when an analog signal falls below its low end, in plain words
    on_high: str = ""
    inverse: bool = False  # less signal means more speed
    while_healthy: bool = False  # a fault output: it is energised while there is no fault

    @property
    def meaning(self) -> str:
        """What it does, whatever run or reference it belongs to: the name that gives its sense and usual terminal."""
        return self.plain or self.name


@dataclass(frozen=True, slots=True)
class Setting:
    """Something that must be set in a device and that belongs to no terminal of its own."""

    device: str
    subject: str
    says: str
    where: Where


@dataclass(frozen=True, slots=True)
class RunInfo:
    """One run of a drive as declared; the only run of a drive may have no name."""

    name: str
    method: str  # two-wire, three-wire, hold-to-run
    network: bool
    where: Where


@dataclass(frozen=True, slots=True)
class InputGroup:
    """Inputs that share one polarity. ``common`` is a pin of its own, or None where the group returns inside."""

    device: str
    group: str
    common: Pin | None
    polarity: str  # source | sink
    declared: bool
    supply: Supply | None
    where: Where


@dataclass(frozen=True, slots=True)
class ZeroVolt:
    """How the 0 V of a device is tied: earthed, floating, inside, or joined to another device's."""

    device: str
    mode: Literal["earthed", "floating", "inside", "joined"]
    joined_to: str | None
    declared: bool
    zero: Pin
    where: Where


@dataclass(frozen=True, slots=True)
class Fusing:
    """A fuse in the ungrounded side of a supply: ``source`` feeds ``inlet``, what is protected hangs on ``outlet``."""

    device: str
    source: Pin
    inlet: Pin
    outlet: Pin
    supply: Supply  # before the fuse
    where: Where


@dataclass(frozen=True, slots=True)
class PowerSide:
    """What is declared of a drive's power side: pairs of pins from its protective device, and to its motor.

    ``earth`` is the drive's own protective terminal, ``motor_earth`` that of the motor.
    """

    drive: str
    supply: str | None
    motor: str | None
    feeders: tuple[tuple[Pin, Pin], ...]
    phases: tuple[tuple[Pin, Pin], ...]
    earth: Pin
    motor_earth: Pin | None
    where: Where


@dataclass(frozen=True, slots=True)
class CardFeed:
    """A card's own 24 V and 0 V terminals and what feeds them.

    ``only_for`` holds the channels that need it; where it is empty the terminals are always fed.
    """

    plus: Pin
    zero: Pin
    supply: Supply
    only_for: frozenset[str]


@dataclass(frozen=True, slots=True)
class ReferenceInfo:
    """One speed reference of a drive as declared; ``preset_hz`` for one set in the device."""

    name: str
    kind: Literal["wired", "preset", "network", "process"]
    signal: str
    low_hz: float | None
    high_hz: float | None
    preset_hz: float | None
    source: str | None
    on_low: str
    on_high: str
    inverse: bool
    where: Where


_TURNED = {"0": "1", "1": "0"}


@dataclass(frozen=True, slots=True)
class SelectionInfo:
    """The truth table of a drive: one row a declared code. ``digits`` has one of 0, 1, x a selecting contact."""

    controller: str
    contacts: tuple[str, ...]  # as written in `by`
    rows: tuple[tuple[str, str], ...]  # (digits, reference name), position names already turned into digits
    where: Where
    keys: tuple[str, ...] = ()  # the rows as written, in the same order
    by_position: bool = False  # the keys are position names
    runs: tuple[str, ...] = ()  # the run that each row brings into force, empty where it names none
    turned: tuple[bool, ...] = ()  # by digit: the input acts on opening, so an open contact is digit 1

    def turn(self, closed: str) -> str:
        """The code that the drive sees where ``closed`` has a 1 for each closed contact."""
        turned = self.turned or (False,) * len(closed)
        return "".join(_TURNED.get(d, d) if t else d for d, t in zip(closed, turned, strict=True))

    def run_of(self, row: int) -> str:
        return self.runs[row] if self.runs else ""


@dataclass(frozen=True, slots=True)
class Declared:
    """Everything that control makes of a scheme."""

    devices: tuple[Device, ...]
    supplies: tuple[Supply, ...]
    functions: tuple[Function, ...]
    groups: tuple[InputGroup, ...]
    zero_volts: tuple[ZeroVolt, ...]
    references: tuple[tuple[str, tuple[ReferenceInfo, ...]], ...]  # (drive, its references)
    selections: tuple[SelectionInfo, ...]
    notices: tuple[Notice, ...] = ()
    feeds: tuple[CardFeed, ...] = ()
    runs: tuple[tuple[str, tuple[RunInfo, ...]], ...] = ()  # (drive, its runs)
    settings: tuple[Setting, ...] = ()
    fusings: tuple[Fusing, ...] = ()
    powers: tuple[PowerSide, ...] = ()
    #: Every ungrounded pin of a supply and of its fuses, and the supply that it is of.
    hot: Mapping[Pin, Supply] = field(init=False, repr=False, compare=False)
    #: The 0 V pin of every supply, or the earthed side of a transformer.
    cold: Mapping[Pin, Supply] = field(init=False, repr=False, compare=False)
    _by_name: Mapping[str, Device] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        hot = {s.plus: s for s in self.supplies}
        for fusing in self.fusings:
            hot.setdefault(fusing.source, fusing.supply)
            hot.setdefault(fusing.outlet, fusing.supply)
        object.__setattr__(self, "hot", hot)
        object.__setattr__(self, "cold", {s.zero: s for s in self.supplies})
        object.__setattr__(self, "_by_name", {d.name: d for d in reversed(self.devices)})

    def device(self, name: str) -> Device:
        return self._by_name[name]

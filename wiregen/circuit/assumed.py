"""What a profile does not say and a computation still needs. Each figure is typical, invented, unless it says more."""

from __future__ import annotations

from wiregen.control.functions import Device
from wiregen.formulas import conductors
from wiregen.profiles.model import Terminal
from wiregen.wiring.model import Conductor

#: A wire within one place whose length nothing says. common practice, no source.
WIRE_M = 1.0
WIRE_MM2 = 1.0
#: A bridge, a link, a join inside a device, a plugged contact.
METAL_OHM = 1e-3
#: A supply's voltage falls by this much up to its limit.
SUPPLY_SAG_V = 0.15
#: Coils pick up at this part of their voltage and let go below that one: common practice, no source.
PICK_PART, DROP_PART = 0.75, 0.2
INPUT_OHM = 4000.0
FUSE_OHM = 0.05
#: The ends of a potentiometer's track that its wiper does not leave.
TRACK_END_OHM = 1.0
#: The loaded monitoring outputs of a safety relay, and what its channels draw.
CHANNEL_OUT_OHM, CHANNEL_IN_OHM = 100.0, 4000.0
#: What an input for motor thermistors measures with.
THERMISTOR_V, THERMISTOR_OHM = 5.0, 3300.0
#: A transformer's voltage falls by this part of it at its rated power.
TRANSFORMER_SAG = 0.05
#: A load whose current nothing says.
LOAD_A = 0.02
#: Below this a device that is fed does not work.
ALIVE_V = 10.0
VOLTAGE_OUTPUT_A = 0.02


def figure(device: Device, name: str, otherwise: float) -> float:
    """A figure of a device in its base unit: what the scheme says, else its profile, else ``otherwise``."""
    found = device.profile.figures.get(name)
    return found.si if found is not None else otherwise


def input_ohm(terminal: Terminal, signal: str, otherwise: float = INPUT_OHM) -> float:
    """The resistance [ohm] of an input, for a signal where it depends on that."""
    resistance = terminal.resistance
    if resistance is None:
        return otherwise
    if isinstance(resistance, dict):
        chosen = resistance.get(signal) or next(iter(resistance.values()), None)
        return chosen.si if chosen is not None else otherwise
    return resistance.si


def conductor_ohm(conductor: Conductor, temperature_c: float) -> float:
    """The resistance [ohm] of one conductor at ``temperature_c`` [degC]; undeclared, a short one."""
    if conductor.kind in ("bridge", "link", "screen"):
        return METAL_OHM
    area = conductor.area_mm2 or WIRE_MM2
    length = WIRE_M if conductor.length_m is None else conductor.length_m
    if area in conductors.areas_mm2():
        per_km = conductors.resistance_ohm_per_km(area, temperature_c=temperature_c)
    else:
        # American gauges: by their area, as annealed copper.
        per_km = conductors.COPPER_OHM_MM2_PER_KM / area * conductors.temperature_factor(temperature_c)
    return max(METAL_OHM, length * per_km / 1000)

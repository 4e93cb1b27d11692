"""What a profile does not say and a computation still needs. Each figure is typical, invented, unless it says more."""

from __future__ import annotations

from wiregen.control.functions import Device
from wiregen.formulas import conductors
from wiregen.profiles.model import Terminal
from wiregen.wiring.model import Conductor

#: Between which the conductors of a control circuit lie: common practice, no source; 70 C is the limit of PVC.
COLD_C, HOT_C = -5.0, 70.0
#: A wire within one place whose length nothing says. common practice, no source.
WIRE_M = 1.0
WIRE_MM2 = 1.0
#: A bridge, a link, a join inside a device, a plugged contact.
METAL_OHM = 1e-3
#: The control voltage that what draws a current, or gives one, is taken for where nothing else is said.
CONTROL_V = 24.0
#: A supply's voltage falls by this much up to its limit, that of a reference output by less.
SUPPLY_SAG_V, REFERENCE_SAG_V = 0.15, 0.015
#: A supply without a limit in its profile.
SUPPLY_A = 1.0
#: Coils pick up at this part of their voltage and let go below that one: common practice, no source.
PICK_PART, DROP_PART = 0.75, 0.2
INPUT_OHM = 4000.0
METER_OHM = 100.0
FUSE_OHM = 0.05
RESISTOR_OHM = 1000.0
#: A potentiometer from end to end, and the ends of its track that its wiper does not leave.
TRACK_OHM, TRACK_END_OHM = 4700.0, 1.0
#: The loaded monitoring outputs of a safety relay, and what its channels draw.
CHANNEL_OUT_OHM, CHANNEL_IN_OHM = 100.0, 4000.0
#: Three thermistors in series, cold and hot: DIN 44082; DIN VDE V 0898-1-401, from memory.
COLD_OHM, HOT_OHM = 750.0, 4000.0
#: What an input for motor thermistors measures with.
THERMISTOR_V, THERMISTOR_OHM = 5.0, 3300.0
#: A transformer, and the part of its voltage by which it falls at its rated power.
TRANSFORMER_V, TRANSFORMER_VA, TRANSFORMER_SAG = 120.0, 100.0, 0.05
#: A load whose current nothing says.
LOAD_A = 0.02
#: A sensor that conducts; IEC 60947-5-2 allows three-wire sensors 3.5 V, from memory.
SENSOR_DROP_V = 3.0
#: Below this a device that is fed does not work; a transmitter has a figure of its own.
ALIVE_V, LIFT_OFF_V = 10.0, 12.0
#: A voltage output: its resistance, and what it gives at most.
VOLTAGE_OUTPUT_OHM, VOLTAGE_OUTPUT_A = 1.0, 0.02
#: The greatest burden of a current output, and what the output of a three-wire transmitter needs across it.
BURDEN_OHM, THREE_WIRE_OUTPUT_V = 500.0, 2.0


def figure(device: Device, name: str, otherwise: float) -> float:
    """A figure of a device in its base unit, ``otherwise`` where neither scheme nor profile says it."""
    found = device.figure(name)
    return found if found is not None else otherwise


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
    length = WIRE_M if conductor.length_m is None else conductor.length_m
    per_km = conductors.any_area_ohm_per_km(conductor.area_mm2 or WIRE_MM2, temperature_c=temperature_c)
    return max(METAL_OHM, length * per_km / 1000)

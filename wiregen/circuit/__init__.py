"""What the circuit does: its operating point in any state, computed from the wiring that is drawn."""

from wiregen.circuit.build import Circuit, build
from wiregen.circuit.inputs import OFF, ON, UNDEFINED, Input, inputs, levels, limits
from wiregen.circuit.points import Points
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.circuit.state import AS_DRAWN, EARTH, Change, State

__all__ = [
    "AS_DRAWN",
    "EARTH",
    "OFF",
    "ON",
    "UNDEFINED",
    "Change",
    "Circuit",
    "Input",
    "Points",
    "State",
    "at_rest",
    "build",
    "inputs",
    "levels",
    "limits",
    "solve",
]

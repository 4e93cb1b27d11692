"""How a plant behaves: controllers as state machines in the solved circuit, sequences of steps, single faults."""

from wiregen.behaviour.plant import Plant
from wiregen.behaviour.standing import Hands, Reading, Standing

__all__ = ["Hands", "Plant", "Reading", "Standing"]

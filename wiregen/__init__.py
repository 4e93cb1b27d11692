"""wiregen: control wiring of motor drives from one declared scheme."""

__version__ = "0.1.0"

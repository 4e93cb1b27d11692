"""Reading a scheme file: text with positions, model, variants; every error with its place."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.profiles.model import Profile
from wiregen.scheme.model import SchemeModel
from wiregen.terms import Spot, Where


@dataclass(frozen=True)
class Scheme:
    """A scheme that was read: its model, its profiles by name, and where everything stands in the file."""

    path: str
    model: SchemeModel
    profiles: dict[str, Profile]
    positions: dict[Where, tuple[int, int]]
    variant: str | None = None

    def locate(self, where: Where) -> Spot:
        """The place of ``where`` in the file, or of the nearest thing above it that stands there."""
        for end in range(len(where), -1, -1):
            if where[:end] in self.positions:
                line, column = self.positions[where[:end]]
                return Spot(self.path, line, column)
        return Spot(self.path, 1, 1)

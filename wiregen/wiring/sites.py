"""The places of a scheme: which are cabinets, which have a strip, how their cables run and how long they are."""

from __future__ import annotations

from wiregen import quantities
from wiregen.scheme import Scheme
from wiregen.scheme.places import cabinets_of


class Sites:
    """Answers questions about places. A cabinet has no route, or is where the route of another place begins."""

    def __init__(self, scheme: Scheme) -> None:
        self._places = scheme.model.places
        self._tails = scheme.model.cabling.tails
        self.order = {name: index for index, name in enumerate(self._places)}
        self.cabinets = cabinets_of(self._places)

    @property
    def main(self) -> str:
        return self.cabinets[0]

    def is_cabinet(self, place: str) -> bool:
        return place in self.cabinets

    def has_strip(self, place: str) -> bool:
        """A cabinet always has strips; a field place where it says so."""
        return self.is_cabinet(place) or self._places[place].strip is not None

    def strip_name(self, place: str) -> str | None:
        return self._places[place].strip

    def spread(self, place: str) -> bool:
        """Whether each device at a field place has a cable of its own all the way to the cabinet."""
        return self._places[place].spread and not self.has_strip(place)

    def near_first(self, a: str, b: str) -> bool:
        """Whether a cable of ``a`` and ``b`` begins at ``a``: cabinets before field places, else as declared."""
        return (not self.is_cabinet(a), self.order[a]) <= (not self.is_cabinet(b), self.order[b])

    def route_m(self, a: str, b: str) -> float | None:
        """m of cable route between two places, None where the scheme declares none."""
        for place, start in ((b, a), (a, b)):
            route = self._places[place].route
            text = route.get(start) if isinstance(route, dict) else route if self.is_cabinet(start) else None
            if text:
                return quantities.parse(text, "m")
        return None

    def length_m(self, near: str, far: str, ends_on_strip: bool) -> float | None:
        """m of a cable with what is left at its ends; one within a place, from strip to device, is tails alone."""
        route = 0.0 if near == far else self.route_m(near, far)
        cabinet, device = self._tail("cabinet"), self._tail("device")
        if route is None or (near == far and cabinet + device == 0.0):
            return None
        return route + cabinet + (cabinet if ends_on_strip else device)

    def _tail(self, end: str) -> float:
        text = getattr(self._tails, end) if self._tails else None
        return quantities.parse(text, "m") if text else 0.0

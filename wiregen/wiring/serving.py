"""Which cabinet a pin in the field is served from: that of the controller whose function it is in."""

from __future__ import annotations

from wiregen.control.functions import Declared
from wiregen.terms import Pin
from wiregen.wiring.nets import Net
from wiregen.wiring.returns import title_of
from wiregen.wiring.sites import Sites

#: What a conductor's function may end in beside its title: the way back of a signal.
RETURN = ", return"


class Serving:
    """Looks up the controller of a function by the title that every pin of a net carries."""

    def __init__(self, declared: Declared, sites: Sites) -> None:
        places = {d.name: d.place for d in declared.devices}
        self._of_title = {title_of(f): places[f.controller] for f in declared.functions if f.controller in places}
        self._sites = sites

    def cabinet(self, net: Net, pin: Pin) -> str | None:
        """The cabinet of the controller that a pin serves; None where that stands in the field, or nothing is known."""
        place = self._of_title.get(net.uses[pin].function.removesuffix(RETURN))
        return place if place is not None and self._sites.is_cabinet(place) else None

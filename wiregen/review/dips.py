"""What a short dip of the voltage leaves behind: a direction that is gone while the command to run stands."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Contact, ContactTree, Function
from wiregen.review.context import Context, called, legs_of
from wiregen.review.restart import maintained
from wiregen.review.trees import coil_circuits, passes, tree_of
from wiregen.review.words import listed
from wiregen.terms import Notice

_DIRECTIONS = ("reverse", "run reverse", "run forward")
_RUNS = ("run forward", "run reverse")
_STAY = ("turn", "none")  # what is moved by neither a spring nor the machine stays as it is


def direction_lost(context: Context) -> Iterator[Notice]:
    """A direction that only a seal-in or the drive itself remembers, and a run command that outlives the dip."""
    dip = _Dip(context)
    for direction in context.declared.functions:
        if direction.purpose != "input" or direction.controller not in context.devices:
            continue
        own = [f for f in context.declared.functions if f.controller == direction.controller and f.purpose == "input"]
        if direction.meaning == "start reverse":
            yield from _latched(context, direction, own)
        elif direction.meaning in _DIRECTIONS and dip.loses(direction):
            run = next((f for f in own if f is not direction and _remains(context, dip, direction, f)), None)
            if run is not None:
                text = (
                    f"{listed(dip.relays_at(direction))} holds {called(direction)} and lets it go when its supply "
                    f"dips, but {run.name} stands: {direction.controller} runs on in the other direction"
                )
                yield Notice("direction-lost-in-dip", direction.where, called(direction), text)


class _Dip:
    """Relays before and after a dip of their supply, every button let go and the machine between its switches."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._trees: dict[str, list[ContactTree]] = {}
        for relay, tree in coil_circuits(context):
            self._trees.setdefault(relay, []).append(tree)
        self._before, self._after = self._held(), self._returning()

    def relays_at(self, function: Function) -> tuple[str, ...]:
        """The relays in the circuit of a function."""
        return tuple(dict.fromkeys(n for leg in legs_of(function) if (n := leg.contact.device) in self._trees))

    def loses(self, function: Function) -> bool:
        """Whether a seal-in keeps the circuit of a function closed up to the dip and not after it."""
        tree = tree_of(function)
        return tree is not None and self._passes(tree, self._before) and not self._passes(tree, self._after)

    def closes(self, function: Function) -> bool:
        """Whether the circuit of a function is closed after the dip; what another controller drives may be."""
        tree = tree_of(function)
        return tree is None or self._passes(tree, self._after)

    def _returning(self) -> frozenset[str]:
        """The relays that pull in by themselves: the least set, so that none is there only because it holds itself."""
        inside: frozenset[str] = frozenset()
        while (more := self._in_with(inside)) > inside:
            inside = more
        return inside

    def _held(self) -> frozenset[str]:
        """The relays that may be in before the dip: the greatest set, so that a relay may hold itself."""
        inside = frozenset(self._trees)
        while (less := self._in_with(inside)) < inside:
            inside = less
        return inside

    def _in_with(self, inside: frozenset[str]) -> frozenset[str]:
        return frozenset(r for r, trees in self._trees.items() if any(self._passes(t, inside) for t in trees))

    def _passes(self, tree: ContactTree, inside: frozenset[str]) -> bool:
        def closed(contact: Contact) -> bool:
            if contact.device in self._trees:
                return contact.form == "NC" or contact.device in inside
            return contact.form == "NC" or self._context.devices[contact.device].profile.actuator in _STAY

        return passes(tree, closed)


def _remains(context: Context, dip: _Dip, direction: Function, run: Function) -> bool:
    """Whether the motor is still told to run after the dip: by level, or by a start that the drive remembers."""
    if run.meaning in _RUNS and run.meaning != direction.meaning:
        return dip.closes(run)
    if run.meaning != "stop" or direction.meaning != "reverse":
        return False
    # A three-wire run lives on in the drive while its stop stays closed: fed from elsewhere, it knows of no dip.
    coils = {f.coil.device: f.supply for f in context.declared.functions if f.coil is not None}
    fed_by = {s.device for relay in dip.relays_at(direction) if (s := coils.get(relay)) is not None}
    return run.supply is not None and bool(fed_by) and run.supply.device not in fed_by


def _latched(context: Context, reverse: Function, own: list[Function]) -> Iterator[Notice]:
    """Three-wire reversing: the drive forgets the direction with its supply, and a start that is held starts again."""
    drive = context.devices[reverse.controller]
    start = next((f for f in own if f.meaning == "start" and f.run == reverse.run), None)
    again = context.scheme.model.control[drive.name].restart != "needs_start" or drive.profile.start_by == "level"
    if start is not None and again and maintained(context, start) and not maintained(context, reverse):
        text = (
            f"{drive.name} itself remembers {reverse.name} and forgets it with its supply, but {start.name} stays "
            "closed: it starts again in the other direction"
        )
        yield Notice("direction-lost-in-dip", reverse.where, called(reverse), text)

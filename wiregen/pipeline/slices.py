"""A part of a design cut out as a design of its own: whole potentials; protective earth ends at its edge."""

from __future__ import annotations

from dataclasses import replace

from wiregen.control.functions import Declared
from wiregen.pipeline.stages import Design
from wiregen.scheme import Scheme
from wiregen.terms import Finding, Pin
from wiregen.wiring.model import Conductor, Potential, Strip, StripTerminal, Wiring


def cut_out(design: Design, home: str, names: frozenset[str], rest: bool) -> Design:
    """The part of ``design`` to which the places, devices, strips, cables and banks ``names`` belong.

    ``home`` is its first cabinet; with ``rest`` it has what belongs nowhere. An error anywhere keeps every part from
    being built, so each part has all of them.
    """
    known = {*design.scheme.model.places, *design.scheme.model.devices, *design.scheme.model.banks}
    findings = tuple(f for f in design.findings if _is_error(f) or _is_here(f, known, names, rest))
    allocation = replace(
        design.allocation,
        assignments=tuple(a for a in design.allocation.assignments if a.device in names),
        unplaced=tuple(u for u in design.allocation.unplaced if u.device in names),
        levels=(),
        conflicts=(),
    )
    wiring = _wiring(design.wiring, names)
    places = names | {strip.place for strip in wiring.strips}
    scheme = _scheme(design.scheme, home, names, frozenset(places), findings)
    return Design(scheme, _declared(design.declared, names), allocation, wiring, findings)


def _is_error(finding: Finding) -> bool:
    return finding.severity == "error" and finding.accepted is None


def _is_here(finding: Finding, known: set[str], names: frozenset[str], rest: bool) -> bool:
    named = [str(word) for word in finding.where[:3] if word in known]
    return any(word in names for word in named) if named else rest


def _scheme(
    scheme: Scheme, home: str, names: frozenset[str], places: frozenset[str], findings: tuple[Finding, ...]
) -> Scheme:
    model = scheme.model
    tables = {
        table: {name: value for name, value in getattr(model, table).items() if name in names}
        for table in ("devices", "control", "fixed", "wired", "banks")
    }
    title = f"{model.scheme}: {home} {model.places[home].name or ''}".strip()
    own = model.model_copy(
        update=tables
        | {
            "scheme": title,
            "drawing": f"{model.drawing}/{home.lstrip('+')}" if model.drawing else "",
            # What lies beyond comes last.
            "places": {
                name: model.places[name]
                for name in sorted(model.places, key=lambda n: n not in names)
                if name in places
            },
            "steps": tuple(own for step in model.steps if (own := step.within(names)) is not None),
        }
    )
    profiles = {name: scheme.profiles[name] for name in dict.fromkeys(d.profile for d in own.devices.values())}
    return replace(scheme, model=own, profiles=profiles).telling(f.where for f in findings)


def shown(design: Design) -> Design:
    """``design`` with no more of its file than sheets show: the lines of its findings, and not what it is called."""
    return replace(design, scheme=design.scheme.telling(f.where for f in design.findings))


def _declared(declared: Declared, names: frozenset[str]) -> Declared:
    return replace(
        declared,
        devices=tuple(replace(d, order=i) for i, d in enumerate(d for d in declared.devices if d.name in names)),
        supplies=tuple(s for s in declared.supplies if s.device in names),
        functions=tuple(f for f in declared.functions if f.controller in names),
        groups=tuple(g for g in declared.groups if g.device in names),
        zero_volts=tuple(z for z in declared.zero_volts if z.device in names),
        references=tuple(pair for pair in declared.references if pair[0] in names),
        selections=tuple(s for s in declared.selections if s.controller in names),
        notices=(),
        feeds=tuple(f for f in declared.feeds if f.plus.device in names),
        runs=tuple(pair for pair in declared.runs if pair[0] in names),
        settings=tuple(s for s in declared.settings if s.device in names),
        fusings=tuple(f for f in declared.fusings if f.device in names),
        powers=tuple(p for p in declared.powers if p.drive in names),
    )


def _ends(conductor: Conductor) -> tuple[Pin, ...]:
    return (conductor.a, conductor.b) if conductor.b else (conductor.a,)


def _wiring(wiring: Wiring, names: frozenset[str]) -> Wiring:
    """Every conductor with an end in the part, and all those of its cables."""
    cables = {c.cable for c in wiring.conductors if c.cable and any(pin.device in names for pin in _ends(c))}
    cables |= {c.name for c in wiring.cables if c.name in names}
    conductors = tuple(
        c for c in wiring.conductors if c.cable in cables or any(pin.device in names for pin in _ends(c))
    )
    ids = frozenset(c.id for c in conductors)
    edge = frozenset(pin for c in conductors for pin in _ends(c) if pin.device not in names)
    own = tuple(s for s in wiring.strips if s.name in names)
    beyond = (_edge_of(strip, edge, ids) for strip in wiring.strips if strip.name not in names)
    return Wiring(
        potentials=tuple(p for p in (_cut(p, names, edge) for p in wiring.potentials) if p is not None),
        conductors=conductors,
        cables=tuple(c for c in wiring.cables if c.name in cables),
        strips=(*own, *(strip for strip in beyond if strip.terminals)),
    )


def _cut(potential: Potential, names: frozenset[str], edge: frozenset[Pin]) -> Potential | None:
    """All of a potential or nothing; of protective earth what is here."""
    if potential.kind != "earth":
        return potential if potential.pins[0].device in names else None
    return replace(potential, pins=tuple(pin for pin in potential.pins if pin.device in names or pin in edge))


def _edge_of(strip: Strip, edge: frozenset[Pin], ids: frozenset[str]) -> Strip:
    """What a part sees of a strip beyond it: the terminals on which its own conductors land."""
    here = [t for t in strip.terminals if t.pin in edge]
    kept = {t.name for t in here}
    return replace(strip, terminals=tuple(_edge_terminal(t, kept, ids) for t in here))


def _edge_terminal(terminal: StripTerminal, kept: set[str], ids: frozenset[str]) -> StripTerminal:
    return replace(
        terminal,
        inside=tuple(i for i in terminal.inside if i in ids),
        outside=tuple(i for i in terminal.outside if i in ids),
        bridged_to=tuple(name for name in terminal.bridged_to if name in kept),
    )

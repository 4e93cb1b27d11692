"""The design for programs: ``design.json``. Keys and meaning are a promise to users."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from wiregen.allocation.model import Conflict, Level, Unplaced
from wiregen.control.functions import End, Premise, Setting
from wiregen.documents.findings import in_order
from wiregen.documents.table import natural
from wiregen.terms import Finding
from wiregen.wiring.model import Cable, Conductor, Potential, Strip, Wiring

if TYPE_CHECKING:
    from wiregen.circuit.readings import Reading
    from wiregen.pipeline import Design
    from wiregen.scheme import Scheme

Json = dict[str, Any]


def design_json(design: Design, sheets: Iterable[tuple[str, str, str]]) -> Json:
    """Everything of a design; ``sheets`` are (file, title, number)."""
    wiring = design.wiring
    return {
        "scheme": scheme_json(design),
        "allocation": allocation_json(design),
        "settings": [_setting(design.scheme, s) for s in design.declared.settings],
        "potentials": [_potential(p) for p in sorted(wiring.potentials, key=lambda p: natural(p.name))],
        "conductors": [_conductor(c) for c in sorted(wiring.conductors, key=lambda c: natural(c.id))],
        "cables": [_cable(c) for c in sorted(wiring.cables, key=lambda c: natural(c.name))],
        "strips": _strips(wiring),
        "readings": readings_json(design.readings),
        "findings": findings_json(design.scheme, design.findings),
        "conflicts": conflicts_json(design),
        "repairs": [],
        "sheets": [{"file": file, "title": title, "number": number} for file, title, number in sheets],
    }


def readings_json(readings: Iterable[Reading]) -> list[Json]:
    """One entry a place to measure and state; volts or milliamps is null, low and high are in the unit of the other."""
    return [
        {
            "state": r.state,
            "at": r.owner,
            "pin": str(r.pin),
            "to": str(r.to),
            "volts": r.volts,
            "milliamps": r.milliamps,
            "low": r.low,
            "high": r.high,
            "function": r.function,
        }
        for r in readings
    ]


def json_bytes(data: object) -> bytes:
    """Indented UTF-8 with a line end; a lone surrogate stays an escape, which JSON allows."""
    return (json.dumps(data, indent=2, ensure_ascii=False) + "\n").encode("utf-8", "backslashreplace")


def scheme_json(design: Design) -> Json:
    """What the scheme is called, which variant it is, and its status."""
    model = design.scheme.model
    return {
        "title": model.scheme,
        "drawing": model.drawing,
        "revision": model.revision,
        "variant": design.scheme.variant,
        "practice": model.practice,
        "status": design.status,
    }


def allocation_json(design: Design) -> Json:
    """One entry a function and device; ``terminal`` is the channel's first pin."""
    allocation = design.allocation
    assignments = sorted(allocation.assignments, key=lambda a: (natural(a.device), natural(a.channel), a.function))
    return {
        "status": allocation.status,
        "assignments": [
            {"device": a.device, "function": a.function, "terminal": a.channel, "pins": list(a.pins)}
            for a in assignments
        ],
        "moved": _moved(design),
        "unplaced": [_unplaced(u) for u in allocation.unplaced],
        "levels": [_level(level) for level in allocation.levels],
    }


def _unplaced(u: Unplaced) -> Json:
    return {"device": u.device, "function": u.function, "why": u.why}


def _moved(design: Design) -> list[Json]:
    """What `wired` has on one terminal and the allocation on another."""
    moves = (
        (end.kept, at)
        for function in design.functions
        for end in function.ends
        if end.kept is not None and (at := design.allocation.of_end(end.id)) is not None and at.moved
    )
    return [
        {"function": at.function, "from": str(kept), "to": f"{at.device}:{at.channel}"}
        for kept, at in sorted(moves, key=lambda move: natural(str(move[0])))
    ]


def _level(level: Level) -> Json:
    return {"name": level.name, "value": level.value, "bound": level.bound, "proven": level.proven}


def conflicts_json(design: Design) -> list[Json]:
    """Why not everything fits: what cannot hold together, each with its line, and all functions that compete.

    ``members`` alone cannot hold together, and without any one of them the others can.
    """
    ends = {end.id: end for function in design.functions for end in function.ends}

    def member(premise: Premise) -> Json:
        return {"what": premise.says, "kind": premise.kind, "line": design.scheme.locate(premise.where).line}

    def competing(end_id: str) -> Json:
        end = ends[end_id]
        return {"device": " or ".join(end.devices), "function": end.function, "line": _line(design.scheme, end)}

    def conflict(c: Conflict) -> Json:
        return {
            "says": c.says,
            "members": [member(m) for m in c.premises],
            "competing": [competing(m) for m in c.members],
        }

    return [conflict(c) for c in design.allocation.conflicts]


def _line(scheme: Scheme, end: End) -> int:
    return scheme.locate(end.where).line


def findings_json(scheme: Scheme, findings: tuple[Finding, ...]) -> list[Json]:
    """All findings by their place in the scheme."""
    return [_finding(scheme, f) for f in in_order(scheme, findings)]


def _finding(scheme: Scheme, f: Finding) -> Json:
    spot = scheme.locate(f.where)
    return {
        "code": f.code,
        "severity": str(f.severity),
        "subject": f.subject,
        "message": f.message,
        "why": f.why,
        "remedy": f.remedy,
        "basis": f.basis,
        "line": spot.line,
        "column": spot.column,
        "value": f.value,
        "limit": f.limit,
        "unit": f.unit or None,
        "accepted": f.accepted,
    }


def _setting(scheme: Scheme, s: Setting) -> Json:
    """What must be set in a device and has no terminal; what belongs to a terminal stands in the function table."""
    return {"device": s.device, "subject": s.subject, "says": s.says, "line": scheme.locate(s.where).line}


def _potential(p: Potential) -> Json:
    pins = sorted((str(pin) for pin in p.pins), key=natural)
    return {"name": p.name, "number": p.number, "kind": p.kind, "pins": pins}


def _conductor(c: Conductor) -> Json:
    return {
        "id": c.id,
        "number": c.number,
        "kind": c.kind,
        "from": str(c.a),
        "to": None if c.b is None else str(c.b),
        "from_side": c.a_side,
        "to_side": c.b_side,
        "cable": c.cable,
        "core": c.core,
        "potential": c.potential,
        "function": c.function,
        "area_mm2": c.area_mm2,
        "gauge": c.gauge or None,
        "length_m": c.length_m,
        "colour": c.colour,
    }


def _cable(c: Cable) -> Json:
    return {
        "name": c.name,
        "from": c.a,
        "to": c.b,
        "class": c.category,
        "cores": c.cores,
        "pairs": c.pairs,
        "used": c.used,
        "spare": c.spare,
        "area_mm2": c.area_mm2,
        "gauge": c.gauge or None,
        "screened": c.screened,
        "screen": c.screen,
        "length_m": c.length_m,
    }


def _strips(wiring: Wiring) -> list[Json]:
    """One entry a strip terminal, in physical order; ``inside`` and ``outside`` are ids of conductors."""

    def terminals(strip: Strip) -> list[Json]:
        return [
            {
                "name": strip.name,
                "terminal": t.name,
                "potential": t.potential,
                "inside": list(t.inside),
                "outside": list(t.outside),
                "bridged_to": list(t.bridged_to),
            }
            for t in strip.terminals
        ]

    return [entry for strip in sorted(wiring.strips, key=lambda s: natural(s.name)) for entry in terminals(strip)]

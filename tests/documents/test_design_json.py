"""``design.json``: its shape is a promise, written here once more by hand, and its parts agree with one another."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import wiregen
from wiregen.allocation.model import Conflict
from wiregen.control.functions import Premise
from wiregen.documents import design_json, json_bytes
from wiregen.pipeline import Design
from wiregen.terms import Finding, Severity

BRINE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"
SHEETS = [("sheet-01.svg", "-TA1 Compact drive", "1")]

TEXT, NUMBER, WHOLE, FLAG = {"type": "string"}, {"type": "number"}, {"type": "integer"}, {"type": "boolean"}
LINE = {"type": "integer", "minimum": 1}


def maybe(kind: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [kind, {"type": "null"}]}


def one_of(*words: str) -> dict[str, Any]:
    return {"enum": list(words)}


def each(**keys: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": whole(**keys)}


def whole(**keys: dict[str, Any]) -> dict[str, Any]:
    keys = {k.rstrip("_"): v for k, v in keys.items()}
    return {"type": "object", "required": list(keys), "properties": keys}


TEXTS = {"type": "array", "items": TEXT}
SIDE = maybe(one_of("inside", "outside"))
PROMISE = whole(
    scheme=whole(title=TEXT, drawing=TEXT, revision=TEXT),
    allocation=whole(
        status=one_of("optimal", "feasible", "infeasible"),
        assignments=each(device=TEXT, function=TEXT, terminal=TEXT, pins=TEXTS),
        unplaced=each(device=TEXT, function=TEXT, why=TEXT),
        levels=each(name=TEXT, value=WHOLE, bound=WHOLE, proven=FLAG),
    ),
    potentials=each(name=TEXT, pins=TEXTS),
    conductors=each(
        id=TEXT, number=maybe(TEXT), kind=one_of("wire", "core", "bridge", "link", "screen"), from_=TEXT,
        to=maybe(TEXT), from_side=SIDE, to_side=SIDE, cable=maybe(TEXT), core=maybe(TEXT), area_mm2=maybe(NUMBER),
        length_m=maybe(NUMBER), colour=TEXT,
    ),
    cables=each(
        name=TEXT, from_=TEXT, to=TEXT, class_=TEXT, cores=WHOLE, used=WHOLE, spare=WHOLE, area_mm2=NUMBER,
        screened=FLAG, length_m=maybe(NUMBER),
    ),
    strips=each(name=TEXT, terminal=TEXT, potential=maybe(TEXT), inside=TEXTS, outside=TEXTS, bridged_to=TEXTS),
    readings=each(
        state=TEXT, pin=TEXT, to=TEXT, volts=maybe(NUMBER), milliamps=maybe(NUMBER), low=NUMBER, high=NUMBER
    ),
    findings=each(
        code=TEXT, severity=one_of("error", "warning", "note"), message=TEXT, why=TEXT, remedy=TEXT, basis=TEXT,
        line=LINE, column=LINE, accepted=maybe(TEXT),
    ),
    conflicts=each(says=TEXT, members=each(what=TEXT, line=LINE)),
    repairs=each(number=WHOLE, says=TEXT, cost=NUMBER, safe=FLAG, changes=each(line=LINE, from_=TEXT, to=TEXT)),
    sheets=each(file=TEXT, title=TEXT, number=TEXT),
)  # fmt: skip


def finding(code: str, *where: str, accepted: str | None = None) -> Finding:
    return Finding(
        code, Severity.WARNING, where, "-TA1", "m", "w", "r", "common practice, no source", accepted=accepted
    )


@pytest.fixture(scope="module")
def brine() -> Design:
    return wiregen.design(wiregen.read(BRINE))


@pytest.fixture(scope="module")
def data(brine: Design) -> dict[str, Any]:
    added = (finding("b-code", "control", "-TA1"), finding("a-code", "devices", "-TA1", accepted="agreed on site"))
    found: dict[str, Any] = json.loads(
        json_bytes(design_json(replace(brine, findings=(*brine.findings, *added)), SHEETS))
    )
    return found


def test_every_promised_key_is_there(data: dict[str, Any]) -> None:
    jsonschema.Draft202012Validator(PROMISE).validate(data)


def test_the_promise_would_notice_what_is_missing(data: dict[str, Any]) -> None:
    broken = data | {"conductors": [{k: v for k, v in data["conductors"][0].items() if k != "from_side"}]}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(PROMISE).validate(broken)


def test_one_entry_a_function_and_device_with_its_first_pin(data: dict[str, Any]) -> None:
    entries = data["allocation"]["assignments"]
    assert len({(e["device"], e["function"]) for e in entries}) == len(entries)
    assert all(e["pins"][0] == e["terminal"] for e in entries)
    assert {"device": "-TA1", "function": "start", "terminal": "DI1", "pins": ["DI1"]} in entries
    assert {"device": "-TA1", "function": "stop", "terminal": "DI2", "pins": ["DI2"]} in entries


def test_every_conductor_lies_in_the_potential_that_holds_its_pins(data: dict[str, Any]) -> None:
    of_pin = {pin: p["name"] for p in data["potentials"] for pin in p["pins"]}
    assert len(of_pin) == sum(len(p["pins"]) for p in data["potentials"]), "a pin stands in one potential"
    for c in data["conductors"]:
        if c["to"] is None:
            assert c["number"] is None
            assert c["from"] not in of_pin
        elif c["kind"] != "link":
            assert of_pin[c["from"]] == of_pin[c["to"]]
    (link,) = [c for c in data["conductors"] if c["kind"] == "link"]
    assert of_pin[link["from"]] != of_pin[link["to"]]


def test_strips_cables_and_conductors_name_one_another(data: dict[str, Any]) -> None:
    conductors = {c["id"]: c for c in data["conductors"]}
    assert len(conductors) == len(data["conductors"])
    for t in data["strips"]:
        pin = f"{t['name']}:{t['terminal']}"
        for side in ("inside", "outside"):
            for name in t[side]:
                c = conductors[name]
                assert (pin, side) in ((c["from"], c["from_side"]), (c["to"], c["to_side"]))
    for cable in data["cables"]:
        cores = [c for c in data["conductors"] if c["cable"] == cable["name"] and c["kind"] == "core"]
        used = [c for c in cores if c["to"] is not None]
        assert (len(cores), len(used), len(cores) - len(used)) == (cable["cores"], cable["used"], cable["spare"])


def test_findings_stand_in_the_order_of_the_file(data: dict[str, Any], brine: Design) -> None:
    places = [(f["line"], f["column"]) for f in data["findings"]]
    assert places == sorted(places)
    (accepted,) = [f for f in data["findings"] if f["code"] == "a-code"]
    assert accepted["accepted"] == "agreed on site"
    assert accepted["line"] == brine.scheme.locate(("devices", "-TA1")).line
    assert BRINE.read_text().splitlines()[accepted["line"] - 1].lstrip().startswith("-TA1:")


def test_a_conflict_names_its_functions_and_their_lines(brine: Design) -> None:
    ends = tuple(f.ends[0] for f in brine.functions[:2])
    premises = tuple(Premise("need", e.id, e.where, f"{e.function} at -TA1 needs it") for e in ends)
    conflict = Conflict(tuple(e.id for e in ends), (), "two functions, one terminal", premises)
    allocation = replace(brine.allocation, status="infeasible", conflicts=(conflict,))
    (found,) = design_json(replace(brine, allocation=allocation), [])["conflicts"]
    assert found["says"] == "two functions, one terminal"
    assert [m["what"] for m in found["members"]] == [f"{e.function} at -TA1 needs it" for e in ends]
    assert [m["function"] for m in found["competing"]] == [e.function for e in ends]
    assert [m["line"] for m in found["members"]] == [brine.scheme.locate(e.where).line for e in ends]


def test_sheets_are_those_that_were_drawn(data: dict[str, Any]) -> None:
    assert data["sheets"] == [{"file": "sheet-01.svg", "title": "-TA1 Compact drive", "number": "1"}]


def test_bytes_are_utf8_indented_and_end_with_a_line() -> None:
    assert json_bytes({"a": ["Ω", "\ud800"]}) == b'{\n  "a": [\n    "\xce\xa9",\n    "\\ud800"\n  ]\n}\n'
    assert json.loads(json_bytes(["\ud800"])) == ["\ud800"]


def test_no_path_of_the_machine_stands_in_it(brine: Design) -> None:
    assert str(BRINE.parent) not in json_bytes(design_json(brine, SHEETS)).decode()

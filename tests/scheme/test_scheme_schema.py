"""The JSON Schema for editors, held against a general validator (JSON Schema, draft 2020-12)."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from wiregen.scheme import Scheme, schema
from wiregen.scheme.model import Control, SchemeModel
from wiregen.scheme.tree import plain, tree_of

CASES = Path(__file__).parent / "cases"


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    made = schema()
    jsonschema.Draft202012Validator.check_schema(made)
    return jsonschema.Draft202012Validator(made)


def _data(text: str) -> Any:
    return plain(tree_of(text, "f"))


def test_the_brine_pump_is_right(validator: jsonschema.Draft202012Validator, brine_pump: str) -> None:
    assert list(validator.iter_errors(_data(brine_pump))) == []


def test_short_and_long_forms_are_right(validator: jsonschema.Draft202012Validator) -> None:
    assert list(validator.iter_errors(_data((CASES / "right.yaml").read_text(encoding="utf-8")))) == []


def test_numbers_and_truth_values_may_stand_where_text_may(validator: jsonschema.Draft202012Validator) -> None:
    """An editor reads `revision: 1` as a number; this project reads it as text."""
    text = "scheme: 7\nrevision: 1\nplaces: {+C1: {name: true}}\ndevices: {}\n"
    as_an_editor = _data(text) | {"scheme": 7, "revision": 1, "places": {"+C1": {"name": True}}}
    assert list(validator.iter_errors(as_an_editor)) == []


@pytest.mark.parametrize(
    ("right", "wrong", "path"),
    [
        ("practice:", "practise:", "$"),
        ("contact: NO", "contct: NO", "$.devices['-SJ1']"),
        ("contact: NO", "contact: no", "$.devices['-SJ1'].contact"),
        ("restart: needs", "restrat: needs", "$.control['-TA1']"),
        ("method: three-wire", "method: threewire", "$.control['-TA1'].run"),
        ("on_low: trip", "on_low: tripp", "$.control['-TA1'].speed.auto.on_low"),
        ("inputs: source\n", "inputs: sauce\n", "$.control['-TA1'].inputs"),
        ("-SJ1: {profile", "SJ/1: {profile", "$.devices"),
        ("at: +C1}\n\ncontrol", "ad: +C1}\n\ncontrol", "$.devices['-KE5']"),
        ("classes: {control:", "classes: {kontrol:", "$.cabling.classes"),
        ("{sinking", "{sinking", ""),
    ][:-1],
)
def test_what_is_wrong_fails_at_its_place(
    validator: jsonschema.Draft202012Validator, brine_pump: str, right: str, wrong: str, path: str
) -> None:
    assert right in brine_pump
    errors = list(validator.iter_errors(_data(brine_pump.replace(right, wrong, 1))))
    assert path in {e.json_path for e in errors}


def test_a_variant_is_a_free_patch(validator: jsonschema.Draft202012Validator, brine_pump: str) -> None:
    data = _data(brine_pump)
    data["variants"]["other"] = {"devices": {"-PF1": None}, "control": {"-TA1": {"inputs": {"group 1": "sink"}}}}
    assert list(validator.iter_errors(data)) == []
    data["variants"]["other"] = "sink"
    assert [e.json_path for e in validator.iter_errors(data)] == ["$.variants.other"]


def test_keys_stand_in_the_schema_as_they_are_written() -> None:
    made = schema()
    assert set(made["properties"]) == {*SchemeModel.key_fields(), "include", "variants"}
    control = made["$defs"]["Control"]["properties"]
    assert set(control) == set(Control.key_fields())
    assert {"with", "raise"} <= set(control)
    assert not {"with_", "raise_", "from_"} & set(json.dumps(made).replace('"', " ").split())


def test_the_schema_is_plain_data_and_always_the_same() -> None:
    assert json.dumps(schema()) == json.dumps(schema())
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_schema_and_reader_agree_about_words(
    validator: jsonschema.Draft202012Validator, complaints: Callable[..., list[str]], read: Callable[..., Scheme]
) -> None:
    text = (CASES / "words.yaml").read_text(encoding="utf-8")
    assert len(list(validator.iter_errors(_data(text)))) > 0
    assert len(complaints(text)) > 0

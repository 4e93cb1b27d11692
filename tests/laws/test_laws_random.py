"""The laws hold for random schemes, whatever is declared in them, and for the same schemes wired the other way."""

from __future__ import annotations

from typing import Any

import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from laws import Wired, breaches, wired
from scheme_maker import scheme_texts

from wiregen import profiles
from wiregen.scheme import read_text

PROFILES = profiles.load()
OFTEN = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
SOMETIMES = settings(OFTEN, max_examples=25)


def design(scheme: str | dict[str, Any]) -> Wired:
    text = scheme if isinstance(scheme, str) else yaml.safe_dump(scheme, sort_keys=False)
    return wired(read_text(text, "random.yaml", profiles=PROFILES))


@OFTEN
@given(scheme_texts())
def test_laws_of_random_schemes(text: str) -> None:
    assert breaches(design(text)) == []


@SOMETIMES
@given(scheme_texts())
def test_laws_with_contacts_the_other_way_round(text: str) -> None:
    """Inputs wired for sink in place of source, and sensors with them."""
    turned = yaml.safe_load(text.replace("PNP", "~").replace("NPN", "PNP").replace("~", "NPN"))
    for control in turned["control"].values():
        if "inputs" in control:
            control["inputs"] = _turned(control["inputs"])
    assert breaches(design(turned)) == []


def _turned(inputs: Any) -> Any:
    if isinstance(inputs, dict):
        return {key: _turned(value) for key, value in inputs.items()}
    return {"source": "sink", "sink": "source"}.get(inputs, inputs)


@SOMETIMES
@given(scheme_texts(), st.randoms(use_true_random=False))
def test_order_without_meaning_changes_nothing(text: str, random: Any) -> None:
    """The order of sections, of the keys of a device, of a control section and of a table of codes means nothing."""
    scheme = yaml.safe_load(text)
    shuffled = {key: scheme[key] for key in _shuffled(list(scheme), random)}
    shuffled["devices"] = {name: _mixed(device, random) for name, device in scheme["devices"].items()}
    shuffled["control"] = {name: _mixed(section, random) for name, section in scheme["control"].items()}
    one, other = design(text), design(shuffled)
    assert one.allocation == other.allocation
    assert one.wiring == other.wiring


@SOMETIMES
@given(scheme_texts(), st.randoms(use_true_random=False))
def test_order_of_sections_changes_no_cost(text: str, random: Any) -> None:
    """The order of control sections decides between equals only: every level of the allocation is as good."""
    scheme = yaml.safe_load(text)
    scheme["control"] = {name: scheme["control"][name] for name in _shuffled(list(scheme["control"]), random)}
    one, other = design(text), design(scheme)
    assert breaches(other) == []
    values = [{level.name: level.value for level in d.allocation.levels if level.proven} for d in (one, other)]
    shared = values[0].keys() & values[1].keys() - {"tie-break"}
    assert {name: values[0][name] for name in shared} == {name: values[1][name] for name in shared}


def _mixed(table: Any, random: Any) -> Any:
    """A table with its keys in another order; inside it only where order has no meaning either."""
    if not isinstance(table, dict):
        return table
    mixed = {key: table[key] for key in _shuffled(list(table), random)}
    for key in ("run", "inputs", "select"):
        # The first of several runs has the usual terminals, so their order is no matter of writing.
        if isinstance(mixed.get(key), dict) and not (key == "run" and "near" in mixed[key]):
            mixed[key] = {k: mixed[key][k] for k in _shuffled(list(mixed[key]), random)}
    return mixed


def _shuffled(names: list[str], random: Any) -> list[str]:
    random.shuffle(names)
    return names

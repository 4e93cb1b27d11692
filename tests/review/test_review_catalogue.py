"""Every explanation's example brings its own code about, and put right it does not."""

from __future__ import annotations

import re

import pytest
import yaml
from review_schemes import designed, read

from wiregen.review import catalogue
from wiregen.review.catalogue import Entry
from wiregen.terms import Severity, UnusableInput

ENTRIES = catalogue.entries()
#: What other commands find is tried where these are tested.
DESIGNED = tuple(e for e in ENTRIES if not e.refused and e.told_by == "check")
REFUSED = tuple(e for e in ENTRIES if e.refused)
BASES = r"(IEC|EN|ISO|DIN|NFPA|NEMA|ISA|ASTM|IEEE|BS|NAMUR)[ -]|common practice, no source$"


def each(entries: tuple[Entry, ...] = ENTRIES) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("entry", entries, ids=lambda e: e.code)


@each(DESIGNED)
def test_example_brings_its_own_code_about(entry: Entry) -> None:
    design = designed(entry.example, entry.profile)
    own = [f for f in design.findings if f.code == entry.code]
    assert own, [f.message for f in design.findings]
    for finding in own:
        spot = design.scheme.locate(finding.where)
        assert finding.severity is entry.severity
        assert 1 < spot.line <= len(entry.example.splitlines())
        assert finding.where[: len(finding.where) - 1] in ((), *design.scheme.positions)
        assert finding.message
        assert finding.subject


@each(DESIGNED)
def test_example_brings_nothing_else_about(entry: Entry) -> None:
    """The example is about its code: beside notes nothing comes with it but what the entry names."""
    design = designed(entry.example, entry.profile)
    others = {f.code for f in design.findings if f.severity is not Severity.NOTE} - {entry.code}
    assert others == set(entry.along)


@each(REFUSED)
def test_refused_example_complains_of_its_code_alone(entry: Entry) -> None:
    with pytest.raises(UnusableInput) as refused:
        read(entry.example, entry.profile)
    (complaint,) = refused.value.complaints
    assert complaint.code == entry.code
    assert entry.severity is Severity.ERROR
    wrong, _ = entry.right[0]
    assert entry.example.splitlines()[complaint.spot.line - 1].count(wrong.strip("{}").split(": ")[-1]) == 1


@each()
def test_example_put_right_is_sound(entry: Entry) -> None:
    design = designed(entry.fixed_by, entry.profile)
    assert [f.message for f in design.findings if f.severity is not Severity.NOTE or f.code == entry.code] == []


@each(DESIGNED)
def test_example_names_what_stands_there(entry: Entry) -> None:
    """A message names things as the file writes them: the first device or place in it is declared in the example."""
    design = designed(entry.example, entry.profile)
    for finding in (f for f in design.findings if f.code == entry.code):
        named = re.findall(r"[-+][A-Z]{1,3}\d+", finding.message)
        assert named
        data = yaml.safe_load(entry.example)
        cables = data.get("cabling", {}).get("existing", {})
        strips = re.findall(r"strip: \"?(-X\d+)", entry.example)
        assert named[0] in {**data["devices"], **data["places"], **cables, **dict.fromkeys(strips)}


@each()
def test_entry_is_complete(entry: Entry) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", entry.code)
    assert re.match(BASES, entry.basis), entry.basis
    assert entry.title[0].isupper()
    assert not entry.title.endswith(".")
    for text in (entry.what, entry.why, entry.remedy):
        assert text.endswith(".")
        assert "  " not in text
        assert not re.search(r"https?:|www\.", text)


@each()
def test_entry_never_leaves_source_and_sink_alone(entry: Entry) -> None:
    """Standards use the words both ways round, so what the contacts switch stands beside them."""
    for text in (entry.title, entry.what, entry.why, entry.remedy):
        for word, switched in (("source", "+24 V"), ("sink", "0 V")):
            if re.search(rf"(wired for|need|inputs:) {word}\b", text):
                assert f"contacts switch {switched}" in text


def test_codes_are_unique_and_in_order() -> None:
    codes = [e.code for e in ENTRIES]
    assert codes == sorted(set(codes))
    assert all(catalogue.entry(e.code) is e for e in ENTRIES)
    assert catalogue.entry("no-such-code") is None

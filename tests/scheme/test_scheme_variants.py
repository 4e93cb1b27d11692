"""Variants as JSON merge patches, and the places of what they change."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from wiregen.scheme import Scheme
from wiregen.scheme.merge import patched
from wiregen.scheme.tree import Node, Table, plain, tree_of
from wiregen.terms import UnusableInput

# Source: IETF RFC 7396, appendix A, "Example Test Cases": original, patch, result. Numbers are text here.
APPENDIX_A = [
    ('{"a":"b"}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"b"}', '{"b":"c"}', '{"a":"b","b":"c"}'),
    ('{"a":"b"}', '{"a":null}', "{}"),
    ('{"a":"b","b":"c"}', '{"a":null}', '{"b":"c"}'),
    ('{"a":["b"]}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"c"}', '{"a":["b"]}', '{"a":["b"]}'),
    ('{"a":{"b":"c"}}', '{"a":{"b":"d","c":null}}', '{"a":{"b":"d"}}'),
    ('{"a":[{"b":"c"}]}', '{"a":[1]}', '{"a":[1]}'),
    ('["a","b"]', '["c","d"]', '["c","d"]'),
    ('{"a":"b"}', '["c"]', '["c"]'),
    ('{"a":"foo"}', "null", "null"),
    ('{"a":"foo"}', '"bar"', '"bar"'),
    ('{"e":null}', '{"a":1}', '{"e":null,"a":1}'),
    ("[1,2]", '{"a":"b","c":null}', '{"a":"b"}'),
    ("{}", '{"a":{"bb":{"ccc":null}}}', '{"a":{"bb":{}}}'),
]


def _node(json: str) -> Node:
    """A JSON text as a node; JSON is YAML, and only a table may stand at the top of a file."""
    return tree_of(f'{{"it": {json}}}', "f").entries["it"].value


@pytest.mark.parametrize(("original", "patch", "result"), APPENDIX_A)
def test_the_examples_of_rfc_7396(original: str, patch: str, result: str) -> None:
    assert plain(patched(_node(original), _node(patch))) == plain(_node(result))


def test_the_example_of_rfc_7396_clause_3() -> None:
    """Source: IETF RFC 7396, clause 3 (an article whose title, phone, author and tags change)."""
    original = """{"title": "Goodbye!", "author": {"givenName": "John", "familyName": "Doe"},
        "tags": ["example", "sample"], "content": "This will be unchanged"}"""
    patch = """{"title": "Hello!", "phoneNumber": "+01-123-456-7890", "author": {"familyName": null},
        "tags": ["example"]}"""
    result = """{"title": "Hello!", "author": {"givenName": "John"}, "tags": ["example"],
        "content": "This will be unchanged", "phoneNumber": "+01-123-456-7890"}"""
    assert plain(patched(_node(original), _node(patch))) == plain(_node(result))


def test_a_patch_leaves_what_it_patches_as_it_was() -> None:
    original = _node('{"a": {"b": "c"}}')
    patched(original, _node('{"a": {"b": "d", "e": "f"}}'))
    assert plain(original) == {"a": {"b": "c"}}


def test_the_table_of_codes_is_replaced_whole_and_nothing_else() -> None:
    base = tree_of("control: {-TA1: {select: {by: x, when: {0: a, 1: b}}, when: {0: a}}}", "f")
    patch = tree_of("control: {-TA1: {select: {when: {1: c, 2: null}}, when: {1: c}}}", "f")
    merged = patched(base, patch)
    assert plain(merged) == {
        "control": {"-TA1": {"select": {"by": "x", "when": {"1": "c"}}, "when": {"0": "a", "1": "c"}}}
    }


def test_quoted_null_is_text() -> None:
    merged = patched(tree_of("{a: x, b: y, c: z}", "f"), tree_of("""{a: "null", b: null, c: ~}""", "f"))
    assert isinstance(merged, Table)
    assert plain(merged) == {"a": "null"}


VARIANTS = """\
variants:
  sinking:
    control: {-TA1: {inputs: sink, select: {when: {HAND: auto, AUTO: hand}}}}
  bare:
    devices: {-PF1: null, -SJ4: {profile: push_button, at: +F1}}
    control:
      -TA1:
        relays: {fault: null}
        enable: -SJ4
"""


@pytest.fixture
def with_variants(brine_pump: str) -> str:
    return brine_pump[: brine_pump.index("variants:")] + VARIANTS


def test_a_variant_changes_the_model_and_the_base_stays(read: Callable[..., Scheme], with_variants: str) -> None:
    base, sinking, bare = read(with_variants), read(with_variants, "sinking"), read(with_variants, "bare")
    assert base.variant is None
    assert sinking.variant == "sinking"
    assert [s.model.control["-TA1"].inputs.wired for s in (base, sinking, bare)] == ["source", "sink", "source"]  # type: ignore[union-attr]
    assert "-PF1" not in bare.model.devices
    assert list(bare.model.control["-TA1"].relays) == ["running"]
    assert bare.model.devices["-SJ4"].profile in bare.profiles
    assert base.model.control["-KE5"] == sinking.model.control["-KE5"]


def test_what_a_variant_says_is_found_in_the_variant(read: Callable[..., Scheme], with_variants: str) -> None:
    lines = with_variants.splitlines()

    def word(scheme: Scheme, *where: str) -> str:
        spot = scheme.locate(where)
        return lines[spot.line - 1][spot.column - 1 :]

    sinking, bare = read(with_variants, "sinking"), read(with_variants, "bare")
    own = lines.index("variants:") + 1
    assert sinking.locate(("control", "-TA1", "inputs")).line == own + 2
    assert word(sinking, "control", "-TA1", "inputs").startswith("sink,")
    assert word(sinking, "control", "-TA1", "select", "when").startswith("when: {HAND: auto")
    assert word(sinking, "control", "-TA1", "select", "by").startswith("by: [-SJ3]")
    assert word(sinking, "control", "-TA1") == "-TA1:"
    assert word(bare, "control", "-TA1", "enable") == "-SJ4"
    assert word(bare, "devices", "-SJ4").startswith("-SJ4: {profile")
    assert word(bare, "devices", "-SJ1").startswith("-SJ1: {profile")
    assert read(with_variants).locate(("control", "-TA1", "inputs")).line < own


def test_a_variant_that_was_not_asked_for_is_checked_too(
    complaints: Callable[..., list[str]], with_variants: str
) -> None:
    wrong = with_variants.replace("enable: -SJ4", "enabel: -SJ4").replace("inputs: sink", "inputs: sunk")
    expected = [
        "51:30 `inputs` is source or sink, not `sunk`; did you mean `sink`? (in variant `sinking`)",
        "57:9 unknown key `enabel`; did you mean `enable`? (in variant `bare`)",
    ]
    assert complaints(wrong) == complaints(wrong, "bare") == expected


def test_a_fault_of_the_base_is_told_once(complaints: Callable[..., list[str]], with_variants: str) -> None:
    wrong = with_variants.replace("restart: needs_start", "restart: never")
    assert complaints(wrong) == ["27:14 `restart` is allowed or needs_start, not `never`"]


@pytest.mark.parametrize(
    ("variant", "expected"),
    [
        ("sinkin", "49:1 unknown variant `sinkin`: the variants are sinking and bare; did you mean `sinking`?"),
        ("zzz", "49:1 unknown variant `zzz`: the variants are sinking and bare"),
        ("", "49:1 unknown variant ``: the variants are sinking and bare"),
    ],
)
def test_an_unknown_variant_names_the_known_ones(
    complaints: Callable[..., list[str]], with_variants: str, variant: str, expected: str
) -> None:
    assert complaints(with_variants, variant) == [expected]


def test_a_variant_of_a_file_without_any(complaints: Callable[..., list[str]], brine_pump: str) -> None:
    plain_text = brine_pump[: brine_pump.index("variants:")]
    assert complaints(plain_text, "sinking") == ["2:1 unknown variant `sinking`: the file has no variants"]


def test_a_file_full_of_variants_is_refused(read: Callable[..., Scheme], brine_pump: str) -> None:
    many = "".join(f"  v{n}: {{}}\n" for n in range(51))
    with pytest.raises(UnusableInput, match="a file holds at most 50 variants"):
        read(brine_pump[: brine_pump.index("variants:")] + "variants:\n" + many)

"""The schemes under examples/: one wrong on purpose that shows the findings, the others sound."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

import wiregen
from wiregen.cli import boundary, status
from wiregen.review import catalogue
from wiregen.terms import Severity

EXAMPLES = Path(__file__).parents[2] / "examples"
WRONG = EXAMPLES / "wrong_on_purpose.yaml"
SOUND = [
    (path, variant)
    for path in sorted(EXAMPLES.glob("*.yaml"))
    if path != WRONG
    for variant in (None, *yaml.safe_load(path.read_text(encoding="utf-8")).get("variants", {}))
]
#: What the comments of the wrong scheme announce, by the line's own text, and what stands in no comment.
ANNOUNCED = {
    "nothing stands here": "place-unused",
    "runs only while held": "runs-only-while-held",
    "a broken wire hides it": "stop-not-by-break",
    "nothing switches it": "device-unused",
    "an emergency stop on a plain input": "single-channel-safety",
    "the START button a second time": "contact-used-twice",
    "nothing selects it": "reference-orphaned",
    "slow is not declared": "reference-undeclared",
    "the lamp has two masters": "two-sources-joined",
    "a PNP sensor at inputs wired for sink": "polarity-mismatch",
    "two functions on one terminal": "terminal-assigned-twice",
}
UNSAID = {
    "code-zero-not-slowest",
    "codes-missing",
    "field-feed-unprotected",
    "operated-when-missing",
    "restart-not-declared",
    "safe-torque-off-open",
    "signal-inverse",
    "terminals-too-few",
    "zero-volt-not-declared",
}


def test_wrong_on_purpose_shows_its_findings() -> None:
    design = wiregen.design(wiregen.read(WRONG))
    assert {f.code for f in design.findings} == set(ANNOUNCED.values()) | UNSAID
    assert design.status == "not for construction"


def test_comments_of_the_wrong_scheme_tell_the_truth() -> None:
    """A comment that announces a mistake stands on the line of its finding, or on that of the device that makes it."""
    design = wiregen.design(wiregen.read(WRONG))
    lines = WRONG.read_text(encoding="utf-8").splitlines()
    for comment, code in ANNOUNCED.items():
        (number,) = (n for n, line in enumerate(lines, 1) if comment in line)
        device = re.search(r"-[A-Z]+\d+", lines[number - 1].partition("#")[0])
        told = [f for f in design.findings if f.code == code]
        assert any(
            design.scheme.locate(f.where).line == number or (device and device.group() in f.message) for f in told
        )


def test_wrong_on_purpose_is_told_on_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    """Status 1 (the scheme has errors), the findings on stdout with line and column, and no traceback."""
    assert boundary.run(["check", str(WRONG)]) == status.ERRORS
    out, err = capsys.readouterr()
    told = re.findall(r"wrong_on_purpose\.yaml:(\d+):(\d+): (?:error|warning) ([a-z-]+) ", out)
    assert len(told) >= 12
    assert [int(line) for line, _, _ in told] == sorted(int(line) for line, _, _ in told)
    assert "Traceback" not in out + err


@pytest.mark.parametrize("code", [e.code for e in catalogue.entries()])
def test_every_code_is_explained_on_the_command_line(code: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert boundary.run(["explain", code]) == 0
    out = capsys.readouterr().out
    entry = catalogue.entry(code)
    assert entry is not None
    assert out.startswith(f"{code} ({entry.severity}): {entry.title}")
    assert all(f"    {line}".rstrip() in out for line in entry.example.splitlines())


@pytest.mark.parametrize(("path", "variant"), SOUND, ids=lambda v: v.stem if isinstance(v, Path) else str(v))
def test_the_other_examples_have_no_errors(path: Path, variant: str | None) -> None:
    design = wiregen.design(wiregen.read(path, variant=variant))
    assert [f.message for f in design.findings if f.severity is Severity.ERROR] == []

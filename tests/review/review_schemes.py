"""Schemes from text, for the tests of findings."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from textwrap import dedent, indent

import yaml

from wiregen import pipeline, profiles, scheme
from wiregen.pipeline import Design
from wiregen.scheme import Scheme
from wiregen.terms import Finding

SAID = {"inputs": "source", "zero_volt": "floating", "restart": "needs_start"}


def read(text: str, profile: str = "") -> Scheme:
    """The scheme in ``text``, with the profile whose text is given beside the built-in ones."""
    if not profile:
        return scheme.read_text(text, "scheme.yaml", profiles=profiles.load())
    with TemporaryDirectory() as folder:
        name = yaml.safe_load(profile)["profile"]
        Path(folder, f"{name}.yaml").write_text(profile, encoding="utf-8")
        return scheme.read_text(text, "scheme.yaml", profiles=profiles.load(Path(folder)))


@cache
def designed(text: str, profile: str = "") -> Design:
    """The design of a scheme's text. It is immutable, so tests may share it."""
    return pipeline.design(read(text, profile))


def drive(
    devices: str, control: str, *, profile: str = "drive_compact", beside: str = "", rest: str = "", **said: str
) -> str:
    """A scheme with one drive that says all that it must.

    ``said`` overrides (an empty text leaves out), ``beside`` holds sections of other controllers, ``rest`` comes last.
    """
    lines = [f"{key}: {value}" for key, value in {**SAID, **said}.items() if value]
    return "\n".join(
        [
            "scheme: Test",
            "places:",
            "  +C1: {name: Cabinet}",
            "  +F1: {name: Field, route: 20 m}" if "at: +F1" in devices else "",
            "devices:",
            f"  -TA1: {{profile: {profile}, at: +C1}}",
            indent(dedent(devices).strip("\n"), "  "),
            "control:",
            "  -TA1:",
            indent("\n".join(lines), "    "),
            indent(dedent(control).strip("\n"), "    "),
            indent(dedent(beside).strip("\n"), "  "),
            dedent(rest).strip("\n"),
            "",
        ]
    )


def codes(design: Design, severity: str | None = None) -> list[str]:
    """The codes of the findings, in their order; of one severity if it is given."""
    return [f.code for f in design.findings if severity in (None, f.severity)]


def found(design: Design, code: str) -> list[Finding]:
    return [f for f in design.findings if f.code == code]


def only(design: Design, code: str) -> Finding:
    """The one finding of a code."""
    (finding,) = found(design, code)
    return finding

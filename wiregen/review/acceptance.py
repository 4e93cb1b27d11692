"""Findings that the scheme accepts: kept, printed with the reason, not counted. Errors cannot be accepted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wiregen.scheme import Scheme
from wiregen.scheme.model import Acceptance
from wiregen.terms import Finding, Notice, Severity


def accept(scheme: Scheme, findings: Sequence[Finding]) -> tuple[tuple[Finding, ...], tuple[Notice, ...]]:
    """The findings with the reasons of the accepted ones, and what is to be said of the acceptances."""
    accepted = tuple(_with_reason(scheme, finding) for finding in findings)
    return accepted, tuple(_remarks(scheme, findings))


def _with_reason(scheme: Scheme, finding: Finding) -> Finding:
    if finding.severity is Severity.ERROR:
        return finding
    reason = next((a.why for a in scheme.model.accepted if _means(a, finding)), None)
    return replace(finding, accepted=reason) if reason is not None else finding


def _remarks(scheme: Scheme, findings: Sequence[Finding]) -> Iterator[Notice]:
    for index, acceptance in enumerate(scheme.model.accepted):
        meant = [f for f in findings if _means(acceptance, f)]
        where = ("accepted", str(index))
        at = f" at {acceptance.at}" if acceptance.at else ""
        if not meant:
            text = f"`accepted` names {acceptance.code}{at}, and there is no such finding"
            yield Notice("acceptance-unused", where, acceptance.code, text)
        elif any(f.severity is Severity.ERROR for f in meant):
            text = f"`accepted` names {acceptance.code}{at}, which is an error: errors cannot be accepted"
            yield Notice("acceptance-of-error", where, acceptance.code, text)


def _means(acceptance: Acceptance, finding: Finding) -> bool:
    """The code, and with ``at`` a device, place or key that the finding's place or subject names."""
    if acceptance.code != finding.code:
        return False
    return acceptance.at is None or acceptance.at in finding.where or acceptance.at in finding.subject.split()

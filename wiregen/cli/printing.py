"""Findings and tables as text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from wiregen.terms import Finding, Severity

if TYPE_CHECKING:
    from wiregen.scheme import Scheme

_COLOURS = {Severity.ERROR: "red", Severity.WARNING: "yellow", Severity.NOTE: "cyan"}
_TURNING = (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))  # the direction of reading
_CONTROLS = {code: f"\\x{code:02x}" for code in (*range(32), *range(127, 160)) if code != 10}
_CONTROLS |= {code: f"\\u{code:04x}" for code in _TURNING}


def printable(text: str) -> str:
    """``text`` without characters that steer a terminal."""
    return text.translate(_CONTROLS)


def in_line(text: str) -> str:
    """``text`` as `printable` has it, on one line: a name of a file may hold line ends."""
    return printable(text).replace("\n", "\\x0a")


def print_findings(scheme: Scheme, findings: Sequence[Finding], err: bool = False) -> None:
    """One block a finding: where, how bad, which code, what; then why, what to do, on whose word."""
    for finding in findings:
        severity = click.style(str(finding.severity), fg=_COLOURS[finding.severity], bold=True)
        head = f"{in_line(str(scheme.locate(finding.where)))}: "
        click.echo(f"{head}{severity} {printable(f'{finding.code} {_one_line(finding.message)}')}", err=err)
        for label, text in (("why", finding.why), ("remedy", finding.remedy), ("basis", finding.basis)):
            if text:
                click.echo(f"    {label + ':':8}{printable(_one_line(text))}", err=err)
        if finding.accepted is not None:
            click.echo(f"    accepted: {printable(_one_line(finding.accepted))}", err=err)


def _one_line(text: str) -> str:
    return " ".join(text.split())


def summary(findings: Iterable[Finding]) -> str:
    """``1 error, 2 warnings, 1 accepted``.

    >>> summary([])
    'no findings'
    """
    counts = dict.fromkeys(("error", "warning", "note", "accepted"), 0)
    for finding in findings:
        counts["accepted" if finding.accepted is not None else str(finding.severity)] += 1
    parts = [f"{n} {name}{'s' if n > 1 and name != 'accepted' else ''}" for name, n in counts.items() if n]
    return ", ".join(parts) or "no findings"


def print_errors(scheme: Scheme, findings: Sequence[Finding]) -> None:
    """For commands whose result is another: the error findings in full and the count of all, on stderr."""
    print_findings(scheme, [f for f in findings if f.severity is Severity.ERROR and f.accepted is None], err=True)
    click.echo(summary(findings), err=True)


def aligned(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Columns of equal width, two blanks apart, under a ruled header; the last column runs free.

    >>> print(aligned(("terminal", "function"), [("DI1", "start")]))
    terminal  function
    --------  --------
    DI1       start
    """
    clean = [[printable(_one_line(cell)) for cell in row] for row in rows]
    widths = [max(len(row[i]) for row in (header, *clean)) for i in range(len(header))]
    ruled = [header, ["-" * len(h) for h in header], *clean]
    return "\n".join("  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip() for row in ruled)

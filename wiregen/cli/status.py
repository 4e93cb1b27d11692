"""Exit statuses, all of them."""

from __future__ import annotations

from collections.abc import Iterable

from wiregen.terms import Finding, Severity

OK = 0
ERRORS = 1  # the scheme has error findings; what was asked for has been done
UNUSABLE = 2  # the input, the command line or the place for the output cannot be used, or a fault in the program
INTERRUPTED = 130  # by the keyboard, as shells number it
PIPE_CLOSED = 141  # the reader of our output went away, as shells number it


def status_of(findings: Iterable[Finding]) -> int:
    """ERRORS where an error finding stands, else OK."""
    return ERRORS if any(f.severity is Severity.ERROR and f.accepted is None for f in findings) else OK

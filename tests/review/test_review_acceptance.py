"""`accepted`: a finding is kept and its reason printed, and it counts no more; errors cannot be accepted."""

from __future__ import annotations

from review_schemes import codes, designed, drive, only

from wiregen.cli import status

STOP = "-SJ2: {profile: push_button, contact: NC, at: +F1}"


def test_accepted_finding_is_kept_with_its_reason() -> None:
    rest = "accepted: [{code: restart-not-declared, at: -TA1, why: nobody can reach it}]"
    design = designed(drive(STOP, "enable: -SJ2", restart="", rest=rest))
    finding = only(design, "restart-not-declared")
    assert finding.accepted == "nobody can reach it"
    assert "acceptance-unused" not in codes(design)


def test_at_chooses_among_findings_of_one_code() -> None:
    rest = "accepted: [{code: restart-not-declared, at: -TA9, why: nobody can reach it}]"
    design = designed(drive(STOP, "enable: -SJ2", restart="", rest=rest))
    assert only(design, "restart-not-declared").accepted is None
    assert "-TA9" in only(design, "acceptance-unused").message


def test_an_error_stays_an_error() -> None:
    rest = "accepted: [{code: runs-only-while-held, why: habit}]"
    make = STOP.replace("NC", "NO")
    start = "-SJ1: {profile: push_button, contact: NO, at: +F1}\n"
    design = designed(drive(start + make, "run: {method: three-wire, start: -SJ1, stop: -SJ2}", rest=rest))
    assert only(design, "runs-only-while-held").accepted is None
    assert "acceptance-of-error" in codes(design, "error")
    assert status.status_of(design.findings) == status.ERRORS

"""wiregen faults: what the machine does with every single fault of its wiring."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.group import near
from wiregen.cli.printing import aligned, print_errors, printable
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of
from wiregen.terms import Severity

if TYPE_CHECKING:
    from wiregen.advice.remedied import Tried
    from wiregen.behaviour.campaign import Outcome
    from wiregen.documents import Table
    from wiregen.pipeline import Design

_TOLD = 20  # after so many faults the progress is told anew


@click.command("faults")
@options.scheme
@options.variant
@options.profiles
@options.table_format
@click.option("--drive", "drives", multiple=True, metavar="NAME", help="Only what this drive does; several times.")
@click.option("--all", "everything", is_flag=True, help="Print the notes too, not only their number.")
@click.option(
    "--try", "tries", is_flag=True, help="Try each remedy that the scheme can say, and tell whether it helps."
)
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    output_format: str | None,
    drives: tuple[str, ...],
    everything: bool,
    tries: bool,
) -> int:
    """Say what every single fault of the wiring does.

    Conductors, cores, cables and plugs that open, cores that touch, earth faults, contacts that weld or do not close,
    signals and supplies that fail: what the motor does, whether it can still be stopped, who notices. The exit status
    is that of the scheme, not of its faults. No safety assessment, and no substitute for one.
    """
    with complaints_for(output_format or "text"):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress)
            outcomes = list(_worked_out(design, progress, drives))
            trials = _tried(scheme, variant, profiles_dir, design, outcomes, progress) if tries else ()
        if output_format == "json":
            from wiregen.documents import faults_json, scheme_json

            found = faults_json(design, outcomes)
            if tries:
                found["tried"] = [_trial_json(t) for t in trials]
            echo_json({"scheme": scheme_json(design), **found})
        elif output_format == "csv":
            from wiregen.documents import as_csv, fault_table

            click.echo(as_csv(fault_table(design, outcomes)).decode("utf-8"), nl=False)
        else:
            for line in _text(design, outcomes, everything, trials):
                click.echo(line)
    from wiregen.documents import in_order

    print_errors(design.scheme, in_order(design.scheme, design.findings))
    return status_of(design.findings)


def fault_list(design: Design, progress: Progress) -> Table:
    """The table of all single faults of a design."""
    from wiregen.documents import fault_table

    return fault_table(design, list(_worked_out(design, progress, ())))


def _worked_out(design: Design, progress: Progress, drives: Sequence[str]) -> Iterator[Outcome]:
    from wiregen.behaviour.campaign import Campaign

    known = [d.name for d in design.declared.devices if d.kind == "drive"]
    for name in drives:
        if name not in known:
            raise click.BadParameter(f"there is no drive {name!r}{near(name, known)}", param_hint="--drive")
    progress.step("Finding the states to try faults in")
    campaign = Campaign.of(design, drives)
    for number, fault in enumerate(campaign.faults):
        if number % _TOLD == 0:
            progress.step(f"Trying fault {number + 1} of {len(campaign.faults)}")
        yield from campaign.run([fault])


def _tried(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    design: Design,
    outcomes: Sequence[Outcome],
    progress: Progress,
) -> tuple[Tried, ...]:
    from wiregen.advice.comparison import Source
    from wiregen.advice.remedied import tried

    progress.step("Trying remedies")
    return tried(Source("remedy", scheme, variant, None, profiles_dir), design, outcomes)


def _trial_json(trial: Tried) -> dict[str, object]:
    return {
        "remedy": trial.remedy.says,
        "patch": trial.remedy.patch,
        "faults": list(trial.faults),
        "before": trial.before,
        "after": trial.after,
        "helps": trial.helps,
        "why": trial.why or None,
    }


def _rows(outcomes: Sequence[Outcome]) -> Iterator[tuple[str, ...]]:
    """One row a class and fault: in how many states it does so, and the first of them."""
    from wiregen.documents.faults import said

    grouped: dict[tuple[str, str], list[Outcome]] = {}
    for outcome in outcomes:
        grouped.setdefault((outcome.fault_class, said(outcome)), []).append(outcome)
    for (worst, fault), own in grouped.items():
        first = next((o for o in own if o.state.startswith("running")), own[0])
        where = f"{first.drive} {first.state}"
        yield worst, str(len(own)), where, first.motion, first.stop, first.noticed, fault


def _text(design: Design, outcomes: Sequence[Outcome], everything: bool, trials: Sequence[Tried]) -> Iterator[str]:
    from wiregen.behaviour.assumptions import ASSUMPTIONS
    from wiregen.behaviour.campaign import summary
    from wiregen.behaviour.remedies import remedies
    from wiregen.documents.faults import ranked
    from wiregen.review.catalogue.faults import CODES

    found = ranked(design, outcomes)
    for severity in Severity:
        own = [o for s, o in found if s is severity]
        if not own or (severity is Severity.NOTE and not everything):
            continue
        yield f"{severity}s"
        yield aligned(("class", "states", "worst in", "motor", "stop", "noticed", "fault"), list(_rows(own)))
        yield ""
    helps = dict.fromkeys(r.says for s, o in found if s is not Severity.NOTE for r in remedies(o, design))
    if helps:
        yield "What helps"
        yield from (f"  {printable(text)}" for text in helps)
        yield ""
    codes = dict.fromkeys(CODES[o.fault_class] for s, o in found if o.fault_class in CODES and s is not Severity.NOTE)
    if codes:
        yield f"`wiregen explain CODE` says more of {', '.join(codes)}"
        yield ""
    for trial in trials:
        after = trial.after or f"not tried: {printable(trial.why)}"
        yield f"Tried: {printable(trial.remedy.says)}"
        yield f"  {len(trial.faults)} faults, {trial.before} before, {after} with it" + (
            "" if trial.helps else "; it does not help against all of them"
        )
        yield ""
    counted = summary(outcomes)
    yield f"{len({o.fault.name + o.fault.assumed for o in outcomes})} faults, {len(outcomes)} with their states"
    yield aligned(("class", "outcomes"), [(name, str(number)) for name, number in counted.items()])
    yield ""
    yield from (f"- {text}" for text in ASSUMPTIONS)

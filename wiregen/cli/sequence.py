"""wiregen sequence: what the machine does step by step, as declared, or as it should be taken over."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.printing import aligned, print_errors, printable
from wiregen.cli.progress import Progress
from wiregen.cli.status import ERRORS, status_of

if TYPE_CHECKING:
    from wiregen.behaviour import Plant
    from wiregen.behaviour.sequence import Frame
    from wiregen.pipeline import Design


@click.command("sequence")
@options.scheme
@options.variant
@options.profiles
@options.output_format
@click.option("--acceptance", is_flag=True, help="Take the standard sequence, though the scheme has steps of its own.")
@click.option("--write", "writes", is_flag=True, help="Print the steps as they stand in a scheme, and do nothing else.")
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Draw a timing chart into this SVG file; further sheets are numbered.",
)
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    output_format: str,
    acceptance: bool,
    writes: bool,
    output: Path | None,
) -> int:
    """Do what the steps of a scheme say, and tell what the machine does.

    Without steps in the scheme the standard sequence of taking over is done: every run started and stopped, every trip
    brought about, the supply gone and back, with what the declaration says must follow. Nothing here moves a machine.
    """
    with complaints_for(output_format):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress)
            progress.step("Doing the steps")
            plant, frames, data = _done(design, acceptance)
        if writes:
            click.echo(_yaml({"steps": data}), nl=False)
            return status_of(design.findings)
        if output is not None:
            _draw(plant, frames, output)
        if output_format == "json":
            from wiregen.documents import scheme_json

            echo_json({"scheme": scheme_json(design), "steps": [_json(plant, f) for f in frames]})
        else:
            _print(plant, frames)
    from wiregen.documents import in_order

    print_errors(design.scheme, in_order(design.scheme, design.findings))
    wrong = any(f.deviations or f.unfit for f in frames)
    return ERRORS if wrong else status_of(design.findings)


def _done(design: Design, acceptance: bool) -> tuple[Plant, tuple[Frame, ...], list[dict[str, Any]]]:
    from wiregen.behaviour import Plant
    from wiregen.behaviour.acceptance import acceptance_data
    from wiregen.behaviour.sequence import run
    from wiregen.scheme.steps import Step

    plant = Plant.of_design(design)
    own = design.scheme.model.steps
    if own and not acceptance:
        data = [s.model_dump(by_alias=True, exclude_defaults=True, mode="json") for s in own]
        return plant, run(plant, own), data
    data = acceptance_data(plant, design)
    return plant, run(plant, [Step.model_validate(d) for d in data]), data


def _yaml(data: object) -> str:
    import yaml

    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=110)


def _draw(plant: Plant, frames: Sequence[Frame], output: Path) -> None:
    from wiregen.behaviour.traces import traces
    from wiregen.drawing.box import Box
    from wiregen.drawing.timing_chart import as_svg, charts

    found = charts(frames, traces(plant, frames), Box(0.0, 0.0, 400.0, 270.0))
    try:
        for number, chart in enumerate(found, 1):
            path = output if number == 1 else output.with_stem(f"{output.stem}-{number}")
            path.write_bytes(as_svg(chart))
    except OSError as error:
        raise click.FileError(str(output), hint=error.strerror or "cannot be written") from error


def _json(plant: Plant, frame: Frame) -> dict[str, Any]:
    from wiregen.behaviour.expectations import told

    return {
        "number": frame.number,
        "does": frame.says,
        "drives": {name: told(plant, frame.standing, name) for name in plant.drives},
        "working": sorted(frame.standing.lit | frame.standing.picked),
        "read": sorted(f"{function} at {card}" for card, function in plant.card_reads(frame.standing)),
        "deviations": [{"of": d.subject, "expected": d.expected, "found": d.found} for d in frame.deviations],
        "unfit": frame.unfit or None,
    }


def _print(plant: Plant, frames: Sequence[Frame]) -> None:
    from wiregen.behaviour.expectations import told

    rows = []
    for frame in frames:
        working = ", ".join(sorted(frame.standing.lit | frame.standing.picked)) or "-"
        wrong = frame.unfit or "; ".join(f"{d.subject} should be {d.expected}" for d in frame.deviations)
        motion = "; ".join(
            told(plant, frame.standing, n) if len(plant.drives) == 1 else f"{n} {told(plant, frame.standing, n)}"
            for n in plant.drives
        )
        rows.append((str(frame.number), frame.says, motion or "-", working, wrong))
    if not rows:
        click.echo("Nothing to do: no drive runs by anything that is declared.")
        return
    click.echo(aligned(("step", "what is done", "motor", "working", "not as expected"), rows))
    wrong_steps = [f.number for f in frames if f.deviations or f.unfit]
    says = f"{len(frames)} steps, " + (
        f"{len(wrong_steps)} not as expected: {', '.join(map(str, wrong_steps[:20]))}"
        if wrong_steps
        else "all as expected"
    )
    click.echo(f"\n{printable(says)}")

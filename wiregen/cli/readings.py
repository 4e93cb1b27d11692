"""wiregen readings: what an instrument shows at the terminals, state by state."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, designed, echo_json
from wiregen.cli.group import near
from wiregen.cli.printing import aligned, print_errors, printable
from wiregen.cli.progress import Progress
from wiregen.cli.status import status_of

if TYPE_CHECKING:
    from wiregen.circuit.readings import Reading
    from wiregen.pipeline import Design

_NOTHING = "Nothing to measure: nothing is wired, or relays find no rest (`wiregen check` says which)."
_CAUTION = (
    "Live measuring is for qualified people. Against the supply as it was measured; instrument and parts included."
)


@click.command("readings")
@options.scheme
@options.variant
@options.profiles
@click.option("--state", "states", multiple=True, metavar="STATE", help="Only this state; may be given several times.")
@options.output_format
def command(
    scheme: Path, variant: str | None, profiles_dir: Path | None, states: tuple[str, ...], output_format: str
) -> int:
    """Show the voltages and currents to expect.

    One table a state: everything at rest, then what differs after each single change. Least and most allow for
    tolerances of parts, hot and cold conductors, and the instrument.
    """
    with complaints_for(output_format):
        with Progress() as progress:
            design = designed(scheme, variant, profiles_dir, progress)
            progress.step("Solving the circuit")
            found = _chosen(design, states)
        if output_format == "json":
            from wiregen.documents import readings_json, scheme_json

            echo_json({"scheme": scheme_json(design), "readings": readings_json(found)})
        else:
            click.echo(_text(found))
    from wiregen.documents import in_order

    print_errors(design.scheme, in_order(design.scheme, design.findings))
    return status_of(design.findings)


def _chosen(design: Design, states: tuple[str, ...]) -> tuple[Reading, ...]:
    readings = design.readings
    known = list(dict.fromkeys(r.state for r in readings))
    for state in states:
        if state not in known:
            raise click.BadParameter(f"there is no state {state!r}{near(state, known)}; without --state all are shown")
    return tuple(r for r in readings if not states or r.state in states)


def _text(readings: tuple[Reading, ...]) -> str:
    lines: list[str] = []
    for state in dict.fromkeys(r.state for r in readings):
        rows = [_row(r) for r in readings if r.state == state]
        lines += [printable(state), aligned(("from", "to", "expect", "least", "most", "function"), rows), ""]
    return "\n".join([*lines, _CAUTION] if lines else [_NOTHING, "", _CAUTION])


def _row(reading: Reading) -> tuple[str, ...]:
    figures = (f"{v:.2f} {reading.unit}" for v in (reading.value, reading.low, reading.high))
    return str(reading.pin), str(reading.to), *figures, reading.function

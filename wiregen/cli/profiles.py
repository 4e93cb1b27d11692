"""wiregen profiles: the terminal profiles that a scheme may name."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options
from wiregen.cli.designing import complaints_for, echo_json
from wiregen.cli.group import near
from wiregen.cli.printing import aligned, printable

if TYPE_CHECKING:
    from wiregen.profiles.model import Figure, Profile, Terminal


@click.command("profiles")
@click.argument("name", required=False)
@options.profiles
@options.output_format
@click.option("--sheet", type=click.Path(path_type=Path, dir_okay=False), help="Write a sheet of all symbols (SVG).")
def command(name: str | None, profiles_dir: Path | None, output_format: str, sheet: Path | None) -> None:
    """List the terminal profiles, or show one.

    With NAME, its terminals in physical order with their role, their electrical figures and where these come from.
    """
    from wiregen.profiles import load

    with complaints_for(output_format):
        found = load(profiles_dir)
        if sheet is not None:
            _write_sheet(sheet, name, list(found.values()))
            return
        if name is None:
            _list(list(found.values()), output_format)
            return
        if name not in found:
            raise click.UsageError(f"there is no profile {name!r}{near(name, found)}; `wiregen profiles` lists them")
        if output_format == "json":
            echo_json(found[name].model_dump(mode="json"))
        else:
            click.echo(_text(found[name]))


def _write_sheet(file: Path, name: str | None, found: list[Profile]) -> None:
    """The symbols of all profiles in both practices."""
    if name is not None:
        raise click.UsageError("--sheet shows all symbols; leave out the name of the profile")
    if file.suffix != ".svg":
        raise click.UsageError(f"{file} must end in .svg")
    from wiregen.drawing.symbol_sheet import symbol_sheet

    try:
        file.write_bytes(symbol_sheet(found))
    except OSError as error:
        raise click.UsageError(f"{file} cannot be written: {error.strerror or error}") from None
    click.echo(printable(f"{file} is written"))


def _list(found: list[Profile], output_format: str) -> None:
    kinds = [(p.profile, p.controller or p.device or "", p.title) for p in found]
    if output_format == "json":
        echo_json([{"profile": name, "kind": kind, "title": title} for name, kind, title in kinds])
    else:
        click.echo(aligned(("profile", "kind", "title"), kinds))


def _text(profile: Profile) -> str:
    lines = [printable(f"{profile.profile}: {profile.title} ({profile.controller or profile.device})"), ""]
    if profile.terminals:
        header = ("terminal", "pins", "role", "group", "takes or gives", "figures", "conductors", "basis")
        lines += [aligned(header, [_row(t) for t in profile.terminals]), ""]
    if profile.power:
        lines += [f"power terminals: {' '.join(t.label for t in profile.power)}", ""]
    for number, marks in enumerate(profile.marks, start=1):
        forms = (("NO", marks.NO), ("NC", marks.NC), ("changeover", marks.changeover))
        lines.append(f"contact {number}: " + ", ".join(f"{form} {' '.join(pins)}" for form, pins in forms if pins))
    if profile.marks:
        lines += [f"conductors a clamp of a contact: {profile.conductors}", ""]
    for joined in profile.joined_inside:
        lines.append(f"joined inside: {' '.join(joined)}")
    if profile.start_by == "edge":
        closed = profile.start_with_stop_closed
        lines.append("a start is taken by edge" + (f", with stop closed for {_figure(closed)}" if closed else ""))
    lines += [f"{name.replace('_', ' ')}: {_figure(figure)}" for name, figure in profile.figures.items()]
    if profile.usual:
        lines += ["", aligned(("function", "usual terminal"), list(profile.usual.items()))]
    return "\n".join(lines).rstrip()


def _figure(figure: Figure) -> str:
    return printable(f"{figure.value} ({figure.basis})")


def _row(terminal: Terminal) -> tuple[str, ...]:
    figures = _figures(terminal)
    says = [", ".join((*terminal.accepts, *terminal.gives)), " or ".join(terminal.polarities)]
    says += [terminal.form or "", ", ".join(terminal.abilities)]
    return (
        terminal.label,
        " ".join(terminal.pins) if terminal.pins != (terminal.label,) else "",
        terminal.role.replace("_", " "),
        terminal.group,
        "; ".join(s for s in says if s),
        ", ".join(text for text, _ in figures),
        str(terminal.conductors),
        "; ".join(dict.fromkeys(basis for _, basis in figures if basis)),
    )


def _figures(terminal: Terminal) -> list[tuple[str, str]]:
    """The electrical figures of a terminal as (text, basis)."""
    figures = [(terminal.volts, "")] if terminal.volts else []
    if terminal.input_type:
        figures.append((f"type {terminal.input_type}", "IEC 61131-2"))
    resistance = terminal.resistance
    if isinstance(resistance, dict):
        figures += [(f"{f.value} at {signal}", f.basis) for signal, f in resistance.items()]
    elif resistance is not None:
        figures.append((resistance.value, resistance.basis))
    figures += [(f"drives {f.value} at {signal}", f.basis) for signal, f in terminal.burden.items()]
    if terminal.limit:
        figures.append((f"at most {terminal.limit.value}", terminal.limit.basis))
    if terminal.draws:
        figures.append((f"draws {terminal.draws.value}", terminal.draws.basis))
    basis = terminal.rating.get("basis", "")
    figures += [(f"{category} {value}", basis) for category, value in terminal.rating.items() if category != "basis"]
    return figures

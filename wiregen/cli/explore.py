"""wiregen explore: alternatives that the scheme does not name itself, and those of them that no other beats."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

import click

from wiregen.cli import options, status
from wiregen.cli.compare import write
from wiregen.cli.designing import complaints_for, echo_json
from wiregen.cli.group import near
from wiregen.cli.printing import aligned, printable
from wiregen.cli.progress import Progress

if TYPE_CHECKING:
    from wiregen.advice.comparison import Alternative, Source

_MOST = 200


@click.command("explore")
@options.scheme
@options.variant
@options.profiles
@options.keep
@click.option("--at", "only", metavar="DEVICE", multiple=True, help="Change only this device, or these.")
@click.option("--by", metavar="MEASURE", multiple=True, help="Judge by this measure, or these; without it by all.")
@click.option(
    "--most", metavar="N", type=click.IntRange(1, 10_000), default=_MOST, show_default=True, help="Try so many at most."
)
@options.output(required=False)
@options.table_format
def command(
    scheme: Path,
    variant: str | None,
    profiles_dir: Path | None,
    keep: Path | None,
    only: tuple[str, ...],
    by: tuple[str, ...],
    most: int,
    output: Path | None,
    output_format: str | None,
) -> int:
    """Find and try alternatives of a scheme.

    Two wires or three for a run, inputs wired the other way, a reference as voltage or as current, a selection by a
    contact or by a card, other profiles of the library, and combinations of these, those that change least first. All
    are worked out; shown are those that can be built and that no other beats in every measure, equal ones together.
    With --keep the conductors to move, take off or lay from that pack count too. With -o the table goes to a folder.
    """
    if output is not None and output_format is not None:
        raise click.UsageError("-o writes all formats; leave out --format, or leave out -o")
    _check_measures(by)
    with complaints_for(output_format or "text"), Progress() as progress:
        sources, total = _sources(scheme, variant, profiles_dir, only, most)
        found = _tried(sources, keep, progress)
        from wiregen.advice.comparison import unbeaten

        best = tuple(found[i] for i in unbeaten(found, by))
        says = (*_said(found, total, best), _judged(by), _REVIEW)
        if output is not None and best:
            progress.step("Drawing and writing")
            write(best, sources[0], output, says)
    if output is None:
        _show(found, best, output_format or "text", says)
    for line in says:
        click.echo(printable(line), err=True)
    return status.OK if best else status.ERRORS


def _check_measures(by: tuple[str, ...]) -> None:
    from wiregen.advice.measures import DIRECTIONS

    known = [key for key, _ in DIRECTIONS if key != "dangerous_opens"]  # not tried here: it takes too long
    for key in by:
        if key not in known:
            raise click.UsageError(f"there is no measure {key!r}{near(key, known)}; measures are {', '.join(known)}")


def _sources(
    scheme: Path, variant: str | None, profiles_dir: Path | None, only: tuple[str, ...], most: int
) -> tuple[list[Source], int]:
    import wiregen
    from wiregen import profiles
    from wiregen.advice.alternatives import choices, combined, count_of
    from wiregen.advice.comparison import Source

    read = wiregen.read(scheme, variant=variant, profiles_dir=profiles_dir)
    for name in only:
        if name not in read.model.devices:
            raise click.UsageError(f"the scheme has no device {name!r}{near(name, read.model.devices)}")
    found = choices(read, profiles.load(profiles_dir), only)
    options_ = islice(combined(found), most)
    return [Source(o.name, scheme, variant, o.patch, profiles_dir) for o in options_], count_of(found)


def _tried(sources: list[Source], keep: Path | None, progress: Progress) -> tuple[Alternative, ...]:
    from wiregen.advice.exploring import explored
    from wiregen.scheme import read_as_built

    built = read_as_built(keep) if keep is not None else None
    progress.step(f"Trying {len(sources)} alternatives")
    return explored(sources, built, lambda done: progress.step(f"Tried {done} of {len(sources)} alternatives"))


def _said(found: tuple[Alternative, ...], total: int, best: tuple[Alternative, ...]) -> tuple[str, ...]:
    """How many were tried and what became of them."""
    unread = sum(a.measures is None for a in found)
    wrong = sum(a.measures is not None and not a.counts for a in found)
    beaten = len(found) - unread - wrong - len(best)
    tried = f"{len(found)} of {total} combinations tried, those that change least"
    head = tried if len(found) < total else f"all {total} combinations tried"
    return (f"{head}: {len(best)} unbeaten, {beaten} beaten, {wrong} with errors, {unread} impossible",)


def _judged(by: tuple[str, ...]) -> str:
    from wiregen.advice.measures import DIRECTIONS

    used = [(key, way) for key, way in DIRECTIONS if (key in by if by else key != "dangerous_opens")]
    ways = {way: [_WORDS.get(key, key) for key, own in used if own == way] for way in ("less", "more")}
    return "; ".join(f"{way} is better of: {', '.join(keys)}" for way, keys in ways.items() if keys)


_WORDS = {
    "spare": "spare terminals",
    "core_m": "metres of core",
    "load_ma": "24 V load",
    "reference_error": "worst error of a speed reference",
    "stops_unseen": "stops that a broken wire disables",
    "moved": "conductors to move, take off or lay",
}
_REVIEW = "An alternative may change how the machine starts, stops and answers a lost signal: each is for review."


def _show(
    found: tuple[Alternative, ...], best: tuple[Alternative, ...], output_format: str, says: tuple[str, ...]
) -> None:
    from wiregen.documents import as_csv
    from wiregen.documents.comparison import comparison_json, comparison_table

    if output_format == "json":
        unbeaten = {id(a) for a in best}
        entries = [
            {**entry, "unbeaten": id(a) in unbeaten} for a, entry in zip(found, comparison_json(found), strict=True)
        ]
        echo_json({"says": list(says), "alternatives": entries})
    elif output_format == "csv":
        click.echo(as_csv(comparison_table(best)).decode("utf-8"), nl=False)
    else:
        click.echo(_text(best))


_SHOWN = ("warnings", "notes", "spare", "devices", "settings", "conductors", "cables", "core_m", "load_ma")
_HEADS = ("warnings", "notes", "spare", "devices", "settings", "conductors", "cables", "cores m", "load mA")


def _text(best: tuple[Alternative, ...]) -> str:
    """One row an alternative; of those that are equal in every measure only the first row has the figures."""
    shown = [*zip(_SHOWN, _HEADS, strict=True), ("stops_unseen", "unseen stops"), ("moved", "to move")]
    shown.insert(_SHOWN.index("load_ma") + 1, ("reference_error", "error %"))
    alike: dict[tuple[str, ...], list[str]] = {}
    for a in best:
        alike.setdefault(tuple(_figure(a, key) for key, _ in shown), []).append(a.name)
    rows = [
        [*(figures if first else ("",) * len(figures)), name]
        for figures, names in alike.items()
        for first, name in zip((True, *(False,) * len(names)), names, strict=False)
    ]
    return aligned([*(head for _, head in shown), "alternative"], rows)


def _figure(a: Alternative, key: str) -> str:
    value = a.measures.figure(key) if a.measures else None
    if value is not None and key == "reference_error":
        value = round(value * 100.0, 2)
    return "" if value is None else f"{value:g}"

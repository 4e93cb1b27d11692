"""Several runs of one drive: which selects them, which nothing selects, and what a changeover does."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import RunInfo
from wiregen.review.context import Context, called
from wiregen.review.restart import maintained
from wiregen.review.selection import selections
from wiregen.review.words import listed
from wiregen.terms import Notice


def selection_missing(context: Context) -> Iterator[Notice]:
    """Several runs and nothing that selects between them."""
    selected = {info.controller for info in context.declared.selections}
    for drive, runs in _several(context):
        if drive not in selected:
            names = listed(run.name for run in runs)
            text = f"{drive} has the runs {names} and no `select`: nothing says which of them is in force"
            yield Notice("run-selection-missing", ("control", drive, "run"), drive, text)


def orphaned(context: Context) -> Iterator[Notice]:
    """A run that no code brings into force, or only one that the contacts cannot give."""
    runs = dict(_several(context))
    for selection in selections(context):
        drive = selection.info.controller
        found = {row.run for code in selection.codes for row in selection.covering.get(code, ())}
        for run in runs.get(drive, ()) if selection.codes else ():
            if run.name not in found:
                keys = [row.key for row in selection.rows if row.run == run.name]
                text = f"nothing selects run {run.name} of {drive}"
                if keys:
                    text += f": only {listed(keys)} does, which its contacts cannot give"
                yield Notice("run-orphaned", run.where, f"{drive} {run.name}", text)


def undeclared(context: Context) -> Iterator[Notice]:
    """A code that brings a run into force which nothing declares."""
    for info in context.declared.selections:
        known = [run.name for run in _runs(context, info.controller)]
        for row, key in enumerate(info.keys):
            name = info.run_of(row)
            if name and name not in known:
                has = listed(n for n in known if n) or ("one run without a name" if known else "no run")
                text = f"{key} selects run {name!r}, but {info.controller} declares {has} under `run`"
                yield Notice("run-undeclared", (*info.where, "when", key), f"{info.controller} {key}", text)


def row_incomplete(context: Context) -> Iterator[Notice]:
    """A code that says a speed and no run, or a run and no speed, where there are several."""
    runs = dict(_several(context))
    references = {drive: len(infos) for drive, infos in context.declared.references}
    for info in context.declared.selections:
        for row, ((_, reference), key) in enumerate(zip(info.rows, info.keys, strict=True)):
            if reference == "stop":
                continue
            lacks = []
            if info.controller in runs and not info.run_of(row):
                lacks.append("run")
            if references.get(info.controller, 0) > 1 and not reference:
                lacks.append("speed")
            if lacks:
                text = f"{key} at {info.controller} says no {' and no '.join(lacks)}, and there are several"
                yield Notice("selection-incomplete", (*info.where, "when", key), f"{info.controller} {key}", text)


def starts_after_changeover(context: Context) -> Iterator[Notice]:
    """A drive that may start because somebody turns the selector."""
    for drive, runs in _several(context):
        control = context.scheme.model.control[drive]
        if control.starts_after_changeover:
            text = f"{drive} starts when its selector brings one of {_named(runs)} into force and its command stands"
            yield Notice("starts-by-changeover", ("control", drive, "starts_after_changeover"), drive, text)


def changeover_enforced(context: Context) -> Iterator[Notice]:
    """A command that stays on while another run is in force: the drive must not start by the changeover to it."""
    several = dict(_several(context))
    for function in context.declared.functions:
        drive = function.controller
        if drive not in several or not function.run or context.scheme.model.control[drive].starts_after_changeover:
            continue
        if not maintained(context, function):
            continue
        edge = context.devices[drive].profile.start_by == "edge"
        if edge:
            text = (
                f"{called(function)} may stand when run {function.run} comes into force: set {drive} to take it by its "
                "closing edge after a changeover"
            )
            yield Notice("changeover-by-setting", function.where, called(function), text)
        else:
            text = (
                f"{called(function)} may stand when run {function.run} comes into force, and {drive} takes it by "
                "level: the motor starts when the selector is turned"
            )
            yield Notice("changeover-not-enforced", function.where, called(function), text)


def _runs(context: Context, drive: str) -> tuple[RunInfo, ...]:
    return dict(context.declared.runs).get(drive, ())


def _several(context: Context) -> Iterator[tuple[str, tuple[RunInfo, ...]]]:
    return ((drive, runs) for drive, runs in context.declared.runs if len(runs) > 1)


def _named(runs: tuple[RunInfo, ...]) -> str:
    return listed((run.name for run in runs), "or")

"""Speed references: selected by nothing, not declared, what a broken wire brings, and signals that deceive."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function, Potentiometer, ReferenceInfo, Transmitter
from wiregen.review.context import Context, called
from wiregen.review.selection import Selection, reached, selections
from wiregen.review.words import listed
from wiregen.terms import Notice

#: What `when` may name besides a reference.
_NO_REFERENCE = ("", "stop")


def orphaned(context: Context) -> Iterator[Notice]:
    """A reference that no code brings into force, or only one that the contacts cannot give."""
    for selection in selections(context):
        if not selection.codes:
            continue
        malformed = {name for _, name in selection.info.rows} - {row.reference for row in selection.rows}
        found = reached(selection) | malformed
        for reference in _references(context, selection.info.controller):
            if reference.name not in found:
                keys = [row.key for row in selection.rows if row.reference == reference.name]
                text = f"nothing selects reference {reference.name} of {selection.info.controller}"
                if keys:
                    text += f": only {listed(keys)} does, which its contacts cannot give"
                yield Notice(
                    "reference-orphaned", reference.where, f"{selection.info.controller} {reference.name}", text
                )


def selection_missing(context: Context) -> Iterator[Notice]:
    """Several references and nothing that selects between them."""
    selected = {info.controller for info in context.declared.selections}
    for controller, references in context.declared.references:
        if len(references) > 1 and controller not in selected:
            names = listed(r.name for r in references)
            text = f"{controller} has the references {names} and no `select`: nothing says which of them is in force"
            yield Notice("selection-missing", ("control", controller, "speed"), controller, text)


def undeclared(context: Context) -> Iterator[Notice]:
    """A code that brings a reference into force which nothing declares."""
    for info in context.declared.selections:
        known = [r.name for r in _references(context, info.controller)]
        for (_, name), key in zip(info.rows, info.keys, strict=True):
            if name not in known and name not in _NO_REFERENCE:
                has = listed(known) or "no reference"
                text = f"{key} selects {name!r}, but {info.controller} declares {has} under `speed`"
                yield Notice("reference-undeclared", (*info.where, "when", key), f"{info.controller} {key}", text)


def zero_not_slowest(context: Context) -> Iterator[Notice]:
    """A code of all open contacts, which broken wires give too, that brings more than the slowest reference."""
    for selection in selections(context):
        speeds = {r.name: _greatest_hz(r) for r in _references(context, selection.info.controller)}
        known = {name: hz for name, hz in speeds.items() if hz is not None}
        slowest = min(known, key=lambda name: known[name], default=None)
        for name in selection.references_of(selection.zero):
            if slowest is not None and name in known and known[name] > known[slowest]:
                controller = selection.info.controller
                text = (
                    f"with all selecting wires of {controller} broken (code {selection.zero}) {name} is in force, "
                    f"up to {known[name]:g} Hz; {slowest} goes only to {known[slowest]:g} Hz"
                )
                where = (*selection.info.where, "when", _key_of(selection, name))
                yield Notice(
                    "code-zero-not-slowest",
                    where,
                    f"{controller} {name}",
                    text,
                    value=known[name],
                    limit=known[slowest],
                    unit="Hz",
                )


def zero_undeclared(context: Context) -> Iterator[Notice]:
    """A selector that never opens all its contacts, and nothing said for the code that its broken wire gives."""
    for selection in selections(context):
        zero = selection.zero
        if selection.codes and zero not in selection.codes and not selection.references_of(zero):
            text = (
                f"a broken wire of the selecting contacts gives {selection.info.controller} the code {zero}, "
                "which no position gives and no row declares"
            )
            yield Notice("code-zero-undeclared", (*selection.info.where, "when"), selection.info.controller, text)


def inverse(context: Context) -> Iterator[Notice]:
    """A voltage signal of which less means faster: a broken wire means full speed."""
    for function, info in _wired(context):
        if info.inverse and function.signal.endswith(" V"):
            text = (
                f"{called(function)} is an inverse {function.signal} signal: a broken wire reads 0 V, the highest speed"
            )
            yield Notice("signal-inverse", (*info.where, "inverse"), called(function), text)


def loss_unanswered(context: Context) -> Iterator[Notice]:
    """A 4-20 mA signal that could tell a broken wire, and nothing says what to do then."""
    for function, info in _wired(context):
        if function.signal == "4-20 mA" and not info.on_low:
            text = f"{called(function)} falls to 0 mA when its wire breaks, and nothing says what the drive does then"
            yield Notice("loss-unanswered", info.where, called(function), text)


def signal_unfit(context: Context) -> Iterator[Notice]:
    """A signal that its source cannot give."""
    for function in context.declared.functions:
        gives = _gives(context, function)
        if gives and function.signal not in gives:
            device = function.partner.device if isinstance(function.partner, Transmitter | Potentiometer) else ""
            named = f"{device} ({context.devices[device].profile.title})"
            text = f"{called(function)} asks for {function.signal}, and {named} gives {listed(gives, 'or')}"
            yield Notice("signal-unfit", (*function.where, "signal"), device, text)


def _gives(context: Context, function: Function) -> tuple[str, ...]:
    if isinstance(function.partner, Potentiometer):
        return ("0-10 V",)
    if isinstance(function.partner, Transmitter):
        output = context.terminal(function.partner.output)
        return output.gives if output else ()
    return ()


def _references(context: Context, controller: str) -> tuple[ReferenceInfo, ...]:
    return dict(context.declared.references).get(controller, ())


def _wired(context: Context) -> Iterator[tuple[Function, ReferenceInfo]]:
    for function in context.declared.functions:
        for info in _references(context, function.controller) if function.purpose == "analog_in" else ():
            if function.name == f"reference {info.name}":
                yield function, info


def _greatest_hz(reference: ReferenceInfo) -> float | None:
    return reference.preset_hz if reference.preset_hz is not None else reference.high_hz


def _key_of(selection: Selection, reference: str) -> str:
    return next(row.key for row in selection.covering[selection.zero] if row.reference == reference)

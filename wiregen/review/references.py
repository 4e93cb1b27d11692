"""Speed references: selected by nothing, not declared, what a broken wire brings, and signals that deceive."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function, Potentiometer, ReferenceInfo, Transmitter
from wiregen.review.context import Context, called
from wiregen.review.selection import Selection, reached, selections
from wiregen.review.words import listed
from wiregen.scheme.model import Reference, UseReference
from wiregen.terms import Notice, Where

#: What `when` may name besides a reference.
_NO_REFERENCE = ("", "stop")


def orphaned(context: Context) -> Iterator[Notice]:
    """A reference that no code brings into force, or only one that the contacts cannot give."""
    for selection in selections(context):
        if not selection.codes:
            continue
        malformed = {name for _, name in selection.info.rows} - {row.reference for row in selection.rows}
        found = reached(selection) | malformed | set(named_elsewhere(context, selection.info.controller))
        for reference in _references(context, selection.info.controller):
            if reference.name not in found and not _always_in_force(context, selection):
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
        elsewhere = named_elsewhere(context, controller)
        rivals = [r for r in references if r.name not in elsewhere]
        if len(rivals) > 1 and controller not in selected:
            names = listed(r.name for r in rivals)
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


def undeclared_elsewhere(context: Context) -> Iterator[Notice]:
    """A jog, an override or a lost signal that asks for a reference which nothing declares."""
    for controller, control in context.scheme.model.control.items():
        known = list(control.speed)
        for name, where in named_elsewhere(context, controller).items():
            if name not in known:
                has = listed(known) or "no reference"
                text = f"{' '.join(where[2:])} asks for {name!r}, but {controller} declares {has} under `speed`"
                yield Notice("reference-undeclared", where, f"{controller} {' '.join(where[2:])}", text)


def named_elsewhere(context: Context, controller: str) -> dict[str, Where]:
    """References that a jog, an override or a lost signal brings into force, and where each is named."""
    control = context.scheme.model.control.get(controller)
    where: Where = ("control", controller)
    found: dict[str, Where] = {}
    if control is None:
        return found
    if control.jog and control.jog.speed:
        found[control.jog.speed] = (*where, "jog", "speed")
    for name, override in control.override.items():
        if override.speed:
            found.setdefault(override.speed, (*where, "override", name, "speed"))
    for name, reference in control.speed.items():
        process = reference.process
        signals: list[tuple[Reference | None, Where]] = [(reference, (*where, "speed", name))]
        if process:
            signals += [(getattr(process, key), (*signals[0][1], "process", key)) for key in ("setpoint", "feedback")]
        for signal, at in signals:
            for key in ("on_low", "on_high", "on_loss") if signal else ():
                answer = getattr(signal, key)
                if isinstance(answer, UseReference):
                    found.setdefault(answer.use, (*at, key))
    return found


def _always_in_force(context: Context, selection: Selection) -> bool:
    """A single reference needs no row of its own where the rows choose runs."""
    single = len(_references(context, selection.info.controller)) == 1
    return single and any(row.run and not row.reference for row in selection.rows)


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


def _greatest_hz(reference: ReferenceInfo) -> float | None:
    return reference.preset_hz if reference.preset_hz is not None else reference.high_hz


def _key_of(selection: Selection, reference: str) -> str:
    return next(row.key for row in selection.covering[selection.zero] if row.reference == reference)

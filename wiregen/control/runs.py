"""Runs: the contacts of every run of a drive, named plainly where only one run has such a function."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wiregen.control.functions import RunInfo
from wiregen.control.interpreter import Interpreter
from wiregen.scheme.model import ContactUse, Control, Run
from wiregen.terms import Where

#: The keys that a run of each method must have, and those that do not belong to it.
_WANTED = {"three-wire": ("start", "stop"), "two-wire": ("forward",), "hold-to-run": ("forward",)}
_UNFIT = {
    "three-wire": ("forward", "reverse", "both"),
    "two-wire": ("start", "start_reverse", "stop"),
    "hold-to-run": ("start", "start_reverse", "stop"),
}
_FUNCTIONS = {
    "start": "start",
    "start_reverse": "start reverse",
    "stop": "stop",
    "forward": "run forward",
    "reverse": "run reverse",
}
BOTH_STOP = "forward and reverse together: stop"


def add_runs(book: Interpreter, controller: str, control: Control) -> None:
    """The inputs of every run. Where several runs have one of the same name, that of the run follows: ``start local``.

    A stop that `always_stops` names too is one function, whichever runs it belongs to.
    """
    runs = control.run.named if control.run else {}
    shared = control.always_stops
    wanted = [(name, *item) for name, run in runs.items() for item in _of_run(run)]
    shared_stops = [i for i, (_, _, use, key) in enumerate(wanted) if key == "stop" and use == shared]
    kept = [item for i, item in enumerate(wanted) if i not in shared_stops[1:]]
    times = Counter(plain for _, plain, _, _ in kept)
    for name, plain, use, key in kept:
        own = f"{plain} {name}" if times[plain] > 1 else plain
        setting = _setting(runs, name, stops_all=key == "stop" and use == shared)
        book.input(controller, own, use, _where(controller, name, key), plain=plain, run=name, setting=setting)
    for name, run in runs.items():
        _check_run(book, controller, name, run)
        network = run.from_ == "network"
        book.runs.setdefault(controller, []).append(RunInfo(name, run.method, network, _where(controller, name)))
    if shared is not None and not shared_stops:
        where = ("control", controller, "always_stops")
        setting = "stops every run" if len(runs) > 1 else ""
        book.input(controller, "always stops", shared, where, plain="stop", setting=setting)


def _of_run(run: Run) -> Iterator[tuple[str, ContactUse, str]]:
    for key, name in _FUNCTIONS.items():
        use = getattr(run, key)
        if use is not None:
            yield name, use, key


def _setting(runs: dict[str, Run], run: str, *, stops_all: bool) -> str:
    if len(runs) < 2:
        return ""
    return "stops every run" if stops_all else f"of run {run}"


def _where(controller: str, run: str, *rest: str) -> Where:
    """Where a run, or a key of it, stands as written: the only run of a drive may have no name."""
    return ("control", controller, "run", *((run,) if run else ()), *rest)


def _check_run(book: Interpreter, controller: str, name: str, run: Run) -> None:
    """A run needs its contacts, and others do not belong to it; one from the network has none."""
    called = f"{run.method} run {name}".rstrip() + f" of {controller}"
    where = _where(controller, name)
    wanted = () if run.from_ == "network" else _WANTED[run.method]
    unfit = (*_FUNCTIONS, "both") if run.from_ == "network" else _UNFIT[run.method]
    for key in wanted:
        if getattr(run, key) is None:
            book.notice("run-incomplete", where, controller, f"the {called} needs `{key}:`")
    for key in unfit:
        if getattr(run, key) is not None:
            takes = f"takes {' and '.join(wanted)}" if wanted else "takes no contact: it comes over the network"
            text = f"`{key}` does not belong to the {called}, which {takes}"
            book.notice("run-incomplete", (*where, key), controller, text)
    if run.both and run.method != "three-wire" and run.from_ is None and run.reverse is None:
        text = f"`both` says what the {called} does with both directions at once, and it has no `reverse:`"
        book.notice("run-incomplete", (*where, "both"), controller, text)

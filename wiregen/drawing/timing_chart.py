"""Timing charts: traces over the steps of a sequence, as figures that fit an area."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import HEAVY, LEAST, NORMAL, NOTE, THIN, TITLE, Canvas

if TYPE_CHECKING:
    from wiregen.behaviour.sequence import Frame
    from wiregen.behaviour.traces import Trace
    from wiregen.pipeline import Design

_NAMES, _STEP, _ROW, _SPEED, _GAP, _PAD = 58.0, 30.0, 6.6, 24.0, 5.0, 1.4
_LINE = 3.9
_WRONG = "NOT AS EXPECTED"
_HEADS = {"inputs": "Inputs", "states": "Internal states", "outputs": "Outputs", "speed": "Speed, Hz"}


@dataclass(frozen=True, slots=True)
class Chart:
    """A part of a sequence that fits one sheet: its first step, its steps, and its traces."""

    first: int
    frames: tuple[Frame, ...]
    traces: tuple[Trace, ...]
    peak: float  # the greatest speed of the whole sequence, Hz

    @property
    def title(self) -> str:
        last = self.first + len(self.frames) - 1
        return f"Timing chart, steps {self.first} to {last}"

    @property
    def width(self) -> float:
        return _NAMES + _STEP * len(self.frames)

    @property
    def height(self) -> float:
        """mm that it takes, with its heads and what deviates."""
        groups = {t.group for t in self.traces}
        rows = sum(_SPEED if t.group == "speed" else _ROW for t in self.traces)
        wrong = _LINE * len(_deviations(self.frames, self.width))
        return _head(self.frames) + rows + len(groups) * (_GAP + _LINE) + wrong + 8.0


def charts(frames: Sequence[Frame], traces: Sequence[Trace], area: Box) -> tuple[Chart, ...]:
    """A sequence cut into charts as wide, and as high, as an area; each repeats the names of its traces."""
    if not frames or not traces:
        return ()
    peak = max((abs(v) for t in traces if t.group == "speed" for step in t.values for v in step), default=0.0)
    cuts = list(_cuts(frames, area))
    beside = max(_head(own) + 8.0 + _LINE * len(_deviations(own, area.width)) for _, own in cuts)
    found = []
    for rows in _stacked(traces, area.height - max(beside, 8.0 + 6 * _LINE + 12.0)):
        for first, own in cuts:
            cut = tuple(replace(t, values=t.values[first : first + len(own)]) for t in rows)
            found.append(Chart(first + 1, own, cut, peak))
    return tuple(found)


def _cuts(frames: Sequence[Frame], area: Box) -> Iterator[tuple[int, tuple[Frame, ...]]]:
    """As many steps together as an area is wide, fewer where what deviates would take more than a third of it."""
    most = max(1, int((area.width - _NAMES) // _STEP))
    first = 0
    for n in range(1, len(frames) + 1):
        own = tuple(frames[first:n])
        if len(own) > 1 and (len(own) > most or _LINE * len(_deviations(own, area.width)) > area.height / 3):
            yield first, own[:-1]
            first = n - 1
    yield first, tuple(frames[first:])


def _stacked(traces: Sequence[Trace], height: float) -> Iterator[list[Trace]]:
    """As many traces together as a height takes; the speeds stand below each part, or apart where they are many."""
    speeds = [t for t in traces if t.group == "speed"]
    rest = [t for t in traces if t.group != "speed"]
    room = height - 4 * (_GAP + _LINE)
    beside = room - len(speeds) * _SPEED
    if beside >= room / 2:
        most = max(1, int(beside // _ROW))
        for first in range(0, max(len(rest), 1), most):
            yield [*rest[first : first + most], *speeds]
        return
    for rows, each in ((rest, _ROW), (speeds, _SPEED)):
        most = max(1, int(room // each))
        for first in range(0, len(rows), most):
            yield rows[first : first + most]


def draw(canvas: Canvas, chart: Chart, area: Box) -> float:
    """Draw a chart into an area from its top; how far down it reaches."""
    x0, y = area.x0 + _NAMES, area.y0 + _head(chart.frames)
    _heads(canvas, chart, x0, area.y0, y)
    top, group = y, ""
    for trace in chart.traces:
        if trace.group != group:
            group = trace.group
            y += _GAP + _LINE
            canvas.text(area.x0, y - _PAD, _HEADS[group], NOTE, strong=True)
        height = _SPEED if trace.group == "speed" else _ROW
        box = Box(x0, y, x0 + _STEP * len(chart.frames), y + height)
        _name(canvas, trace.name, area.x0, box)
        if trace.group == "speed":
            _speed(canvas, trace, box, chart.peak)
        else:
            _level(canvas, trace, box)
        y = box.y1
    for n in range(len(chart.frames) + 1):
        canvas.line([(x0 + n * _STEP, top), (x0 + n * _STEP, y)], THIN, dash="thin")
    y += 4.0
    for line in _deviations(chart.frames, area.width):
        y += _LINE
        canvas.text(area.x0, y, line, NOTE, strong=True)
    return y


def _heads(canvas: Canvas, chart: Chart, x0: float, top: float, bottom: float) -> None:
    for n, frame in enumerate(chart.frames):
        x = x0 + n * _STEP
        canvas.text(x + _PAD, top + 4.6, str(frame.number), TITLE * 0.8, strong=True)
        for m, line in enumerate(_wrapped(frame)):
            canvas.text(x + _PAD, top + 9.0 + m * _LINE, line, LEAST, strong=line == _WRONG)
    canvas.line([(x0 - _NAMES, bottom), (x0 + _STEP * len(chart.frames), bottom)], NORMAL)


def _wrapped(frame: Frame) -> tuple[str, ...]:
    lines = fonts.wrap(frame.says, LEAST, _STEP - 2 * _PAD)
    return (*lines, _WRONG) if frame.deviations or frame.unfit else lines


def _name(canvas: Canvas, name: str, x: float, box: Box) -> None:
    lines = fonts.wrap(name, LEAST, _NAMES - 14.0)
    text = lines[0] if len(lines) == 1 else f"{lines[0]} ..."
    canvas.text(x, (box.y0 + box.y1) / 2, text, LEAST, centred=True)


def _level(canvas: Canvas, trace: Trace, box: Box) -> None:
    low, high = box.y1 - _PAD, box.y0 + _PAD
    at = {0.0: low, 1.0: high}
    points: list[tuple[float, float]] = []
    for start, end, value in _spans(trace, box):
        y = at.get(value, (low + high) / 2)
        points += [(start, y), (end, y)]
    canvas.line([(box.x0, low), (box.x1, low)], THIN)
    canvas.line(points, HEAVY)


def _speed(canvas: Canvas, trace: Trace, box: Box, peak: float) -> None:
    negative = any(v < 0 for step in trace.values for v in step)
    low, high = box.y1 - 3.0, box.y0 + 3.0
    zero = (low + high) / 2 if negative else low
    scale = (zero - high) / peak if peak > 0 else 0.0
    canvas.line([(box.x0, zero), (box.x1, zero)], THIN)
    for hz in (0.0, peak, *((-peak,) if negative else ())):
        canvas.text(box.x0 - _PAD, zero - scale * hz, f"{hz:.3g}", LEAST, anchor="end", centred=True)
    points: list[tuple[float, float]] = []
    before: float | None = None
    for start, end, value in _spans(trace, box):
        y = zero - scale * value
        # A motor takes time to a new speed; how long is not to scale.
        ramp = min(3.0, (end - start) / 3) if before is not None and before != value else 0.0
        points += [(start + ramp, y), (end, y)]
        before = value
    canvas.line(points, HEAVY)


def _spans(trace: Trace, box: Box) -> Iterator[tuple[float, float, float]]:
    """From where to where a trace has which value."""
    for n, values in enumerate(trace.values):
        part = _STEP / len(values)
        for m, value in enumerate(values):
            yield box.x0 + n * _STEP + m * part, box.x0 + n * _STEP + (m + 1) * part, value


def _head(frames: Sequence[Frame]) -> float:
    """mm that the heads of steps take."""
    return 8.0 + _LINE * max(len(_wrapped(f)) for f in frames)


def _deviations(frames: Sequence[Frame], width: float) -> list[str]:
    """What is not as expected, in lines that fit a width."""
    found = []
    for frame in frames:
        if frame.unfit:
            found.append(f"Step {frame.number} cannot be done: {frame.unfit}.")
        for d in frame.deviations:
            found.append(f"Step {frame.number}: {d.subject} should be {d.expected}, and is {d.found}.")
    return [line for text in found for line in fonts.wrap(text, NOTE, width)]


def of_design(design: Design, area: Box) -> tuple[Chart, ...]:
    """The charts of the steps that a scheme declares; none where it declares none."""
    steps = design.scheme.model.steps
    if not steps:
        return ()
    from wiregen.behaviour import Plant
    from wiregen.behaviour.sequence import run
    from wiregen.behaviour.traces import traces

    plant = Plant.of_design(design)
    frames = run(plant, steps)
    return charts(frames, traces(plant, frames), area)


def as_svg(chart: Chart) -> bytes:
    """A chart on a sheet of its own size."""
    canvas = Canvas(chart.width + 16.0, chart.height + 24.0, chart.title)
    canvas.rect(Box(0.0, 0.0, canvas.width, canvas.height), 0.0, "background", "white")
    canvas.text(8.0, 10.0, chart.title, TITLE, strong=True)
    canvas.text(8.0, 15.5, "Time is not to scale. No safety assessment.", NOTE)
    draw(canvas, chart, Box(8.0, 18.0, canvas.width - 8.0, canvas.height - 6.0))
    return canvas.to_svg()

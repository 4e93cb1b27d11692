"""Prints how well the sheets of every example, and of two large schemes, are laid out. Not a test.

    python tests/benchmarks/layout_figures.py

Crossings are counted in the geometry of the terminal diagrams. The least are those of wires whose ends stand in another
order than their rows: with these rows no drawing has fewer, and that no order of rows has fewer is what the tests of
the orders hold. Graphviz gets the signals as a graph of devices and strip terminals, which it may put anywhere;
supplies, 0 V and earth, which stand on sheets as rails and tags, are left out of it.
"""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "drawing")]

from large_schemes import SCHEMES  # noqa: E402

import wiregen  # noqa: E402
from wiregen import drawing, pipeline, profiles  # noqa: E402
from wiregen.drawing import overlaps, readback  # noqa: E402
from wiregen.drawing.box import Box  # noqa: E402
from wiregen.drawing.circuit import CONTROLLERS  # noqa: E402
from wiregen.drawing.picture import read_picture  # noqa: E402
from wiregen.drawing.sheet_reading import read_sheet  # noqa: E402
from wiregen.drawing.template import BLOCK_HEIGHT  # noqa: E402
from wiregen.scheme import read_text  # noqa: E402

Point = tuple[float, float]
Piece = tuple[Point, Point]
HEADS = (
    "scheme",
    "diagrams",
    "per controller",
    "cross",
    "least",
    "bends/wire",
    "longest mm",
    "area %",
    "read",
    "overlaps",
    "dot",
)


def main() -> None:
    designs = {p.stem: wiregen.design(wiregen.read(p)) for p in sorted((ROOT / "examples").glob("*.yaml"))}
    known = profiles.load()
    designs |= {
        name: pipeline.design(read_text(text, f"{name}.yaml", profiles=known)) for name, text in SCHEMES.items()
    }
    print("\t".join(HEADS))
    for name, design in designs.items():
        print("\t".join([name, *figures(design)]), flush=True)


def figures(design: pipeline.Design) -> Iterator[str]:
    sheets = drawing.draw(design).sheets
    diagrams = [s for s in sheets if s.title.startswith("Terminal diagram")]
    controllers = [d for d in design.declared.devices if d.kind in CONTROLLERS]
    wires = [wire for s in diagrams for wire in wires_of(s.svg)]
    crossed = [crossings(wires_of(s.svg)) for s in diagrams]
    yield str(len(diagrams))
    yield f"{len(diagrams) / max(1, len(controllers)):.1f}"
    yield str(sum(crossed))
    yield str(sum(unavoidable(s.svg) for s in diagrams))
    yield f"{sum(len(w) - 2 for w in wires) / max(1, len(wires)):.2f}"
    yield f"{max((length(w) for w in wires), default=0.0):.0f}"
    yield f"{sum(used(s.svg) for s in diagrams) / max(1, len(diagrams)) * 100:.0f}"
    yield (
        "exact" if not readback.compare(readback.read([s.svg for s in sheets]), design.wiring.potentials) else "differs"
    )
    yield str(sum(len(overlaps.check(s.svg)) for s in sheets))
    yield graphviz(design)


def wires_of(svg: bytes) -> list[tuple[Point, ...]]:
    return [wire.points for wire in read_sheet(svg).wires]


def length(wire: Sequence[Point]) -> float:
    return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in itertools.pairwise(wire))


def crossings(wires: Sequence[Sequence[Point]]) -> int:
    """Pieces that pass through one another; what only touches is joined and does not count."""
    pieces = [(i, piece) for i, wire in enumerate(wires) for piece in itertools.pairwise(wire)]
    flat = [(i, p) for i, p in pieces if p[0][1] == p[1][1]]
    upright = [(i, p) for i, p in pieces if p[0][0] == p[1][0]]
    return sum(_through(f, u) for i, f in flat for j, u in upright if i != j)


def _through(flat: Piece, upright: Piece) -> bool:
    (x0, y), (x1, _) = sorted(flat)
    (x, y0), (_, y1) = sorted(upright)
    return x0 + 0.01 < x < x1 - 0.01 and y0 + 0.01 < y < y1 - 0.01


def unavoidable(svg: bytes) -> int:
    """Pairs of wires of one side that begin at the controller in another order than they end.

    Each such pair crosses once in any drawing with these rows and terminals; no other pair has to.
    """
    pins = {dot.at for dot in read_sheet(svg).dots if dot.kind == "pin"}
    outlines = [b.box for b in read_picture(svg).lines if b.category == "outline" and b.box.height > 20]
    edges = {round(box.centre[0], 2) for box in outlines if box.width < 1}
    ends = []
    for wire in wires_of(svg):
        for one, other in ((wire[0], wire[-1]), (wire[-1], wire[0])):
            if round(one[0], 2) in edges and one in pins:
                ends.append((one[0], other[0] > one[0], one[1], other[1]))
    pairs = itertools.combinations(ends, 2)
    return sum(a[:2] == b[:2] and (a[2] - b[2]) * (a[3] - b[3]) < 0 for a, b in pairs)


def used(svg: bytes) -> float:
    """The share of the room inside the frame, above the title block, that the drawing's outermost edges enclose."""
    picture = read_picture(svg)
    frame = picture.frame or picture.paper
    lines = [x.box for x in picture.lines if x.category not in ("frame", "rule")]
    whole = Box.of(lines)
    return whole.width * whole.height / (frame.width * (frame.height - BLOCK_HEIGHT))


def graphviz(design: pipeline.Design) -> str:
    """Crossings of the same graph as Graphviz draws it with orthogonal splines."""
    if shutil.which("dot") is None:
        return "no dot here"
    run = subprocess.run(
        ["dot", "-Gsplines=ortho", "-Grankdir=LR", "-Tplain"],
        input=_graph(design),
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    wires = []
    for line in run.stdout.splitlines():
        words = line.split()
        if words[0] == "edge":
            numbers = [float(n) for n in words[4 : 4 + 2 * int(words[3])]]
            wires.append(_corners(list(zip(numbers[::2], numbers[1::2], strict=True))))
    return str(crossings(wires)) if wires else "failed"


def _corners(points: list[Point]) -> list[Point]:
    """The ends of the cubic pieces, which are straight with these splines, moved onto rows and columns."""
    ends = [(round(x, 2), round(y, 2)) for x, y in points[::3]]
    found = ends[:1]
    for x, y in ends[1:]:
        px, py = found[-1]
        found.append((x, py) if abs(y - py) < abs(x - px) else (px, y))
    return found


def _graph(design: pipeline.Design) -> str:
    """Devices and strip terminals as nodes, conductors as edges; distributed potentials are tags, so left out."""
    strips = {strip.name for strip in design.wiring.strips}
    spread = {pin for p in design.wiring.potentials if p.kind in ("plus", "zero", "earth") for pin in p.pins}
    names: dict[str, int] = {}
    edges = []
    for c in design.wiring.conductors:
        if c.b is not None and c.kind in ("wire", "core") and c.a not in spread:
            a, b = (str(pin) if pin.device in strips else pin.device for pin in (c.a, c.b))
            edges.append(f"n{names.setdefault(a, len(names))} -- n{names.setdefault(b, len(names))};")
    nodes = [f'n{i} [shape=box, label="{re.sub(chr(34), "", name)}"];' for name, i in names.items()]
    return "graph {\n" + "\n".join([*nodes, *edges]) + "\n}\n"


if __name__ == "__main__":
    main()

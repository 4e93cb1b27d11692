"""Conflicts as text: what competes, and what of it cannot hold together, each with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.cli.printing import printable

if TYPE_CHECKING:
    from wiregen.pipeline import Design


def conflict_lines(design: Design) -> list[str]:
    """One block a conflict. Nothing where everything has a terminal."""
    lines = []
    for conflict in design.allocation.conflicts:
        lines.append(f"conflict: {conflict.says}")
        lines.append("    these cannot hold together, and without any one of them the others can:")
        lines += [f"    {design.scheme.locate(premise.where)}: {premise.says}" for premise in conflict.premises]
    return [printable(" ".join(line.split()) if line[0] != " " else line) for line in lines]

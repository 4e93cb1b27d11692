"""wiregen: control wiring of motor drives from one declared scheme.

    scheme = wiregen.read("examples/brine_pump.yaml")
    design = wiregen.design(scheme)
    wiregen.pack(design, "out")

Rooms are imported when they are first needed, so that a command which only prints help stays quick.
"""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from wiregen.pipeline import Design
    from wiregen.scheme import Scheme

__version__ = "0.1.0"
__all__ = ["design", "pack", "read"]


def read(
    path: str | os.PathLike[str],
    *,
    variant: str | None = None,
    profiles_dir: str | os.PathLike[str] | None = None,
    keep: str | os.PathLike[str] | None = None,
) -> Scheme:
    """The scheme in a file. Raises `wiregen.terms.UnusableInput` with every complaint.

    ``variant`` names one of the file's variants; ``profiles_dir`` is a folder of more terminal profiles; ``keep`` is an
    earlier pack, of which as much stays as can.
    """
    from wiregen import profiles, scheme

    known = profiles.load(Path(profiles_dir) if profiles_dir is not None else None)
    found = scheme.read(path, variant=variant, profiles=known)
    return found if keep is None else replace(found, as_built=scheme.read_as_built(keep))


def design(scheme: Scheme, *, time_limit_s: float | None = None) -> Design:
    """The scheme carried through every room: allocation, wiring, findings.

    After ``time_limit_s`` seconds the allocation stands as far as it was found; its levels say what is proven of it.
    """
    from wiregen import pipeline

    return pipeline.design(scheme, time_limit_s)


def pack(design: Design, folder: str | os.PathLike[str]) -> None:
    """Write sheets, lists and design.json into ``folder``, whole or not at all."""
    from wiregen import packing

    packing.write(design, Path(folder))

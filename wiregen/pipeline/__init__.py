"""The pipeline: read, control, allocate, wire, review. One `Design`; a large one falls into parts."""

from __future__ import annotations

from wiregen.pipeline.stages import Design, design

__all__ = ["Design", "design"]

"""Everything of one design in one folder: written whole or not at all."""

from __future__ import annotations

from wiregen.packing.comparing import write_comparison
from wiregen.packing.contents import Pack, write, write_lists, write_sheets
from wiregen.packing.folder import FolderRefused

__all__ = ["FolderRefused", "Pack", "write", "write_comparison", "write_lists", "write_sheets"]

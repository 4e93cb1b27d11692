"""The searches that check the allocation check what is said about it too."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "allocation"))

"""``python -m wiregen`` is the command line."""

import sys

from wiregen.cli import main

sys.exit(main())

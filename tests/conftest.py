"""Makes `tests/` importable, so that tests may share helpers."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

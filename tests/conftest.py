"""Tests see neither the larder nor the cache of whoever runs them."""

import os
import tempfile
from pathlib import Path

_NOWHERE = Path(tempfile.gettempdir()) / "labeler-tests-have-no-larder"
os.environ["LABELER_LARDER"] = str(_NOWHERE / "larder.toml")
os.environ["LABELER_CACHE"] = str(_NOWHERE / "cache")

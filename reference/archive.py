"""How the bundled archives are written: fixed dates and order, so that the same data gives the same bytes."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import numpy as np

__all__ = ["write"]

_DATE = (2015, 9, 30, 0, 0, 0)  # of the release of the table


def write(members: dict[str, np.ndarray], path: Path) -> None:
    """Write arrays as a compressed .npz archive, beside the file and then in its place."""
    beside = path.with_suffix(".part")
    with zipfile.ZipFile(beside, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name in sorted(members):
            buffer = io.BytesIO()
            np.lib.format.write_array(buffer, np.ascontiguousarray(members[name]), allow_pickle=False)
            archive.writestr(zipfile.ZipInfo(f"{name}.npy", _DATE), buffer.getvalue(), zipfile.ZIP_DEFLATED)
    beside.replace(path)

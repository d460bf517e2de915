"""What a batch writes, by which it is told from the recipes that it may stand among."""

from __future__ import annotations

from pathlib import Path

__all__ = ["COLUMNS", "COLUMNS_BEGIN", "CSV", "PARQUET", "REPORT", "REPORT_TITLE", "TABLE_BEGINS", "is_output"]

CSV, PARQUET, REPORT, COLUMNS = "recipes.csv", "recipes.parquet", "report.md", "columns.csv"
TABLE_BEGINS = ("file", "outcome", "title", "market")
"""The first columns of a table of a batch."""
COLUMNS_BEGIN = ("table", "column", "type", "meaning")
"""The columns of what tells the columns of the tables."""
REPORT_TITLE = "# The batch"
_HEADS = {
    CSV: ",".join(TABLE_BEGINS) + ",",
    REPORT: f"{REPORT_TITLE}\n",
    COLUMNS: ",".join(COLUMNS_BEGIN) + "\n",
}


def is_output(path: Path) -> bool:
    """Whether a file is a table, its columns or a report of a batch: it has the name of one and begins as one."""
    head = _HEADS.get(path.name)
    if head is None:
        return False
    try:
        with path.open("rb") as stream:
            return stream.read(len(head)).decode("utf-8", "replace") == head
    except OSError:
        return False

"""The command that does a folder of recipes."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from labeler.types import LabelerError

__all__ = ["batch"]

_OF_FILES = frozenset([".csv", ".tsv", ".md", ".pdf", ".parquet", ".json", ".jsonl", ".xlsx", ".html", ".txt"])


@click.command()
@click.argument("folder", metavar="FOLDER")
@click.option("-o", "--output", metavar="FOLDER", default=None, help="Where everything goes; else FOLDER/batch.")
@click.option("--labels", is_flag=True, help="Labels too.")
@click.option("--layout", default="card", show_default=True, help="Layout of the labels.")
@click.option("--size", default="a6", show_default=True, help="Size of the labels.")
@click.option("--market", default=None, help="Whose rules hold for all; else each recipe's own.")
@click.option("--parquet", is_flag=True, help="The table as Parquet too.")
@click.option("--workers", type=click.IntRange(0, 256), default=0, help="Processes; 0 for one a processor.")
def batch(
    folder: str,
    output: str | None,
    labels: bool,
    layout: str,
    size: str,
    market: str | None,
    parquet: bool,
    workers: int,
) -> None:
    """Do every recipe of a folder: a table, labels and a report; what is done is not done again."""
    from labeler.batch.journal import JOURNAL, Journal
    from labeler.batch.run import recipes_of, run
    from labeler.batch.tables import write_csv, write_parquet, write_report
    from labeler.label.make import read_size
    from labeler.rules.market import load_market

    place = Path(folder)
    target = Path(output) if output else place / "batch"
    if target.suffix.lower() in _OF_FILES and not target.is_dir():
        raise LabelerError(
            f"{target}: a batch writes several files into a folder, and this is the name of one file; give a folder, "
            f"such as -o {target.stem}, and find the table in it as recipes.csv"
        )
    read_size(size)
    if market is not None:
        load_market(market)
    paths = recipes_of(place, target)
    journal = Journal(target / JOURNAL)
    try:
        with _progress(len(paths)) as step:
            run(
                place, journal, paths, market=market, labels=target / "labels" if labels else None, layout=layout,
                size=size, workers=workers, done=step,
            )  # fmt: skip
        files = [path.relative_to(place).as_posix() for path in paths]
        write_csv(target / "recipes.csv", journal, files)
        if parquet:
            write_parquet(target / "recipes.parquet", journal, files)
        outcomes = write_report(target / "report.md", journal, files)
    finally:
        journal.close()
    click.echo(
        f"{target}: {outcomes['done']:,} of {len(paths):,} recipes done, {outcomes['refused']:,} refused, "
        f"{outcomes['fault']:,} faults; see report.md"
    )


class _progress:
    """A bar on a terminal, nothing elsewhere."""

    def __init__(self, total: int) -> None:
        self._total = total
        self._bar: Any = None

    def __enter__(self) -> Callable[[dict[str, Any] | None], None]:
        if not sys.stderr.isatty():
            return lambda entry: None
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

        columns = (TextColumn("recipes"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
        self._bar = Progress(*columns, console=Console(stderr=True))
        self._bar.start()
        task = self._bar.add_task("recipes", total=self._total)
        return lambda entry: self._bar.advance(task)

    def __exit__(self, *rest: object) -> None:
        if self._bar is not None:
            self._bar.stop()

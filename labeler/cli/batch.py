"""The command that does many recipes: a folder, or a table of them."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.core import ParameterSource

from labeler.types import LabelerError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from labeler.batch.isolated import Limits
    from labeler.batch.sources import Names

    Done = Callable[[dict[str, Any] | None], None]

__all__ = ["batch"]

_OF_FILES = frozenset([".csv", ".tsv", ".md", ".pdf", ".parquet", ".json", ".jsonl", ".xlsx", ".html", ".txt"])
_TYPED = ParameterSource.COMMANDLINE


@dataclass(frozen=True, slots=True)
class _Asked:
    source: str
    target: Path
    labels: bool
    layout: str
    size: str
    market: str | None
    parquet: bool
    workers: int
    cluster: str | None
    names: Names
    limits: Limits
    rows: int


@click.command()
@click.argument("source", metavar="SOURCE")
@click.option("-o", "--output", metavar="FOLDER", default=None, help="Where everything goes; else “batch” beside it.")
@click.option("--labels", is_flag=True, help="Labels too.")
@click.option("--layout", default="card", show_default=True, help="Layout of the labels.")
@click.option("--size", default="a6", show_default=True, help="Size of the labels.")
@click.option("--market", default=None, help="Whose rules hold for all; else each recipe's own.")
@click.option("--parquet", is_flag=True, help="Of a folder: the table as Parquet too.")
@click.option("--workers", type=click.IntRange(0, 256), default=0, help="Processes; 0 for one a processor.")
@click.option("--cluster", metavar="ADDRESS", default=None, help="A running Dask scheduler, tcp://HOST:PORT.")
@click.option("--id", "id_column", default="id", show_default=True, help="Of a table: the column of the ids.")
@click.option("--text", "text_column", default="text", show_default=True, help="Of a table: the column of the recipes.")
@click.option("--seconds", type=click.FloatRange(0.1), default=60.0, show_default=True, help="That a recipe may take.")
@click.option("--memory", type=click.IntRange(0), default=2048, show_default=True, help="MiB that a recipe may take.")
@click.option("--rows", type=click.IntRange(1), default=1000, show_default=True, help="Of a table: recipes in a file.")
def batch(
    source: str,
    output: str | None,
    labels: bool,
    layout: str,
    size: str,
    market: str | None,
    parquet: bool,
    workers: int,
    cluster: str | None,
    id_column: str,
    text_column: str,
    seconds: float,
    memory: int,
    rows: int,
) -> None:
    """Do every recipe of a folder or of a table: tables, labels and a report; what is done is not done again.

    SOURCE is a folder, a table of recipes (JSON Lines, CSV or Parquet, with a column of ids and one of recipes as
    text), or a pattern in quotes that names several. Tables and --cluster need labeler[cluster].
    """
    from labeler.batch.isolated import Limits
    from labeler.batch.sources import Names, files_of, tables_of
    from labeler.label.make import read_size
    from labeler.rules.market import load_market

    place = _place(source)
    target = Path(output) if output else place / "batch"
    if target.suffix.lower() in _OF_FILES and not target.is_dir():
        raise LabelerError(
            f"{target}: a batch writes several files into a folder, and this is the name of one file; give a folder, "
            f"such as -o {target.stem}, and find the tables in it"
        )
    read_size(size)
    if market is not None:
        load_market(market)
    asked = _Asked(
        source, target, labels, layout, size, market, parquet, workers, cluster, Names(id_column, text_column),
        Limits(seconds, memory), rows,
    )  # fmt: skip
    tables = tables_of(source)
    _refuse_unused(asked, of_tables=tables is not None)
    if tables is not None:
        outcomes = _of_tables(asked, tables)
    else:
        files = files_of(source)
        outcomes = _of_files(asked, place if files is None else _common(files), files)
    total = sum(outcomes.values())
    click.echo(
        f"{target}: {outcomes['done']:,} of {total:,} recipes done, {outcomes['refused']:,} refused, "
        f"{outcomes['fault']:,} faults; see report.md"
    )
    if outcomes["fault"]:
        click.get_current_context().exit(1)


def _refuse_unused(asked: _Asked, *, of_tables: bool) -> None:
    """Refuse an option that would change nothing, rather than pass over it."""
    given = {
        parameter.name
        for parameter in click.get_current_context().command.params
        if parameter.name and click.get_current_context().get_parameter_source(parameter.name) is _TYPED
    }
    for name, unused, why in (
        ("parquet", of_tables or asked.cluster is not None, "the tables of such a batch are Parquet already"),
        ("workers", asked.cluster is not None, "a running cluster has the workers that were started for it"),
        ("rows", not of_tables and asked.cluster is None, "the table of a folder is one file"),
        ("id_column", not of_tables, "the files of a folder go by their names"),
        ("text_column", not of_tables, "each file of a folder is a recipe"),
    ):
        if unused and name in given:
            option = name.removesuffix("_column")
            raise LabelerError(f"--{option} changes nothing here: {why}; leave it out")


def _place(source: str) -> Path:
    """The folder that a source is or stands in."""
    path = Path(source)
    if path.is_dir():
        return path
    while any(sign in str(path) for sign in "*?[") and not path.exists():
        path = path.parent
    return path if path.is_dir() else path.parent


def _common(files: list[Path]) -> Path:
    import os

    return Path(os.path.commonpath([str(path.parent) for path in files])) if files else Path()


def _of_files(asked: _Asked, folder: Path, files: list[Path] | None) -> Counter[str]:
    """Recipes that are a file each; on a cluster only where one is named, as Dask takes its time to start."""
    from labeler.batch.journal import JOURNAL, Journal
    from labeler.batch.output import CSV, PARQUET, REPORT
    from labeler.batch.run import recipes_of, run
    from labeler.batch.tables import write_csv, write_parquet, write_report

    paths = recipes_of(folder, asked.target) if files is None else files
    if asked.cluster is not None:
        return _of_files_on_cluster(asked, folder, paths)
    journal = Journal(asked.target / JOURNAL)
    try:
        with _progress(len(paths)) as step:
            run(
                folder, journal, paths, market=asked.market, labels=asked.target / "labels" if asked.labels else None,
                layout=asked.layout, size=asked.size, workers=asked.workers, limits=asked.limits, done=step,
            )  # fmt: skip
        names = [path.relative_to(folder).as_posix() for path in paths]
        write_csv(asked.target / CSV, journal, names)
        if asked.parquet:
            write_parquet(asked.target / PARQUET, journal, names)
        return write_report(asked.target / REPORT, journal.entries(names))
    finally:
        journal.close()


def _of_files_on_cluster(asked: _Asked, folder: Path, paths: list[Path]) -> Counter[str]:
    from labeler.batch.at_scale import dask, recipes_of_folder, run_at_scale
    from labeler.batch.sources import Survey
    from labeler.batch.table_run import How

    how = How(asked.market, asked.labels, asked.layout, asked.size, asked.rows)
    with _progress(len(paths)) as step:
        return run_at_scale(
            lambda: recipes_of_folder(folder, paths), Survey(len(paths)), asked.target, how,
            engine=dask(asked.cluster, 0, asked.limits), done=step,
        )  # fmt: skip


def _of_tables(asked: _Asked, tables: list[Path]) -> Counter[str]:
    """Recipes that are a row each."""
    from labeler.batch.at_scale import dask, recipes_of_tables, run_at_scale
    from labeler.batch.run import processors
    from labeler.batch.sources import survey
    from labeler.batch.table_run import How

    found = survey(tables, asked.names)
    how = How(asked.market, asked.labels, asked.layout, asked.size, asked.rows)
    with _progress(found.count) as step:
        return run_at_scale(
            lambda: recipes_of_tables(tables, asked.names), found, asked.target, how,
            engine=dask(asked.cluster, asked.workers or processors(), asked.limits), done=step,
        )  # fmt: skip


@contextmanager
def _progress(total: int) -> Iterator[Done]:
    """A bar with the pace and the time left on a terminal, nothing elsewhere."""
    if not sys.stderr.isatty():
        yield lambda entry: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    from labeler.batch.pace import Pace

    columns = (TextColumn("recipes"), BarColumn(), MofNCompleteColumn(), TextColumn("{task.fields[pace]}"))
    pace = Pace(total)
    with Progress(*columns, console=Console(stderr=True)) as bar:
        task = bar.add_task("recipes", total=total, pace="")

        def step(entry: dict[str, Any] | None) -> None:
            pace.count(worked=entry is not None)
            bar.update(task, advance=1, pace=pace.text())

        yield step

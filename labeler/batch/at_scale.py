"""A whole batch on a cluster: its source looked through, its recipes done, its tables and its report written."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path

from labeler.batch.cluster import DaskEngine
from labeler.batch.dataset import Dataset, columns_text
from labeler.batch.isolated import Limits, name_of
from labeler.batch.output import COLUMNS, REPORT
from labeler.batch.sources import Names, Survey, rows_of
from labeler.batch.store import STORE, Store
from labeler.batch.table_run import Done, Engine, How, Recipe, run_table
from labeler.batch.tables import write_report
from labeler.batch.work import do_with_lines
from labeler.files import read_bytes, write_whole
from labeler.larder.find import larder_files
from labeler.types import LabelerError

__all__ = ["dask", "recipes_of_folder", "recipes_of_tables", "run_at_scale"]


def recipes_of_tables(paths: list[Path], names: Names) -> Iterator[Recipe]:
    """The recipes of tables, with the larder that stands beside each table and the user's own."""
    for path in paths:
        larders = larder_files(str(path))
        for row in rows_of([path], names):
            yield Recipe(row.id, row.data, row.given, larders=larders)


def recipes_of_folder(folder: Path, paths: list[Path]) -> Iterator[Recipe]:
    """The recipes of files, each with the larders that it sees; a file that cannot be read is refused by itself."""
    from labeler.importers.reading import form_of

    for path in paths:
        name = path.relative_to(folder).as_posix()
        try:
            data = read_bytes(str(path))
            yield Recipe(name, data, form=form_of(data, name), larders=larder_files(str(path)))
        except LabelerError as error:
            yield Recipe(name, b"", unread=str(error))


def run_at_scale(
    recipes: Callable[[], Iterator[Recipe]],
    found: Survey,
    target: Path,
    how: How,
    *,
    engine: Callable[[], Engine],
    done: Done = lambda entry: None,
) -> Counter[str]:
    """Do the recipes of a source and write tables, columns and report; how many came out how.

    Parameters
    ----------
    recipes : function
        The recipes of the source, from the first.
    found : Survey
    target : Path
        The folder of the output.
    how : How
    engine : function
        Begins what does the work, where there is any.
    done : function
        As `run_table` calls it.
    """
    dataset = Dataset(target, found, labels=how.labels)
    store = Store(target / STORE)
    try:
        parts = run_table(recipes(), store, dataset, engine, how, done)
    finally:
        store.close()
    write_whole(str(target / COLUMNS), columns_text().encode())
    return write_report(target / REPORT, chain.from_iterable(dataset.entries(number) for number in range(parts)))


def dask(address: str | None, workers: int, limits: Limits) -> Callable[[], Engine]:
    """What begins a cluster of Dask's."""
    return lambda: DaskEngine(address, workers=workers, work=name_of(do_with_lines), limits=limits)

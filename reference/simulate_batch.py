"""Plans a batch past this machine: costs that are measured here, a cluster that is simulated.

    python reference/simulate_batch.py FARM.parquet [--count 100] [--check]

FARM is a table of recipes, such as `farm.py` makes. Measured: processor seconds of each recipe, and of the process that
hands out, writes down and writes the tables, with bytes. Simulated, chunk by chunk: workers that differ in speed, die
and come back, a single process that takes every answer, and chunks that wait for it. With `--check` a batch is run with
one worker and with two and set against the simulation, in seconds of a processor that is not shared.
"""

from __future__ import annotations

import argparse
import heapq
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from farm import below, peak_mib

from labeler.batch.dataset import Dataset
from labeler.batch.sources import Names, Survey, rows_of
from labeler.batch.store import Packed, Store, pack
from labeler.batch.table_run import AHEAD, CHUNK_ROWS, How, Recipe, run_table
from labeler.batch.work import Task, do_with_lines, warm_up
from labeler.processes import set_up

MOST_CHUNKS = 60_000
"""Chunks that are simulated one by one; a longer batch goes on at the rate of these."""


@dataclass(frozen=True, slots=True)
class Costs:
    """What is measured: seconds of a processor, and bytes of the journal and of the tables for a recipe."""

    start: float
    recipes: tuple[float, ...]
    hand_out: float
    journal: float
    tables: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A cluster: its workers, how much they differ (standard deviation of the logarithm), how often one dies."""

    workers: int
    spread: float = 0.1
    deaths_per_hour: float = 0.0
    comes_back: float = 30.0


class _Replay:
    """An engine that answers what was worked out before."""

    def __init__(self, answers: dict[str, Packed]) -> None:
        self._answers = answers
        self._waiting: deque[tuple[int, Sequence[Task]]] = deque()

    def workers(self) -> int:
        """Two, as on this machine."""
        return 2

    def submit(self, number: int, tasks: Sequence[Task]) -> None:
        """Keep a chunk."""
        self._waiting.append((number, tasks))

    def take(self) -> tuple[int, list[Packed]]:
        """The first that was kept."""
        number, tasks = self._waiting.popleft()
        return number, [self._answers[task.file] for task in tasks]

    def close(self) -> None:
        """Nothing was begun."""


def measured(table: Path, count: int) -> Costs:
    """The costs of the first recipes of a table."""
    set_up()
    warm_up()
    how = How(part_rows=min(1000, count))
    recipes = []
    for row in rows_of([table], Names()):
        recipes.append(Recipe(row.id, row.data, row.given))
        if len(recipes) == count:
            break
    do_with_lines(how.task(recipes[0]))
    start = time.process_time()
    spent, answers = [], {}
    for recipe in recipes:
        begun = time.process_time()
        entry = do_with_lines(how.task(recipe))
        spent.append(time.process_time() - begun)
        answers[recipe.id] = pack(entry)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        survey = Survey(count, dict.fromkeys(recipes[0].given, "int"))
        store, dataset = Store(folder / "journal.sqlite"), Dataset(folder, survey, labels=False)
        begun = time.process_time()
        run_table(iter(recipes), store, dataset, lambda: _Replay(answers), how)
        hand_out = (time.process_time() - begun) / count
        store.close()
        tables = sum(path.stat().st_size for path in folder.rglob("*.parquet")) / count
        journal = (folder / "journal.sqlite").stat().st_size / count
    return Costs(start, tuple(spent), hand_out, journal, tables)


def simulated(costs: Costs, count: int, plan: Plan, *, seed: int = 1) -> tuple[float, float, float]:
    """Seconds that a batch takes, the share of the time in which workers work, and the share of work done twice."""
    rng = random.Random(seed)
    chunks = -(-count // CHUNK_ROWS)
    steps = min(chunks, max(MOST_CHUNKS, plan.workers * 30))
    mean, sd = statistics.mean(costs.recipes), statistics.pstdev(costs.recipes)
    speeds = [rng.lognormvariate(0.0, plan.spread) for _ in range(plan.workers)]
    free = [(costs.start, number) for number in range(plan.workers)]
    heapq.heapify(free)
    answered: list[deque[float]] = [deque([0.0] * AHEAD, AHEAD) for _ in range(plan.workers)]
    taker, busy, twice, end = 0.0, costs.start * plan.workers, 0.0, 0.0
    for step in range(steps):
        at, number = heapq.heappop(free)
        begun = max(at, answered[number][0])  # no more than so many of its chunks wait to be taken
        rows = min(CHUNK_ROWS, count - step * CHUNK_ROWS)
        work = max(rng.gauss(mean * rows, sd * rows**0.5), 0.2 * mean * rows) * speeds[number]
        while plan.deaths_per_hour and rng.random() < work * plan.deaths_per_hour / 3600:
            lost = rng.random() * work
            busy, twice, begun = busy + lost, twice + lost, begun + lost + plan.comes_back
        done = begun + work
        busy += work
        taker = max(taker, done) + costs.hand_out * rows
        answered[number].append(taker)
        heapq.heappush(free, (done, number))
        end = max(end, taker)
    seconds = end * chunks / steps
    return seconds, busy / (end * plan.workers), twice / busy


def run_here(table: Path, workers: int) -> tuple[float, float]:
    """Seconds and processor seconds of a batch on this machine, from its first recipe process to its end."""
    with tempfile.TemporaryDirectory() as place:
        command = [
            sys.executable,
            "-m",
            "labeler",
            "batch",
            str(table),
            "-o",
            f"{place}/out",
            "--workers",
            str(workers),
        ]
        batch = subprocess.Popen(command, stdout=subprocess.DEVNULL)
        begun, ready, spent = time.monotonic(), 0.0, {}
        while batch.poll() is None:
            time.sleep(0.2)
            for pid in below(batch.pid):
                if peak_mib(pid)[0] == "recipe process":
                    ready = ready or time.monotonic()
                    spent[pid] = max(spent.get(pid, 0.0), processor_seconds(pid))
        return time.monotonic() - (ready or begun), sum(spent.values())


def processor_seconds(pid: int) -> float:
    """Processor time of a process so far [s]; 0 where it has gone."""
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    except OSError:
        return 0.0
    return sum(int(fields[at]) for at in (11, 12)) / os.sysconf("SC_CLK_TCK")


def check(table: Path, costs: Costs, count: int) -> None:
    """Set one and two workers against the simulation, at the share of a processor that they got."""
    for workers in (1, 2):
        seconds, spent = run_here(table, workers)
        share = spent / (seconds * workers)
        told, busy, _ = simulated(costs, count, Plan(workers, spread=0.0))
        each = 1000 * spent / count
        print(
            f"{workers} at a time: measured {seconds:.0f} s at {share:.2f} of a processor each, {each:.0f} ms a recipe"
        )
        there = told * busy / share if share else float("nan")
        print(f"    simulated {told:.1f} s on whole processors ({busy:.2f} busy), {there:.0f} s at that share")


def main() -> None:
    """Measure, check where that is asked for, and print the table of plans."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("table", type=Path)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--check", action="store_true", help="run a batch of the whole table with one and two workers")
    options = parser.parse_args()
    costs = measured(options.table, options.count)
    ordered = [1000 * one for one in sorted(costs.recipes)]
    mean, median = statistics.mean(ordered), statistics.median(ordered)
    print(f"starting {costs.start:.1f} s, taking a recipe {1000 * costs.hand_out:.2f} ms")
    print(f"a recipe: mean {mean:.1f} ms, median {median:.1f}, slowest of {len(ordered)} {ordered[-1]:.0f}")
    print(f"bytes of a recipe: journal {costs.journal:,.0f}, tables {costs.tables:,.0f}")
    if options.check:
        count = sum(1 for _ in rows_of([options.table], Names()))
        check(options.table, costs, count)
    for count in (10**6, 10**8):
        for workers in (2, 16, 64, 256, 1024):
            plan = Plan(workers, deaths_per_hour=0.02)
            seconds, busy, twice = simulated(costs, count, plan)
            print(
                f"{count:>11,} recipes, {workers:>5,} workers: {seconds / 3600:>9.2f} h, "
                f"{count / seconds:>7,.0f} a second, {busy:.0%} busy, {twice:.2%} done twice"
            )


if __name__ == "__main__":
    main()

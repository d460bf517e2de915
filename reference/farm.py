"""Runs a farm of recipes made of real lines through `labeler batch`, kills what can be killed, and counts what is left.

    python reference/farm.py LINES... --count 1000 --folder FARM [--local] [--kill 60] [--stretch 240]

LINES are CSV files with ingredient lines in a column “text” or “input”. A recipe is four to nine of them, a yield and
a few steps; the table is Parquet. A scheduler and two workers are started as processes of their own; every `--kill`
seconds a worker is killed and another started, and once, in the third round, the scheduler. With `--local` the batch
starts its own two workers, and one of them is killed instead. `--stretch` kills the whole batch after so many seconds
and leaves; the same command goes on where it stopped. Prints the rate, the peak memory of each process and what was
lost or stands twice; leaves with status 1 where anything was, and 3 where there is more to do.
"""

from __future__ import annotations

import argparse
import contextlib
import csv
import json
import os
import random
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

STEPS = (
    "Mix everything in a large bowl.",
    "Simmer for 20 minutes, stirring now and then.",
    "Drain well.",
    "Bake at 180 °C for 35 minutes.",
    "Fry in batches until golden.",
    "Chop the rest and fold it in.",
    "Leave to cool, then slice.",
    "Season to taste and serve.",
)
WORKERS = 2


def lines_of(paths: list[Path]) -> list[str]:
    """Every distinct ingredient line of the files."""
    found: dict[str, None] = {}
    for path in paths:
        with path.open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                line = " ".join((row.get("text") or row.get("input") or "").split())
                if line:
                    found[line] = None
    return list(found)


def recipes(lines: list[str], count: int) -> Iterator[dict[str, object]]:
    """So many recipes, the same for the same lines."""
    for number in range(count):
        rng = random.Random(number)
        rows = "\n".join(f"- {rng.choice(lines)}" for _ in range(rng.randint(4, 9)))
        steps = "\n".join(f"> {step}" for step in rng.sample(STEPS, rng.randint(2, 4)))
        head = f"---\ntitle: Dish {number}\nmakes: {rng.randint(2, 12)} servings\n---\n"
        yield {"id": f"dish-{number:07}", "text": f"{head}{rows}\n{steps}\n", "stall": number % 7}


def write_table(path: Path, lines: list[str], count: int) -> None:
    """The farm as Parquet, a thousand rows at a time."""
    import pyarrow
    import pyarrow.parquet

    schema = pyarrow.schema([("id", pyarrow.string()), ("text", pyarrow.string()), ("stall", pyarrow.int32())])
    with pyarrow.parquet.ParquetWriter(path, schema) as writer:
        rows = []
        for recipe in recipes(lines, count):
            rows.append(recipe)
            if len(rows) == 1000:
                writer.write_table(pyarrow.Table.from_pylist(rows, schema=schema))
                rows = []
        if rows:
            writer.write_table(pyarrow.Table.from_pylist(rows, schema=schema))


def free_port() -> int:
    """A port of this machine that nobody listens on."""
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return int(sock.getsockname()[1])


def started(*arguments: str) -> subprocess.Popen[bytes]:
    """A process of this Python, silent, in a group of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", *arguments], start_new_session=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )


@dataclass
class Cluster:
    """A standing scheduler and its workers."""

    port: int = field(default_factory=free_port)
    scheduler: subprocess.Popen[bytes] | None = None
    workers: list[subprocess.Popen[bytes]] = field(default_factory=list)
    scratch: tempfile.TemporaryDirectory[str] = field(
        default_factory=lambda: tempfile.TemporaryDirectory(prefix="farm-", ignore_cleanup_errors=True)
    )

    @property
    def address(self) -> str:
        """Where the scheduler answers."""
        return f"tcp://127.0.0.1:{self.port}"

    def start_scheduler(self) -> None:
        """Start the scheduler, again at the same address."""
        self.scheduler = started("dask", "scheduler", "--host", "127.0.0.1", "--port", str(self.port), "--no-dashboard")

    def start_worker(self) -> None:
        """Start one worker more."""
        self.workers.append(
            started(
                "dask", "worker", self.address, "--nthreads", "1", "--no-dashboard", "--no-nanny", "--death-timeout",
                "60", "--local-directory", self.scratch.name,
            )
        )  # fmt: skip

    def mend(self) -> None:
        """Start what has died."""
        if self.scheduler is None or self.scheduler.poll() is not None:
            self.start_scheduler()
        self.workers = [worker for worker in self.workers if worker.poll() is None]
        while len(self.workers) < WORKERS:
            self.start_worker()

    def stop(self) -> None:
        """End all of it."""
        for process in (*self.workers, *([self.scheduler] if self.scheduler else [])):
            kill(process)
        self.scratch.cleanup()


def kill(process: subprocess.Popen[bytes], *, group: bool = True) -> None:
    """Kill a process that was started here, with what it started where it is told so."""
    if process.poll() is None:
        (os.killpg if group else os.kill)(process.pid, signal.SIGKILL)
    process.wait()


def below(pid: int) -> Iterator[int]:
    """A process and those that it started."""
    yield pid
    for thread in Path(f"/proc/{pid}/task").glob("*/children"):
        with contextlib.suppress(OSError):
            for child in thread.read_text().split():
                yield from below(int(child))


def peak_mib(pid: int) -> tuple[str, float]:
    """What a process is and the most memory it has had [MiB]; nothing where it has gone."""
    try:
        told = Path(f"/proc/{pid}/status").read_text()
        called = Path(f"/proc/{pid}/cmdline").read_bytes().replace(b"\0", b" ").decode()
    except OSError:
        return "", 0.0
    row = next((row for row in told.splitlines() if row.startswith("VmHWM")), "VmHWM: 0 kB")
    names = {"labeler.batch.child": "recipe process", "dask scheduler": "scheduler", "dask worker": "worker"}
    names |= {"labeler batch": "batch", "spawn_main": "worker", "resource_tracker": ""}
    return next((name for sign, name in names.items() if sign in called), ""), float(row.split()[1]) / 1024


@dataclass
class Watch:
    """What is seen of a run."""

    peaks: dict[str, float] = field(default_factory=dict)
    killed: Counter[str] = field(default_factory=Counter)

    def look(self, *pids: int) -> None:
        """Note the peaks of processes and of all below them."""
        for pid in pids:
            for one in below(pid):
                name, peak = peak_mib(one)
                if name:
                    self.peaks[name] = max(self.peaks.get(name, 0.0), peak)


def run(options: argparse.Namespace, table: Path, output: Path) -> tuple[bool, float, Watch]:
    """The batch with what is killed meanwhile: whether it came to its end, seconds, what was seen."""
    cluster, watch = Cluster(), Watch()
    where = ["--workers", str(WORKERS)] if options.local else ["--cluster", cluster.address]
    if not options.local:
        cluster.mend()
    begun = time.monotonic()
    batch = started("labeler", "batch", str(table), "-o", str(output), *where)
    next_kill, rounds = begun + options.kill, 0
    try:
        while batch.poll() is None:
            time.sleep(1.0)
            watch.look(batch.pid, *(one.pid for one in (*cluster.workers, cluster.scheduler) if one is not None))
            if time.monotonic() - begun > options.stretch:
                kill(batch)
                watch.killed["batch"] += 1
                return False, time.monotonic() - begun, watch
            if time.monotonic() > next_kill:
                rounds += 1
                next_kill += options.kill
                watch.killed[strike(options, cluster, batch, rounds)] += 1
            if not options.local:
                cluster.mend()
        if batch.returncode:
            sys.exit(f"the batch left with status {batch.returncode}")
        return True, time.monotonic() - begun, watch
    finally:
        kill(batch)
        cluster.stop()


def strike(options: argparse.Namespace, cluster: Cluster, batch: subprocess.Popen[bytes], rounds: int) -> str:
    """Kill a worker, in the third round the scheduler; what it was."""
    if options.local:
        for pid in below(batch.pid):
            if peak_mib(pid)[0] == "worker":
                os.kill(pid, signal.SIGKILL)
                return "worker"
        return "nothing"
    if rounds == 3 and cluster.scheduler is not None:
        kill(cluster.scheduler)
        return "scheduler"
    kill(cluster.workers[rounds % len(cluster.workers)], group=False)
    return "worker"


def counted(table: Path, output: Path) -> tuple[int, int, Counter[str]]:
    """How many ids of the source the tables lack, how many they have twice, and how all came out."""
    import pyarrow.parquet

    wanted = pyarrow.parquet.read_table(table, columns=["id"])["id"].to_pylist()
    outcomes: Counter[str] = Counter()
    met: Counter[str] = Counter()
    order: list[str] = []
    for part in sorted((output / "recipes").glob("part-*.parquet")):
        rows = pyarrow.parquet.read_table(part, columns=["id", "outcome"])
        order += rows["id"].to_pylist()
        outcomes.update(rows["outcome"].to_pylist())
    met.update(order)
    if order != wanted[: len(order)]:
        print("the order of the tables is not that of the source")
    return len(set(wanted) - set(met)), sum(number > 1 for number in met.values()), outcomes


def main() -> None:
    """Make the farm where it is not there, run it, and say what came of it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("lines", type=Path, nargs="+")
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--local", action="store_true")
    parser.add_argument("--kill", type=float, default=60.0, help="seconds between two deaths")
    parser.add_argument("--stretch", type=float, default=float("inf"), help="seconds until the batch is killed")
    options = parser.parse_args()
    table, output = options.folder / f"farm-{options.count}.parquet", options.folder / f"out-{options.count}"
    options.folder.mkdir(parents=True, exist_ok=True)
    if not table.exists():
        write_table(table, lines_of(options.lines), options.count)
    whole, seconds, watch = run(options, table, output)
    told = {"seconds": round(seconds, 1), "killed": dict(watch.killed)}
    told["peak MiB"] = {name: round(peak) for name, peak in sorted(watch.peaks.items())}
    log = output / "stretches.jsonl"
    with log.open("a", encoding="utf-8") as stream:
        stream.write(json.dumps(told) + "\n")
    print(json.dumps(told))
    if not whole:
        sys.exit(3)
    stretches = [json.loads(row) for row in log.read_text(encoding="utf-8").splitlines()]
    lost, twice, outcomes = counted(table, output)
    spent = sum(one["seconds"] for one in stretches)
    print(f"{options.count:,} recipes in {spent:.0f} s: {options.count / spent:.1f} a second, {dict(outcomes)}")
    print(f"{lost} lost, {twice} twice")
    sys.exit(1 if lost or twice else 0)


if __name__ == "__main__":
    main()

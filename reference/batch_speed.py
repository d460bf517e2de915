"""Times a batch of invented recipes on one process and on two; compares the memory of a batch with that of one four
times as large; kills a batch in the middle and goes on.

    python reference/batch_speed.py 1000

Every batch is a program of its own, as a cook would start it. Recipes differ in their amounts and foods, so that
nothing is answered from memory alone. Prints seconds, the ratio, the peak memory of the largest process, and what was
lost or done twice after the kill; leaves with status 1 where anything was.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

FOODS = "flour,butter,sugar,eggs,milk,onions,carrots,rice,lentils,olive oil,salt,chicken thighs,tomatoes,cream".split(
    ","
)


def write_recipes(folder: Path, count: int) -> None:
    """Write so many recipes of six ingredients and two steps."""
    for number in range(count):
        rows = [
            f"- {50 + (number * 7 + place * 31) % 400} g {FOODS[(number + place * 3) % len(FOODS)]}"
            for place in range(6)
        ]
        text = f"---\ntitle: Dish {number}\nmakes: {2 + number % 9} boxes\n---\n" + "\n".join(rows)
        (folder / f"dish-{number:05}.md").write_text(
            text + "\n> simmer 20 minutes\n> leave to cool\n", encoding="utf-8"
        )


def start(folder: Path, output: Path, workers: int) -> subprocess.Popen[bytes]:
    """A batch as a process of its own, with no larder but the folder's."""
    command = [sys.executable, "-m", "labeler", "batch", str(folder), "-o", str(output), "--workers", str(workers)]
    environment = os.environ | {"LABELER_LARDER": str(folder / "none.toml")}
    return subprocess.Popen(command, start_new_session=True, stdout=subprocess.DEVNULL, env=environment)


def timed(folder: Path, output: Path, workers: int) -> tuple[float, float]:
    """Seconds that a whole batch takes, and the peak memory of its largest process [MiB]."""
    begun = time.perf_counter()
    process = start(folder, output, workers)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        sys.exit(f"the batch left with status {process.returncode}")
    return time.perf_counter() - begun, used.ru_maxrss / 1024


def done_of(output: Path) -> list[str]:
    """The files that a journal holds, in the order in which they were done; half a line does not count."""
    journal = output / "journal.jsonl"
    rows = journal.read_bytes().splitlines(keepends=True) if journal.exists() else []
    return [json.loads(row)["file"] for row in rows if row.endswith(b"\n")]


def kill_and_go_on(folder: Path, output: Path, count: int) -> bool:
    """Kill a batch a third of the way and start it again; True where every recipe is done exactly once."""
    process = start(folder, output, 2)
    while process.poll() is None and len(done_of(output)) < count // 3:
        time.sleep(0.1)
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
    process.wait()
    before = len(done_of(output))
    timed(folder, output, 2)
    times = Counter(done_of(output))
    lost, twice = count - len(times), sum(number > 1 for number in times.values())
    print(f"killed after {before:,} of {count:,} and gone on: {lost} lost, {twice} done twice")
    return before < count and not lost and not twice


def main() -> None:
    """Run it on one process and on two, on a quarter of it, and with a kill."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as place:
        whole, quarter = Path(place) / "whole", Path(place) / "quarter"
        for folder, number in ((whole, count), (quarter, max(count // 4, 1))):
            folder.mkdir()
            write_recipes(folder, number)
        seconds = {}
        for workers in (1, 2):
            seconds[workers], peak = timed(whole, Path(place) / f"out-{workers}", workers)
            each = seconds[workers] / count * 1000
            print(f"{workers} at a time: {seconds[workers]:.1f} s, {each:.0f} ms a recipe, {peak:.0f} MiB at most")
        print(f"two over one: {seconds[1] / seconds[2]:.2f}")
        small, low = timed(quarter, Path(place) / "out-quarter", 2)
        print(
            f"a quarter of it: {small:.1f} s, {low:.0f} MiB at most; four times as many take {seconds[2] / small:.2f} "
            f"times as long and {peak - low:+.0f} MiB"
        )
        if not kill_and_go_on(whole, Path(place) / "out-killed", count):
            sys.exit(1)


if __name__ == "__main__":
    main()

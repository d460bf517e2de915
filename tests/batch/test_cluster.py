"""On Dask: a local cluster and a standing one, deaths of recipes, of workers and of the scheduler."""

import os
import signal
import socket
import subprocess
import sys

import batch_help
import pytest

from labeler.batch.cluster import DaskEngine, do_chunk
from labeler.batch.isolated import Limits, name_of
from labeler.batch.store import unpack
from labeler.batch.work import Task
from labeler.types import LabelerError

pytest.importorskip("distributed")
pytestmark = pytest.mark.filterwarnings("ignore")  # Dask's own, which are not ours to mend
LIMITS = Limits(seconds=20.0, memory=2048)


def started(*arguments):
    """A process of Dask's command line."""
    return subprocess.Popen(
        [sys.executable, "-m", "dask", *arguments], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )  # fmt: skip


@pytest.fixture
def standing(tmp_path):
    """The address of a scheduler and a way to start it and its workers again; all ended after the test."""
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        port = sock.getsockname()[1]
    address, running = f"tcp://127.0.0.1:{port}", []

    def start(what):
        where = ("--host", "127.0.0.1", "--port", str(port)) if what == "scheduler" else (address, "--no-nanny")
        more = () if what == "scheduler" else ("--nthreads", "1", "--local-directory", str(tmp_path))
        running.append(started(what, *where, *more, "--no-dashboard"))
        return running[-1]

    yield address, start
    for process in running:
        process.kill()
        process.wait()


def tasks(*names):
    """Tasks by their names."""
    return [Task(name, name, "d") for name in names]


def outcomes(engine, count):
    """How every recipe of so many chunks came out, by name."""
    found = {}
    for _ in range(count):
        _, packed = engine.take()
        for one in packed:
            assert one.id not in found
            found[one.id] = unpack(one.entry)
    return found


def test_a_poisoned_recipe_costs_itself_only():
    """On workers of this machine: one that kills its process and one that kills its worker are faults, no other is."""
    engine = DaskEngine(None, workers=2, work=name_of(batch_help.worker_killer), limits=LIMITS)
    try:
        engine.submit(1, tasks("a", "b", "c"))
        engine.submit(2, tasks("d", "deadly", "e"))
        found = outcomes(engine, 2)
    finally:
        engine.close()
    assert {name: entry["outcome"] for name, entry in found.items()} == {
        "a": "done", "b": "done", "c": "done", "d": "done", "deadly": "fault", "e": "done",
    }  # fmt: skip
    assert "died" in found["deadly"]["said"]


def test_a_standing_cluster_may_lose_a_worker_and_its_scheduler(standing):
    """What was under way when a worker and then the scheduler were killed is done after all, each recipe once."""
    address, start = standing
    scheduler, worker = start("scheduler"), start("worker")
    start("worker")
    engine = DaskEngine(address, workers=0, work=name_of(batch_help.slow), limits=LIMITS)
    engine._client.wait_for_workers(2, timeout=60)
    try:
        for number in range(6):
            engine.submit(number, tasks(*(f"r{number}-{place}" for place in range(4))))
        found = outcomes(engine, 1)
        os.kill(worker.pid, signal.SIGKILL)
        found |= outcomes(engine, 1)
        scheduler.kill()
        scheduler.wait()
        start("scheduler")
        start("worker")
        found |= outcomes(engine, 4)
    finally:
        engine.close()
    assert len(found) == 24 and {entry["outcome"] for entry in found.values()} == {"done"}


def test_two_batches_on_one_scheduler_keep_their_answers_apart(standing):
    """Chunks of the same number from two batches come back each to its own, and no name is used twice."""
    address, start = standing
    start("scheduler"), start("worker")
    engines = [DaskEngine(address, workers=0, work=name_of(batch_help.plain), limits=LIMITS) for _ in range(2)]
    try:
        for name, engine in zip("ab", engines, strict=True):
            engine.submit(1, tasks(f"{name}1", f"{name}2"))
        keys = [key for engine in engines for key in engine._client.futures]
        found = [set(outcomes(engine, 1)) for engine in engines]
    finally:
        for engine in engines:
            engine.close()
    assert found == [{"a1", "a2"}, {"b1", "b2"}] and len(set(keys)) == 2
    assert len({key.rpartition("-")[0] for key in keys}) == 2 and {len(key) for key in keys} == {len("labeler--1") + 32}


def test_nobody_at_the_address_is_one_line(monkeypatch):
    """What was asked, and how a cluster is started."""
    monkeypatch.setattr("labeler.batch.cluster.CONNECT_SECONDS", 1.0)
    for address in ("tcp://127.0.0.1:9", "nonsense://x"):
        with pytest.raises(LabelerError, match=r"no scheduler answers there.*dask scheduler") as error:
            DaskEngine(address, workers=0, work=name_of(batch_help.plain), limits=LIMITS)
        assert "\n" not in str(error.value)


def test_a_worker_with_another_edition_is_refused():
    """Figures of two editions are not mixed."""
    with pytest.raises(LabelerError, match="install the same"):
        do_chunk("another", name_of(batch_help.plain), LIMITS, [])

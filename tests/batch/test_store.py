"""The journal of a table: whole after any death, one entry an id."""

import os
import signal
import subprocess
import sys
import time

import pytest

from labeler.batch.store import Store, pack, unpack
from labeler.types import LabelerError


def entry(name, digest="d", **more):
    """An entry, packed."""
    return pack({"file": name, "digest": digest, "outcome": "done", **more})


def test_an_entry_counts_once(tmp_path):
    """The second time under the same digest changes nothing; another digest takes its place."""
    store = Store(tmp_path / "j.sqlite")
    assert store.add([entry("a", title="first"), entry("b")]) == 2
    assert store.add([entry("a", title="second")]) == 0
    assert store.entries(["a"])["a"]["title"] == "first"
    assert store.add([entry("a", "e", title="third")]) == 1
    assert store.digests(["a", "b", "c"]) == {"a": "e", "b": "d"} and store.entries(["a"])["a"]["title"] == "third"
    store.close()


def test_what_is_packed_comes_out_as_it_was():
    """Any signs, and a half of a pair that no file can hold becomes a question mark."""
    assert unpack(entry("ü", title="½ “x”\n").entry)["title"] == "½ “x”\n"
    assert unpack(entry("a", title="\ud800").entry)["title"] == "?"


def test_two_batches_do_not_share_a_journal(tmp_path):
    """The second one is told to wait; a file that is no journal is told too."""
    store = Store(tmp_path / "j.sqlite")
    store.add([entry("a")])
    with pytest.raises(LabelerError, match="another batch works"):
        Store(tmp_path / "j.sqlite")
    store.close()
    (tmp_path / "k.sqlite").write_bytes(b"no base at all" * 100)
    with pytest.raises(LabelerError, match="damaged"):
        Store(tmp_path / "k.sqlite")
    with pytest.raises(LabelerError, match="cannot be made"):
        Store(tmp_path / "k.sqlite" / "deeper" / "j.sqlite")


def test_a_chunk_is_written_whole_or_not_at_all(tmp_path):
    """A fault in the middle of a chunk leaves none of it."""
    store = Store(tmp_path / "j.sqlite")

    def broken():
        yield entry("a")
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        store.add(broken())
    assert store.digests(["a"]) == {}
    store.close()


WRITER = """
import sys
from pathlib import Path
from labeler.batch.store import Store, pack
store = Store(Path(sys.argv[1]))
for number in range(10**6):
    store.add([pack({"file": f"{number}-{place}", "digest": "d", "text": "x" * 2000}) for place in range(8)])
    print(number, flush=True)
"""


def test_a_journal_whose_writer_was_killed_is_whole(tmp_path):
    """kill -9 in the middle: every chunk that was reported is there whole, and no chunk is there in part."""
    path = tmp_path / "j.sqlite"
    writer = subprocess.Popen([sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE)
    told = [int(writer.stdout.readline()) for _ in range(5)]
    time.sleep(0.05)
    os.kill(writer.pid, signal.SIGKILL)
    writer.wait()
    writer.stdout.close()
    store = Store(path)
    chunks = {number: len(store.digests([f"{number}-{place}" for place in range(8)])) for number in range(2000)}
    store.close()
    assert all(chunks[number] == 8 for number in told) and set(chunks.values()) <= {0, 8}


def test_a_full_disk_is_one_line_and_the_journal_stays(tmp_path):
    """SQLite is given no more pages: what was written before is still there."""
    store = Store(tmp_path / "j.sqlite")
    store.add([entry("a")])
    store._base.execute("PRAGMA max_page_count = 8")
    with pytest.raises(LabelerError, match="full; make room"):
        store.add([entry(f"b{n}", text=os.urandom(4000).hex()) for n in range(50)])
    store.close()
    again = Store(tmp_path / "j.sqlite")
    assert again.digests(["a", "b0"]) == {"a": "d"}
    again.close()

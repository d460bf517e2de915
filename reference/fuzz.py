"""Throws changed and random input at every reader and every writer, and holds what each promises.

    python reference/fuzz.py [--seconds 240] [--seed 1] [--target NAME] [--only NUMBER]

Inputs are made from a corpus (`tests/documents`, lines of it, answers as services give them): bytes and signs put in,
taken out, doubled and moved, pieces of others joined on, numbers made huge, some random from the start. Each target
gets its share of the time. A `LabelerError` is an answer; any other exception, a warning, more than two seconds of the
processor, more than `MOST_MIB` of memory and each broken promise of `fuzz_readers` and `fuzz_writers` is a fault, which
is printed with the number that makes it again. Run it with `nice`, with `tests` on the path of Python. Status 1 where
there is a fault.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import random
import resource
import signal
import sys
import time
import traceback
import warnings
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[1] / "tests")]
os.environ.setdefault("LABELER_LARDER", "/nowhere/larder.toml")

from fuzz_readers import READERS, Target  # noqa: E402
from fuzz_writers import WRITERS  # noqa: E402

from labeler.processes import set_up  # noqa: E402
from labeler.types import LabelerError  # noqa: E402

TARGETS: dict[str, Target] = READERS | WRITERS
MOST_SECONDS = 2.0
MOST_MIB = 4096
SHOWN = 5
PIECES = tuple(
    piece.encode("utf-8", "surrogatepass")
    for piece in (
        *"0123456789-+*/=.,;:()[]{}<>|\\\"'&%#@$_~^`!? \t\n\r\x00\x1b\x7f",
        "½", "⅓", "–", "−", "×", "\u00a0", "\u200b", "\u202e", "\ufeff", "é", "中", "🍞", "\ud800", "e\u0301",
        "ß", "İ", "١", "1_0",
        "999999999999999999999", "1e308", "-0", "0x1f", "nan", "inf", "1/0", "0", "1e-320", "10 to 5", "1,000,000",
        "- ", "> ", "## ", "---\n", "title: ", "{food 15028, 454 g}", "{", "cups", "kg", "-5 g", "to taste", "or",
        "drain", "simmer 1e9 hours", "at 9999 °C", "weighs 0 g", "</script>", "<!--", "]]>", "&#x41;", "=1+1", "null",
        "true", "[]", "{}", "\"\"", "\n\n\n", "a" * 300, "(" * 200, "[" * 2000, "1 cup " * 60, "half of the ",
    )
)  # fmt: skip


def changed(seeds: list[bytes], rng: random.Random) -> bytes:
    """An input made of others."""
    if rng.random() < 0.03:
        return rng.randbytes(rng.randrange(120))
    if rng.random() < 0.05:
        return b"".join(rng.choice(PIECES) for _ in range(rng.randrange(30)))
    data = bytearray(rng.choice(seeds))
    for _ in range(rng.randrange(1, 7)):
        at, way = rng.randrange(len(data) + 1), rng.randrange(7)
        end = min(len(data), at + rng.randrange(1, 40))
        if way == 0:
            del data[at:end]
        elif way == 1:
            data[at:at] = data[at:end] * rng.randrange(1, 4)
        elif way == 2:
            other = rng.choice(seeds)
            begin = rng.randrange(len(other) + 1)
            data[at:end] = other[begin : begin + rng.randrange(200)]
        elif way == 3:
            data[at:end] = rng.choice(PIECES)
        elif way == 4 and at < len(data):
            data[at] = rng.randrange(256)
        else:
            data[at:at] = rng.choice(PIECES)
    return bytes(data)


class Late(BaseException):
    """An input that takes far too long."""


def _late(*_: object) -> None:
    raise Late


@contextlib.contextmanager
def in_time() -> Iterator[None]:
    """Raise `Late` where what is done takes far more of the processor than it may; what stood before stands again."""
    before = signal.signal(signal.SIGPROF, _late)
    signal.setitimer(signal.ITIMER_PROF, 5 * MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def fault_of(target: Target, data: bytes) -> tuple[str, str]:
    """What an input comes to, "read", "refused" or "fault", and the fault in words."""
    begun = time.process_time()
    try:
        with in_time(), warnings.catch_warnings():
            warnings.simplefilter("error")
            target.call(data)
        outcome, told = "read", ""
    except LabelerError as error:
        outcome, told = ("refused", "") if str(error).strip() else ("fault", "refused without a word")
    except (Exception, Late) as error:
        places = traceback.extract_tb(error.__traceback__)
        place = next((one for one in reversed(places) if "labeler" in one.filename), places[-1])
        first = " ".join(str(error).split())[:160]
        outcome, told = "fault", f"{type(error).__name__} at {Path(place.filename).name}:{place.lineno}: {first}"
    spent = time.process_time() - begun
    if outcome != "fault" and spent > MOST_SECONDS:
        return "fault", f"took {spent:.1f} s"
    return outcome, told


def data_of(name: str, seed: int, number: int) -> bytes:
    """The input of a number."""
    return changed(TARGETS[name].seeds(), random.Random(f"{seed} {name} {number}"))


def run(name: str, seed: int, seconds: float) -> tuple[Counter[str], Counter[str]]:
    """Throw inputs at a target until its time is over: how many came to what, and its faults by their words."""
    counts: Counter[str] = Counter()
    faults: Counter[str] = Counter()
    seeds = TARGETS[name].seeds()
    with contextlib.suppress(Exception):  # tables and templates are loaded in no input's time
        TARGETS[name].call(seeds[0])
    until, number = time.monotonic() + seconds, 0
    while time.monotonic() < until:
        outcome, told = fault_of(TARGETS[name], data_of(name, seed, number))
        counts[outcome] += 1
        if told:
            kind = told.partition(": ")[0]
            faults[kind] += 1
            if faults[kind] == 1:
                print(f"  {name} {number}: {told}", flush=True)
        number += 1
    return counts, faults


def main() -> None:
    """Give each target its share of the time and print what came of it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--seconds", type=float, default=240.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--target", choices=list(TARGETS), action="append", default=None)
    parser.add_argument("--only", type=int, default=None, help="make this one again and show it")
    options = parser.parse_args()
    set_up()
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MIB << 20, resource.getrlimit(resource.RLIMIT_AS)[1]))
    names = options.target or list(TARGETS)
    if options.only is not None:
        data = data_of(names[0], options.seed, options.only)
        print(repr(data))
        with in_time():
            TARGETS[names[0]].call(data)
        return
    total: Counter[str] = Counter()
    for name in names:
        counts, faults = run(name, options.seed, options.seconds / len(names))
        total += counts
        told = ", ".join(f"{counts[outcome]:,} {outcome}" for outcome in ("read", "refused", "fault"))
        print(f"{name:<22} {sum(counts.values()):>9,}: {told}", flush=True)
        for kind, number in faults.most_common(SHOWN):
            print(f"    {number:,} × {kind}", flush=True)
    print(f"{sum(total.values()):,} inputs, {total['fault']:,} faults")
    sys.exit(1 if total["fault"] else 0)


if __name__ == "__main__":
    main()

"""Any input at all: each reader reads it or refuses it in words, each writer writes it as text."""

import signal

import pytest
from fuzz import TARGETS, data_of, fault_of
from fuzz_readers import Target
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

CHEAP = sorted(name for name, target in TARGETS.items() if target.cost <= 10)
DEAR = sorted(name for name in TARGETS if name not in CHEAP and TARGETS[name].cost < 600)


def holds(name, data):
    """No fault; time is left to the script, as a machine with other work has its own."""
    outcome, told = fault_of(TARGETS[name], data)
    assert outcome != "fault" or told.startswith("took "), told


def endless(data):
    """A reader that never ends."""
    while data:
        pass


def test_an_input_that_never_ends_is_a_fault_and_not_the_end_of_the_run(monkeypatch):
    """It is cut off by its own handler, wherever it is called from, and the handler of before stands again."""
    monkeypatch.setattr("fuzz.MOST_SECONDS", 0.02)
    before = signal.getsignal(signal.SIGPROF)
    outcome, told = fault_of(Target(endless, list), b"x")
    assert outcome == "fault" and told.startswith("Late at ")
    assert signal.getsignal(signal.SIGPROF) == before and signal.getitimer(signal.ITIMER_PROF) == (0.0, 0.0)


@pytest.mark.parametrize("name", CHEAP)
@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(text=st.text(max_size=200))
def test_any_text_is_read_or_refused_and_written_as_text(name, text):
    """No crash, no warning, nothing lost, no figure outside physics, whatever signs the text is made of."""
    holds(name, text.encode("utf-8", "surrogatepass"))


@pytest.mark.parametrize("name", [*CHEAP, *DEAR])
def test_a_changed_document_is_read_or_refused(name):
    """Documents of each kind with pieces put in, taken out, doubled and moved."""
    for number in range(8 if name in DEAR else 25):
        holds(name, data_of(name, 3, number))

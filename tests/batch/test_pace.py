"""How fast a batch goes, and how long it will take."""

from labeler.batch.pace import Pace


def test_the_pace_counts_what_is_done_now():
    """What was done before is no work; the first recipe ends no time; hours are told as hours."""
    now = [0.0]
    pace = Pace(40_000, clock=lambda: now[0])
    assert pace.text() == ""
    for _ in range(10_000):
        pace.count(worked=False)
    now[0] = 100.0
    assert pace.rate is None
    pace.count(worked=False)
    for _ in range(50):
        now[0] += 0.5
        pace.count(worked=True)
    assert pace.rate == 2.0 and pace.seconds_left == 29_949 / 2
    assert pace.text() == "2.0 a second, 4 h 9 min left"


def test_a_clock_that_stands_still_gives_no_pace():
    """Nobody can say."""
    pace = Pace(2, clock=lambda: 7.0)
    pace.count(worked=True)
    assert pace.rate is None and pace.seconds_left is None and pace.text() == ""

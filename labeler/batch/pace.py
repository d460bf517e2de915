"""How fast a batch goes and how long it will take, by a clock that no one sets."""

from __future__ import annotations

import time
from collections.abc import Callable

__all__ = ["Pace"]


class Pace:
    """The pace of a batch.

    Parameters
    ----------
    total : int
        Recipes in all.
    clock : function
        Seconds that only go on.
    """

    def __init__(self, total: int, *, clock: Callable[[], float] = time.monotonic) -> None:
        self.total = total
        self.seen = 0
        self._worked = 0
        self._clock = clock
        self._begun = clock()

    def count(self, *, worked: bool) -> None:
        """One recipe more: done now, or done before and only met again."""
        if not self._worked:
            self._begun = min(self._begun, self._clock()) if worked else self._clock()
        self.seen += 1
        self._worked += worked

    @property
    def rate(self) -> float | None:
        """Recipes done a second; None as long as nobody can say."""
        seconds = self._clock() - self._begun
        return self._worked / seconds if self._worked and seconds > 0 else None

    @property
    def seconds_left(self) -> float | None:
        """Seconds until all is done at this pace; None as long as nobody can say."""
        rate = self.rate
        return (self.total - self.seen) / rate if rate else None

    def text(self) -> str:
        """Rate and time left in words; empty as long as nobody can say."""
        rate, left = self.rate, self.seconds_left
        if rate is None or left is None:
            return ""
        minutes, seconds = divmod(round(left), 60)
        hours, minutes = divmod(minutes, 60)
        told = f"{hours} h {minutes} min" if hours else f"{minutes} min {seconds} s" if minutes else f"{seconds} s"
        return f"{rate:.1f} a second, {told} left"

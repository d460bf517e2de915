"""What meat gives up of its fat, by how fat it is and by the time on the heat."""

from __future__ import annotations

import pytest
from kitchen_help import pot_of

from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.meat_losses import shrink
from labeler.cooking.models.oil_uptake import take_up_oil
from labeler.types import Interval

BELLY = ("pork belly", "10005", 1000.0)
LEAN = ("pork loin", "10060", 1000.0)
OIL = ("oil", "04582", 20.0)


def fat_kept(row, minutes: float) -> float:
    """Share of its fat that a meat keeps when it is braised alone with water."""
    mix, draws = pot_of(row, ("water", "14411", 500.0))
    heat = Conditions("braise", minutes=Interval(minutes, minutes, minutes))
    kept = shrink(mix, [0], heat, draws).kept
    own = [at for at, item in enumerate(kept.items) if item.name == row[0] and not item.phase]
    return float(kept.select(own).constituent("fat").sum() / mix.select([0]).constituent("fat").sum())


def test_a_fat_cut_gives_up_its_fat_slowly():
    """Belly pork keeps most of its fat in half an hour and some three fifths in an hour and a half (SR28 pairs)."""
    assert fat_kept(BELLY, 30.0) == pytest.approx(0.85, abs=0.02)
    assert 0.5 < fat_kept(BELLY, 90.0) < 0.72


def test_a_lean_cut_keeps_what_its_kind_keeps_however_long():
    """A cut with less fat than a tenth has no fat tissue to melt out."""
    assert fat_kept(LEAN, 120.0) == pytest.approx(fat_kept(LEAN, 30.0), abs=0.01)


def test_a_fat_cut_takes_no_oil_up():
    """Of belly pork that is browned in oil the oil stays in the pan; lean pork takes some of it up."""
    taken = {}
    for row in (BELLY, LEAN):
        mix, draws = pot_of(row, OIL)
        kept = take_up_oil(mix, way="pan-fry", draws=draws, left=None, part="", line=1).kept
        taken[row[0]] = sum(float(kept.mass[0, at]) for at, item in enumerate(kept.items) if item.name == "oil")
    assert taken["pork belly"] == 0.0
    assert taken["pork loin"] > 5.0

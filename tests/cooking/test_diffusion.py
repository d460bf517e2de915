"""Crank's solutions: worked values, the limited bath against a difference scheme, and laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.cooking.models.diffusion import FORMS, uptake


@pytest.mark.parametrize(
    ("form", "fo", "expected"),
    [
        # Crank 1975 pp. 48 and 91, worked values as given in the documentation of polykin and recomputed.
        ("sheet", 0.25, 0.5622),
        ("sphere", 0.25, 0.9484),
        # Half-way times, derived from the same series.
        ("sheet", 0.1967, 0.5),
        ("sphere", 0.0305, 0.5),
        ("sheet", 1.129, 0.95),
        ("sphere", 0.253, 0.95),
        # Early times: 2 sqrt(Fo / pi) of a sheet, its limit.
        ("sheet", 0.001, 0.03568),
    ],
)
def test_uptake_in_an_endless_bath(form, fo, expected):
    """Crank's series gives the published share of the final uptake."""
    assert float(uptake(form, fo)) == pytest.approx(expected, abs=4e-4)


def difference_scheme(form: str, bath: float, fo: float, cells: int = 80) -> float:
    """Uptake in a limited bath by explicit finite volumes: nothing of Crank in it."""
    power = FORMS.index(form)
    edge = np.arange(cells + 1) / cells
    area = edge**power
    room = (edge[1:] ** (power + 1) - edge[:-1] ** (power + 1)) / (power + 1)
    inside, outside = np.zeros(cells), 1.0
    step = 0.2 / cells**2
    for _ in range(round(fo / step)):
        flow = np.zeros(cells + 1)
        flow[1:-1] = -(inside[1:] - inside[:-1]) * cells * area[1:-1]
        flow[-1] = -(outside - inside[-1]) * 2 * cells * area[-1]
        inside = inside + step * (flow[:-1] - flow[1:]) / room
        outside += step * flow[-1] / (bath * room.sum())
    return float((inside * room).sum() / (room.sum() * bath / (1.0 + bath)))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("bath", [0.3, 2.0])
def test_uptake_in_a_limited_bath(form, bath):
    """The limited bath agrees with a difference scheme to a quarter of a per cent."""
    assert float(uptake(form, 0.05, bath=bath)) == pytest.approx(difference_scheme(form, bath, 0.05), abs=2.5e-3)


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(FORMS), st.floats(1e-3, 1e5))
def test_uptake_grows_with_time_from_nothing_to_all(form, bath):
    """Uptake never falls with time, starts at 0 and ends at 1."""
    share = uptake(form, np.geomspace(1e-6, 50.0, 50), bath=bath)
    assert np.all(np.diff(share) >= -1e-9)
    assert float(uptake(form, 0.0, bath=bath)) == 0.0
    assert float(uptake(form, np.inf, bath=bath)) == pytest.approx(1.0)


@pytest.mark.parametrize("form", FORMS)
def test_a_large_bath_is_an_endless_one(form):
    """A bath ten thousand times the food does what an endless bath does."""
    fo = np.geomspace(1e-4, 1.0, 20)
    np.testing.assert_allclose(uptake(form, fo, bath=9.9e3), uptake(form, fo), atol=5e-4)


@pytest.mark.parametrize("form", FORMS)
def test_many_draws_are_the_same_as_one_by_one(form):
    """The table that serves many draws gives what single values give."""
    random = np.random.default_rng(1)
    fo, bath = random.lognormal(-3, 1, 500), random.lognormal(0, 1, 500)
    together = uptake(form, fo, bath=bath)
    single = [float(uptake(form, fo[at], bath=bath[at])) for at in range(0, 500, 25)]
    np.testing.assert_allclose(together[::25], single, atol=2e-3)


def test_another_form_is_an_error():
    """A shape without a solution is refused."""
    with pytest.raises(KeyError):
        uptake("torus", 0.1)

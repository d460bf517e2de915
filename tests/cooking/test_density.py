"""Room that mixtures take, against handbook values."""

from __future__ import annotations

import numpy as np
import pytest
from kitchen_help import pot_of

from labeler.cooking.state.density import component_density, density, volume, water_density


@pytest.mark.parametrize(
    ("celsius", "expected"),
    # CRC Handbook of Chemistry and Physics, density of water [kg/m³].
    [(4, 999.97), (20, 998.21), (25, 997.05), (60, 983.20), (100, 958.35)],
)
def test_pure_water(celsius, expected):
    """Kell's equation gives the handbook's density of water."""
    assert float(water_density(celsius)) == pytest.approx(expected, abs=0.06)


@pytest.mark.parametrize(
    ("component", "celsius", "expected"),
    # Choi and Okos 1986, table of component densities, worked by hand.
    [
        ("fat", 20, 917.24),
        ("protein", 20, 1319.53),
        ("carbohydrate", 20, 1592.89),
        ("fibre", 20, 1304.18),
        ("ash", 20, 2418.19),
    ],
)
def test_components_by_choi_and_okos(component, celsius, expected):
    """Component densities follow the published lines."""
    assert float(component_density(component, celsius)) == pytest.approx(expected, abs=0.01)


def test_sugar_solution():
    """A 20 % sucrose solution at 20 °C is 1.0810 g/mL (CRC Handbook); within half a per cent."""
    mix, _ = pot_of(("water", "14411", 80.0), ("sugar", "19335", 20.0))
    assert float(density(mix)[0]) == pytest.approx(1.0810, rel=0.005)


def test_oil_floats():
    """Olive oil is 0.911 to 0.916 g/mL at 20 °C (Codex Stan 33); within half a per cent."""
    mix, _ = pot_of(("olive oil", "04053", 100.0))
    assert float(density(mix)[0]) == pytest.approx(0.9135, rel=0.006)


def test_volumes_add_up_and_hot_liquids_take_more_room():
    """The volume of two things together is the sum of theirs, and grows with temperature."""
    water, _ = pot_of(("water", "14411", 100.0))
    both, _ = pot_of(("water", "14411", 100.0), ("olive oil", "04053", 50.0))
    oil, _ = pot_of(("olive oil", "04053", 50.0))
    np.testing.assert_allclose(volume(both), volume(water) + volume(oil))
    assert float(volume(both, temperature=90.0)[0]) > float(volume(both, temperature=20.0)[0])


def test_an_empty_pot_has_no_density():
    """Nothing has no density: NaN, and no warning."""
    mix, _ = pot_of(("water", "14411", 0.0))
    assert np.isnan(density(mix)[0])


def test_unknown_component():
    """A component that is not in the table is refused."""
    with pytest.raises(KeyError):
        component_density("gold", 20)

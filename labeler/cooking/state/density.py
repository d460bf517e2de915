"""How much room a mixture takes: density from its own composition and temperature.

Component densities are those of Choi and Okos (1986), "Effects of temperature and composition on the thermal
properties of foods", in Food Engineering and Process Applications vol. 1, pp. 93-101, which the ASHRAE Handbook of
Refrigeration reprints in its chapter "Thermal properties of foods" (-40 to 150 °C; checked second-hand, against
teaching code that cites the paper). Specific volumes add up. Water is by Kell (1975), J. Chem. Eng. Data 20:97, eq. 16
(0 to 150 °C; coefficients from memory, held to handbook values by a test), because Choi and Okos give 994.9 kg/m³ at
25 °C where it is 997.05.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from labeler.cooking.state.mixture import CONSTITUENTS, Array, Mixture, column

__all__ = ["component_density", "density", "volume", "water_density"]

# kg/m³ at 0 °C and slope per °C.
_CHOI_OKOS = {
    "protein": (1329.9, -0.5184),
    "fat": (925.59, -0.41757),
    "carbohydrate": (1599.1, -0.31046),
    "fibre": (1311.5, -0.36589),
    "ash": (2423.8, -0.28063),
}
# Pure ethanol: 789.3 kg/m³ at 20 °C, -0.85 per °C (CRC Handbook of Chemistry and Physics). Its mixtures with water
# shrink, so a spirit of 40 % by weight comes out 3.5 % too light.
_ALCOHOL = (806.3, -0.85)


def water_density(temperature: ArrayLike) -> Array:
    """Density of pure water [kg/m³] at a temperature [°C], Kell 1975 eq. 16, 0 to 150 °C."""
    t = np.asarray(temperature, dtype=float)
    top = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    below: Array = 1.0 + 16.879850e-3 * t
    return top / below


def component_density(component: str, temperature: ArrayLike) -> Array:
    """Density of one component [kg/m³] at a temperature [°C].

    `component` is water, protein, fat, carbohydrate, fibre, ash or alcohol; raises KeyError for another.
    """
    if component == "water":
        return water_density(temperature)
    at_zero, slope = _ALCOHOL if component == "alcohol" else _CHOI_OKOS[component]
    return np.asarray(at_zero + slope * np.asarray(temperature, dtype=float))


def volume(mix: Mixture, *, temperature: float = 20.0) -> Array:
    """Volume of a mixture without air between its pieces [mL], shape (draws,), at a temperature [°C].

    Mass that no proximate explains (the acid of a vinegar) counts as carbohydrate.
    """
    mass = mix.total_mass
    protein, fibre, ash = mix.total_of([column("PROCNT"), column("FIBTG"), column("ASH")])
    grams = {"protein": protein, "fibre": fibre, "ash": ash}
    for name in ("water", "fat", "alcohol"):
        at = CONSTITUENTS.index(name)
        grams[name] = mix.held[:, :, at] @ mix.weight[:, at]
    grams["carbohydrate"] = np.maximum(0.0, mass - sum(grams.values(), np.zeros(mix.draws)))
    litres = sum((grams[name] / component_density(name, temperature) for name in grams), np.zeros(mix.draws))
    room: Array = 1000.0 * litres
    return room


def density(mix: Mixture, *, temperature: float = 20.0) -> Array:
    """Density of a mixture without air between its pieces [g/mL], shape (draws,); NaN for an empty one."""
    room = volume(mix, temperature=temperature)
    dense: Array = np.divide(mix.total_mass, room, out=np.full(mix.draws, np.nan), where=room > 0.0)
    return dense

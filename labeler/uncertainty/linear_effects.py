"""What inputs do to a total, estimated from draws that are there already: linear effects and shares of its variance."""

from __future__ import annotations

import numpy as np

from labeler.percentiles import percentile
from labeler.uncertainty.intervals import Reals

__all__ = ["first_order", "projection"]

# An input whose rank correlation is noise adds noise: hats of so many knots catch any shape that matters in a kitchen.
KNOTS = 12
# With fewer draws for each input a linear fit follows chance.
FEWEST = 4


def projection(normals: Reals) -> Reals:
    """The matrix that takes totals to the linear effects of the inputs on them, by least squares.

    Parameters
    ----------
    normals : array (inputs, draws)
        Standard normals, independent.

    Returns
    -------
    array (draws, inputs)
        Behind totals (totals, draws): the change of each total for one standard deviation of each input, in its unit.
        Nothing but zeros where there are too few draws to tell effects from chance.
    """
    inputs, draws = normals.shape
    if draws < FEWEST * inputs:
        return np.zeros((draws, inputs), dtype=normals.dtype)
    centred = (normals - normals.mean(axis=1, keepdims=True)).astype(float)
    # Stratified normals are never alike; the ridge is for the day when two keys draw the same.
    square = centred @ centred.T + 1e-9 * draws * np.eye(inputs)
    return np.ascontiguousarray(np.linalg.solve(square, centred).T.astype(normals.dtype))


def first_order(totals: Reals, inputs: Reals, *, knots: int = KNOTS) -> Reals:
    """First-order Sobol indices of some totals, estimated from draws that are there already.

    The share of the variance of a total that goes away, on average, when one input is known: Var(E(T|x)) / Var(T). All
    conditional means are fitted together, as a sum of piecewise linear functions of the inputs' ranks with knots
    at equal shares of the draws; each one's share of the variance is lessened by what as many noise terms would take.
    Interactions belong to no input, so the indices sum to 1 for an additive model and to less for any other.

    Parameters
    ----------
    totals : array (draws, totals)
    inputs : array (draws, inputs)
        Independent, of any continuous distribution; a column without spread has the index 0.
    knots : int
        Of each function; there must be more draws than inputs times knots.

    Returns
    -------
    array (inputs, totals)
        0 to 1. A total without spread has zeros.

    Raises
    ------
    ValueError
        For fewer draws than the functions have coefficients.
    """
    count = len(inputs)
    if inputs.shape[1] * (knots - 1) >= count:
        raise ValueError(f"{count} draws are too few for {inputs.shape[1]} inputs with {knots} knots each")
    bases = [_hats(inputs[:, at], knots) for at in range(inputs.shape[1])]
    centred = totals - totals.mean(axis=0)
    design = np.concatenate(bases, axis=1) if bases else np.zeros((count, 0))
    weights = np.linalg.lstsq(design, centred, rcond=None)[0]
    noise = np.square(centred - design @ weights).sum(axis=0) / max(count - design.shape[1], 1)
    found = np.zeros((inputs.shape[1], totals.shape[1]))
    start = 0
    for at, basis in enumerate(bases):
        effect = basis @ weights[start : start + basis.shape[1]]
        start += basis.shape[1]
        found[at] = np.square(effect - effect.mean(axis=0)).mean(axis=0) - noise * basis.shape[1] / count
    found = np.maximum(found, 0.0)
    # The variance that independent inputs have; that of the draws has their chance correlations in it.
    variance = found.sum(axis=0) + noise
    return np.asarray(np.divide(found, variance, out=np.zeros_like(found), where=variance > 0.0))


def _hats(values: Reals, knots: int) -> Reals:
    """Piecewise linear functions of the values with knots at their quantiles, without the constant."""
    ordered = np.sort(values)
    places = np.array(sorted({percentile(ordered, float(share)) for share in np.linspace(0.0, 1.0, knots)}))
    if len(places) < 2:
        return np.zeros((len(values), 0))
    hats: Reals = np.stack([np.interp(values, places, row) for row in np.eye(len(places))[1:]], axis=1)
    return np.asarray(hats - hats.mean(axis=0))

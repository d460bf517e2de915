"""Intervals and variance shares against closed forms and a published test function."""

from pathlib import Path
from statistics import NormalDist

import numpy as np
import pytest

from labeler.cooking.state.mixture import column
from labeler.cooking.state.normal_quantiles import normal_quantile
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.uncertainty.amount_rounding import with_rounding
from labeler.uncertainty.intervals import BasisFunction, Fitter, chosen, functions_for, percentiles, piecewise
from labeler.uncertainty.linear_effects import first_order
from labeler.uncertainty.variance_shares import variance_shares

Z95 = 1.959963984540054
DRAWS = 2000
DEMO = Path(__file__).parents[2] / "demo"


def stratified(count, seed, draws=DRAWS):
    source = Sampler(draws, seed=seed)
    return np.stack([source.normal(Cause.STATED, at)[1:] for at in range(count)], axis=1)


def ends(totals, normals, *, steps=None):
    """Ends of a total of inputs in columns, of which the last is its own; `steps` are choices and their chances."""
    terms = [piecewise(column, 3) for column in normals[:, :-1].T]
    terms += [chosen(places, chances) for places, chances in steps or ()]
    fitter = Fitter(normals[:, -1:].T, BasisFunction(terms, len(normals)))
    totals = totals[None]
    low, high = fitter.ends(totals, fitter.scales(totals))
    return low[0], high[0]


@pytest.mark.parametrize("count", [1, 2, 5, 15, 40])
@pytest.mark.parametrize("seed", range(4))
def test_the_interval_of_a_sum_of_independent_normals_is_its_closed_form_within_half_a_percent(count, seed):
    """Half-width 1.96 sqrt(sum of squares), from 2,000 draws."""
    normals = stratified(count, seed)
    weights = np.random.default_rng([seed, count]).exponential(1.0, count)
    low, high = ends(100.0 + normals @ weights, normals)
    exact = 2 * Z95 * np.linalg.norm(weights)
    assert high - low == pytest.approx(exact, rel=0.005)
    assert (high + low) / 2 == pytest.approx(100.0, abs=0.005 * exact)


@pytest.mark.parametrize("seed", range(4))
def test_the_interval_of_a_lognormal_product_is_its_closed_form_within_1_percent(seed):
    """exp(± 1.96 s) for a product of factors whose logarithms are normal, s = 0.4."""
    normals = stratified(8, seed)
    weights = np.random.default_rng(seed).exponential(1.0, 8)
    weights *= 0.4 / np.linalg.norm(weights)
    found = ends(np.exp(normals @ weights), normals)
    assert found == pytest.approx((np.exp(-0.4 * Z95), np.exp(0.4 * Z95)), rel=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_the_interval_of_a_choice_and_a_normal_is_its_closed_form_within_1_percent(seed):
    """A normal of sd 1 about 20, 22 or 30 with chances 0.7, 0.2 and 0.1: the distribution function at each end."""
    normals = stratified(3, seed)
    chances, means = [0.7, 0.2, 0.1], np.array([20.0, 22.0, 30.0])
    places = np.searchsorted(normal_quantile(np.cumsum(chances)[:-1]), normals[:, 0])
    low, high = ends(means[places] + normals[:, 1], normals[:, 1:], steps=[(places, chances)])
    below = [sum(p * NormalDist(m, 1.0).cdf(end) for p, m in zip(chances, means, strict=True)) for end in (low, high)]
    assert below == pytest.approx([0.025, 0.975], abs=0.0015)


def test_what_inputs_do_only_together_is_in_the_interval():
    """z1 z2 about 20, which no sum explains, has the percentiles of its draws: ± 2.18 by 10 million draws."""
    normals = stratified(3, 5)
    low, high = ends(20.0 + normals[:, 0] * normals[:, 1], normals)
    assert [low - 20.0, high - 20.0] == pytest.approx([-2.18, 2.18], rel=0.12)


def test_without_a_fit_the_interval_has_the_percentiles_of_the_draws():
    """Too few draws for a function of each input: nothing is corrected."""
    totals = np.random.default_rng(3).gamma(2.0, size=(1, DRAWS))
    low, high = percentiles(totals)
    assert [low[0], high[0]] == pytest.approx(np.percentile(totals, [2.5, 97.5]), rel=0.01)
    assert functions_for(60, inputs=20, choices=0, values=0) is None
    assert functions_for(120, inputs=10, choices=5, values=40) == (0, False)
    assert functions_for(2000, inputs=10, choices=5, values=40) == (3, True)


@pytest.mark.parametrize("recipe", ["harbour-box", "quay-pie", "beetroot-relish"])
def test_two_seeds_agree_within_1_percent(recipe):
    """Both ends of energy, sodium and fat of a serving, for each pair of three seeds."""
    found = [analyse(read_recipe((DEMO / f"{recipe}.md").read_text()), seed=seed).per_serving for seed in range(3)]
    for key in ("ENERC_KCAL", "NA", "FAT"):
        for side in ("low", "high"):
            seen = [getattr(one[key], side) for one in found]
            assert max(seen) / min(seen) < 1.01, (key, side, seen)


@pytest.mark.parametrize("seed", range(4))
def test_shares_of_a_linear_total_are_the_known_ones_and_sum_to_1(seed):
    """For a sum of w z the first-order index of each input is w² over their sum; together 1 within 0.02."""
    weights = np.array([3.0, 2.0, 1.0, 1.0, 0.5, 0.1])
    normals = stratified(len(weights), seed)
    found = first_order((normals @ weights)[:, None], normals)[:, 0]
    assert found == pytest.approx(weights**2 / (weights**2).sum(), abs=0.02)
    assert found.sum() == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize("seed", range(3))
def test_first_order_indices_of_the_ishigami_function(seed):
    """sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 on (-π, π): S1 0.3139, S2 0.4424, S3 0 (Ishigami and Homma 1990)."""
    count = 10_000
    random = np.random.default_rng(seed)
    x = np.stack([random.permutation((np.arange(count) + 0.5) / count) for _ in range(3)], axis=1)
    x = (2.0 * x - 1.0) * np.pi
    total = np.sin(x[:, 0]) + 7.0 * np.sin(x[:, 1]) ** 2 + 0.1 * x[:, 2] ** 4 * np.sin(x[:, 0])
    found = first_order(total[:, None], x)[:, 0]
    assert found == pytest.approx([0.3139, 0.4424, 0.0], abs=0.02)


def test_too_few_draws_for_so_many_inputs_are_refused():
    """An additive fit with more coefficients than draws would explain everything."""
    with pytest.raises(ValueError, match="too few"):
        first_order(np.zeros((50, 1)), np.zeros((50, 8)))


def water(*grams):
    lines = "\n".join(f"- {one} g water {{food 14411}}" for one in grams)
    return analyse(read_recipe(f"---\nserves: 1\n---\n{lines}\n"))


def test_a_recipe_of_independent_weights_has_the_closed_form_too():
    """Water by weight: the interval of the batch is that of a sum of independent weights and of the composition."""
    found = water(110, 230, 317, 440, 505, 680)
    rounded = with_rounding(found.weighed)
    halves = [(line.grams.high - line.grams.low) / 2 for part in rounded.parts for line in part.lines]
    composition = Z95 * found.drawn.propagated.composition.sd[column("WATER")]
    figure = found.batch["WATER"]
    assert figure.high - figure.low == pytest.approx(2 * np.linalg.norm([*halves, composition]), rel=0.02)


def test_shares_of_a_recipe_of_independent_weights_are_their_variances():
    """The same recipe: each line's share of the variance is its own over the sum, within 0.02, and they sum to 1."""
    found = water(110, 230, 317, 440, 505, 680)
    halves = [
        (line.grams.high - line.grams.low) / 2
        for part in with_rounding(found.weighed).parts
        for line in part.lines
    ]  # fmt: skip
    shares = variance_shares(found.drawn, "WATER", per="batch")
    weights = sorted((share.share for share in shares if share.kind == "weight"), reverse=True)
    composition = Z95 * found.drawn.propagated.composition.sd[column("WATER")]
    expected = sorted(np.square(halves) / (np.square(halves).sum() + composition**2), reverse=True)
    assert weights == pytest.approx(expected[: len(weights)], abs=0.02)
    assert sum(share.share for share in shares if share.kind != "together") == pytest.approx(1.0, abs=0.02)

"""Draws: what keys may hold, and that the same text has the same draws on every processor, Python and numpy."""

import hashlib
import json
import subprocess
import sys
from pathlib import Path
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeler.cooking.state.normal_quantiles import normal_quantile, strata
from labeler.cooking.state.sampling import Cause, DrawKey, Sampler
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.types import Interval

DEMO = Path(__file__).parents[2] / "demo"


@pytest.mark.parametrize(
    "part", [0.5, np.float64(0.5), (0.5,), ("20081", 0.5), Interval(1.0, 0.5, 2.0), None, True, np.int64(3)]
)
def test_a_key_of_a_draw_holds_text_and_whole_numbers_only(part):
    """A figure, or what holds one, may differ in its last digit between processors: it is refused."""
    with pytest.raises(TypeError, match="text and whole numbers"):
        DrawKey(Cause.FOOD, ("20081", part))
    with pytest.raises(TypeError):
        Sampler(10).draw(Interval(1.0, 0.5, 2.0), Cause.FOOD, part)


def test_a_key_begins_with_a_cause():
    """Text alone is no key."""
    with pytest.raises(TypeError, match="is a Cause"):
        DrawKey("yield", ("beef",))


@given(st.lists(st.one_of(st.text(max_size=5), st.integers()), max_size=4), st.integers(0, 3))
def test_keys_that_differ_have_numbers_that_differ(of, place):
    """Joining, splitting or dropping what a key is of makes another key."""
    key = DrawKey(Cause.YIELD, tuple(of))
    other = DrawKey(Cause.YIELD, (*of[:place], "", *of[place:]))
    assert key.number(0) == DrawKey(Cause.YIELD, tuple(of)).number(0)
    assert len({key.number(0), other.number(0), key.number(1), DrawKey(Cause.LID, tuple(of)).number(0)}) == 4
    if len(of) > 1:
        assert DrawKey(Cause.YIELD, (" ".join(map(str, of)),)).number(0) != key.number(0)


@given(st.floats(1e-300, 1.0 - 1e-15))
def test_normal_quantiles_are_those_of_the_standard_library(level):
    """Within a few units in the last place of ``statistics.NormalDist``, which follows the same paper."""
    assert normal_quantile(level) == pytest.approx(NormalDist().inv_cdf(level), rel=3e-15, abs=1e-15)


def test_no_quantile_is_of_a_certainty():
    """0, 1 and what lies beyond are refused."""
    for level in (0.0, 1.0, -0.1, float("nan")):
        with pytest.raises(ValueError, match="above 0 and below 1"):
            normal_quantile(level)


def test_draws_of_a_key_are_the_same_to_the_last_bit_everywhere():
    """Sums of what this program drew on x86-64 with Python 3.11 and numpy 2.4; no other may draw otherwise."""
    draws = Sampler(2000, seed=7)
    drawn = draws.normal(Cause.YIELD, "beef", "roast").astype("<f8").tobytes()
    assert hashlib.sha256(drawn).hexdigest()[:16] == "d8cccca2891d45b6"
    assert draws.order(Cause.COMPOSITION)[:5].tolist() == [148, 1250, 1077, 1132, 860]


@pytest.mark.parametrize("count", [1, 2, 3, 50, 2000, 2048])
def test_every_key_draws_each_band_once(count):
    """Sorted, the draws of any key are the medians of equally probable bands."""
    normals = Sampler(count).normal(Cause.SKIN, "duck")
    np.testing.assert_array_equal(np.sort(normals[1:]), strata(count))
    assert normals[0] == 0.0


def test_keys_draw_independently_of_each_other():
    """Correlations of 60 keys are as small as those of independent draws: 1/√n, the largest below 4.5 of it."""
    draws = Sampler(2000)
    found = np.corrcoef([draws.normal(Cause.YIELD, kind)[1:] for kind in range(60)])[np.triu_indices(60, 1)]
    assert found.std() == pytest.approx(2000**-0.5, rel=0.1)
    assert np.abs(found).max() < 4.5 * 2000**-0.5


def test_what_is_drawn_does_not_depend_on_what_was_drawn_before():
    """A recipe that is changed in one place keeps its other draws."""
    one, two = Sampler(100), Sampler(100)
    two.normal(Cause.LID)
    two.draw(Interval(1.0, 0.5, 2.0))
    np.testing.assert_array_equal(one.normal(Cause.FILM), two.normal(Cause.FILM))


# Runs a recipe in a process of its own whose exponentials and logarithms are off by one unit in the last place, as
# they are between mathematical libraries, and tells what was drawn.
_ELSEWHERE = """
import hashlib, json, math, sys
import numpy as np

def nudge(module, name, towards):
    exact = getattr(module, name)
    setattr(module, name, lambda *given, **more: np.nextafter(exact(*given, **more), towards))

if sys.argv[2] != "as it is":
    for module in (np, math):
        for name in ("exp", "log", "expm1", "log1p", "log10", "log2"):
            if module is np:
                nudge(module, name, float(sys.argv[2]))
            else:
                exact = getattr(math, name)
                setattr(math, name, lambda x, *more, exact=exact: math.nextafter(exact(x, *more), float(sys.argv[2])))

from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe

found = analyse(read_recipe(open(sys.argv[1], encoding="utf-8").read()))
keys = {str(key): hashlib.sha256(row.tobytes()).hexdigest() for key, row in zip(found.drawn.inputs.keys,
                                                                                found.drawn.inputs.normals)}
figures = {key: [figure.best, figure.low, figure.high] for key, figure in found.per_serving.items()}
print(json.dumps({"draws": keys, "order": found.drawn.inputs.order.tolist(), "figures": figures}))
"""


def elsewhere(recipe, towards):
    told = subprocess.run(
        [sys.executable, "-c", _ELSEWHERE, str(DEMO / f"{recipe}.md"), towards],
        check=True, capture_output=True, text=True, encoding="utf-8",
    )  # fmt: skip
    return json.loads(told.stdout)


@pytest.mark.parametrize("recipe", ["harbour-box", "quay-pie"])
def test_another_mathematical_library_draws_the_same(recipe):
    """exp and log one unit in the last place up or down: the same keys, draws and order, and the same figures."""
    here = elsewhere(recipe, "as it is")
    for towards in ("inf", "-inf"):
        there = elsewhere(recipe, towards)
        assert there["draws"] == here["draws"]
        assert there["order"] == here["order"]
        for key, figures in here["figures"].items():
            assert there["figures"][key] == pytest.approx(figures, rel=1e-9), key
            # The interface prints six digits.
            assert [f"{figure:.6g}" for figure in there["figures"][key]] == [f"{figure:.6g}" for figure in figures], key


def test_other_words_for_the_same_food_keep_its_draws():
    """The recipe's text seeds nothing: a title, a remark or another order of lines leaves the interval where it is."""
    lines = ["- 250 g wheat flour", "- 120 g butter", "- 80 g sugar"]
    plain = analyse(read_recipe("---\nserves: 4\n---\n" + "\n".join(lines))).per_100g
    told = analyse(read_recipe("---\ntitle: Shortbread\nserves: 4\n---\n" + "\n".join(reversed(lines)))).per_100g
    for key in ("ENERC_KCAL", "FAT", "NA"):
        assert told[key].low == pytest.approx(plain[key].low, rel=1e-4)
        assert told[key].high == pytest.approx(plain[key].high, rel=1e-4)

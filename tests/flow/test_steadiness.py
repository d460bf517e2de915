"""The method is read alike in every process, whatever is written, and nothing of it is dropped in silence."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from told_dishes import cooked, grams

_TWO_SAUCES = (
    "# Pasta with two sauces\n\n## Ingredients\nFor the anchovy sauce:\n- 100 g anchovies in oil\n- 60 g olive oil\n\n"
    "For the cream sauce:\n- 400 g cream\n- 60 g butter\n\nFor the pasta:\n- 400 g pasta\n- 5 g salt\n\n## Method\n"
    "1. Boil the pasta for 10 minutes and drain.\n2. Warm the sauce gently for 5 minutes, and keep half of it for "
    "another day.\n3. Toss the pasta with the sauce.\n"
)
_PRINT = "import sys, labeler; print(labeler.cook(labeler.weigh(labeler.read_recipe(sys.argv[1]))).flow)"


def test_the_flow_does_not_depend_on_the_order_of_sets():
    """Two lists that both hold "the sauce" are read alike whatever the seed of Python's hashes is."""
    flows = {
        subprocess.run(
            [sys.executable, "-c", _PRINT, _TWO_SAUCES],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in range(6)
    }
    assert len(flows) == 1


@pytest.mark.parametrize(
    "text",
    [
        "- 500 g feta\n- 300 ml olive oil\n> Marinate the feta in the olive oil overnight. Take out and serve.\n",
        "- 500 g tofu\n> Add oil to the tofu. Take out.\n",
        "- 1 kg chicken wings\n- 2 l water\n> Simmer for 2 hours. Strain out the chicken and wings.\n",
        "- 200 g mushrooms\n- 2 onions\n> Mix the mushrooms and onions. Rinse the mushrooms and the mushroom stalks.\n",
        "## Gravy\n- 300 ml stock\n- Roast\n> Simmer with the roast, then lift the roast out.\n"
        "## Roast\n- 1 kg beef\n> Roast for an hour. Add the gravy.\n",
        "- 500 ml stock\n> The sauce, thin.\n",
    ],
)
def test_a_method_that_names_a_thing_twice_or_not_at_all_is_cooked(text: str) -> None:
    """What is taken out of nothing hot, named twice, or made of itself stops no recipe."""
    assert float(cooked(f"# Dish\n{text}")[1].mix.total_mass[0]) > 0.0


def test_the_fish_beside_shellfish_is_the_fish():
    """ "The fish" takes no mussels in, so that steaming them cooks no marinated bass."""
    _, dish = cooked(
        "# Dish\n- 400 g sea bass fillets\n- 250 ml lime juice\n- 500 g mussels in shell\n- 100 ml wine\n"
        "> Dice the fish and leave it in the lime juice for 40 minutes. Drain. Steam the mussels in the wine for 4 "
        "minutes and shell them. Add them to the fish just before serving.\n"
    )
    assert dish.flow is not None
    steamed = next(node for node in dish.flow.parts[0].nodes if node.action == "steam")
    assert {one.source.index for one in steamed.inputs} == {2, 3}
    stood = next(node for node in dish.flow.parts[0].nodes if node.action == "stand")
    assert {one.source.index for one in stood.inputs} == {0, 1}


def test_the_end_of_a_very_long_paragraph_is_told():
    """What stands behind six thousand characters of one paragraph is not read, and is said to be not read."""
    long = "Stir the soup again and again. " * 250
    _, dish = cooked(f"# Dish\n- 500 g lentils\n- 2 l stock\n> {long}Discard the lentils.\n")
    told = [problem.message for problem in dish.problems if problem.code == "handling-not-read"]
    assert any("Discard the lentils" in message for message in told)


def test_a_share_in_numerals_is_boiled_away():
    """Nine hundred millilitres that are reduced by 2/3 are three hundred, with the cream four."""
    assert grams("- 900 ml stock\n- 100 g cream", "Simmer the stock until reduced by 2/3. Stir in the cream.") == (
        pytest.approx(400.0, rel=0.05)
    )

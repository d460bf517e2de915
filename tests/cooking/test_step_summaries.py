"""The short account of a step that people read."""

from __future__ import annotations

from pathlib import Path

import pytest

from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.step_summaries import in_short
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe

DEMO = Path(__file__).parents[2] / "demo"


@pytest.mark.parametrize("name", ["harbour-box", "quay-pie", "beetroot-relish"])
def test_the_account_that_people_read_is_short_and_plain(name):
    """No formula, table number or unit of diffusion stands in the short account; all of it stands in the long one."""
    for part in analyse(read_recipe((DEMO / f"{name}.md").read_text()), draws=0).parts:
        for row in part.ledger:
            assert 0 < len(row.in_short) <= 100
            assert not any(word in row.in_short for word in ("Crank", "1e-10", "SR28", "retention 0", "half-thickness"))


@pytest.mark.parametrize(
    ("action", "account", "short"),
    [
        ("brine", reckoned("Crank's sheet in a limited bath", Ground.DIFFUSION),
         "brined, by the strength of the liquid, the time and the size of the pieces"),
        ("roast", (Account("900 g when done", Ground.MEASURED), Account("retention 0805")),
         "roasted, as you measured it"),
        ("drain", reckoned("a film of 0.15 mm clings"), "the liquid is poured off; what clings stays"),
        ("drain", reckoned("no liquid", Ground.NOTHING), "there was nothing to take"),
        ("", reckoned("as the lines say", Ground.MEASURED), "as you measured it"),
        ("", reckoned("only words"), "only words"),
    ],
)  # fmt: skip
def test_short_accounts(action, account, short):
    """What was done, and how that is known."""
    assert in_short(action, account) == short


@pytest.mark.parametrize("ground", list(Ground))
def test_the_words_of_an_account_decide_nothing(ground):
    """What an account says in full, and what the food is called, changes no word of the short one."""
    plain, misleading = reckoned("x", ground), reckoned("Jones sausages, measured by USDA: a guess", ground)
    assert in_short("roast", plain) == in_short("roast", misleading)


def test_a_food_may_be_called_after_an_author():
    """ "Jones sausages" that are fried twice lose by no published table because of their name."""
    text = "# Dish\n- 500 g {} sausages, cooked {{food 07064}}\n> fry 10 minutes\n"
    short = [
        [row.in_short for part in analyse(read_recipe(text.format(name)), draws=0).parts for row in part.ledger]
        for name in ("Jones", "plain")
    ]
    assert short[0] == short[1]

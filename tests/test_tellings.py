"""One food told in other words has the same figures, and one word that matters gives others."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

from labeler.allergens import assess
from labeler.cooking.pipeline import cook
from labeler.cooking.state.mixture import KEYS
from labeler.food_safety import cautions
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

FILE = Path(__file__).parent / "data" / "tellings.txt"
HEAD = "---\ntitle: {}\nserves: 4\nmarket: us\n---\n"
KEY_OF = {"energy": "ENERC_KCAL", "fat": "FAT", "sodium": "NA"}
NEAR = {"weight": 3.0, "energy": 5.0, "fat": 1.0, "sodium": 30.0}
"""What two figures may differ by where 3 % is less: g, kcal, g, mg of a batch."""
SAME, APART = 0.03, 0.10


@dataclass
class Row:
    """A telling or a twin: its dish, why it is one, what a twin's figures are, and its rows."""

    dish: str
    why: str
    wanted: dict[str, str] = field(default_factory=dict)
    rows: list[str] = field(default_factory=list)


@dataclass
class Figures:
    """Figures of a batch, and the codes of what is said about it."""

    amounts: dict[str, float]
    allergens: frozenset[str]
    cautions: frozenset[str]


def read_rows() -> tuple[dict[str, list[str]], list[Row], list[Row]]:
    """Dishes by name, tellings and twins of the data file."""
    dishes: dict[str, list[str]] = {}
    tellings: list[Row] = []
    twins: list[Row] = []
    rows: list[str] = []
    dish = ""
    for line in FILE.read_text(encoding="utf-8").splitlines():
        sign, _, rest = line.partition(" ")
        if not line or sign == "#":
            continue
        if sign == "=":
            dish, rows = rest, dishes.setdefault(rest, [])
        elif sign == "~":
            tellings.append(Row(dish, rest))
            rows = tellings[-1].rows
        elif sign == "!":
            why, _, wanted = rest.partition(" | ")
            pairs = [tuple(one.split()) for one in wanted.split(",")]
            twins.append(Row(dish, why, dict(pairs)))
            rows = twins[-1].rows
        else:
            rows.append(line)
    return dishes, tellings, twins


DISHES, TELLINGS, TWINS = read_rows()


def text_of(one: Row) -> str:
    """The recipe of a telling: under a method alone stand the lines of the dish."""
    alone = all(row.startswith(">") for row in one.rows)
    lines = [row for row in DISHES[one.dish] if row.startswith("-")] if alone else []
    return HEAD.format(one.dish) + "\n".join([*lines, *one.rows]) + "\n"


@cache
def figures(text: str) -> Figures:
    """The figures of a recipe's batch, best estimate."""
    weighed = weigh(read_recipe(text))
    dish = cook(weighed)
    total = dish.mix.total[0]
    amounts = {"weight": float(dish.mix.total_mass[0])}
    amounts |= {name: float(total[KEYS.index(key)]) for name, key in KEY_OF.items()}
    contains = frozenset(one.allergen for one in assess(weighed, market="us").contains)
    return Figures(amounts, contains, frozenset(one.code for one in cautions(weighed, market="us", dish=dish)))


def base_of(one: Row) -> Figures:
    """The figures of the dish that a telling or a twin is of."""
    return figures(HEAD.format(one.dish) + "\n".join(DISHES[one.dish]) + "\n")


def agree(name: str, one: float, other: float) -> bool:
    """Whether two figures are the same within 3 %."""
    return abs(one - other) <= max(SAME * max(one, other), NEAR[name])


def _id(one: Row) -> str:
    return f"{one.dish}: {one.why}"


@pytest.mark.parametrize("one", TELLINGS, ids=_id)
def test_the_same_food_in_other_words(one: Row) -> None:
    """Weight, energy, fat and sodium agree within 3 %, allergens and cautions are the same."""
    base, told = base_of(one), figures(text_of(one))
    apart = {
        name: (round(base.amounts[name], 1), round(told.amounts[name], 1))
        for name in NEAR
        if not agree(name, base.amounts[name], told.amounts[name])
    }
    assert apart == {}
    assert told.allergens == base.allergens
    assert told.cautions == base.cautions


@pytest.mark.parametrize("one", TWINS, ids=_id)
def test_a_word_that_matters(one: Row) -> None:
    """What follows from the word that differs is seen in the figures that it changes, and in those that it does not."""
    base, other = base_of(one).amounts, figures(text_of(one)).amounts
    holds = {
        "=": lambda name: agree(name, base[name], other[name]),
        ">": lambda name: other[name] > (1.0 + APART) * base[name],
        "<": lambda name: base[name] > (1.0 + APART) * other[name],
    }
    wrong = {
        f"{name} {sign}": (round(base[name], 1), round(other[name], 1))
        for name, sign in one.wanted.items()
        if not holds[sign](name)
    }
    assert wrong == {}


def test_the_data_file_is_whole() -> None:
    """Every telling and twin has a reason, stands once, and says what is to be seen; there are enough of them."""
    for every in (TELLINGS, TWINS):
        assert all(one.why and one.rows and one.dish for one in every)
        assert len({_id(one) for one in every}) == len({text_of(one) for one in every}) == len(every)
    assert all(
        one.wanted and set(one.wanted) <= set(NEAR) and set(one.wanted.values()) <= {"<", ">", "="} for one in TWINS
    )
    assert len(TELLINGS) >= 120 and len(TWINS) >= 80


def test_their_liquid_is_that_of_the_food_before_it() -> None:
    """ "Toss with the clams, their liquid and the spaghetti": the water of the spaghetti is none of it."""
    lines = "- 400 g spaghetti\n- 1 kg clams in the shell\n- 50 ml olive oil\n- 100 ml dry white wine\n"
    steps = "> boil the spaghetti in 4 litres of water 9 minutes, drain\n> steam the clams with the wine 4 minutes\n"
    told = "> toss with the clams, their liquid, the spaghetti and the oil\n"
    plain = "> toss the clams and the spaghetti with the oil\n"
    one, other = (figures(HEAD.format("Spaghetti") + lines + steps + last) for last in (told, plain))
    assert agree("weight", one.amounts["weight"], other.amounts["weight"])

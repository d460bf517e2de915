"""How long the kitchen takes for 2,000 draws through a recipe of 30 ingredients and 6 steps.

    python reference/kitchen_speed.py [DRAWS]

One core, tables warm; prints the median and the best of 15 runs, and the same for the best estimate alone.
"""

from __future__ import annotations

import sys
import time
from statistics import median

from labeler.cooking.pipeline import cook
from labeler.foods.model import Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.parsing.model import Handling, Line, Part, Recipe
from labeler.types import Interval

BRINE = ["14411 water 2000", "02047 salt 100", "19335 sugar 60", "05062 chicken breasts, boneless 1200"]
SAUCE = [
    *("04053 olive oil 60", "11282 onions, chopped 300", "11215 garlic, minced 20", "11124 carrots, diced 250"),
    *("11143 celery, sliced 150", "11529 tomatoes, chopped 800", "14096 red wine 200", "06008 beef broth 500"),
    *("11260 mushrooms, sliced 250", "11333 green peppers, diced 200", "16145 kidney beans, drained 240"),
    *("11304 peas 150", "11457 spinach 100", "11352 potatoes, 2 cm dice 500", "20044 rice 150", "01001 butter 40"),
    *(
        "01077 whole milk 200",
        "20081 flour 30",
        "02030 pepper 2",
        "02027 oregano 2",
        "02028 paprika 4",
        "02049 thyme 1",
    ),
    *("11297 parsley 20", "09152 lemon juice 30", "16123 soy sauce 20", "01009 cheddar, grated 80"),
]
STEPS = {
    "Chicken": [
        "brine the chicken 2 hours, drain and pat dry",
        "roast at 200 °C for 30 minutes to 74 °C in the middle",
    ],
    "Sauce": ["simmer, covered, 40 minutes"],
}


def lines(rows: list[str], start: int) -> tuple[WeighedLine, ...]:
    """Weighed lines of "id words grams" rows, each with 10 % either way."""
    made = []
    for at, row in enumerate(rows):
        food, rest = row.split(" ", 1)
        words, grams = rest.rsplit(" ", 1)
        weight = float(grams)
        interval = Interval(weight, 0.9 * weight, 1.1 * weight, f"line {start + at}")
        line = Line(words, name=words.split(",")[0], preparation=words.partition(",")[2], number=start + at)
        made.append(WeighedLine(line, Match(food, "", 1.0, "given"), interval))
    return tuple(made)


def recipe() -> WeighedRecipe:
    """30 ingredients in two parts with six steps."""
    parts = {"Chicken": lines(BRINE, 3), "Sauce": lines(SAUCE, 20)}
    plain = tuple(
        Part(title, tuple(one.line for one in rows), tuple(Handling(text, 90, len(rows)) for text in STEPS[title]))
        for title, rows in parts.items()
    )
    return WeighedRecipe(Recipe("speed", plain), tuple(WeighedPart(title, rows) for title, rows in parts.items()))


def timed(draws: int) -> list[float]:
    """Milliseconds of 15 runs, tables warm."""
    weighed = recipe()
    cook(weighed, draws=draws)
    runs = []
    for _ in range(15):
        start = time.perf_counter()
        dish = cook(weighed, draws=draws)
        if dish.spread is not None:
            _ = dish.spread.total
        runs.append(1000.0 * (time.perf_counter() - start))
    return runs


def main() -> None:
    """Print the times."""
    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    for count in (0, draws):
        runs = timed(count)
        print(f"{count} draws: median {median(runs):.1f} ms, best {min(runs):.1f} ms")


if __name__ == "__main__":
    main()

"""One small recipe of our own, drawn at random, written in every form that a recipe is posted in."""

from __future__ import annotations

import csv
import html
import io
import json
import re
from dataclasses import dataclass

from hypothesis import strategies as st

__all__ = [
    "FORMS",
    "Dish",
    "bare",
    "dishes",
    "linked",
    "page",
    "pasted",
    "recipe_file",
    "seen",
    "starred",
]


@dataclass(frozen=True)
class Dish:
    """A recipe to be written in many forms; `lines` and `steps` by group."""

    title: str
    serves: int
    lines: tuple[tuple[str, tuple[str, ...]], ...]
    steps: tuple[str, ...]


LINES = (
    "2 cups flour", "1 large egg, beaten", "500 g pork belly", "1/2 tsp salt", "3 cloves garlic, minced",
    "2 tbsp olive oil, for frying", "1 (15-ounce) can black beans, rinsed and drained", "a pinch of nutmeg",
    "250 ml milk (whole or semi-skimmed)", "2-3 carrots", "½ onion", "juice of 1 lemon", "1 kg potatoes, peeled",
)  # fmt: skip
STEPS = (
    "Heat the oil in a pan over medium heat.", "Add the onion and cook for 5 minutes, until soft.",
    "Stir in the flour. Pour in the milk and simmer 10 minutes.", "Drain the beans and fold them in.",
    "Bake at 180 °C for 40 minutes.", "Season with salt and serve.", "Whisk the eggs with the sugar until pale.",
)  # fmt: skip
dishes = st.builds(
    Dish,
    st.sampled_from(["Bean and Barley Stew", "Sunday Pork Pie", "Rhubarb Crumble", "Aunt Ada's Fish Supper"]),
    st.integers(1, 40),
    st.lists(st.sampled_from(LINES), min_size=2, max_size=8, unique=True).flatmap(
        lambda lines: st.integers(1, len(lines)).map(
            lambda cut: (("", tuple(lines[:cut])), *([("sauce", tuple(lines[cut:]))] if lines[cut:] else []))
        )
    ),
    st.lists(st.sampled_from(STEPS), min_size=1, max_size=5, unique=True).map(tuple),
)


def _grouped(dish, heading, bullet):
    out = []
    for group, lines in dish.lines:
        out += [heading.format(group)] if group else []
        out += [f"{bullet}{line}" for line in lines]
    return out


def recipe_file(dish):
    rows = [f"---\ntitle: {dish.title}\nserves: {dish.serves}\n---\n## {dish.title}", *_grouped(dish, "### {}", "- ")]
    return "x.md", "\n".join([*rows, *(f"> {step}" for step in dish.steps)])


def page(dish, bullet="- ", under="### For the {}"):
    rows = [f"---\ntitle: {dish.title}\ndate: 2024-02-02\ntags: [a, b]\n---\n\nA word about it.\n"]
    rows += [f"- 🍽️ Servings: {dish.serves}\n\n## Ingredients\n", *_grouped(dish, f"\n{under}\n", bullet)]
    return "x.md", "\n".join([*rows, "\n## Directions\n", *(f"{at}. {step}" for at, step in enumerate(dish.steps, 1))])


def starred(dish):
    return page(dish, "* ", "**For the {}:**")


def ticked(dish):
    name, text = page(dish, "- [ ] ", "**{}**")
    return name, re.sub(r"(?m)^\d+\. ", "1. ", text).replace("\n", "\r\n")


def pasted(dish, bullet="", head="Ingredients", method="Method"):
    rows = [dish.title, "", f"Serves {dish.serves}", "", head, *_grouped(dish, "\nFor the {}", bullet), "", method]
    return "x.txt", "\n".join([*rows, *dish.steps])


def dotted(dish):
    return pasted(dish, "• ", "INGREDIENTS:", "DIRECTIONS:")


def bare(dish):
    rows = [dish.title, f"serves {dish.serves}", "", *_grouped(dish, "\nFOR THE {}", "")]
    return "x.txt", "\n".join([*rows, "", *dish.steps]).replace("THE sauce", "THE SAUCE").replace("\n", "\r")


def seen(dish):
    lists = "".join(
        (f"<h3>For the {group}</h3>" if group else "")
        + f"<ul>{''.join(f'<li>{html.escape(line)}</li>' for line in lines)}</ul>"
        for group, lines in dish.lines
    )
    steps = "".join(f"<li><p>{html.escape(step)}</p></li>" for step in dish.steps)
    top = f"<h1>{html.escape(dish.title)}</h1><p>Serves {dish.serves}</p>"
    body = f"<nav>Home</nav>{top}<h2>Ingredients</h2>{lists}<h2>Method</h2><ol>{steps}</ol>"
    return "x.html", f'<html><head><meta charset="utf-8"><title>Site</title></head><body>{body}</body></html>'


def linked(dish):
    rows = [row for group, lines in dish.lines for row in ([f"For the {group}:"] if group else []) + list(lines)]
    node = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": dish.title,
        "recipeYield": f"{dish.serves} servings",
        "recipeIngredient": rows,
        "recipeInstructions": [{"@type": "HowToStep", "text": step} for step in dish.steps],
    }
    return "x.json", json.dumps(node)


def scoped(dish):
    """A page whose data are in the attributes of what it shows."""
    rows = "".join(
        (f'<li itemprop="recipeIngredient">For the {group}:</li>' if group else "")
        + "".join(f'<li itemprop="recipeIngredient">{html.escape(line)}</li>' for line in lines)
        for group, lines in dish.lines
    )
    steps = "".join(f"<p>{html.escape(step)}</p>" for step in dish.steps)
    name = f'<h1 itemprop="name">{html.escape(dish.title)}</h1>Serves <b itemprop="recipeYield">{dish.serves}</b>'
    body = f'{name}<ul>{rows}</ul><div itemprop="recipeInstructions">{steps}</div>'
    return "x.html", f'<html><body><div itemscope itemtype="https://schema.org/Recipe">{body}</div></body></html>'


def placed(dish):
    """A page laid out by a table."""
    name, text = seen(dish)
    return name, text.replace("<nav>", "<table><tr><td><nav>").replace("</body>", "</td></tr></table></body>")


def in_head(dish):
    """A page that keeps its lists in its head."""
    rows = [f"---\ntitle: {dish.title}\nserves: {dish.serves}\ningredients:"]
    for group, lines in dish.lines:
        rows += [f"  - section: {group}\n    items:"] if group else []
        rows += [f"{'    ' * bool(group)}  - {json.dumps(line, ensure_ascii=False)}" for line in lines]
    rows += ["method:", *(f"  - {json.dumps(step, ensure_ascii=False)}" for step in dish.steps)]
    return "x.md", "\n".join([*rows, "---\n"])


def letter(dish):
    """Pasted text with words to a friend around it."""
    rows = ["Hi Jo,", "", "here it is!", "", dish.title, f"for {dish.serves}", "", *_grouped(dish, "\nFor the {}", "")]
    return "x.txt", "\n".join([*rows, "", *dish.steps, "", "Love, Ada"])


def embedded(dish):
    """A page with its data in a script, and nothing else of the recipe."""
    _, data = linked(dish)
    script = f'<script type="application/ld+json">{data}</script>'
    return "x.html", f"<html><head>{script}</head><body><p>Loading</p></body></html>"


def annotated(dish):
    """A page whose data are RDFa."""
    rows = "".join(
        (f'<li property="recipeIngredient">For the {group}:</li>' if group else "")
        + "".join(f'<li property="recipeIngredient">{html.escape(line)}</li>' for line in lines)
        for group, lines in dish.lines
    )
    steps = "".join(f"<li>{html.escape(step)}</li>" for step in dish.steps)
    name = (
        f'<h1 property="name">{html.escape(dish.title)}</h1><p>Serves <b property="recipeYield">{dish.serves}</b></p>'
    )
    body = f'{name}<ul>{rows}</ul><ol property="recipeInstructions">{steps}</ol>'
    return "x.html", f'<html><body><div vocab="https://schema.org/" typeof="Recipe">{body}</div></body></html>'


def columns(dish):
    """A table with a column for each piece, the method in the last."""
    rows = [(group, line) for group, lines in dish.lines for line in lines]
    file = io.StringIO()
    writer = csv.writer(file)
    writer.writerow(["recipe", "serves", "part", "ingredient", "method"])
    for at in range(max(len(rows), len(dish.steps))):
        part, line = rows[at] if at < len(rows) else ("", "")
        step = dish.steps[at] if at < len(dish.steps) else ""
        writer.writerow([dish.title if at == 0 else "", dish.serves if at == 0 else "", part, line, step])
    return "x.csv", file.getvalue()


FORMS = (
    recipe_file, page, starred, ticked, pasted, dotted, bare, seen, linked, scoped, placed, in_head, letter,
    embedded, annotated, columns,
)  # fmt: skip

# ruff: noqa: E501 - a shape is read best on one line
"""Forty schema.org recipes in the shapes that pages use: four invented recipes, each written in ten ways or more.

A shape is (its name, the file as bytes, the file's name, the recipe it must give). The recipes are ours; the shapes are
those of published pages: one object, a list, a graph, a page's main entity; ingredients as texts, as one text, as
things; instructions as text, as a list, as steps, as sections; yields in every form; microdata and RDFa.
"""

from __future__ import annotations

import json
from dataclasses import dataclass


@dataclass(frozen=True)
class Dish:
    """What a shape must give back."""

    title: str
    makes: str
    ingredients: tuple[str, ...]
    steps: tuple[str, ...]


SOUP = Dish(
    "Leek and oat soup", "4 servings",
    ("2 large leeks, sliced", "1 litre vegetable stock", "60 g rolled oats", "1 tsp salt", "½ cup cream"),
    ("Soften the leeks in the butter.", "Add stock and oats, simmer 20 minutes.", "Stir in the cream and season."),
)  # fmt: skip
BUNS = Dish(
    "Fig & fennel buns", "12 buns",
    ("500 g strong white flour", "7 g dried yeast", "300 ml milk", "150 g dried figs, chopped"),
    ("Knead everything but the figs 10 minutes.", "Leave to rise 1 hour.", "Work in the figs, shape and bake 20 minutes."),
)  # fmt: skip
SALAD = Dish(
    "Smoked mackerel salad", "2 servings",
    ("2 smoked mackerel fillets", "1 cucumber, diced", "2 tablespoons crème fraîche", "juice of 1 lemon"),
    ("Flake the fish.", "Toss with the rest."),
)  # fmt: skip
JAM = Dish(
    "Gooseberry jam", "6 jars",
    ("1 kg gooseberries", "1 kg granulated sugar", "400 ml water"),
    ("Simmer the fruit in the water 30 minutes.", "Add the sugar, boil to setting point.", "Pot while hot."),
)  # fmt: skip
DISHES = (SOUP, BUNS, SALAD, JAM)


def plain(dish, **changes):
    """One object with texts."""
    node = {
        "@context": "https://schema.org", "@type": "Recipe", "name": dish.title, "recipeYield": dish.makes,
        "recipeIngredient": list(dish.ingredients), "recipeInstructions": list(dish.steps),
    }  # fmt: skip
    return {key: value for key, value in (node | changes).items() if value is not None}


def page(*scripts, body="", head="", doctype="<!doctype html>", kind="application/ld+json"):
    """A page with scripts of data."""
    data = "".join(f'<script type="{kind}">{script}</script>' for script in scripts)
    return f'{doctype}<html lang="en"><head><title>x</title>{head}{data}</head><body>{body}</body></html>'.encode()


def dumped(value):
    """JSON as pages carry it."""
    return json.dumps(value, ensure_ascii=False)


def step(text, **more):
    """One HowToStep."""
    return {"@type": "HowToStep", "text": text} | more


def microdata(dish, *, steps, tag="li", ingredient="recipeIngredient"):
    """A recipe marked in the page's own text."""
    rows = "".join(f'<{tag} itemprop="{ingredient}">{text}</{tag}>' for text in dish.ingredients)
    return (
        f'<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">{dish.title.replace("&", "&amp;")}</h1>'
        f'<p>Makes <span itemprop="recipeYield">{dish.makes}</span></p><ul>{rows}</ul>{steps}'
        '<div itemprop="nutrition" itemscope itemtype="https://schema.org/NutritionInformation">'
        '<span itemprop="calories">90 kcal</span></div></div>'
    )


def shapes():
    """Every shape with the dish that it is of."""
    found = []

    def add(name, data, dish, ending=".html"):
        found.append((name, data if isinstance(data, bytes) else data.encode(), f"{name}{ending}", dish))

    # Data alone
    add("object", dumped(plain(SOUP)), SOUP, ".json")
    add("list-of-one", dumped([plain(BUNS)]), BUNS, ".json")
    add("graph", dumped({"@context": "https://schema.org", "@graph": [{"@type": "WebSite", "name": "x"}, plain(SALAD)]}),
        SALAD, ".json")  # fmt: skip
    add("main-entity", dumped({"@type": "WebPage", "mainEntity": plain(JAM)}), JAM, ".json")
    add("nested-twice", dumped({"@type": "ItemPage", "mainEntity": {"@type": "Thing", "subjectOf": [plain(SOUP)]}}),
        SOUP, ".json")  # fmt: skip
    add("type-list", dumped(plain(BUNS, **{"@type": ["Recipe", "NewsArticle"]})), BUNS, ".json")
    add("type-address", dumped(plain(SALAD, **{"@type": "http://schema.org/Recipe"})), SALAD, ".json")
    add("byte-order-mark", b"\xef\xbb\xbf" + dumped(plain(JAM)).encode(), JAM, ".json")
    add("utf-16", dumped(plain(SALAD)).encode("utf-16"), SALAD, ".json")
    add("values", dumped(plain(SOUP, name={"@value": SOUP.title, "@language": "en"},
                               recipeIngredient=[{"@value": text} for text in SOUP.ingredients])), SOUP, ".json")  # fmt: skip
    # Yields
    add("yield-number", dumped(plain(SOUP, recipeYield=4)), SOUP, ".json")
    add("yield-list", dumped(plain(BUNS, recipeYield=["12", "12 buns"])), BUNS, ".json")
    add("yield-quantity", dumped(plain(JAM, recipeYield={"@type": "QuantitativeValue", "value": 6, "unitText": "jars"})),
        JAM, ".json")  # fmt: skip
    add("yield-words", dumped(plain(SALAD, recipeYield="Serves 2")), SALAD, ".json")
    add("yield-old-name", dumped(plain(BUNS, recipeYield=None) | {"yield": "12 buns"}), BUNS, ".json")
    # Ingredients
    add("ingredients-old-name", dumped(plain(SOUP, recipeIngredient=None) | {"ingredients": list(SOUP.ingredients)}),
        SOUP, ".json")  # fmt: skip
    add("ingredients-one-text", dumped(plain(JAM, recipeIngredient="\n".join(JAM.ingredients))), JAM, ".json")
    add("ingredients-mark-up", dumped(plain(SALAD, recipeIngredient="<ul>" + "".join(
        f"<li>{text}</li>" for text in SALAD.ingredients) + "</ul>")), SALAD, ".json")  # fmt: skip
    add(
        "ingredients-bullets",
        dumped(plain(BUNS, recipeIngredient=[f"▢ {text}" for text in BUNS.ingredients])),
        BUNS,
        ".json",
    )
    add("ingredients-entities", dumped(plain(SOUP, recipeIngredient=[
        text.replace(" ", "&nbsp;").replace("½", "&frac12;") for text in SOUP.ingredients])), SOUP, ".json")  # fmt: skip
    add("ingredients-things", dumped(plain(JAM, recipeIngredient=[
        {"@type": "PropertyValue", "value": text.split()[0], "unitText": text.split()[1], "name": " ".join(text.split()[2:])}
        for text in JAM.ingredients])), JAM, ".json")  # fmt: skip
    add("ingredients-item-list", dumped(plain(SALAD, recipeIngredient={"@type": "ItemList", "itemListElement": [
        {"@type": "ListItem", "position": at, "item": {"name": text}} for at, text in enumerate(SALAD.ingredients)]})),
        SALAD, ".json")  # fmt: skip
    add(
        "ingredients-blank-rows",
        dumped(plain(BUNS, recipeIngredient=["", *BUNS.ingredients, " ", None])),
        BUNS,
        ".json",
    )
    # Instructions
    add("steps-text-numbers", dumped(plain(SOUP, recipeInstructions=" ".join(
        f"{at}. {text}" for at, text in enumerate(SOUP.steps, 1)))), SOUP, ".json")  # fmt: skip
    add("steps-text-breaks", dumped(plain(JAM, recipeInstructions="\r\n\r\n".join(JAM.steps))), JAM, ".json")
    add("steps-mark-up", dumped(plain(BUNS, recipeInstructions="<ol>" + "".join(
        f"<li><p>{text}</p></li>" for text in BUNS.steps) + "</ol>")), BUNS, ".json")  # fmt: skip
    add("steps-things", dumped(plain(SALAD, recipeInstructions=[step(text, url="https://example.org/#1")
                                                               for text in SALAD.steps])), SALAD, ".json")  # fmt: skip
    add("steps-names-only", dumped(plain(JAM, recipeInstructions=[{"@type": "HowToStep", "name": text}
                                                                 for text in JAM.steps])), JAM, ".json")  # fmt: skip
    add("steps-section", dumped(plain(SOUP, recipeInstructions=[{"@type": "HowToSection", "name": "Soup",
        "itemListElement": [step(text) for text in SOUP.steps]}])), SOUP, ".json")  # fmt: skip
    add("steps-sections-twice", dumped(plain(BUNS, recipeInstructions=[
        {"@type": "HowToSection", "name": "Dough", "itemListElement": [step(BUNS.steps[0]), step(BUNS.steps[1])]},
        {"@type": "HowToSection", "name": "Baking", "itemListElement": step(BUNS.steps[2])}])), BUNS, ".json")  # fmt: skip
    add("steps-item-list", dumped(plain(JAM, recipeInstructions={"@type": "ItemList", "itemListElement": [
        {"@type": "ListItem", "item": step(text)} for text in JAM.steps]})), JAM, ".json")  # fmt: skip
    add("steps-directions", dumped(plain(SOUP, recipeInstructions=[{"@type": "HowToStep", "itemListElement": [
        {"@type": "HowToDirection", "text": text}, {"@type": "HowToTip", "text": "Take care."}]} for text in SOUP.steps])),
        SOUP, ".json")  # fmt: skip
    add("steps-by-id", dumped({"@graph": [plain(SALAD, recipeInstructions=[{"@id": f"#s{at}"} for at in range(2)]),
                                          *[step(text) | {"@id": f"#s{at}"} for at, text in enumerate(SALAD.steps)]]}),
        SALAD, ".json")  # fmt: skip
    add(
        "steps-list-in-list",
        dumped(plain(BUNS, recipeInstructions=[[step(text) for text in BUNS.steps]])),
        BUNS,
        ".json",
    )
    # Pages
    add("page", page(dumped(plain(SOUP))), SOUP)
    add("page-two-scripts", page(dumped({"@type": "Organization", "name": "x"}), dumped(plain(BUNS))), BUNS)
    add("page-broken-script-beside", page("{broken", dumped(plain(SALAD))), SALAD)
    add("page-in-body", page(body=f'<script type="application/ld+json">{dumped(plain(JAM))}</script>'), JAM)
    add("page-comment-wrapped", page(f"<!--\n{dumped(plain(SOUP))}\n-->"), SOUP)
    add("page-cdata", page(f"//<![CDATA[\n{dumped(plain(BUNS))}\n//]]>"), BUNS)
    add("page-raw-breaks", page(dumped(plain(JAM)).replace("while hot", "while\n hot")), JAM)
    add("page-comma-too-many", page(dumped(plain(SALAD)).replace("]}", ",],}")), SALAD)
    add("page-two-values", page(dumped({"@type": "WebSite"}) + "\n" + dumped(plain(SOUP))), SOUP)
    add("page-semicolon", page(dumped(plain(JAM)) + ";", kind="application/ld+json; charset=utf-8"), JAM)
    add(
        "page-latin-1",
        page(dumped(plain(SALAD)), head='<meta charset="iso-8859-1">').decode().encode("iso-8859-1"),
        SALAD,
    )
    add("page-no-doctype", page(dumped(plain(BUNS)), doctype="").replace(b"</body></html>", b""), BUNS)
    # Marks in the text of the page
    ol = "<ol>" + "".join(f"<li>{text}</li>" for text in SOUP.steps) + "</ol>"
    add("microdata", page(body=microdata(SOUP, steps=f'<div itemprop="recipeInstructions">{ol}</div>')), SOUP)
    add("microdata-each-step", page(body=microdata(JAM, steps="".join(
        f'<p itemprop="recipeInstructions">{text}</p>' for text in JAM.steps), tag="span")), JAM)  # fmt: skip
    add("microdata-how-to", page(body=microdata(BUNS, steps="".join(
        f'<div itemprop="recipeInstructions" itemscope itemtype="https://schema.org/HowToStep"><b>{at}</b>'
        f'<span itemprop="text">{text}</span></div>' for at, text in enumerate(BUNS.steps)),
        ingredient="ingredients")), BUNS)  # fmt: skip
    add("microdata-breaks", page(body=microdata(SALAD, steps=(
        f'<div itemprop="recipeInstructions">{"<br/>".join(SALAD.steps)}</div>'))), SALAD)  # fmt: skip
    rdfa = "".join(f'<li property="recipeIngredient">{text}</li>' for text in JAM.ingredients)
    add("rdfa", page(body=(
        f'<div vocab="https://schema.org/" typeof="Recipe"><h1 property="name">{JAM.title}</h1>'
        f'<meta property="recipeYield" content="{JAM.makes}"><ul>{rdfa}</ul><div property="recipeInstructions">'
        + "".join(f"<p>{text}</p>" for text in JAM.steps) + "</div></div>")), JAM)  # fmt: skip
    return found

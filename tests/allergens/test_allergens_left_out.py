"""An allergen that was found is on the label, whether its ingredient still stands in the printed list or not."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.allergens import declared_names
from labeler.label import LabelContent, compose_label
from labeler.label.builder import LabelFacts, gather, label_content
from labeler.label.drawing import Text
from labeler.label.panels.content import panel_content
from labeler.label.translation import translated
from labeler.parsing import read_recipe
from labeler.parsing.model import Recipe
from labeler.post.builder import post_content
from labeler.text.stems import stems

MARKETS = ("eu", "uk", "anz", "ca", "us", "codex", "jp")
STRAINED = (
    "- 200 g cashews\n- 1 litre water\n> blend, then strain through muslin",
    "- 1 kg fish bones\n- 2 litres water\n- 1 onion\n> simmer 30 minutes, strain, discard the solids",
    "- 50 g anchovies\n- 100 g parmesan rind\n- 1 litre water\n> simmer 1 hour and strain",
    "- 100 g hazelnuts\n- 500 ml cream\n> infuse the cream with the hazelnuts for 2 hours and strain",
    "- 100 g flour\n- 300 g carrots\n> discard the flour",
)
THROWN_AWAY = "- 100 g cashews\n- 300 g carrots\n> discard the cashews"
"""A food that leaves whole: no ingredient by Reg. (EU) 1169/2011 Art. 2(2)(f), though its traces stay."""
BESIDE = f"- 200 g wheat flour\n{THROWN_AWAY}"
BRUSHED = "- 200 g wheat flour\n- 100 g water\n> bake and brush with milk"


def recipe_of(body: str) -> Recipe:
    return read_recipe(f"---\ntitle: Test\nmakes: 4 jars\n---\n{body}\n")


def content_of(recipe: Recipe, market: str, language: str = "en") -> tuple[LabelContent, LabelFacts]:
    facts = gather(recipe, market=market)
    content, _, _ = label_content(recipe, market=market, facts=facts)
    return translated(content, recipe, facts, language)[0], facts


def not_named(content: LabelContent, facts: LabelFacts) -> list[str]:
    """What the label names neither in bold in its list nor after "Contains:" beside it."""
    bold = " ".join(run.text for run in (*content.ingredients, *content.allergens) if run.emphasised)
    said = set(stems(bold))
    summed = {"anz": {"gluten"}}.get(facts.market, set())
    return [
        name
        for finding in facts.allergens.contains
        for name in declared_names(finding, market=facts.market)
        if not set(stems(name)) <= said and not (summed & said and finding.allergen in ("barley", "rye", "oats"))
    ]


def points_to_the_list(content: LabelContent) -> bool:
    return "see the ingredients" in "".join(run.text for run in content.allergens)


@pytest.mark.parametrize("body", STRAINED)
@pytest.mark.parametrize("market", MARKETS)
def test_what_is_strained_out_or_thrown_away_is_still_named(body: str, market: str) -> None:
    """Protein stays in the liquid: every market's label names it, and points to no bold word that is not there."""
    content, facts = content_of(recipe_of(body), market)
    assert facts.allergens.contains or market == "jp"  # which lists no fish as a kind
    assert not not_named(content, facts)
    assert not points_to_the_list(content) or any(run.emphasised for run in content.ingredients)


def test_a_nut_that_is_blended_and_strained_is_listed() -> None:
    """What is in the food in altered form is an ingredient: Reg. (EU) 1169/2011 Art. 2(2)(f)."""
    content, _ = content_of(recipe_of(STRAINED[0]), "uk")
    assert "".join(run.text for run in content.ingredients) == "water, cashews."
    assert [run.text for run in content.ingredients if run.emphasised] == ["cashews"]


def test_the_words_of_what_left_the_list() -> None:
    """With nothing in bold the statement stands alone; beside something in bold it adds what has left the list."""
    content, _ = content_of(recipe_of(THROWN_AWAY), "uk")
    assert "".join(run.text for run in content.allergens) == "Contains: cashew"
    content, _ = content_of(recipe_of(BESIDE), "uk")
    said = "".join(run.text for run in content.allergens)
    assert said == "Allergens: see the ingredients set in bold. Contains also: cashew"


def test_what_only_the_method_names_stands_in_the_list() -> None:
    """Milk that a loaf is brushed with is an ingredient, in bold: Reg. (EU) 1169/2011 Art. 2(2)(f) and 21(1)(b)."""
    content, facts = content_of(recipe_of(BRUSHED), "uk")
    assert [run.text for run in content.ingredients if run.emphasised][-1] == "milk"
    assert not not_named(content, facts)


@pytest.mark.parametrize(
    ("language", "alone", "beside"),
    [
        ("fr", "Contient : ", "Contient aussi : "),
        ("es", "Contiene: ", "Contiene también: "),
        ("de", "Enthält: ", "Enthält außerdem: "),
        ("it", "Contiene: ", "Contiene anche: "),
        ("en+fr", "Contains: ", "Contient aussi : "),
    ],
)
def test_every_language_names_it(language: str, alone: str, beside: str) -> None:
    """The same statement in the words of each language."""
    said = "".join(run.text for run in content_of(recipe_of(THROWN_AWAY), "eu", language)[0].allergens)
    assert said.startswith(alone)
    said = "".join(run.text for run in content_of(recipe_of(BESIDE), "eu", language)[0].allergens)
    assert beside in said


@pytest.mark.parametrize("layout", ["card", "wrap", "tent", "strip"])
def test_every_layout_prints_it(layout: str) -> None:
    """The drawn label holds the word itself, beside the generic table and beside an official panel."""
    content, facts = content_of(recipe_of(STRAINED[0]), "uk")
    for panel in (None, panel_content([facts.serving], form="panel-table")):
        drawing = compose_label(replace(content, panel=panel), layout=layout, size=(230, 190))
        assert "cashew" in "".join(mark.text for mark in drawing.marks if isinstance(mark, Text))


def test_the_post_names_it() -> None:
    """The post has every allergen by its name."""
    post = post_content(recipe_of(STRAINED[0]), market="uk")
    assert "cashew" in "".join(run.text for run in post.allergens)


FOODS = (
    "cashews",
    "flour",
    "butter",
    "cod",
    "prawns",
    "eggs",
    "celery",
    "sesame seeds",
    "carrots",
    "almonds",
    "mustard",
)
HANDLING = (
    "simmer 30 minutes and strain",
    "strain through muslin",
    "drain",
    "discard the {}",
    "remove the {}",
    "strain and discard the solids",
    "brush with milk",
    "bake 20 minutes at 180 C",
)


@settings(deadline=None, max_examples=25)
@given(
    foods=st.lists(st.sampled_from(FOODS), min_size=1, max_size=4, unique=True),
    steps=st.lists(st.sampled_from(HANDLING), min_size=1, max_size=2),
    market=st.sampled_from(MARKETS),
)
def test_every_finding_is_in_bold_or_in_the_statement(foods: list[str], steps: list[str], market: str) -> None:
    """Whatever the handling takes out, nothing that was found goes unnamed."""
    lines = [f"- 200 g {food}" for food in foods] + ["- 1 litre water"]
    lines += [f"> {step.format(foods[0])}" for step in steps]
    content, facts = content_of(recipe_of("\n".join(lines)), market)
    assert not not_named(content, facts)
    assert not points_to_the_list(content) or any(run.emphasised for run in content.ingredients)

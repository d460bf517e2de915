"""The same label in another language: fixed words, names of nutrients and allergens, also in the list, figures.

What the cook wrote (title, ingredients, storage) and the cautions stay in the cook's words; a problem says so, because
a market's language law asks for all of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from labeler.allergens import Finding, statement, unlisted
from labeler.label.builder import LabelFacts
from labeler.label.content import LabelContent, Run
from labeler.label.dates import day_of, has_date_form
from labeler.label.ingredient_list import listed_of
from labeler.label.serving_words import servings_in
from labeler.label.words import BETWEEN, figure_words, line_name, name_allergen, tongues, words
from labeler.parsing.model import Recipe
from labeler.rules.sale import Sale
from labeler.types import Problem

__all__ = ["translated"]


def translated(
    content: LabelContent, recipe: Recipe, facts: LabelFacts, language: str, sale: Sale | None = None
) -> tuple[LabelContent, tuple[Problem, ...]]:
    """A label's content in another language, or in two side by side ("en+fr").

    Parameters
    ----------
    content : LabelContent
        In English, as `labeler.label.builder.label_content` makes it.
    recipe : Recipe
    facts : LabelFacts
        What it was made from.
    language : str
        As `labeler.label.words.tongues` reads it; LabelerError for one that is not there.
    sale : Sale or None
        As `labeler.label.builder.label_content` takes it.
    """
    if language == "en":
        return content, ()
    fixed = words(language)
    spoken = replace(
        content,
        language=language,
        list_language=_of_list(recipe, language) if any(_own(recipe, "ingredients", language)) else "",
        title=_in_tongues(content.title, recipe, "title", language),
        decimal=fixed["decimal"],
        serving=_serving(content, recipe, language),
        servings=_servings(facts, language),
        nutrition=tuple(
            replace(
                row,
                name=line_name(row.name, language),
                per_serving=figure_words(row.per_serving, language),
                per_100g=figure_words(row.per_100g, language),
            )
            for row in content.nutrition
        ),
        nutrition_notes=tuple(line_name(note, language) for note in content.nutrition_notes),
        ingredients=(
            *(
                Run(span.text, span.emphasised)
                for span in listed_of(recipe, facts.nutrition, facts.market, sale, _of_list(recipe, language)).spans
            ),
            *_own_lists(recipe, language),
        ),
        allergens=tuple(_allergens(content, facts, language)),
        sign_allergens=tuple(_named(facts.allergens.declared, language)),
        made=_date(recipe.head.get("made"), content.made, facts.market, language),
        best_before=_date(recipe.head.get("best before"), content.best_before, facts.market, language),
        use_by=_date(recipe.head.get("use by"), content.use_by, facts.market, language),
        date_words=content.date_words if has_date_form(facts.market) else "",
    )
    stated = Problem(
        "not-translated",
        "The fixed words are translated; title, ingredients, storage and cautions stand in your own words. Write them "
        "in the language of the label too where the market asks for it.",
    )
    return spoken, (stated,)


def _date(written: object, shown: str, market: str, language: str) -> str:
    """A date in the market's own form, or as day, month and year in the form of each language ("1. März 2027").

    That order, uncoded, is the one of Regulation (EU) 1169/2011, Annex X, points 1(b) and 2(c). Languages of one form
    share the day and the year; the forms are common usage, no source.
    """
    day = day_of(written)
    if day is None or has_date_form(market):
        return shown
    months: dict[str, list[str]] = {}
    for one in tongues(language):
        fixed = words(one)
        months.setdefault(fixed["date"], []).append(fixed["months"].split("|")[day.month - 1])
    return BETWEEN.join(
        form.format(day=day.day, month=BETWEEN.join(dict.fromkeys(named)), year=day.year)
        for form, named in months.items()
    )


def _of_list(recipe: Recipe, language: str) -> str:
    """The language of the list that the program makes: the first, where the head has a list of its own in another."""
    return tongues(language)[0] if any(_own(recipe, "ingredients", language)) else language


def _own(recipe: Recipe, key: str, language: str) -> Iterator[tuple[str, str]]:
    """What the head says of a key in each further language: its id and the words ("title_fr: Gelée de pomme")."""
    for one in tongues(language):
        stated = str(recipe.head.get(f"{key}_{one}", "")).strip()
        if stated:
            yield one, stated


def _in_tongues(text: str, recipe: Recipe, key: str, language: str) -> str:
    """A text of the head with what stands beside it in the other language of the label."""
    return BETWEEN.join(dict.fromkeys((text, *(stated for _, stated in _own(recipe, key, language)))))


def _serving(content: LabelContent, recipe: Recipe, language: str) -> str:
    """The serving in the words of each language, the metric amount once."""
    stated = [text for _, text in _own(recipe, "serving", language)]
    measure, aside, metric = figure_words(content.serving, language).partition(" (")
    return f"{BETWEEN.join((measure, *stated))}{aside}{metric}"


def _own_lists(recipe: Recipe, language: str) -> Iterator[Run]:
    """The ingredient list that the head gives in another language, under its own heading."""
    for one, stated in _own(recipe, "ingredients", language):
        yield Run(f"{BETWEEN}")
        yield Run(f"{words(one)['ingredients']} ", True)
        yield Run(stated)


def _servings(facts: LabelFacts, language: str) -> str:
    count, about, in_pack = servings_in(facts.nutrition)
    texts = []
    for one in tongues(language):
        fixed = words(one)
        noun = fixed["one_serving" if count == "1" else "many_servings"]
        parts = [fixed["about"] if about else "", count, noun, fixed["in_pack"] if in_pack else ""]
        texts.append(" ".join(part for part in parts if part))
    return BETWEEN.join(dict.fromkeys(texts))


def _allergens(content: LabelContent, facts: LabelFacts, language: str) -> Iterator[Run]:
    """The statement in each language in turn.

    Where the market wants none beside a list: where to look in the list, and what of the allergens it does not hold.
    """
    set_apart = tuple(run.text for run in content.ingredients if run.emphasised)
    stated = statement(facts.allergens, facts.market, set_apart=set_apart)
    if not stated.names:
        return
    if stated.beside_list:
        yield from _named(facts.allergens.declared, language, capital=stated.names[0][:1].isupper())
        return
    missing = unlisted(facts.allergens, facts.market, set_apart=set_apart)
    if set(stated.names) == set(stated.unlisted):
        yield from _named(missing, language)
        return
    for at, one in enumerate(tongues(language)):
        fixed = words(one)
        yield Run(f"{BETWEEN if at else ''}{fixed['allergens_in_list']} ")
        yield Run(fixed["bold"], True)
        if missing:
            yield Run(f". {fixed['contains_also']} ")
            yield Run(", ".join(_names_of(missing, one)), True)


def _named(findings: Iterable[Finding], language: str, *, capital: bool = False) -> Iterator[Run]:
    """The names in each language in turn, with a capital each where the market has them so in English."""
    for at, one in enumerate(tongues(language)):
        names = [name[:1].upper() + name[1:] if capital else name for name in _names_of(findings, one)]
        if names:
            yield Run(f"{BETWEEN if at else ''}{words(one)['contains_title']} ")
            yield Run(", ".join(names), True)


def _names_of(findings: Iterable[Finding], language: str) -> tuple[str, ...]:
    """What the findings are called in one language, each once."""
    return tuple(dict.fromkeys(name for one in findings for name in name_allergen(one.allergen, one.names, language)))

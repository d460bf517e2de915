"""Foods that only the method names: puff pastry to wrap in, butter to fry in, grated cheese on top.

Every sentence of handling, and every note and tip, is read for words that name a food with an allergen, whether or not
the sentence is understood otherwise; what all of them name counts. What the recipe has named already or makes itself
("knead the dough") is left out; what may be either is a question. So is what is served beside the food, what only an
offer names, and what a note says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeler.allergens.detect import assessed, judge_claimed, speaking_hits
from labeler.allergens.free_from import FreeFromClaims
from labeler.allergens.method_sentences import Spoken, spoken_of
from labeler.allergens.model import HANDLING, NOTED, SERVED, Assessment, Finding
from labeler.allergens.phrase_verdicts import NUTS, SEAFOOD, FoundAllergen
from labeler.allergens.vocabulary import allergen_names, load_vocabulary
from labeler.foods.model import WeighedRecipe
from labeler.parsing.model import NoteKind
from labeler.parsing.sentence_parts import sentence_parts
from labeler.text.tokens import tokens

__all__ = ["MethodFood", "assess_method", "foods_in_text"]

_READ_NOTES = frozenset({NoteKind.TIP, NoteKind.NOTE})


@dataclass(frozen=True, slots=True)
class MethodFood:
    """A food with an allergen that a sentence names.

    Parameters
    ----------
    name : str
        The words that name it.
    text : str
        The sentence.
    found : Assessment
        What it holds.
    served : bool
        True where the sentence serves it beside the food.
    offered : bool
        True where the sentence only offers it.
    """

    name: str
    text: str
    found: Assessment
    served: bool = False
    offered: bool = False

    @property
    def added(self) -> bool:
        """True where it surely goes in: it is neither served beside, nor offered, nor perhaps what the recipe makes."""
        return bool(self.found.contains) and not (self.served or self.offered)


def foods_in_text(text: str, *, recipe: Spoken | None = None) -> tuple[MethodFood, ...]:
    """The foods with an allergen that the words of a sentence name, in order.

    Parameters
    ----------
    text : str
        A sentence of the method or a note, as written.
    recipe : Spoken or None
        What the recipe names in its lines and titles; None where nothing is known of it.
    """
    recipe = recipe if recipe is not None else Spoken()
    parts = sentence_parts(text)
    return (
        *_foods(parts.in_it, text, recipe, served=False, offered=parts.offers),
        *_foods(parts.perhaps, text, recipe, served=False, offered=True),
        *_foods(parts.beside, text, recipe, served=True, offered=parts.offers),
        *(food for one in parts.remarks for food in _foods(one.text, text, recipe, served=False, offered=True)),
    )


def _foods(words: str, text: str, recipe: Spoken, *, served: bool, offered: bool) -> Iterator[MethodFood]:
    word_list = tokens(words)
    if not word_list:
        return
    vocabulary = load_vocabulary()
    claims: dict[int, FreeFromClaims] = {}
    _, matched, speaking = speaking_hits(word_list, aside=True, recipe=recipe)
    for hit in speaking:
        found = FoundAllergen()
        judge_claimed(text, hit, matched, claims, found)
        if found.certain or found.possible:
            name = vocabulary.written.get(hit.phrase, hit.phrase)
            yield MethodFood(name, text, assessed(text, found), served, offered)


def assess_method(weighed: WeighedRecipe, lines: Assessment) -> Iterator[Assessment]:
    """What the handling and the notes of a recipe name beside the foods of its lines.

    Parameters
    ----------
    weighed : WeighedRecipe
    lines : Assessment
        What the lines hold: an allergen of the same food is not found twice.
    """
    titles = [part.title for part in weighed.parts if part.title]
    spoken = spoken_of(
        ((line.line.text, line.line.name or line.line.text) for part in weighed.parts for line in part.lines),
        (weighed.recipe.title, *titles),
    )
    known = _known(lines)
    asked = lines.allergens | lines.possible
    titled = re.compile(rf"\b(?:{'|'.join(map(re.escape, titles))})\b", re.IGNORECASE) if titles else None
    sentences = [(sentence.text, False) for part in weighed.recipe.parts for sentence in part.handling]
    sentences += [(note.text, True) for note in weighed.recipe.notes if note.kind in _READ_NOTES]
    for text, noted in sentences:
        for food in foods_in_text(titled.sub(" ", text) if titled else text, recipe=spoken):
            sure = food.added and not noted
            certain = [finding for finding in food.found.contains
                       if not all((finding.allergen, name) in known for name in finding.names)]  # fmt: skip
            open_ = [finding for finding in food.found.read_the_package if finding.allergen not in asked]
            if not sure:
                open_ += [finding for finding in certain if finding.allergen not in asked]
                certain = []
            yield Assessment(
                text,
                tuple(_spoken(finding, text, food, noted=noted) for finding in certain),
                tuple(_spoken(finding, text, food, noted=noted) for finding in open_),
            )


def _known(lines: Assessment) -> set[tuple[str, str]]:
    """The allergens of the lines with every name by which a sentence may mean them."""
    plain = allergen_names()
    known = {(finding.allergen, name) for finding in lines.contains for name in finding.names}
    known |= {(finding.allergen, plain[finding.allergen]) for finding in lines.contains}
    if not SEAFOOD.isdisjoint(lines.allergens):
        known |= {(allergen, plain[allergen]) for allergen in SEAFOOD}
    if not NUTS.isdisjoint(lines.allergens):
        known.add(("tree_nuts", plain["tree_nuts"]))
    return known


def _spoken(finding: Finding, text: str, food: MethodFood, *, noted: bool) -> Finding:
    if noted:
        stated, rule = "a note of the recipe names it", NOTED
    elif food.served:
        stated, rule = "the method serves it beside the food: it is in what is sold where it goes into the pack", SERVED
    elif food.offered:
        stated, rule = "the method offers it", HANDLING
    else:
        stated, rule = "the handling says so", HANDLING
    certainty = finding.certainty if food.added and not noted else "possible"
    return replace(finding, reason=f"{stated}: {finding.reason}", from_=text, rule=rule, certainty=certainty)

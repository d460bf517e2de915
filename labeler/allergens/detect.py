"""Finding the allergens of one ingredient name.

The name's tokens are matched against the vocabulary; a phrase inside a longer one says nothing; what is left is
bent by the words around it: what a "rice" before "noodles" replaces, what "vegan" or "egg-free" takes away from
foods that only usually contain it, what "flavouring" makes doubtful. A word that names the allergenic food
itself is never taken away by a claim: gluten-free oats stay oats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from labeler.allergens.free_from import FreeFromClaims, read_claims
from labeler.allergens.method_sentences import Spoken, is_placed, refers_back
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.phrase_verdicts import NUTS, SEAFOOD, SEVERAL, UNNAMED, UNNAMED_ALONE, FoundAllergen, judge
from labeler.allergens.phrases import STOPS, TYPO, PhraseHit, match, unread_words
from labeler.allergens.vocabulary import Vocabulary, load_vocabulary
from labeler.foods.matching.name_words import word_kinds
from labeler.parsing.ingredient.remarks import Remark, split_remarks
from labeler.text.tokens import BREAK, tokens

__all__ = ["assess_text", "assessed", "judge_claimed", "offered", "speaking_hits"]


def _well_named(finding: Finding, one_food: bool) -> Finding:
    """The finding without the plain name of its kind where it has a better one."""
    if len(finding.names) == 1:
        return finding
    plain = UNNAMED.get(finding.allergen) or (UNNAMED_ALONE.get(finding.allergen) if one_food else None)
    return replace(finding, names=tuple(name for name in finding.names if name != plain))


def _without_category(words: list[str], speaking: list[PhraseHit]) -> list[PhraseHit]:
    """The hits without a leading "nuts" that the rest of the name makes plain ("nuts, almonds").

    "Chopped nuts, pine kernels" is no index order, in which what describes the food stands behind it.
    """
    if BREAK not in words:
        return speaking
    first = words.index(BREAK)
    rest = [
        hit
        for hit in speaking
        if hit.entry.base != "category" and (hit.words is not words or (hit.start > first and hit.entry.kind in NAMED))
    ]
    plain = any(
        hit.entry.kind == "misleads" or not NUTS.isdisjoint(allergen for allergen, _ in hit.entry.contains)
        for hit in rest
    )
    if not plain:
        return speaking
    return [
        hit for hit in speaking
        if hit.entry.base != "category" or (hit.words is words and (hit.end > first or hit.start > 0))
    ]  # fmt: skip


def _names_another(dish: PhraseHit, speaking: list[PhraseHit]) -> bool:
    """True where a name says of what else than fish a dish of raw fish is: "shrimp ceviche", "vegetable sushi"."""
    held = [allergen for hit in speaking if hit is not dish for allergen, _ in hit.entry.contains]
    if "fish" in held:
        return False
    before_it = [hit for hit in speaking if hit.end == dish.start and hit.words is dish.words]
    return not SEAFOOD.isdisjoint(held) or any(hit.entry.kind in ("plant", "misleads") for hit in before_it)


def _is_head(hit: PhraseHit, words: list[str]) -> bool:
    """True for a vague word that is the noun of the name: the tart of "lemon tart", not of "apples, tart"."""
    ends = hit.end >= len(words) or words[hit.end] == BREAK or words[hit.end] in STOPS
    told = " " in hit.phrase or (hit.start > 0 and words[hit.start - 1] != BREAK)
    return hit.entry.base == "head" and hit.words is words and ends and told


NAMED = frozenset({"source", "misleads"})
"""Kinds of entries that name a food itself, and none that is made of it."""
JOINING = frozenset({"and", "plus"})


def _unread(words: list[str], matched: list[PhraseHit], vocabulary: Vocabulary) -> Iterator[str]:
    """Of a name that joins several foods, those that say nothing: "salt and od"."""
    if JOINING.isdisjoint(words):
        return
    stated = {at for hit in matched if hit.entry.kind != "modifier" for at in range(hit.start, hit.end)}
    cuts = [-1, *(at for at, word in enumerate(words) if word in JOINING), len(words)]
    for start, end in pairwise(cuts):
        inside = range(start + 1, end)
        if stated.isdisjoint(inside) and any(_may_be_food(words[at], vocabulary) for at in inside):
            yield " ".join(words[at] for at in inside)


def _may_be_food(word: str, vocabulary: Vocabulary) -> bool:
    """True for a word that is none of those that only say how a food is, nor a small one."""
    return word.isalpha() and not vocabulary.only_describes(word) and word not in word_kinds() and word not in STOPS


def assess_text(text: str, *, aside: bool = False, recipe: Spoken | None = None) -> Assessment:
    """The allergens that the words of one ingredient name speak of.

    Parameters
    ----------
    text : str
        One name in a cook's or a label's words; a name of several foods gives all that they contain.
    aside : bool
        True for a text that is not a name (a preparation, a note, a handling sentence): words that say little
        on their own ("sauce", "toast") then say nothing.
    recipe : Spoken or None
        For a handling sentence: what its recipe has named already, so that "boil the noodles" speaks of the rice
        noodles that are there.
    """
    plain, remarks = split_remarks(text)
    stated = _assess(text, plain, aside, recipe)
    return stated if not remarks else offered(stated, remarks)


def offered(assessment: Assessment, remarks: Iterable[Remark]) -> Assessment:
    """What is said of a food, with what the remarks beside it would bring as a question; nothing is taken away."""
    instead = tuple(
        replace(finding, certainty="possible", reason=f"{finding.reason}, if “{remark.text}” is followed")
        for remark in remarks
        for found in (_assess(remark.text, remark.text, True, None),)
        for finding in (*found.contains, *found.read_the_package)
        if finding.allergen not in assessment.allergens
    )
    return merge(assessment.text, (assessment, Assessment(assessment.text, read_the_package=instead)))


def _assess(text: str, plain: str, aside: bool, recipe: Spoken | None) -> Assessment:
    """The allergens of a text whose remarks are taken out."""
    vocabulary = load_vocabulary()
    written = tokens(plain)
    found = FoundAllergen()
    words, matched, speaking = speaking_hits(written, aside=aside, recipe=recipe)
    claims = {id(words): read_claims(words, vocabulary)}
    for hit in speaking:
        judge_claimed(text, hit, matched, claims, found)
    one_food = SEVERAL.isdisjoint(words)
    open_ = not (speaking or claims[id(words)].denies) or any(hit.doubt == TYPO for hit in speaking)
    unread = (text,) if open_ else () if aside else (*_unread(words, matched, vocabulary), *unread_words(written))
    assessment = assessed(text, found, one_food=one_food, unread=unread)
    plain_ones = [finding for plain_one in _plain_choices(words, vocabulary)
                  for finding in _assess(text, plain_one, aside, None).contains
                  if finding.allergen not in assessment.allergens]  # fmt: skip
    if not plain_ones:
        return assessment
    asked = tuple(replace(finding, certainty="possible", reason=f"{finding.reason}, where the plain one is taken")
                  for finding in plain_ones)  # fmt: skip
    return merge(text, (assessment, Assessment(text, read_the_package=asked)))


def _plain_choices(words: list[str], vocabulary: Vocabulary) -> Iterator[str]:
    """The plain food of a choice whose noun only the other option carries: "regular or gluten-free flour"."""
    for at, word in enumerate(words):
        if word != "or":
            continue
        start, end = at, at + 1
        while start > 0 and vocabulary.only_describes(words[start - 1]) and words[start - 1] not in STOPS:
            start -= 1
        while end < len(words) and words[end] != BREAK and words[end] not in STOPS:
            end += 1
        other = words[at + 1 : end]
        claims = read_claims(other, vocabulary)
        noun = [stated for place, stated in enumerate(other) if place not in claims.masked and stated != "free"]
        if start < at and claims.masked and noun:
            yield " ".join((*words[start:at], *noun))


def assessed(text: str, found: FoundAllergen, *, one_food: bool = True, unread: tuple[str, ...] = ()) -> Assessment:
    """What was found as an assessment."""
    return Assessment(
        text,
        tuple(_well_named(finding, one_food) for finding in found.certain.values()),
        tuple(finding for key, finding in found.possible.items() if key not in found.certain),
        unread,
    )


def speaking_hits(
    words: list[str], *, aside: bool, recipe: Spoken | None = None
) -> tuple[list[str], list[PhraseHit], list[PhraseHit]]:
    """The tokens of a text as they are read, its phrases, and those of them that speak of a food of its own.

    Parameters
    ----------
    words : list of str
        Its tokens.
    aside, recipe
        As `assess_text` takes them.
    """
    vocabulary = load_vocabulary()
    words, matched = match(words, vocabulary, aside=aside)
    speaking = [hit for hit in matched if hit.entry.kind != "modifier"]
    if recipe is not None:
        speaking = [hit for hit in speaking if hit.entry.kind != "generic" or is_placed(hit)]
    elif aside or any(hit.entry.kind != "generic" for hit in speaking):
        speaking = [hit for hit in speaking if hit.entry.kind != "generic" or (not aside and _is_head(hit, words))]
    speaking = _without_category(words, speaking)
    for hit in speaking:
        if hit.entry.base == "seafood" and _names_another(hit, speaking):
            hit.doubt = "of the food that is named beside it"
    if recipe is not None:
        speaking = [hit for hit in speaking if not refers_back(hit, recipe, vocabulary)]
    return words, matched, speaking


def judge_claimed(
    text: str, hit: PhraseHit, matched: list[PhraseHit], claims: dict[int, FreeFromClaims], found: FoundAllergen
) -> None:
    """Add to `found` what a phrase says; `claims` keeps the claims of each order in which the tokens are read."""
    if not hit.entry.contains and not hit.entry.possible:
        return
    vocabulary = load_vocabulary()
    claimed = claims.get(id(hit.words))
    if claimed is None:
        claimed = claims[id(hit.words)] = read_claims(hit.words, vocabulary)
    if not claimed.covers(hit.start, hit.end):
        judge(text, hit, matched, claimed, vocabulary, found)

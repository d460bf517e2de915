"""What a handling sentence says of foods: one that is further, one that the recipe has named already, or its product.

"Dust with flour" brings wheat that no line shows. "Boil the noodles" speaks of the rice noodles of the list, "knead
the dough" and "shape into a loaf" of what the recipe itself makes. Where the sentence may mean the food of the list or
another one ("brush with milk", beside almond milk) that is a question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labeler.allergens.match import Hit, walk_left
from labeler.allergens.vocabulary import Vocabulary
from labeler.allergens.words import BREAK, tokens

__all__ = ["Spoken", "refers_back", "spoken_of"]

POINTING = frozenset({"the", "this", "that", "these", "those", "your", "remaining", "reserved", "rest", "leftover"})
MAKING = frozenset({"make", "form", "shape", "knead"})
PRODUCING = MAKING | {"into", "roll", "bake", "prepare", "as"}
"""Words before what the recipe makes."""
INGREDIENTS = frozenset({"milk", "cream", "butter", "cheese", "yogurt", "flour", "noodle"})
"""What a recipe takes and does not make, by the base of its entry."""
FROM_ELSEWHERE = frozenset({"with", "over", "using", "deglaze"})
"""Of these, the words before what may come from outside the list though the list has a food of that name."""
INTO = frozenset({"stir", "fold", "mix", "whisk", "beat", "blend", "rub", "work", "swirl", "toss", "pour"})
"""Verbs whose "in" takes what the list has: "fold in the flour", as against "fry in butter"."""
ADDING = frozenset({"with", "in", "add", "over", "using", "deglaze", "of", "pour"})
"""Words before what a sentence adds."""
COATING = frozenset({"dust", "dusted", "dredge", "dredged", "coat", "coated", "toss", "tossed", "sprinkle", "sprinkled",
                     "flour", "roll", "rolled", "cover", "covered", "dip", "dipped"})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spoken:
    """What a recipe has named.

    Parameters
    ----------
    words, heads : frozenset of str
        The tokens of its lines, and the last token of each line's name.
    claimed : frozenset of str
        The heads of those lines that say what they are without ("vegan butter").
    titles : frozenset of str
        The tokens of the titles of the recipe and of its parts.
    """

    words: frozenset[str]
    heads: frozenset[str]
    claimed: frozenset[str]
    titles: frozenset[str]


CLAIMING = frozenset({"free", "vegan", "vegetarian", "plant", "dairyless", "eggless"})


def spoken_of(lines: Iterable[tuple[str, str]], titles: Iterable[str]) -> Spoken:
    """What the lines and titles of a recipe name.

    Parameters
    ----------
    lines : iterable of (str, str)
        The text and the name of each line.
    titles : iterable of str
        Of the recipe and of its parts.
    """
    words: set[str] = set()
    heads: set[str] = set()
    claimed: set[str] = set()
    for text, name in lines:
        said = tokens(text)
        words.update(said)
        named = tokens(name)
        first = named[: named.index(BREAK)] if BREAK in named else named
        heads.update(first[-1:])
        if not CLAIMING.isdisjoint(said):
            claimed.update(first[-1:])
    titled = frozenset(word for title in titles for word in tokens(title))
    return Spoken(frozenset(words), frozenset(heads), frozenset(claimed), titled)


def refers_back(hit: Hit, recipe: Spoken, vocabulary: Vocabulary) -> bool:
    """True where a sentence means a food that the recipe names already, or the thing that it makes.

    What may be either is marked as doubtful; what a sentence does not add keeps only what it certainly holds.
    """
    phrase = hit.phrase.split(" ")
    before = [hit.words[at - 1] if at > 0 else "" for at in walk_left(hit.words, hit.start, vocabulary)]
    pointed_at = not POINTING.isdisjoint(before)
    hit.added = not ADDING.isdisjoint(before)
    if recipe.words.issuperset(phrase):
        if pointed_at or _is_a_deed(hit):
            return True
        if phrase[-1] in recipe.heads and not _coats(hit):
            if not _from_elsewhere(hit, before):
                return True
            hit.doubt = "the sentence may mean the food of that name in the list"
        elif phrase[-1] in recipe.claimed:
            hit.doubt = "the sentence may mean the food of that name in the list"
        return False
    if _is_made_of_it(hit, vocabulary):
        return True
    if hit.entry.kind in ("source", "derivative"):
        return False
    if hit.entry.base in INGREDIENTS:
        return _is_a_deed(hit) or not MAKING.isdisjoint(before)
    if hit.entry.kind == "common" and hit.entry.base != "bread" and _begins(hit):
        return True
    of_its_own = phrase[-1] in recipe.titles or hit.entry.base == "batter" or not PRODUCING.isdisjoint(before)
    if of_its_own and (pointed_at or not hit.added):
        return True
    if pointed_at and len(phrase) == 1:
        hit.doubt = "the sentence may mean what the recipe makes"
    return False


def _from_elsewhere(hit: Hit, before: list[str]) -> bool:
    """True where a food of the list's name may be another one all the same: "fry in butter", "brush with milk"."""
    if not FROM_ELSEWHERE.isdisjoint(before):
        return True
    at = next((at for at in range(hit.start - 1, max(hit.start - 4, -1), -1) if hit.words[at] == "in"), None)
    return at is not None and (at == 0 or hit.words[at - 1] not in INTO)


def _is_made_of_it(hit: Hit, vocabulary: Vocabulary) -> bool:
    """True for what the sentence turns its food into: "grind to a fine flour"."""
    article = False
    for at in range(hit.start - 1, -1, -1):
        word = hit.words[at]
        if word in ("to", "into"):
            return article
        if word not in ("a", "an") and not vocabulary.only_describes(word):
            return False
        article = article or word in ("a", "an")
    return False


def _begins(hit: Hit) -> bool:
    """True at the start of a clause, where a dish's name is a deed: "sandwich the halves", "hash the leaves"."""
    starts = hit.start == 0 or hit.words[hit.start - 1] in (BREAK, "and", "then")
    return starts and not POINTING.isdisjoint(hit.words[hit.end : hit.end + 1])


def _is_a_deed(hit: Hit) -> bool:
    """True where "cream" is what is done: "cream the sugar and the margarine"."""
    follows = hit.words[hit.end : hit.end + 1]
    return hit.phrase == "cream" and (not POINTING.isdisjoint(follows) or follows in (["together"], ["until"]))


def _coats(hit: Hit) -> bool:
    """True for flour that a sentence dusts or dredges with: seldom the flour that a dough is made of."""
    said = hit.words[max(hit.start - 6, 0) : hit.start]
    return hit.entry.base == "flour" and hit.added and not COATING.isdisjoint(said)

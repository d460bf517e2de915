"""What a handling sentence says of foods: one that is further, one that the recipe has named already, or its product.

"Dust with flour" brings wheat that no line shows. "Boil the noodles" speaks of the rice noodles of the list, "knead
the dough" and "shape into a loaf" of what the recipe itself makes. Where the sentence may mean the food of the list or
another one ("brush with milk", beside almond milk) that is a question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labeler.allergens.phrases import STOPS, PhraseHit, walk_left
from labeler.allergens.vocabulary import Vocabulary
from labeler.text.tokens import BREAK, tokens

__all__ = ["Spoken", "is_placed", "refers_back", "spoken_of"]

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


FLOURY = frozenset(
    tokens(
        "flour meal oats starch cornflour cornmeal cornstarch masa polenta semolina besan couscous atta "
        "maida bran buckwheat wheat spelt rye sourdough mix crumb oatmeal rusk matzo batter dough pastry"
    )
)
"""Words of what a dough, a batter, a bread or a crust is made of."""
MADE_OF_FLOUR = frozenset({"batter", "bread", "wrapper", "tortilla", "noodle", "cake"})
"""Bases of foods that are made of flour."""
PUTTING = frozenset(tokens("pour spoon put pile stuff fill tip scoop fold ladle place transfer pack lay heap tuck slip "
                           "line serve wrap spread press set roll drop arrange slide split"))  # fmt: skip
"""Verbs behind which "into" and "onto" tell where food is put, not what is made of it."""
PLACES = frozenset({"in", "into", "on", "onto", "inside", "between", "over"})
DISH_VERBS = frozenset(tokens("sandwich wrap hash toast roll mash stew roast curry pickle cream sauce ice crumb poke"))
"""Dishes whose name at the start of a clause is an action that brings nothing: "sandwich with", "toast the seeds"."""


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

    words: frozenset[str] = frozenset()
    heads: frozenset[str] = frozenset()
    claimed: frozenset[str] = frozenset()
    titles: frozenset[str] = frozenset()

    def makes(self, hit: PhraseHit) -> bool:
        """True where the recipe holds what a food of the hit's kind is made of, or is named by it."""
        if hit.entry.base in MADE_OF_FLOUR:
            return not FLOURY.isdisjoint(self.words)
        return hit.phrase.split(" ")[-1] in self.titles


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
        word_list = tokens(text)
        words.update(word_list)
        named = tokens(name)
        first = named[: named.index(BREAK)] if BREAK in named else named
        heads.update(first[-1:])
        if not CLAIMING.isdisjoint(word_list):
            claimed.update(first[-1:])
    titled = frozenset(word for title in titles for word in tokens(title))
    return Spoken(frozenset(words), frozenset(heads), frozenset(claimed), titled)


def refers_back(hit: PhraseHit, recipe: Spoken, vocabulary: Vocabulary) -> bool:
    """True where a sentence means a food that the recipe names already, or the thing that it makes.

    What may be either is marked as doubtful; what a sentence does not add keeps only what it certainly holds.
    """
    phrase = hit.phrase.split(" ")
    before = [hit.words[at - 1] if at > 0 else "" for at in walk_left(hit.words, hit.start, vocabulary)]
    pointed_at = not POINTING.isdisjoint(before)
    hit.added = not ADDING.isdisjoint(before) or _is_added(hit)
    if recipe.words.issuperset(phrase):
        return _is_of_the_list(hit, recipe, before, pointed_at=pointed_at)
    if _is_dish_as_verb(hit):
        return True
    produced = _is_made_of_it(hit, vocabulary)
    if hit.entry.kind in ("source", "derivative"):
        return produced
    if hit.entry.base in INGREDIENTS:
        return produced or _is_verb(hit) or not MAKING.isdisjoint(before)
    made = PRODUCING - {"into"} if is_placed(hit) and _is_put(hit) else PRODUCING
    produced = produced or (not hit.added and not made.isdisjoint(before))
    return _is_the_product(hit, recipe, produced=produced, pointed_at=pointed_at)


def _is_of_the_list(hit: PhraseHit, recipe: Spoken, before: list[str], *, pointed_at: bool) -> bool:
    """True where a food whose words all stand in the list is that of the list; doubtful where it may be another."""
    last = hit.phrase.split(" ")[-1]
    if pointed_at or _is_verb(hit):
        return True
    of_a_line = last in recipe.heads and not _coats(hit)
    if of_a_line and not _from_elsewhere(hit, before):
        return True
    if of_a_line or last in recipe.claimed:
        hit.doubt = "the sentence may mean the food of that name in the list"
    return False


def _is_the_product(hit: PhraseHit, recipe: Spoken, *, produced: bool, pointed_at: bool) -> bool:
    """True where a food that is in no line is what the recipe makes; doubtful where it may be."""
    if (produced or (pointed_at and not hit.added)) and recipe.makes(hit):
        return True
    if (produced or (pointed_at and " " not in hit.phrase)) and hit.entry.kind != "generic":
        hit.doubt = "the sentence may mean what the recipe makes"
    return not hit.added and hit.entry.base in MADE_OF_FLOUR and recipe.makes(hit) and not is_placed(hit)


def _is_added(hit: PhraseHit) -> bool:
    """True where the nearest word that can take food in stands before the food, whatever describes it between."""
    for word in reversed(hit.words[max(hit.start - 4, 0) : hit.start]):
        if word == BREAK:
            return False
        if word in ADDING or word in STOPS:
            return word in ADDING
    return False


def _is_put(hit: PhraseHit) -> bool:
    """True where the clause before a food puts something somewhere: "pile the slaw into buns"."""
    clause = hit.words[: hit.start]
    start = max((at + 1 for at, stated in enumerate(clause) if stated in (BREAK, "then")), default=0)
    return not PUTTING.isdisjoint(clause[start:])


def is_placed(hit: PhraseHit) -> bool:
    """True for what food is put in or on: "spread on toast", "pile into burger buns"."""
    before = hit.words[max(hit.start - 3, 0) : hit.start]
    if BREAK in before:
        before = before[len(before) - before[::-1].index(BREAK) :]
    return not PLACES.isdisjoint(before)


def _from_elsewhere(hit: PhraseHit, before: list[str]) -> bool:
    """True where a food of the list's name may be another one all the same: "fry in butter", "brush with milk"."""
    if not FROM_ELSEWHERE.isdisjoint(before):
        return True
    at = next((at for at in range(hit.start - 1, max(hit.start - 4, -1), -1) if hit.words[at] == "in"), None)
    return at is not None and (at == 0 or hit.words[at - 1] not in INTO)


def _is_made_of_it(hit: PhraseHit, vocabulary: Vocabulary) -> bool:
    """True for what the sentence turns its food into: "grind to a fine flour", "shape into a loaf"."""
    article = False
    for at in range(hit.start - 1, -1, -1):
        word = hit.words[at]
        if word in ("to", "into"):
            return article and not _is_put(hit)
        if word not in ("a", "an") and not vocabulary.only_describes(word):
            return False
        article = article or word in ("a", "an")
    return False


def _is_dish_as_verb(hit: PhraseHit) -> bool:
    """True at the start of a clause, where a dish's name is an action: "sandwich the halves", "toast in a dry pan"."""
    starts = hit.start == 0 or hit.words[hit.start - 1] in (BREAK, "and", "then")
    follows = hit.words[hit.end : hit.end + 1]
    if not starts or not follows or hit.entry.kind not in ("common", "generic") or hit.entry.base in NEVER_ACTIONS:
        return False
    return not POINTING.isdisjoint(follows) or (hit.phrase in DISH_VERBS and not FOLLOWING.isdisjoint(follows))


NEVER_ACTIONS = INGREDIENTS | {"bread"}
"""Bases of foods whose name as an action brings the food: "bread the slices", "flour the tin"."""
FOLLOWING = frozenset(
    {
        "with",
        "in",
        "on",
        "into",
        "each",
        "it",
        "them",
        "until",
        "for",
        "together",
        "around",
        "out",
        "up",
        "all",
        "both",
        "a",
        "an",
        "some",
        "lightly",
        "gently",
        "well",
        "over",
        "under",
        "between",
    }
)
"""Words behind an action."""


def _is_verb(hit: PhraseHit) -> bool:
    """True where "cream" is what is done: "cream the sugar and the margarine"."""
    follows = hit.words[hit.end : hit.end + 1]
    return hit.phrase == "cream" and (not POINTING.isdisjoint(follows) or follows in (["together"], ["until"]))


def _coats(hit: PhraseHit) -> bool:
    """True for flour that a sentence dusts or dredges with: seldom the flour that a dough is made of."""
    stated = hit.words[max(hit.start - 6, 0) : hit.start]
    return hit.entry.base == "flour" and hit.added and not COATING.isdisjoint(stated)

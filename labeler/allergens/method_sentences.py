"""What a handling sentence says of foods: one that is further, one that the recipe has named already, or its product.

"Dust with flour" brings wheat that no line shows. "Boil the noodles" speaks of the rice noodles of the list, "knead
the dough" and "shape into a loaf" of what the recipe itself makes. Where the sentence may mean the food of the list or
another one ("brush with milk", beside almond milk) that is a question.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from labeler.allergens.phrases import STOPS, PhraseHit, walk_left
from labeler.allergens.vocabulary import Vocabulary, load_vocabulary
from labeler.data_files import data_folder, data_rows
from labeler.parsing.instructions.actions import actions
from labeler.parsing.units import SPELLINGS, kind
from labeler.text.tokens import BREAK, tokens

__all__ = ["Spoken", "is_placed", "names_no_kind", "refers_back", "sentence_words", "spoken_of"]


@cache
def _sets() -> dict[str, frozenset[str]]:
    rows = data_rows(data_folder("labeler.allergens") / "sentence_words.csv")
    return {row["set"]: frozenset(tokens(row["words"])) for row in rows}


def sentence_words(name: str) -> frozenset[str]:
    """The words of a set of ``sentence_words.csv`` as tokens; KeyError for one that the file does not have."""
    return _sets()[name]


def _any_of(words: Iterable[str], name: str) -> bool:
    """Whether a set has one of some words."""
    return not sentence_words(name).isdisjoint(words)


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
    kinds : frozenset of str
        The general names of those lines' foods: noodles of "rice vermicelli", whatever they are made of.
    """

    words: frozenset[str] = frozenset()
    heads: frozenset[str] = frozenset()
    claimed: frozenset[str] = frozenset()
    titles: frozenset[str] = frozenset()
    kinds: frozenset[str] = frozenset()

    def makes_flour(self) -> bool:
        """True where a line is of something that "the flour" may mean: masa, besan, oatmeal."""
        return _any_of(self.words, "floury")

    def makes(self, hit: PhraseHit) -> bool:
        """True where the recipe holds what a food of the hit's kind is made of, or is named by it."""
        if hit.entry.base in sentence_words("made of flour"):
            return self.makes_flour()
        return hit.phrase.split(" ")[-1] in self.titles


@cache
def _verbs() -> frozenset[str]:
    """Every verb of one word that the method knows."""
    return frozenset(verb for action in actions().values() for verb in action.verbs if verb.isalpha())


def names_no_kind(word: str) -> bool:
    """True for a word that says nothing of which food stands behind it: "add flour", "2 tbsp flour", "the flour"."""
    return (
        word in STOPS
        or word in _verbs()
        or word in sentence_words("of any food")
        or word in sentence_words("points at")
        or word in sentence_words("adds")
        or word in sentence_words("article")
        or _measures(word) in ("mass", "volume")
    )


def _measures(word: str) -> str:
    """What a word measures where it is a unit ("volume"); empty where it is none."""
    unit = SPELLINGS.get(word)
    return kind(unit) if unit is not None else ""


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
        if _any_of(word_list, "claims"):
            claimed.update(first[-1:])
    titled = frozenset(word for title in titles for word in tokens(title))
    entries = load_vocabulary().entries
    kinds = frozenset(entries[head].base for head in heads if head in entries) - {""}
    return Spoken(frozenset(words), frozenset(heads), frozenset(claimed), titled, kinds)


def refers_back(hit: PhraseHit, recipe: Spoken, vocabulary: Vocabulary) -> bool:
    """True where a sentence means a food that the recipe names already, or the thing that it makes.

    What may be either is marked as doubtful; what a sentence does not add keeps only what it certainly holds.
    """
    phrase = hit.phrase.split(" ")
    before = [hit.words[at - 1] if at > 0 else "" for at in walk_left(hit.words, hit.start, vocabulary)]
    pointed_at = _any_of(before, "points at")
    hit.added = _any_of(before, "adds") or _is_added(hit)
    if hit.phrase in recipe.kinds and not pointed_at and not recipe.words.issuperset(phrase):
        hit.doubt = "the sentence may mean the food of that kind in the list"
        return False
    if recipe.words.issuperset(phrase) or hit.phrase in recipe.kinds:
        return _is_of_the_list(hit, recipe, before, pointed_at=pointed_at)
    if _is_dish_as_verb(hit):
        return True
    produced = _is_made_of_it(hit, vocabulary)
    if hit.entry.kind in ("source", "derivative"):
        return produced
    if hit.entry.base == "flour" and pointed_at and recipe.makes_flour():
        hit.doubt = "the sentence may mean what the list has ground"
    if hit.entry.base in sentence_words("ingredient"):
        return produced or _is_verb(hit) or _any_of(before, "makes")
    made = (
        sentence_words("produces") - sentence_words("turns into")
        if is_placed(hit) and _is_put(hit)
        else sentence_words("produces")
    )
    produced = produced or (not hit.added and not made.isdisjoint(before))
    return _is_the_product(hit, recipe, produced=produced, pointed_at=pointed_at)


def _is_of_the_list(hit: PhraseHit, recipe: Spoken, before: list[str], *, pointed_at: bool) -> bool:
    """True where a food that the list names, by its words or as one of its kind, is that one; doubtful where it may be
    another."""
    last = hit.phrase.split(" ")[-1]
    if pointed_at or _is_verb(hit):
        return True
    of_a_line = (last in recipe.heads or hit.phrase in recipe.kinds) and not _coats(hit)
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
    return (
        not hit.added and hit.entry.base in sentence_words("made of flour") and recipe.makes(hit) and not is_placed(hit)
    )


def _is_added(hit: PhraseHit) -> bool:
    """True where the nearest word that can take food in stands before the food, whatever describes it between."""
    for word in reversed(hit.words[max(hit.start - 4, 0) : hit.start]):
        if word == BREAK:
            return False
        if word in sentence_words("adds") or word in STOPS:
            return word in sentence_words("adds")
    return False


def _is_put(hit: PhraseHit) -> bool:
    """True where the clause before a food puts something somewhere: "pile the slaw into buns"."""
    clause = hit.words[: hit.start]
    start = max((at + 1 for at, stated in enumerate(clause) if stated in (BREAK, "then")), default=0)
    return _any_of(clause[start:], "puts")


def is_placed(hit: PhraseHit) -> bool:
    """True for what food is put in or on: "spread on toast", "pile into burger buns"."""
    before = hit.words[max(hit.start - 3, 0) : hit.start]
    if BREAK in before:
        before = before[len(before) - before[::-1].index(BREAK) :]
    return _any_of(before, "place")


def _from_elsewhere(hit: PhraseHit, before: list[str]) -> bool:
    """True where a food of the list's name may be another one all the same: "fry in butter", "brush with milk"."""
    if _any_of(before, "from elsewhere"):
        return True
    at = next((at for at in range(hit.start - 1, max(hit.start - 4, -1), -1) if hit.words[at] == "in"), None)
    return at is not None and (at == 0 or hit.words[at - 1] not in sentence_words("takes from the list"))


def _is_made_of_it(hit: PhraseHit, vocabulary: Vocabulary) -> bool:
    """True for what the sentence turns its food into: "grind to a fine flour", "shape into a loaf"."""
    article = False
    for at in range(hit.start - 1, -1, -1):
        word = hit.words[at]
        if word in sentence_words("turns into"):
            return article and not _is_put(hit)
        if word not in sentence_words("article") and not vocabulary.only_describes(word):
            return False
        article = article or word in sentence_words("article")
    return False


def _is_dish_as_verb(hit: PhraseHit) -> bool:
    """True at the start of a clause, where a dish's name is an action: "sandwich the halves", "toast in a dry pan"."""
    starts = hit.start == 0 or hit.words[hit.start - 1] in {BREAK, *sentence_words("next deed")}
    follows = hit.words[hit.end : hit.end + 1]
    if (
        not starts
        or not follows
        or hit.entry.kind not in ("common", "generic")
        or hit.entry.base in sentence_words("never an action")
    ):
        return False
    return _any_of(follows, "points at") or (
        hit.phrase in sentence_words("dish as verb") and _any_of(follows, "follows an action")
    )


def _is_verb(hit: PhraseHit) -> bool:
    """True where "cream" is what is done: "cream the sugar and the margarine"."""
    follows = hit.words[hit.end : hit.end + 1]
    return hit.phrase in sentence_words("food as verb") and (
        _any_of(follows, "points at") or _any_of(follows, "together")
    )


def _coats(hit: PhraseHit) -> bool:
    """True for flour that a sentence dusts or dredges with: seldom the flour that a dough is made of."""
    stated = hit.words[max(hit.start - 6, 0) : hit.start]
    return hit.entry.base == "flour" and hit.added and _any_of(stated, "coats")

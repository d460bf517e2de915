"""What a name that means nothing to the vocabulary holds by the food that it is taken for everywhere else."""

from __future__ import annotations

from dataclasses import replace

from labeler.allergens.detect import JOINING, assess_text
from labeler.allergens.evidence import assess_food
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.phrases import is_unknown
from labeler.foods.matching.name_words import synonyms_of_one_word
from labeler.foods.matching.name_words import words as food_words
from labeler.foods.matching.synonyms import load_lexicon
from labeler.foods.model import Match
from labeler.text.tokens import fold, tokens

__all__ = ["SURE", "as_matched"]

SURE = 0.8
"""Confidence from which the table food may speak for a name that the vocabulary does not know."""
SURE_MENDED = 0.6
"""Confidence from which a food whose name was mended by one plain typo is in the dish: to tell is the careful side."""
LONG = 6
"""Letters from which a word with one other letter in it is taken for a typo."""


def as_matched(words: Assessment, match: Match) -> Assessment:
    """What a name that means nothing here holds by the food that it is taken for everywhere else.

    Where a plain typo was mended, what the mended name holds is in the food. Where it may be another word,
    or the food only resembles the name, it is a question, and the name stays one that could not be assessed. So does
    one for which there is no food and of which a word is known to nobody.
    """
    if not words.unassessed:
        unread = match.food is None and any(map(is_unknown, tokens(words.text)))
        return replace(words, unassessed=(words.text,)) if unread else words
    read_as = match.read_as or _in_normal_words(words.text, match)
    if read_as:
        mended = assess_text(read_as)
        why = f"“{words.text}” is read as “{read_as}”"
        sure = match.food is not None and match.confidence >= SURE_MENDED
        if sure and not mended.unassessed and _plainly(words.text, read_as):
            likely = tuple(_by_food(finding, why, words.text, "likely") for finding in mended.contains)
            asked = tuple(_by_food(finding, why, words.text, "possible") for finding in mended.read_the_package)
            as_written = _unless_mended(words, mended)
            return merge(words.text, (replace(as_written, unassessed=()), Assessment(words.text, likely, asked)))
    elif match.food is not None:
        mended, why = assess_food(match.food), f"“{words.text}” is counted as {match.description} ({match.food})"
    else:
        return words
    asked = tuple(_by_food(one, why, words.text, "possible") for one in (*mended.contains, *mended.read_the_package))
    return merge(words.text, (words, Assessment(words.text, read_the_package=asked)))


def _unless_mended(words: Assessment, mended: Assessment) -> Assessment:
    """What the words hold as they are written: what the mended name does not hold is a question."""
    holds = mended.allergens
    otherwise = tuple(replace(one, certainty="possible", reason=f"{one.reason}, unless it is “{mended.text}”")
                      for one in words.contains if one.allergen not in holds)  # fmt: skip
    kept = tuple(one for one in words.contains if one.allergen in holds)
    return replace(words, contains=kept, read_the_package=(*words.read_the_package, *otherwise))


def _in_normal_words(written: str, match: Match) -> str:
    """The name in the words of `labeler.foods` where its food is sure and these say what it is: "blk peper"."""
    if match.food is None or match.confidence < SURE or not JOINING.isdisjoint(tokens(written)):
        return ""
    normal = " ".join(food_words(written))
    unread = any(map(is_unknown, tokens(normal))) or bool(assess_text(normal).unassessed)
    return "" if unread else normal


def _plainly(written: str, read_as: str) -> bool:
    """True where each unknown word was mended by one letter that was lost, doubled or changed places.

    Another letter in its place counts in a long word only: "cachews" are cashews, but "pista" is no pasta.
    """
    from rapidfuzz.distance import OSA

    named = read_as.split()
    whole = len(named) > 1 and load_lexicon().find(named, named[-1]) is not None  # the other words speak for it
    meant = {*tokens(read_as), *(fold(stated) for stated, means in synonyms_of_one_word().items() if means in named)}
    for word in filter(is_unknown, tokens(written)):
        near = min(sorted(meant), key=lambda known: OSA.distance(word, known), default="")
        changed = len(near) == len(word) and sorted(near) != sorted(word) and not whole
        if OSA.distance(word, near) > 1 or (changed and len(word) < LONG):
            return False
    return True


def _by_food(finding: Finding, why: str, place: str, certainty: str) -> Finding:
    return replace(finding, reason=f"{why}: {finding.reason}", from_=place, certainty=certainty, rule="matched-food")

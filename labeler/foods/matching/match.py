"""Which food a name means.

Three ways, from the firmest: the lexicon knows the name; the lexicon knows it once words are left out that do not
change the food ("large", "good-quality", "cloves"); the ranked search over the table's descriptions finds it, with
what the lexicon knows of a part of the name as a hint. Every answer says which way it came and how sure it is.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

from labeler.foods.composition.bounds import stand_in
from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.compound_names import split_foods
from labeler.foods.matching.name_words import Name, read_name
from labeler.foods.matching.partial_match import (
    Meaning,
    first_offered,
    is_form,
    leafy,
    meaning,
    part_meaning,
    turned,
    without_remarks,
)
from labeler.foods.matching.search import load_index
from labeler.foods.matching.synonyms import load_lexicon
from labeler.foods.matching.typos import correct_typos, is_far
from labeler.foods.model import Candidate, Match

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from labeler.foods.matching.search import SearchHit

__all__ = ["MIN_CONFIDENCE", "match_food", "search_foods", "split_foods"]

MIN_CONFIDENCE = 0.35
"""Below this confidence a name has no food, only candidates."""

# What is left of a confidence ...
_LEFT_OUT = 0.97  # where words of form were left out
_RESPELLED = 0.9  # where a word was read as another
# ... that was the whole name, short or two letters off, and may as well be a word of another language
_RESPELLED_ALONE = 0.7
_LEAF_OF_ANOTHER = 0.6  # where a name means the leaf of a plant whose root, pod or fruit the table has
_NO_NAME = 0.5  # at most, where every word tells a form or a measure and none a food
_UNSTATED_MAKER = 0.65  # at most, for a maker's product whose maker the name does not say: "buffalo wings"
_SHORT_NAME = 3  # words of a name whose head is the thing itself
_LONG_TYPO = 8  # letters of a word that is no other word by chance
_REMARKS_CUT = 0.9  # where the cook's remarks were cut off
_NEXT = 0.85  # for each place after the first
_ALSO, _ALIKE = 0.5, 0.45  # at most, for what else a known name might mean, by the lexicon or by the search
# States that a preparation can choose; the rest of one ("roasted until brown") is the cook's doing.
_CHOOSING = frozenset(
    "canned frozen thawed defrosted cooked boiled hardboiled dried drained smoked ground grated shredded flaked"
    " boneless skinless bonein skinon unsalted salted sweetened unsweetened peeled chopped minced fresh leaf sprig"
    " juiced zested lean lowfat nonfat reducedfat instant powdered pickled packed oilpacked waterpacked".split()
)
# Of these, those that the search may look for where the lexicon has no name with them.
_DECISIVE = frozenset("canned frozen cooked dried smoked pickled".split())
_MAKER = re.compile(r"(?:[A-Z][a-z-]+(?: [a-z-]+)*, )?([A-Z][A-Z'&. -]{3,})(?=[ ,])")
_THAWED = {"thawed": "frozen", "defrosted": "frozen"}
_MOST_STATES = 4
# Answers that are kept: more than the distinct foods of a thousand recipes.
KEPT = 16_384


def search_foods(name: str, *, limit: int = 5) -> tuple[Candidate, ...]:
    """The table foods that a name may mean, best first.

    Parameters
    ----------
    name : str
        A food as a cook or another table names it; any text.
    limit : int
        How many candidates at most.

    Returns
    -------
    tuple of Candidate
        Empty where nothing fits. Confidences, 0 to 1, never rise along it. Raises nothing for any text.

    Source: descriptions and common names of USDA SR28, and ``labeler/foods/data``.

    Examples
    --------
    >>> labeler.search_foods("double cream", limit=1)[0].description
    'Cream, fluid, heavy whipping'
    >>> labeler.search_foods("xyzzy")
    ()
    """
    return _falling(_find(read_name(name), name, limit), limit)


def match_food(name: str, *, preparation: str = "") -> Match:
    """The one food that a name is taken for.

    Parameters
    ----------
    name : str
        The food of an ingredient line.
    preparation : str
        What the line says is done to it; it chooses the state where the table has that state ("canned", "cooked").

    Returns
    -------
    Match
        Its food is None where nothing reaches `MIN_CONFIDENCE`; the best candidates are its alternatives then. Raises
        nothing for any text.

    Source: descriptions and common names of USDA SR28, and ``labeler/foods/data``.

    Examples
    --------
    >>> match = labeler.match_food("tomatos")
    >>> match.food, match.description
    ('11529', 'Tomatoes, red, ripe, raw, year round average')
    >>> labeler.match_food("xyzzy").food is None
    True
    """
    return _matched(name, _states(read_name(name), preparation))


@lru_cache(maxsize=KEPT)
def _matched(name: str, states: tuple[str, ...]) -> Match:
    """The answer for a name in certain states; recipes ask for salt and butter again and again."""
    candidates = _in_state(name, states) or search_foods(name, limit=6)
    if not candidates or candidates[0].confidence < MIN_CONFIDENCE:
        counted = _of_its_kind(name, candidates)
        if counted is not None:
            return counted
    if not candidates:
        known = meaning(read_name(name))
        return Match(None, "", 0.0, known.entry.note if known else "nothing in the food table resembles this name")
    best, *others = candidates
    if best.confidence < MIN_CONFIDENCE:
        reason = f"nothing fits well; the nearest is {best.description}"
        near = tuple(candidate.food for candidate in candidates[:5])
        return Match(None, "", best.confidence, reason, near, read_as=best.read_as)
    alternatives = tuple(candidate.food for candidate in others)
    return Match(best.food, best.description, best.confidence, best.reason, alternatives, read_as=best.read_as)


def _of_its_kind(name: str, candidates: Sequence[Candidate]) -> Match | None:
    """An unknown spice, essence or colour as a usual one of its kind, with little confidence, so that it is asked.

    None for a name that tells no such kind, and for one that the lexicon knows to be in no row of the table.
    """
    read = read_name(name)
    plain = 1 < len(read.words) <= _SHORT_NAME and " and " not in name.lower() and "&" not in name
    known = stand_in(read.head) if plain and meaning(read) is None else None
    if known is None:
        return None
    kind, food = known
    near = tuple(candidate.food for candidate in candidates[:5])
    return Match(
        food, load_table().describe(food), MIN_CONFIDENCE, f"not in the table; counted as a usual {kind}", near
    )


def _states(read: Name, preparation: str) -> tuple[str, ...]:
    """The states that a preparation chooses beside what the name says itself, at most four."""
    if not preparation:
        return ()
    chosen = [_THAWED.get(word, word) for word in read_name(preparation).words if word in _CHOOSING]
    if {"juiced", "zested"} <= set(chosen):
        chosen = [word for word in chosen if word not in ("juiced", "zested")]
    return tuple(word for word in dict.fromkeys(chosen) if word not in read.words)[:_MOST_STATES]


def _in_state(name: str, chosen: tuple[str, ...]) -> tuple[Candidate, ...]:
    """Candidates for a name in the states that were chosen; empty where the table has none of them."""
    if not chosen:
        return ()
    read = read_name(name)
    for size in range(len(chosen), 0, -1):
        for states in combinations(chosen, size):
            words = (*read.words, *states)
            if load_lexicon().find(words, read.head) is not None:
                return _falling(_find(Name(words, read.head, read.first), f"{name}, {' '.join(states)}", 6), 6)
    index, position = load_index(), load_table().position
    for state in filter(_DECISIVE.__contains__, chosen):
        found = _find(Name((*read.words, state), read.head, read.first), f"{name}, {state}", 6)
        row = position[found[0].food] if found and found[0].confidence >= MIN_CONFIDENCE else -1
        if row >= 0 and index.carries(row, state) and index.carries(row, read.head):
            return _falling(found, 6)
    return ()


def _find(name: Name, text: str, limit: int) -> list[Candidate]:
    if not name.words or limit < 1:
        return []
    written = load_lexicon().find_written(text)
    other_way = turned(text)
    known = Meaning(written, frozenset(name.words)) if written else None
    if known is None and other_way:
        known = meaning(read_name(other_way))
    known = known or meaning(name)
    if known is not None:
        return _from_lexicon(known, name, limit)
    offered = first_offered(text)
    if offered:
        return _find(read_name(offered), offered, limit)
    typos = correct_typos(name.words)
    if typos:
        mended = Name(tuple(typos.get(word, word) for word in name.words), typos.get(name.head, name.head), name.first)
        known = meaning(mended)
        found = _from_lexicon(known, mended, limit) if known else _from_search(mended, limit)
        return [_mended(candidate, typos, mended) for candidate in found]
    found = _from_search(name, limit)
    if not found or found[0].confidence < MIN_CONFIDENCE:
        food = without_remarks(text)
        shorter = _find(read_name(food), food, limit) if food else []
        if shorter and (not found or shorter[0].confidence * _REMARKS_CUT > found[0].confidence):
            return [_less_sure(candidate, _REMARKS_CUT) for candidate in (*shorter[:2], *found, *shorter[2:])]
    return found


def _from_lexicon(known: Meaning, name: Name, limit: int) -> list[Candidate]:
    """The food of a meaning, then what else the name might mean."""
    entry, table = known.entry, load_table()
    if not entry.food:
        return []
    confidence = entry.confidence * (_LEFT_OUT if known.left_out else 1.0)
    if "leaf" in known.left_out and not leafy(entry.food):
        confidence = min(confidence, _LEAF_OF_ANOTHER)
    text = " ".join(word for word in name.words if word in known.words)
    reason = entry.note or (
        f"a usual name for it; {_quoted(known.left_out)} does not change the food"
        if known.left_out
        else f"“{text}” is a usual name for it"
    )
    found = [Candidate(entry.food, table.describe(entry.food), confidence, reason)]
    found += [
        Candidate(food, table.describe(food), min(confidence, _ALSO), "the same name is also used for it")
        for food in entry.also
    ]
    if len(found) < limit:
        hits = load_index().search(_worth_searching(name.words), head=name.head, limit=limit + 1)
        found += [
            Candidate(table.ids[hit.row], table.descriptions[hit.row], _ALIKE * _NEXT**place * hit.covered, _why(hit))
            for place, hit in enumerate(hits)
        ]
    return found


def _from_search(name: Name, limit: int) -> list[Candidate]:
    """What the search finds, with the lexicon's meaning of a part of the name as a hint."""
    table, index = load_table(), load_index()
    hint = part_meaning(name)
    searched = _worth_searching(name.words)
    favoured = [(table.position[hint.entry.food], hint.words.intersection(searched))] if hint else []
    hits = index.search(searched, head=name.head, limit=limit, favoured=favoured)
    found: list[Candidate] = []
    for place, hit in enumerate(hits):
        food, reason = table.ids[hit.row], _why(hit)
        if hint and food == hint.entry.food:
            confidence = hint.entry.confidence * (0.15 + 0.75 * hint.share)
            part = " ".join(word for word in name.words if word in hint.words)
            reason = f"taken as “{part}”; {_quoted(hint.left_out)} is not told apart"
            if hint.entry.note:
                reason = f"{reason}; {hint.entry.note}"
        elif place == 0:
            confidence = _sureness(
                hit.covered,
                unasked=index.unasked(hit.row, set(name.words)),
                headed=index.carries(hit.row, name.head, first=True),
                lead=hit.score - hits[1].score if len(hits) > 1 else 0.0,
            )
            if _unstated_maker(table.descriptions[hit.row], name):
                confidence = min(confidence, _UNSTATED_MAKER)
            if all(map(is_form, name.words)):
                confidence = min(confidence, _NO_NAME)  # "fillets", "pieces": no food is named
        else:
            confidence = hit.covered * _NEXT**place
        found.append(Candidate(food, table.descriptions[hit.row], confidence, reason))
    return found


def _sureness(covered: float, *, unasked: float, headed: bool, lead: float) -> float:
    """The chance that a hit of the search is what the name means, in [0, 1].

    A logistic curve in the share of the name covered, the cost of the words nobody asked for, whether the food is of
    the name's head, and the lead over the next hit; fitted to names of two other tables and to the lexicon's own names
    searched without the lexicon (3,600 names, 59 % right).
    """
    logit = -3.0 + 3.4 * covered - 0.5 * max(unasked, 0.0) + 0.5 * headed + 0.7 * min(lead, 3.0)
    return 1.0 / (1.0 + math.exp(-logit))


def _unstated_maker(description: str, name: Name) -> bool:
    """Whether a description opens with a maker, in capitals as SR28 writes them, that the name does not say."""
    maker = _MAKER.match(description)
    return maker is not None and not set(read_name(maker[1]).words) & set(name.words)


def _worth_searching(words: Iterable[str]) -> list[str]:
    """The words to search for: those of form only where the table has them."""
    number = load_index().number
    kept = [word for word in words if word in number or not is_form(word)]
    return kept or list(words)


def _falling(found: Sequence[Candidate], limit: int) -> tuple[Candidate, ...]:
    """The first candidates, each food once, with confidences that never rise along the list."""
    ceiling = 1.0
    falling: dict[str, Candidate] = {}
    for candidate in found:
        if candidate.food not in falling and len(falling) < limit:
            ceiling = min(ceiling, round(candidate.confidence, 3))
            food, description, reason = candidate.food, candidate.description, candidate.reason
            falling[food] = Candidate(food, description, ceiling, reason, candidate.read_as)
    return tuple(falling.values())


def _less_sure(candidate: Candidate, share: float) -> Candidate:
    return replace(candidate, confidence=candidate.confidence * share)


def _mended(candidate: Candidate, typos: Mapping[str, str], name: Name) -> Candidate:
    read = ", ".join(f"“{typo}” read as “{word}”" for typo, word in typos.items())
    reason = f"{read}; {candidate.reason}"
    alone = len(name.words) == len(typos) and all(len(typo) < _LONG_TYPO or is_far(typo) for typo in typos)
    share = _RESPELLED_ALONE if alone else _RESPELLED
    return replace(_less_sure(candidate, share), reason=reason, read_as=" ".join(name.words))


def _why(hit: SearchHit) -> str:
    if hit.covered > 0.995:
        return "its description has every word of the name"
    return f"its description has part of the name ({hit.covered:.0%} by weight)"


def _quoted(words: Sequence[str]) -> str:
    return f"“{' '.join(words)}”"

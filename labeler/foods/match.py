"""Which food a name means.

Three ways, from the firmest: the lexicon knows the name; the lexicon knows it once words are left out that do not
change the food ("large", "good-quality", "cloves"); the ranked search over the table's descriptions finds it, with
what the lexicon knows of a part of the name as a hint. Every answer says which way it came and how sure it is.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

from labeler.foods.lexicon import Entry, bag, load_lexicon
from labeler.foods.model import Candidate, Match
from labeler.foods.search import Hit, load_index
from labeler.foods.table import load_table
from labeler.foods.words import Name, read_name, word_kinds

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["FLOOR", "find", "match", "split_foods"]

FLOOR = 0.35
"""Below this confidence a name has no food, only candidates."""

# A name of more words than this is a description; its parts are left to the search.
_LONGEST_PART = 9
_LESS_SURE = 0.97
# States that a preparation can choose; the rest of a preparation ("chopped", "roasted until brown") is the cook's doing.
_CHOOSING = frozenset(
    "canned frozen thawed defrosted cooked boiled hardboiled dried drained smoked ground grated shredded boneless"
    " skinless bonein skinon unsalted salted sweetened unsweetened peeled chopped minced fresh leaf sprig juiced zested"
    " lean lowfat nonfat reducedfat instant powdered pickled packed oilpacked waterpacked".split()
)
_THAWED = {"thawed": "frozen", "defrosted": "frozen"}
_PROSE = 0.9
_COLOURS = frozenset("white green red yellow orange pale black brown pink".split())
# Where a cook's remarks begin.
_REMARK = re.compile(r"[,;(){}\[\]]|\bsuch as\b|\bplus\b|\bpreferably\b|\bfrom\b|\bfor\b|\bif\b|\s[-–—]\s", re.IGNORECASE)
_AND = re.compile(r"\s+(?:and|&|plus|und|n')\s+|\s*&\s*|\s*,\s*(?:and\s+)?|\s+\+\s+", re.IGNORECASE)


def find(name: str, *, limit: int = 5) -> tuple[Candidate, ...]:
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
        Empty where nothing fits. Confidences never rise along it.
    """
    return _find(read_name(name), name, limit)


def match(name: str, *, preparation: str = "") -> Match:
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
        Its food is None where nothing reaches `FLOOR`; the best candidates are its alternatives then.
    """
    candidates = _with_preparation(name, preparation) if preparation else ()
    if not candidates:
        candidates = find(name, limit=6)
    if not candidates:
        known = _known(read_name(name))
        reason = known[0].note if known is not None else "nothing in the food table resembles this name"
        return Match(None, "", 0.0, reason)
    best = candidates[0]
    if best.confidence < FLOOR:
        reason = f"nothing fits well; the nearest is {best.description}"
        return Match(None, "", best.confidence, reason, tuple(candidate.food for candidate in candidates[:5]))
    others = tuple(candidate.food for candidate in candidates[1:6])
    return Match(best.food, best.description, best.confidence, best.reason, others)


def split_foods(name: str) -> tuple[str, ...]:
    """The foods that one name names: ``("salt", "pepper")`` for "salt and pepper".

    A name is split only where it is not itself a food ("half and half", "macaroni and cheese") and each part is one
    by the lexicon; "lemon juice and zest" gives "lemon juice" and "lemon zest".
    """
    parts = [part.strip() for part in _AND.split(name) if part.strip()]
    if len(parts) < 2 or not re.search(r"\band\b|&|\bplus\b|\+", name, re.IGNORECASE):
        return (name,)
    whole = read_name(name)
    if _known(whole) is not None:
        return (name,)
    if all(_known(read_name(part)) is not None for part in parts):
        shared = _share_first(parts)
        return shared or tuple(parts)
    return _share_first(parts) or (name,)


def _share_first(parts: Sequence[str]) -> tuple[str, ...]:
    """Parts that all belong to the first one's food ("lemon juice", "zest"), or none."""
    first = parts[0].split()
    if len(first) < 2 or len(parts) != 2 or parts[1].lower() not in {"zest", "juice", "rind", "peel", "yolk", "white"}:
        return ()
    second = " ".join([*first[:-1], parts[1]])
    return (parts[0], second) if _known(read_name(second)) is not None else ()


def _first_of(said: str) -> str:
    """The first of the foods that a name offers ("lemon juice" of "lemon or lime juice"); empty where it is none."""
    parts = said.split(" or ")
    last = parts[-1].split()
    for first in (f"{parts[0]} {last[-1] if last else ''}", parts[0]):
        if _known(read_name(first)) is not None:
            return first
    return ""


def _known(name: Name) -> tuple[Entry, tuple[str, ...]] | None:
    """The lexicon's meaning of a name, and the words left out to reach it."""
    lexicon = load_lexicon()
    words = tuple(dict.fromkeys(name.words))
    if not words:
        return None
    entry = lexicon.find(words, name.head)
    if entry is not None:
        return entry, ()
    kinds = word_kinds()
    for leave in (("plain",), ("plain", "part")):
        kept = tuple(word for word in words if kinds.get(word) not in leave and not word[0].isdigit())
        if kept and len(kept) < len(words):
            entry = lexicon.find(kept, name.head)
            if entry is not None:
                return entry, tuple(word for word in words if word not in kept)
    # Words that are left out one by one: "large" may belong to the name ("large curd cottage cheese").
    loose = [word for word in words if word in kinds and kinds[word] != "state"]
    if 1 < len(loose) <= 6:
        for count in range(1, len(loose)):
            for out in combinations(loose, count):
                entry = lexicon.find((word for word in words if word not in out), name.head)
                if entry is not None:
                    return entry, out
    return _without_kind(words, name.head) if name.first == len(name.words) else None


def _without_kind(words: Sequence[str], head: str) -> tuple[Entry, tuple[str, ...]] | None:
    """The meaning of a name whose head only says the kind of thing: "harissa sauce", "taleggio cheese"."""
    kept = [word for word in words if word != head and word_kinds().get(word) not in ("plain", "part")]
    if not kept or len(kept) == len(words):
        return None
    entry = load_lexicon().find(kept, kept[-1])
    if entry is None or not entry.food or not load_index().carries(load_table().position[entry.food], head):
        return None
    return entry, tuple(word for word in words if word not in kept)


def _part(words: Sequence[str], head: str) -> tuple[Entry, frozenset[str]] | None:
    """The lexicon's meaning of the weightiest part of a name that holds its head, and the words of that part."""
    if len(words) > _LONGEST_PART:
        return None
    lexicon = load_lexicon()
    others = [word for word in words if word != head]
    for size in range(min(len(others), 4), -1, -1):
        best: tuple[float, Entry, frozenset[str]] | None = None
        for chosen in combinations(others, size):
            found = bag((head, *chosen))
            entry = lexicon.find_key(found, head)
            if entry is not None:
                weight = sum(_weight(word) for word in chosen)
                if best is None or weight > best[0]:
                    best = weight, entry, frozenset((head, *chosen))
        if best is not None:
            return best[1], best[2]
    return None


def _share(explained: frozenset[str], core: Sequence[str]) -> float:
    """How much of a name its explained words are, by weight; words of state count for less than words for foods."""
    kinds = word_kinds()
    weights = {word: _weight(word) * (0.3 if kinds.get(word) == "state" else 1.0) for word in core}
    return sum(weights.get(word, 0.0) for word in explained) / (sum(weights.values()) or 1.0)


def _weight(word: str) -> float:
    index = load_index()
    at = index.number.get(word)
    return index.weight[at] if at is not None else 6.0


def _find(name: Name, said: str, limit: int) -> tuple[Candidate, ...]:
    words = tuple(dict.fromkeys(name.words))
    if not words or limit < 1:
        return ()
    written = load_lexicon().find_written(said)
    known = (written, ()) if written is not None else _known(name)
    if known is None and " or " in said and "," not in said.split(" or ")[0]:
        first = _first_of(said)
        if first:
            return _find(read_name(first), first, limit)
    spelled: dict[str, str] = {}
    if known is None:
        spelled = _spelled(words)
        if spelled:
            words = tuple(dict.fromkeys(spelled.get(word, word) for word in words))
            name = Name(words, spelled.get(name.head, name.head), name.first)
            known = _known(name)
    if known is not None:
        return _from_lexicon(known, name, words, said, spelled, limit)
    found = _from_search(name, words, said, spelled, limit)
    if not found or found[0].confidence < FLOOR:
        before = _before_prose(said)
        if before:
            shorter = _find(read_name(before), before, limit)
            if shorter and (not found or shorter[0].confidence * _PROSE > found[0].confidence):
                merged = {near.food: near for near in (*found[::-1], *shorter[::-1])}
                return _falling(
                    [
                        Candidate(near.food, near.description, round(near.confidence * _PROSE, 3), near.reason)
                        for near in [*shorter[:2], *found, *shorter[2:]]
                        if merged.pop(near.food, None) is not None
                    ][:limit]
                )
    return found


def _before_prose(said: str) -> str:
    """A name up to the cook's remarks ("zucchini" of "zucchini, sliced paper-thin"); empty where there are none.

    Remarks are mostly words of form and state; what names other foods is a table's way of naming one.
    """
    kinds = word_kinds()
    number = load_index().number
    parts = [part for part in _REMARK.split(said) if part.strip()]
    for at, part in enumerate(parts):
        if any(word not in kinds and not word[0].isdigit() for word in read_name(part).words):
            rest = read_name(" , ".join(parts[at + 1 :])).words
            foods = sum(word in number and word not in kinds and word not in _COLOURS for word in rest)
            return part if len(rest) + at > 0 and foods * 4 <= len(rest) else ""
    return ""


def _from_lexicon(
    known: tuple[Entry, tuple[str, ...]],
    name: Name,
    words: tuple[str, ...],
    said: str,
    spelled: dict[str, str],
    limit: int,
) -> tuple[Candidate, ...]:
    entry, left_out = known
    if not entry.food:
        return ()
    table = load_table()
    confidence = entry.confidence
    reason = f"“{_shown(said)}” is a usual name for it"
    if left_out:
        confidence *= _LESS_SURE
        reason = f"a usual name for it, apart from {_listed(left_out)}, which does not change the food"
    if spelled:
        confidence *= 0.9
        reason = f"{_read_as(spelled)}; {reason}"
    if entry.note:
        reason = f"{reason}; {entry.note}" if spelled else entry.note
    found = [Candidate(entry.food, table.describe(entry.food), round(confidence, 3), reason)]
    taken = {entry.food}
    ceiling = min(confidence, 0.6)
    for food in entry.also:
        if food not in taken and len(found) < limit:
            taken.add(food)
            ceiling *= 0.9
            found.append(
                Candidate(food, table.describe(food), round(min(ceiling, 0.5), 3), "the same name is also used for it")
            )
    if len(found) < limit:
        hits = load_index().search(_searched(words), head=name.head, limit=limit + len(found))
        for hit in hits:
            food = table.ids[hit.row]
            if food not in taken and len(found) < limit:
                taken.add(food)
                ceiling *= 0.9
                found.append(
                    Candidate(food, table.descriptions[hit.row], round(min(ceiling, 0.45) * hit.covered, 3), _why(hit))
                )
    return _falling(found)


def _from_search(
    name: Name, words: tuple[str, ...], said: str, spelled: dict[str, str], limit: int
) -> tuple[Candidate, ...]:
    table = load_table()
    index = load_index()
    kinds = word_kinds()
    favoured: list[tuple[int, frozenset[str]]] = []
    hint: Entry | None = None
    explained: frozenset[str] = frozenset()
    core = tuple(word for word in words if kinds.get(word) not in ("plain", "part")) or words
    # After a comma a cook says what is done to the food and a table which food it is; only the cook's is left aside.
    if all(word in kinds for word in name.words[name.first :]):
        part = _part([word for word in core if word in name.words[: name.first]], name.head)
        if part is not None and part[0].food:
            hint, explained = part
            favoured = [(table.position[hint.food], explained)]
    hits = index.search(_searched(words), head=name.head, limit=limit, favoured=favoured)
    found: list[Candidate] = []
    for place, hit in enumerate(hits):
        food = table.ids[hit.row]
        lead = hit.score - hits[1].score if place == 0 and len(hits) > 1 else 0.0
        confidence = _sureness(hit, lead=lead, headed=index.carries(hit.row, name.head))
        reason = _why(hit)
        if hint is not None and food == hint.food:
            confidence = hint.confidence * (0.15 + 0.75 * _share(explained, core))
            rest = [word for word in core if word not in explained]
            reason = (
                f"taken as “{' '.join(word for word in words if word in explained)}”; {_listed(rest)} is not told apart"
            )
            if hint.note:
                reason = f"{reason}; {hint.note}"
        if spelled:
            confidence *= 0.9
            reason = f"{_read_as(spelled)}; {reason}"
        found.append(Candidate(food, table.descriptions[hit.row], round(min(confidence, 0.99), 3), reason))
    return _falling(found)


def _sureness(hit: Hit, *, lead: float, headed: bool) -> float:
    """The chance that a hit of the search is what the name means.

    A logistic curve in the share of the name covered, the cost of the words nobody asked for, whether the food carries
    the name's head, and the lead over the next hit; fitted to names of two other tables and to the lexicon's own names
    searched without the lexicon (2,900 names, 56 % right).
    """
    logit = -2.8 + 3.3 * hit.covered - 0.58 * max(hit.unasked, 0.0) + 0.4 * headed + 0.64 * min(lead, 3.0)
    return 1.0 / (1.0 + math.exp(-logit))


def _searched(words: Sequence[str]) -> Sequence[str]:
    """The words worth searching for: plain ones only where the table has them."""
    kinds = word_kinds()
    number = load_index().number
    return [word for word in words if word in number or kinds.get(word) not in ("plain", "part")] or words


def _falling(found: list[Candidate]) -> tuple[Candidate, ...]:
    """The same candidates with confidences that never rise along the list."""
    ceiling = 1.0
    falling: list[Candidate] = []
    for candidate in found:
        ceiling = min(ceiling, candidate.confidence)
        falling.append(Candidate(candidate.food, candidate.description, ceiling, candidate.reason))
    return tuple(falling)


def _why(hit: Hit) -> str:
    if hit.covered > 0.995:
        return "its description has every word of the name"
    return f"its description has part of the name ({hit.covered:.0%} by weight)"


def _shown(said: str) -> str:
    short = " ".join(said.split())
    return short if len(short) <= 60 else short[:57] + "…"


def _listed(found: Sequence[str]) -> str:
    quoted = [f"“{word}”" for word in found]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def _read_as(spelled: dict[str, str]) -> str:
    return ", ".join(f"“{wrong}” read as “{right}”" for wrong, right in spelled.items())


def _with_preparation(name: str, preparation: str) -> tuple[Candidate, ...]:
    """Candidates for a name in the state that its preparation chooses; empty where it chooses none."""
    read = read_name(name)
    chosen = [_THAWED.get(word, word) for word in dict.fromkeys(read_name(preparation).words) if word in _CHOOSING]
    if {"juiced", "zested"} <= set(chosen):
        chosen = [word for word in chosen if word not in ("juiced", "zested")]
    chosen = [word for word in chosen if word not in read.words][:4]
    for size in range(len(chosen), 0, -1):
        for states in combinations(chosen, size):
            changed = Name((*read.words, *states), read.head, read.first)
            if load_lexicon().find(dict.fromkeys(changed.words), changed.head) is not None:
                return _find(changed, f"{name}, {' '.join(states)}", 6)
    return ()


@lru_cache(maxsize=16384)
def _respelled(word: str) -> str:
    """The known word that an unknown one is most likely a slip of; empty where none is near enough."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    if len(word) < 5 or not word.isalpha():
        return ""
    slips = 1 if len(word) < 9 else 2
    near = [known for known in _by_initial().get(word[0], ()) if abs(len(known) - len(word)) <= slips]
    best = process.extractOne(word, near, scorer=OSA.distance, score_cutoff=slips)
    return best[0] if best else ""


@lru_cache(maxsize=1)
def _by_initial() -> dict[str, list[str]]:
    """Words that a slip may be meant for, by first letter: the lexicon's, and the table's where many foods have them."""
    index = load_index()
    known = load_lexicon().vocabulary | {word for word in index.vocabulary if len(index.rows_of(word)) > 2}
    by_initial: dict[str, list[str]] = {}
    for word in sorted(known):
        by_initial.setdefault(word[0], []).append(word)
    return by_initial


def _spelled(words: Sequence[str]) -> dict[str, str]:
    """The words of a name that are known to nobody, with what they were most likely meant to be."""
    index = load_index()
    vocabulary = load_lexicon().vocabulary
    kinds = word_kinds()
    unknown = [word for word in words if word not in index.number and word not in vocabulary and word not in kinds]
    return {word: right for word in unknown if (right := _respelled(word))}

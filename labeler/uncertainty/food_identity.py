"""Which food it may have been: the matched one, or another that the same words mean.

"Cheese" is taken for cheddar, but the cook may hold Swiss. The plausible foods of a line are the match and what
is the same thing by another description: of its group, with every word that the line and the match share, and every
word of the cut where the line has another word for it ("shin" for "shank crosscuts"), called so without a word more
(sweet potatoes are no potatoes), preserved and prepared as the match is (who writes "peas" opens no can), of no maker
that nobody named, and as wet and as rich within wide bounds. The match keeps as much weight as matches of its
confidence deserve (`trust`), the others share the rest by how often survey foods use them and how many words they have
that nobody asked for.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import read_name, words
from labeler.foods.matching.partial_match import meaning
from labeler.foods.matching.search import load_index
from labeler.foods.model import WeighedLine

__all__ = ["Candidates", "plausible", "trust"]

Candidates = tuple[tuple[str, float], ...]
"""Table ids with their weights, which sum to 1."""

# In the same place: water within 30 g per 100 g, energy within a factor of 4 or 60 kcal. Common practice, no source.
_WATER, _RICHER, _STEP = 30.0, 4.0, 60.0
_MOST = 12
_SOFT = 4.0
_COOKED = (
    *(
        "cooked",
        "roasted",
        "boiled",
        "fried",
        "broiled",
        "baked",
        "braised",
        "stewed",
        "grilled",
        "toasted",
        "simmered",
    ),
    *(
        "microwaved",
        "heated",
        "panfried",
        "steamed",
        "rotisserie",
        "bbq",
        "mashed",
        "puff",
        "prepared",
        "scalloped",
        "homemade",
        "mix",
    ),
)
# What makes another food of the same thing: a line that does not say so means none of it.
_MADE = (
    "canned waterpacked oilpacked",
    *"dried smoked cured pickled salted sweetened candied glazed marinated stuffed breaded creamed powdered"
    " dehydrated instant concentrate condensed evaporated carbonated flavored fermented cultured sour seasoned jarred"
    " dryroasted oilroasted malted imitation substitute chocolate vanilla fruit strawberry syrup".split(),
)
_BRAND = re.compile(r"\b[A-Z][A-Z'&.-]{2,}")


def trust(confidence: float) -> float:
    """Share of lines whose food is the matched one, for a match confidence in [0, 1].

    As counted with names that say no more than the head of a description, each weighted by the root of how often the
    survey foods of FNDDS 2015-16 use the food; the names are those of ``reference/check_intervals.py``.
    """
    return float(np.interp(confidence, (0.0, 0.35, 0.6, 0.9, 0.97, 1.0), (0.2, 0.35, 0.42, 0.55, 0.67, 0.9)))


@cache
def _cooked() -> NDArray[np.bool_]:
    """Which rows of the table are cooked or prepared food."""
    rows = np.zeros(len(load_table()), dtype=bool)
    for word in _COOKED:
        rows[load_index().rows_of(word)] = True
    return rows


@cache
def _thing(row: int) -> str:
    """The last word of the first part of a description: what the food is ("Beet greens" are greens)."""
    first = re.sub(r"\([^)]*\)|-like\b", " ", load_table().descriptions[row].split(",")[0])
    found = words(first)
    return found[-1] if found else ""


@cache
def _made_rows() -> NDArray[np.bool_]:
    """Which of `_MADE` each row of the table is, shape (rows, ways)."""
    carried = np.zeros((len(load_table()), len(_MADE)), dtype=bool)
    for at, ways in enumerate(_MADE):
        for word in ways.split():
            carried[load_index().rows_of(word), at] = True
    return carried


@lru_cache(maxsize=16384)
def _called(row: int, meant: tuple[str, ...]) -> frozenset[str]:
    """The words of the part of a description that says what the thing is: the first that holds a word of the line."""
    for part in re.sub(r"\([^)]*\)|-like\b", " ", load_table().descriptions[row]).split(","):
        named = words(re.sub(r"\bor\b.*", "", part))
        if set(named) & set(meant):
            return frozenset(named)
    return frozenset()


@cache
def _brands(row: int) -> frozenset[str]:
    """Makers and brands of a row, which the table writes in capital letters."""
    return frozenset(_BRAND.findall(load_table().descriptions[row]))


_CUTS = frozenset({500, 1000, 1300, 1700})
"""SR28 groups of flesh: their descriptions say the animal, then the cut; elsewhere a variety or a state is next."""
_CALLED_PARTS = 2
"""Parts of a description that say the animal and the cut, before those of trim and state."""


@lru_cache(maxsize=4096)
def _in_other_words(name: str, food: str) -> tuple[str, ...]:
    """Animal and cut of flesh, where a usual name has a word that its description lacks ("beef shin"); else none."""
    table, index = load_table(), load_index()
    row = table.position[food]
    known = meaning(read_name(name)) if int(table.group_codes[row]) in _CUTS else None
    if known is None or known.entry.food != food or all(index.carries(row, word) for word in known.words):
        return ()
    called = words(" ".join(table.descriptions[row].split(",")[:_CALLED_PARTS]))
    return tuple(word for word in called if index.carries(row, word))


@lru_cache(maxsize=4096)
def _others(texts: tuple[str, ...], food: str, called: tuple[str, ...]) -> tuple[tuple[str, float], ...]:
    """Foods that the words may mean beside the matched one, with shares that sum to 1; most used first.

    Others carry each word that the line and the match share, and each of `called`.
    """
    table, index = load_table(), load_index()
    row = table.position[food]
    meant = [word for word in texts if index.carries(row, word)]
    if not meant:
        return ()
    meant = list(dict.fromkeys((*meant, *called)))
    rows = index.rows_of(meant[0])
    for word in meant[1:]:
        rows = rows[np.isin(rows, index.rows_of(word), assume_unique=True)]
    water, energy = (table.values[:, table.column[key]] for key in ("WATER", "ENERC_KCAL"))
    near = (table.group_codes[rows] == table.group_codes[row]) & (rows != row) & (_cooked()[rows] == _cooked()[row])
    near &= np.abs(water[rows] - water[row]) <= _WATER
    least = np.minimum(energy[rows], energy[row])
    near &= np.maximum(energy[rows], energy[row]) <= np.maximum(_RICHER * least, least + _STEP)
    near &= ~(_made_rows()[rows] & ~_made_rows()[row]).any(axis=1)
    rows = rows[near]
    # The match may have a word more than the line ("chicken broth" for "broth"); another then has one of its own.
    longest = len(_called(row, tuple(meant)) - set(texts))
    same = [
        _thing(one) == _thing(row)
        and len(_called(one, tuple(meant)) - set(texts)) <= longest
        and _brands(one) <= _brands(row)
        for one in rows.tolist()
    ]
    rows = rows[same]
    # Each word that nobody asked for makes a food less likely, by what the search counts it.
    extra = np.array([index.unasked(int(one), texts) for one in rows]) - index.unasked(row, texts)
    shares = np.sqrt(table.survey_uses[rows] + 1.0) * np.exp(-np.maximum(extra, 0.0) / _SOFT)
    most = np.argsort(-shares, kind="stable")[:_MOST]
    total = float(shares[most].sum())
    return tuple((table.ids[int(rows[at])], float(shares[at]) / total) for at in most)


@lru_cache(maxsize=4096)
def _weighted(texts: tuple[str, ...], food: str, confidence: float, called: tuple[str, ...]) -> Candidates:
    others = _others(texts, food, called)
    if not others:
        return ()
    table = load_table()
    kept = trust(confidence)
    everything = [(food, kept), *((other, (1.0 - kept) * share) for other, share in others)]
    energy = table.column["ENERC_KCAL"]
    # In order of energy, so that one normal that chooses among them goes with what it changes.
    return tuple(sorted(everything, key=lambda pair: (table.values[table.position[pair[0]], energy], pair[0])))


def _is_open(weighed: WeighedLine) -> bool:
    """Whether the food of a line was matched by its words: not pinned, and none of the cook's own."""
    match, pin = weighed.match, weighed.line.pin
    return match is not None and match.food is not None and match.own is None and (pin is None or pin.food is None)


def plausible(weighed: WeighedLine) -> Candidates:
    """The foods that a line may mean with their weights; empty where only one is plausible.

    A pinned food and a line without a food have no others.
    """
    match, line = weighed.match, weighed.line
    if match is None or match.food is None or not _is_open(weighed):
        return ()
    canned = "canned" if any(amount.unit == "can" for amount in line.amounts) else ""
    texts = words(f"{line.name} {line.preparation} {canned}")
    return _weighted(texts, match.food, match.confidence, _in_other_words(line.name, match.food))

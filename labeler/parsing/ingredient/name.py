"""From the words behind the amount to the food: what is the name, what is done to it, what else is offered.

"finely chopped fresh cilantro" is the food "fresh cilantro", prepared "finely chopped": words that choose the state
in which a food is bought (fresh, dried, canned, ground, smoked, boneless) stay in its name, words for what the cook
does at home leave it.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.line_words import (
    ADJECTIVES,
    ADVERBS,
    JOINERS,
    NEGATED,
    PREPARATION_GOES_ON,
    PREPARATIONS,
    SHARED,
    SIZE_OF,
    TEMPERATURES,
)

__all__ = ["NamedFood", "is_preparation", "only_describes", "read_name", "share_head"]


class NamedFood(NamedTuple):
    """The food of a phrase with what surrounds it."""

    name: str
    preparation: str
    size: str | None
    alternatives: tuple[str, ...]


# A size word in front of these is part of the food ("small-curd cottage cheese", "large flake oats").
_NOT_A_SIZE_BEFORE = frozenset("curd flake flakes pearl grain shell shells dice".split())
# What a preparation word belongs to when one of these follows: the food is sold that way.
_SOLD = {
    "minced": frozenset("beef pork lamb turkey chicken meat veal steak".split()),
    "crushed": frozenset("tomato tomatoes pineapple red chili chile chilli ice hot aleppo".split()),
    "shredded": frozenset("wheat".split()),
    "split": frozenset("peas pea lentils mung".split()),
    "cracked": frozenset("wheat bulgur".split()),
    "strained": frozenset("yogurt yoghurt tomatoes".split()),
    "mashed": frozenset("potato potatoes".split()),
    "pressed": frozenset("tofu".split()),
    "separated": frozenset("milk".split()),
    "reserved": frozenset(),
    "sliced": frozenset("bread".split()),
}
_NOT_TEMPERATURE = frozenset(
    "sauce dog dogs pepper peppers chili chile chiles chilli chillies paprika mustard cuts smoked pressed fudge "
    "chocolate sausage sausages italian cross salsa curry red green cereal roll rolls brew chili-garlic giardiniera "
    "cherry bean oil hungarian pickled cooked and or press spanish cocoa banana bird pimento madras links dried".split()
)
ORDINARY = frozenset({"regular", "normal", "ordinary", "standard", "conventional", "usual"})
"""Words for the plain kind of whatever food is named behind them."""
_HYPHENED = re.compile(r"(?:finely|thinly|thickly|freshly|fresh|fine|thin|thick|coarsely|roughly|well|hand|pre)-(\w+)")
_MARKING = PREPARATIONS | ADVERBS | TEMPERATURES | JOINERS | frozenset(SIZE_OF)
_DESCRIBING = re.compile(r"-(?:\w+ed|on|in|off|free|fat|cut|old|style|quality|fed|caught|less|ripe|size|sodium|grain)$")
_OR = re.compile(r"\s+(?:and/or|or else|or)\s+", re.IGNORECASE)
_SLASHED = re.compile(r"(?<=[^\W\d])\s*/\s*(?=[^\W\d])")


def _prepares(word: str) -> bool:
    if word in PREPARATIONS:
        return True
    if word.startswith("non-"):
        return word[4:] not in NEGATED  # "non-UHT milk" is milk, "non-fat milk" another
    if "-" in word:
        hyphened = _HYPHENED.fullmatch(word)
        return hyphened is not None and (hyphened[1] in PREPARATIONS or hyphened[1] in ("squeezed", "ground", "cut"))
    return False


def is_preparation(phrase: str) -> bool:
    """Whether a phrase begins with what is done to a food ("very finely chopped", "peeled and cut in half")."""
    for word in phrase.lower().replace(",", "").split():
        if word in ADVERBS:
            continue
        return _prepares(word) or word in TEMPERATURES or (word == "ground" and not phrase.lower().startswith("ground"))
    return False


def _describes(word: str) -> bool:
    if word in ADJECTIVES or word in ADVERBS or word in SIZE_OF or _prepares(word):
        return True
    return "-" in word and _DESCRIBING.search(word) is not None


def only_describes(phrase: str) -> bool:
    """Whether a phrase holds no noun that could be a food: "boneless", "peeled and diced", "well-marbled"."""
    words = phrase.lower().split()
    return bool(words) and all(word in JOINERS or _describes(word) for word in words)


class _Words:
    """The words of a phrase, sorted into those that name the food, those that prepare it, and its size."""

    def __init__(self, words: list[str], lowered: list[str]) -> None:
        self._words, self._lowered = words, lowered
        self._prepares = [self._is_preparation_at(at) for at in range(len(words))]
        self._size: str | None = None

    def _word(self, at: int) -> str:
        return self._lowered[at] if 0 <= at < len(self._lowered) else ""

    def _is_preparation_at(self, at: int) -> bool:
        word, following = self._word(at), self._word(at + 1)
        if _prepares(word) and following not in _SOLD.get(word, ()):
            return True
        warm = word in TEMPERATURES and following and following not in _NOT_TEMPERATURE
        return bool(warm) and self._word(at - 1) not in ("in", "and")

    def sort(self) -> tuple[list[str], list[str], str | None]:
        """Name, preparation and size."""
        for at in range(len(self._words)):
            if self._prepares[at] and self._take_round(at):
                break
        for at in range(len(self._words)):
            self._take_manner_or_size(at)
        self._drop_comma_before_non()
        name = [word for at, word in enumerate(self._words) if not self._prepares[at] and self._lowered[at]]
        while name and name[0].lower() in JOINERS:
            del name[0]
        return name, [word for at, word in enumerate(self._words) if self._prepares[at]], self._size

    def _take_round(self, at: int) -> bool:
        """Take the adverbs before a preparation and what joins it to another; True where it runs to the end."""
        back = at - 1
        while back >= 0 and not self._prepares[back] and self._lowered[back] in ADVERBS:
            self._prepares[back] = True
            back -= 1
        if self._lowered[at] == "squeezed" and self._word(back) == "fresh":
            self._prepares[back] = True
        self._join(at)
        if not self._runs_to_end(at):
            return False
        self._prepares[at:] = [True] * (len(self._words) - at)
        return True

    def _join(self, at: int) -> None:
        """ "Peeled and finely chopped" is one preparation."""
        count, ahead = len(self._words), at + 1
        while ahead < count and self._lowered[ahead] in JOINERS:
            ahead += 1
        if not at + 1 < ahead < count:
            return
        last = ahead
        while last < count - 1 and self._lowered[last] in ADVERBS:
            last += 1
        if self._prepares[last]:
            self._prepares[at + 1 : last] = [True] * (last - at - 1)

    def _runs_to_end(self, at: int) -> bool:
        """Behind the food a preparation runs to the end: "butter cut in cubes", "onion chopped fine"."""
        if not at or all(self._prepares[:at]) or only_describes(" ".join(self._words[: at + 1])):
            return False
        return at == len(self._words) - 1 or self._word(at + 1) in PREPARATION_GOES_ON

    def _take_manner_or_size(self, at: int) -> None:
        word, following = self._lowered[at], self._word(at + 1)
        if self._prepares[at]:
            return
        if word in ADVERBS and following == "ground":
            self._prepares[at] = True
            self._words = [*self._words[:at], f"{self._words[at]} ground", *self._words[at + 1 :]]
        elif word in SIZE_OF and following not in _NOT_A_SIZE_BEFORE:
            self._take_size(at)
        elif word in ("very", "finely", "coarsely"):
            self._prepares[at] = True

    def _take_size(self, at: int) -> None:
        """ "Extra large eggs", "medium size onions"; the last word is the food, whatever it is."""
        if at + 1 >= len(self._words):
            return
        word = self._lowered[at]
        extra = word == "large" and self._word(at - 1) == "extra"
        self._size = self._size or ("extra large" if extra else SIZE_OF[word])
        self._lowered[at] = ""
        if extra:
            self._lowered[at - 1] = ""
        if at + 2 < len(self._words) and self._lowered[at + 1] in ("size", "sized"):
            self._lowered[at + 1] = ""

    def _drop_comma_before_non(self) -> None:
        """ "Fresh, non-UHT milk" names milk."""
        for at in range(1, len(self._words)):
            if self._prepares[at] and self._lowered[at].startswith("non-"):
                self._words = [*self._words[: at - 1], self._words[at - 1].rstrip(","), *self._words[at:]]


def _split_preparation(words: list[str]) -> tuple[list[str], list[str], str | None]:
    """The words that name the food, the words that prepare it, and its size."""
    lowered = [word.lower().strip(",;.") for word in words]
    if _MARKING.isdisjoint(lowered) and not any("-" in word for word in lowered):
        return words, [], None
    return _Words(words, lowered).sort()


def _named_alike(option: str, behind: list[str]) -> bool:
    """Whether two proper names stand before one noun: "Kalamon/Kalamata olives"."""
    proper = option.istitle() and len(option.split()) == 1 and len(behind) == 2
    return proper and behind[0].istitle() and behind[1].islower()


_ANOTHER = frozenset({"other", "another", "any", "some", "similar", "whatever", "equivalent"})
_LINKS = frozenset({"and", "in", "with", "on", "for", "from", "plus", "over", "to", "topped", "filled", "tossed"})
"""Words at which the noun phrase of an option ends."""


def _phrase_of(option: str) -> list[str]:
    """The words of an option up to what is linked to it: the noun is "flour" in "gluten-free flour in butter"."""
    words = option.split()
    ends = (at for at, word in enumerate(words) if word.lower() in _LINKS and not only_describes(" ".join(words[:at])))
    return words[: next(filter(None, ends), len(words))]


def share_head(options: list[str]) -> list[str]:
    """Give every option the noun that only the one behind it carries: "chicken or vegetable stock"."""
    shared = [options[-1]]
    for option in reversed(options[:-1]):
        behind = _phrase_of(shared[0])
        own = option.lower().split()
        another = behind[:1] and behind[0].lower() in _ANOTHER  # "cayenne or other ground chillies"
        if own and len(behind) > 1 and not behind[0][0].isdigit() and not another:
            leading = 0
            while leading < len(behind) - 1 and _describes(behind[leading].lower()):
                leading += 1
            if leading and _describes(own[-1]):
                option = " ".join([option, *behind[leading:]])
            elif (
                own[-1] in SHARED.get(behind[-1].lower(), ())
                or own[-1] in ORDINARY
                or _describes(own[-1])
                or _named_alike(option, behind)
            ):
                option = f"{option} {behind[-1]}"
        shared.insert(0, option)
    return shared


def _options(phrase: str) -> list[str]:
    """What "or" offers in a phrase; a choice of preparation is none."""
    options = [phrase]
    if " or " in phrase or " OR " in phrase:
        options = _OR.split(phrase)
    elif "/" in phrase:
        options = _SLASHED.split(phrase)
    if len(options) > 1 and "," in options[0] and only_describes(options[0].replace(",", " ")):
        # "fresh, canned, or frozen corn" is a choice of three, "boneless, skinless thighs or breasts" of two.
        options = [*filter(None, (option.strip() for option in options[0].split(","))), *options[1:]]
    kept = options[:1]
    for option in options[1:]:
        # "peeled or unpeeled carrots", "minced or pressed garlic": a choice of preparation is no choice of food.
        before = kept[-1].lower().split()
        done_before = bool(before) and _prepares(before[-1]) and only_describes(kept[-1])
        if done_before or (is_preparation(option) and only_describes(option)):
            kept[-1] = f"{kept[-1]} or {option}"
        else:
            kept.append(option)
    return kept


def read_name(phrase: str) -> NamedFood:
    """The food of a phrase that holds no amount any more: name, preparation, size, and what "or" offers instead.

    The words keep their order and their letters; where nothing but preparation is left ("chopped"), the phrase itself
    is the name, so that no line loses its food.
    """
    options = _options(phrase)
    preparations = []
    names = []
    size = None
    for option in options:
        if len(options) > 1 and option.lower() in SIZE_OF:
            size = size or SIZE_OF[option.lower()]  # "medium or large beets"
            continue
        name, done, its_size = _split_preparation(option.split())
        size = size or its_size
        if done:
            preparations.append(" ".join(done).strip(",; "))
        if name:
            names.append(" ".join(name).strip(",;:-~. "))
    names = [name for name in names if name and name.lower() not in JOINERS]
    if not names:
        return NamedFood(phrase.strip(" ,;:-."), "", size, ())
    if len(names) > 1:
        names = share_head(names)
    return NamedFood(names[0], ", ".join(dict.fromkeys(preparations)), size, tuple(names[1:]))

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


def _split_preparation(words: list[str]) -> tuple[list[str], list[str], str | None]:
    """The words that name the food, the words that prepare it, and its size."""
    lowered = [word.lower().strip(",;.") for word in words]
    if _MARKING.isdisjoint(lowered) and not any("-" in word for word in lowered):
        return words, [], None
    count = len(words)
    prepares = [False] * count
    size = None
    for at, word in enumerate(lowered):
        following = lowered[at + 1] if at + 1 < count else ""
        if (_prepares(word) and following not in _SOLD.get(word, ())) or (
            word in TEMPERATURES
            and following
            and following not in _NOT_TEMPERATURE
            and not (at and lowered[at - 1] in ("in", "and"))
        ):
            prepares[at] = True
    if True in prepares:
        for at in range(count):
            if prepares[at]:
                back = at - 1
                while back >= 0 and not prepares[back] and lowered[back] in ADVERBS:
                    prepares[back] = True
                    back -= 1
                if lowered[at] == "squeezed" and back >= 0 and lowered[back] == "fresh":
                    prepares[back] = True
                ahead = at + 1
                while ahead < count and lowered[ahead] in JOINERS:
                    ahead += 1
                if at + 1 < ahead < count:
                    last = ahead
                    while last < count - 1 and lowered[last] in ADVERBS:
                        last += 1
                    if prepares[last]:
                        for between in range(at + 1, last):
                            prepares[between] = True
                # Behind the food a preparation runs to the end: "butter cut in cubes", "onion chopped fine".
                if at and not all(prepares[:at]) and not only_describes(" ".join(words[: at + 1])) and (
                    at == count - 1 or lowered[at + 1] in ("in", "into", "fine", "on", "to", "off", "crosswise", "thin",
                                                           "lengthwise", "across", "up", "with", "from", "for", "at")
                ):  # fmt: skip
                    prepares[at:] = [True] * (count - at)
                    break
    for at, word in enumerate(lowered):
        if not prepares[at] and word in ADVERBS and at + 1 < count and lowered[at + 1] == "ground":
            prepares[at] = True
            words = [*words[:at], f"{words[at]} ground", *words[at + 1 :]]
        elif not prepares[at] and word in SIZE_OF and (at + 1 >= count or lowered[at + 1] not in _NOT_A_SIZE_BEFORE):
            if at + 1 < count:
                extra = at > 0 and word == "large" and lowered[at - 1] == "extra"
                size = size or ("extra large" if extra else SIZE_OF[word])
                lowered[at] = ""
                if extra:
                    lowered[at - 1] = ""
                if at + 2 < count and lowered[at + 1] in ("size", "sized"):
                    lowered[at + 1] = ""
        elif word in ("very", "finely", "coarsely") and not prepares[at]:
            prepares[at] = True
    for at in range(1, count):
        if prepares[at] and lowered[at].startswith("non-"):
            words = [*words[: at - 1], words[at - 1].rstrip(","), *words[at:]]  # "fresh, non-UHT milk"
    name = [word for at, word in enumerate(words) if not prepares[at] and lowered[at]]
    while name and name[0].lower() in JOINERS:
        del name[0]
    done = [word for at, word in enumerate(words) if prepares[at]]
    return name, done, size


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


def read_name(phrase: str) -> NamedFood:
    """The food of a phrase that holds no amount any more: name, preparation, size, and what "or" offers instead.

    The words keep their order and their letters; where nothing but preparation is left ("chopped"), the phrase itself
    is the name, so that no line loses its food.
    """
    options = [phrase]
    if " or " in phrase or " OR " in phrase:
        options = _OR.split(phrase)
    elif "/" in phrase:
        options = _SLASHED.split(phrase)
    if len(options) > 1 and "," in options[0] and only_describes(options[0].replace(",", " ")):
        # "fresh, canned, or frozen corn" is a choice of three, "boneless, skinless thighs or breasts" of two.
        options = [*filter(None, (option.strip() for option in options[0].split(","))), *options[1:]]
    if len(options) > 1:
        kept: list[str] = []
        for option in options:
            # "peeled or unpeeled carrots", "minced or pressed garlic": a choice of preparation is no choice of food.
            before = kept[-1].lower().split() if kept else []
            if kept and (
                (_prepares(before[-1]) and only_describes(kept[-1]))
                or (is_preparation(option) and only_describes(option))
            ):
                kept[-1] = f"{kept[-1]} or {option}"
            else:
                kept.append(option)
        options = kept
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

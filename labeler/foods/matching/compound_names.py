"""Two foods in one name: "salt and pepper" is two, "half and half" is one."""

from __future__ import annotations

import re

from labeler.foods.matching.name_words import Name, read_name
from labeler.foods.matching.partial_match import meaning
from labeler.foods.matching.synonyms import load_lexicon
from labeler.foods.matching.typos import correct_typos

__all__ = ["split_foods"]

_JOINED = re.compile(r"\band\b|&|\bplus\b|\+", re.IGNORECASE)
_BETWEEN = re.compile(r"\s+(?:and|&|plus)\s+|\s*&\s*|\s*,\s*(?:and\s+)?|\s+\+\s+", re.IGNORECASE)
_OF_BOTH = re.compile(
    r"(?P<first>.*\b(?:zest|rind|peel|juice))\s*(?:and|&)\s*(?P<second>(?:\w+ )?(?:zest|rind|peel|juice))"
    r"\s+of\s+(?P<whole>.+)",
    re.IGNORECASE,
)
_LISTED = 3  # so many known foods behind one another are a list
_OF_THE_FIRST = frozenset({"zest", "juice", "rind", "peel", "yolk", "white"})


def split_foods(name: str) -> tuple[str, ...]:
    """The foods that one name names, in its order: ``("salt", "pepper")`` for "salt and pepper".

    A name is split only where it is not itself a food by the lexicon ("macaroni and cheese") and each part is one.
    Parts of one food go with it: "lemon juice and zest" gives "lemon juice" and "lemon zest", "zest and juice of
    1 lemon" gives "zest of 1 lemon" and "juice of 1 lemon". Everything else comes back whole.
    """
    text = " ".join(name.split())
    both = _OF_BOTH.fullmatch(text)
    if both:
        return tuple(f"{part.strip()} of {both['whole']}" for part in (both["first"], both["second"]))
    parts = tuple(part.strip() for part in _BETWEEN.split(text) if part.strip())
    if len(parts) < 2 or not _JOINED.search(text) or load_lexicon().joins(read_name(name).words):
        return (name,)
    shared = _of_the_first(parts)
    if shared:
        return shared
    known = sum(_is_known(part) for part in parts)
    # A longer list is one though a word of it is known to nobody: that one is then asked about by itself.
    return parts if known == len(parts) or (known >= _LISTED and known == len(parts) - 1) else (name,)


def _is_known(part: str) -> bool:
    """Whether the lexicon has a name, its typos mended."""
    read = read_name(part)
    if meaning(read) is not None:
        return True
    typos = correct_typos(read.words)
    mended = Name(tuple(typos.get(word, word) for word in read.words), typos.get(read.head, read.head), read.first)
    return bool(typos) and meaning(mended) is not None


def _of_the_first(parts: tuple[str, ...]) -> tuple[str, ...]:
    """Both parts where the second is of the first one's food ("lemon juice", "zest"); else none."""
    *food, _ = parts[0].split()
    if not food or len(parts) != 2 or parts[1].lower() not in _OF_THE_FIRST:
        return ()
    second = " ".join([*food, parts[1]])
    return (parts[0], second) if meaning(read_name(second)) is not None else ()

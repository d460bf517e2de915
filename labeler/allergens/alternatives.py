"""What a recipe can be made without, by the cook's own remarks: "omit for vegans", "use oat milk if dairy-free".

An offer is never a claim and stands on no label: it says that the cook names a way, in which line, and for which
allergens no other line holds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from labeler.allergens.detect import assess_text
from labeler.allergens.model import Assessment
from labeler.allergens.vocabulary import allergen_names
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.parsing.ingredient.remarks import RemarkKind

__all__ = ["Offer", "offers"]

NAMED_WAY = frozenset({RemarkKind.SWAP, RemarkKind.OMISSION})


@dataclass(frozen=True, slots=True)
class Offer:
    """A way to make a recipe without some allergens.

    Parameters
    ----------
    without : tuple of str
        Ids of the allergens that the way leaves out.
    line : int
        Number of the line that names it, from 1.
    remark : str
        The cook's words.
    """

    without: tuple[str, ...]
    line: int
    remark: str

    @property
    def text(self) -> str:
        """In a sentence."""
        names = " or ".join(allergen_names()[allergen] for allergen in self.without)
        return f"Can be made without {names}: the cook names a way in line {self.line} (“{self.remark}”)."


def _lines(lines: tuple[WeighedLine, ...]) -> Iterator[WeighedLine]:
    for line in lines:
        yield line
        yield from _lines(line.also)


def offers(weighed: WeighedRecipe, found: Assessment) -> tuple[Offer, ...]:
    """The offers of a recipe's lines.

    Parameters
    ----------
    weighed : WeighedRecipe
    found : Assessment
        Of the recipe: an allergen that anything else brings as well, or that a package may, is in no offer.
    """
    made = []
    for part in weighed.parts:
        for line in _lines(part.lines):
            ways = [remark for remark in line.line.remarks if remark.kind in NAMED_WAY]
            text = line.line.text.strip()
            elsewhere = {one.allergen for one in (*found.contains, *found.read_the_package)
                         if not one.from_.startswith(text)}  # fmt: skip
            here = {one.allergen for one in found.contains if one.from_.startswith(text)}
            for remark in ways:
                instead = assess_text(remark.text, aside=True)
                without = here - elsewhere - instead.allergens - instead.possible
                if without:
                    order = [allergen for allergen in allergen_names() if allergen in without]
                    made.append(Offer(tuple(order), line.line.number, remark.text))
    return tuple(made)

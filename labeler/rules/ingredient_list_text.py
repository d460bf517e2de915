"""An ingredient list in print: names, quantities, parts in parentheses, allergens set apart, in a market's style."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labeler.rules.model import Rule
from labeler.text.stems import WORD, find_phrase, stem, stems

if TYPE_CHECKING:
    from labeler.rules.ingredient_list import ListedIngredient

__all__ = ["TextSpan", "list_spans"]


@dataclass(frozen=True, slots=True)
class TextSpan:
    """A stretch of the printed list; `emphasised` stretches are set in another type."""

    text: str
    emphasised: bool = False


def list_spans(
    items: Sequence[ListedIngredient], small: Sequence[ListedIngredient], words: str, style: Rule
) -> tuple[TextSpan, ...]:
    """The whole list, from the first ingredient to the full stop; `small` ones stand last after `words`."""
    return tuple(_joined(_Printer(style).list_of(items, small, words)))


class _Printer:
    """Writes ingredients as spans in a market's style."""

    def __init__(self, style: Rule) -> None:
        self.emphasise = style.data["allergens"] == "emphasised"
        self.capitals = style.data["capitals"] == "first letter"

    def list_of(
        self, items: Sequence[ListedIngredient], small: Sequence[ListedIngredient], words: str
    ) -> Iterator[TextSpan]:
        """The whole list, from the first ingredient to the full stop."""
        yield from self._row(items, top=True)
        if small:
            yield TextSpan(f", {words} " if items else f"{words} ")
            yield from self._row(small, top=True)
        yield TextSpan(".")

    def _row(self, items: Sequence[ListedIngredient], *, top: bool = False) -> Iterator[TextSpan]:
        for at, item in enumerate(items):
            if at:
                yield TextSpan(", ")
            name = item.name
            if top and self.capitals:
                name = name[:1].upper() + name[1:]
            yield from self._named(name, item.allergens)
            if item.quantity:
                yield TextSpan(f" ({item.quantity})")
            if item.components:
                yield TextSpan(" (")
                yield from self._row(item.components)
                yield TextSpan(")")

    def _named(self, name: str, allergens: Sequence[str]) -> Iterator[TextSpan]:
        """A name with its allergens set off in it, and those that it does not say in parentheses."""
        texts: list[str] = []
        unstated: list[str] = []
        for allergen in allergens:
            (texts if find_phrase(stems(allergen), stems(name)) is not None else unstated).append(allergen)
        marked = {stem(word) for allergen in texts for word in WORD.findall(allergen)} if self.emphasise else set()
        at = 0
        for word in WORD.finditer(name):
            if stem(word.group()) in marked:
                yield TextSpan(name[at : word.start()])
                yield TextSpan(word.group(), emphasised=True)
                at = word.end()
        yield TextSpan(name[at:])
        if unstated:
            yield TextSpan(" (")
            for place, allergen in enumerate(unstated):
                if place:
                    yield TextSpan(", ")
                yield TextSpan(allergen, emphasised=self.emphasise)
            yield TextSpan(")")


def _joined(spans: Iterable[TextSpan]) -> Iterator[TextSpan]:
    """Neighbouring stretches of one type as one, empty ones dropped."""
    held: TextSpan | None = None
    for span in spans:
        if not span.text:
            continue
        if held is not None and held.emphasised == span.emphasised:
            held = TextSpan(held.text + span.text, span.emphasised)
            continue
        if held is not None:
            yield held
        held = span
    if held is not None:
        yield held

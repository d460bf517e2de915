"""An ingredient list in print: names, quantities, parts in parentheses, allergens set apart, in a market's style."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labeler.rules.model import Rule
from labeler.rules.stems import WORD, find_phrase, stem, stems

if TYPE_CHECKING:
    from labeler.rules.ingredients import Ingredient

__all__ = ["Span", "list_spans"]


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the printed list; `emphasised` stretches are set in another type."""

    text: str
    emphasised: bool = False


def list_spans(items: Sequence[Ingredient], small: Sequence[Ingredient], words: str, style: Rule) -> tuple[Span, ...]:
    """The whole list, from the first ingredient to the full stop; `small` ones stand last after `words`."""
    return tuple(_joined(_Printer(style).list_of(items, small, words)))


class _Printer:
    """Writes ingredients as spans in a market's style."""

    def __init__(self, style: Rule) -> None:
        self.emphasise = style.data["allergens"] == "emphasised"
        self.capitals = style.data["capitals"] == "first letter"

    def list_of(self, items: Sequence[Ingredient], small: Sequence[Ingredient], words: str) -> Iterator[Span]:
        """The whole list, from the first ingredient to the full stop."""
        yield from self._row(items, top=True)
        if small:
            yield Span(f", {words} " if items else f"{words} ")
            yield from self._row(small, top=True)
        yield Span(".")

    def _row(self, items: Sequence[Ingredient], *, top: bool = False) -> Iterator[Span]:
        for at, item in enumerate(items):
            if at:
                yield Span(", ")
            name = item.name
            if top and self.capitals:
                name = name[:1].upper() + name[1:]
            yield from self._named(name, item.allergens)
            if item.quantity:
                yield Span(f" ({item.quantity})")
            if item.components:
                yield Span(" (")
                yield from self._row(item.components)
                yield Span(")")

    def _named(self, name: str, allergens: Sequence[str]) -> Iterator[Span]:
        """A name with its allergens set off in it, and those that it does not say in parentheses."""
        said: list[str] = []
        unsaid: list[str] = []
        for allergen in allergens:
            (said if find_phrase(stems(allergen), stems(name)) is not None else unsaid).append(allergen)
        marked = {stem(word) for allergen in said for word in WORD.findall(allergen)} if self.emphasise else set()
        at = 0
        for word in WORD.finditer(name):
            if stem(word.group()) in marked:
                yield Span(name[at : word.start()])
                yield Span(word.group(), emphasised=True)
                at = word.end()
        yield Span(name[at:])
        if unsaid:
            yield Span(" (")
            for place, allergen in enumerate(unsaid):
                if place:
                    yield Span(", ")
                yield Span(allergen, emphasised=self.emphasise)
            yield Span(")")


def _joined(spans: Iterable[Span]) -> Iterator[Span]:
    """Neighbouring stretches of one type as one, empty ones dropped."""
    held: Span | None = None
    for span in spans:
        if not span.text:
            continue
        if held is not None and held.emphasised == span.emphasised:
            held = Span(held.text + span.text, span.emphasised)
            continue
        if held is not None:
            yield held
        held = span
    if held is not None:
        yield held

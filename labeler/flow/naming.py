"""Which foods the words of each instruction name, read apart from the walk: what guards hold a flow against.

The walk follows where food lies and chooses between readings. This asks less: whether an instruction says the name of a
food at all. What leaves without being named was inferred, whatever the walk took the words for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeler.flow.ingredients import Ingredient, group_kinds, score, words_of
from labeler.flow.model import FromLine, Naming
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Gathers, Handler, action
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role
from labeler.text.plurals import singular

__all__ = ["namings_of"]

_SURE = 0.72  # from here on a phrase names a food, as in binding: a choice, no source
_ABOUT_ALL = ("pronoun", "everything", "rest", "mixture", "vessel-", "tool")
_GO = frozenset((Handler.DISCARD, Handler.SKIM))
_TAKE = frozenset(
    (Handler.DRAIN, Handler.RINSE, Handler.SQUEEZE, Handler.PAT, Handler.STRAIN, Handler.LIFT, Handler.KEEP)
)
_SOLIDS = frozenset(("byproduct-solids",))
_KEPT = frozenset(("byproduct-liquid", "product-liquid"))
_LIQUID = frozenset(("byproduct-liquid", "byproduct-fat", "byproduct-drippings"))


def namings_of(ingredients: Sequence[Ingredient], instructions: Sequence[Instruction]) -> tuple[Naming, ...]:
    """What each instruction names.

    Parameters
    ----------
    ingredients : sequence of Ingredient
        Of the part.
    instructions : sequence of Instruction
        Of its method, in order.
    """
    return tuple(_naming(ingredients, one, place) for place, one in enumerate(instructions))


def _naming(ingredients: Sequence[Ingredient], one: Instruction, place: int) -> Naming:
    row = action(one.action)
    mentions = list(_mentions(one.mentions))
    pressed = row.handler is Handler.STRAIN and Mark.PRESSED in one.marks  # "pressing on the apples": they stay behind
    removes = row.handler in _GO or pressed or bool({Mark.THROWN_AWAY, Mark.OUT} & one.marks)
    done = one.mood in (Mood.DO, Mood.MAY)
    foods = frozenset(food for mention in mentions for food in _foods(ingredients, mention))
    return Naming(
        one.span,
        place,
        foods,
        brings=done and row.gathers is not Gathers.APART and row.handler not in _GO | _TAKE | {Handler.SERVE},
        removes=done and removes,
        keeps_liquid=done and not removes and _keeps_liquid(one, row.handler, mentions),
        solids=pressed or any(_SOLIDS & _classes(mention.name) for mention in mentions),
        liquid=any(_LIQUID & _classes(mention.name) for mention in mentions)
        or any(other.source in foods and other.kind in LIQUOR | {"fat"} for other in ingredients),
        titled=any(_says_title_of_all(ingredients, mention) for mention in mentions),
    )


def _says_title_of_all(ingredients: Sequence[Ingredient], mention: Mention) -> bool:
    """Whether a phrase means the list by a title that stands above every line: "the brine ingredients"."""
    titles = {one.group for one in ingredients}
    said, _ = words_of(mention.name)
    return len(titles) == 1 and bool(said & titles.pop()) and is_class(head_of(mention.name), "everything")


def _keeps_liquid(one: Instruction, handler: Handler, mentions: Sequence[Mention]) -> bool:
    """ "Strain the broth", "reserve the liquid", and "strain into bottles": what runs through is what goes in there."""
    if handler is Handler.STRAIN and one.vessel and not is_class(head_of(one.vessel), "sieve"):
        return True
    objects = [mention for mention in mentions if mention.role is Role.OBJECT]
    pours = handler is Handler.DRAIN and bool(one.vessel)  # "pour off the broth into a jug"
    return (pours or handler in (Handler.STRAIN, Handler.KEEP)) and any(
        _KEPT & _classes(mention.name) for mention in objects
    )


def _mentions(mentions: Sequence[Mention]) -> Iterator[Mention]:
    for mention in mentions:
        if mention.role not in (Role.EVIDENCE, Role.EXCEPT):
            yield mention


def _foods(ingredients: Sequence[Ingredient], mention: Mention) -> Iterator[FromLine]:
    said, head = words_of(mention.name)
    if not said or is_class(mention.name, *_ABOUT_ALL):
        return
    scored = [(score(one, said, head), one) for one in ingredients]
    best = max((value for value, _ in scored), default=0.0)
    if best >= _SURE:
        near = 0.03 if best < 1.0 else 0.0  # what is named exactly is meant, and nothing like it
        yield from (one.source for value, one in scored if value >= best - near)
        return
    own = classes_of(mention.name) | classes_of(" ".join(singular(word) for word in mention.name.split(" ")))
    kinds = {kind for name in own if name in group_kinds() for kinds in group_kinds()[name] for kind in kinds}
    yield from (one.source for one in ingredients if one.kind in kinds or (one.group and said <= one.group))


def _classes(name: str) -> frozenset[str]:
    return classes_of(name) | classes_of(singular(name.rsplit(" ", 1)[-1]))

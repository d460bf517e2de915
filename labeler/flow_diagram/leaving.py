"""What leaves a flow: food, or a bath, a brine, bones and the like that leave by trade; and what goes with it."""

from __future__ import annotations

from dataclasses import dataclass, field

from labeler.cooking.kept import dry_matter
from labeler.cooking.state.mixture import Item, Mixture
from labeler.flow.model import Fate
from labeler.flow_diagram.model import Kind
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import DISSOLVES, LIQUOR, kind_of

__all__ = ["DUST", "Key", "PutIn", "kind_of_stream", "leaves_by_trade", "lost_in"]

Key = tuple[str, int]
"""An ingredient: title of its part, number of its line."""

DUST = 0.05
"""Weight below which nothing is said to leave [g]."""

# A stream of which so much is water, salt and alcohol is a bath, whoever names it.
_BATH = 0.9
_BATH_KINDS = LIQUOR | DISSOLVES | {"fat", "seasoning"}
_VEGETABLES = 1100  # SR28 food group: canned in their juice they are no bath
# Share of a food that a bath must take to count as food that leaves, and share of the weight of all foods that is more
# than onion and herbs in a marinade.
_MOST, _NO_AROMATIC = 0.5, 0.1
# Share of all dry matter below which what is thrown away is a seasoning: a bay leaf, a cinnamon stick.
_SEASONING = 0.03
_COAT = "left on the plate"
# Streams that leave without taking food with them, and the share of a food from which they do: of what food was coated
# with a good part is always left.
_TAKES_LITTLE = {"poured off": _MOST, _COAT: 0.95}
# Share of an ingredient from which a stream is said to take it.
_TOLD = 0.15


@dataclass(frozen=True, slots=True)
class PutIn:
    """Each ingredient as it was put in [g]: its dry matter and salt, of that what does not dissolve, and its weight.

    `foods` are the weights of those alone that are no part of a bath.
    """

    dry: dict[Key, float] = field(default_factory=dict)
    body: dict[Key, float] = field(default_factory=dict)
    foods: dict[Key, float] = field(default_factory=dict)

    def add(self, mix: Mixture) -> None:
        """Count the ingredients of a mixture."""
        for item, dry, body, grams in zip(mix.items, dry_matter(mix)[0], body_of(mix), mix.mass[0], strict=True):
            key = (item.part, item.line)
            if not leaves_by_trade(item):
                self.foods[key] = self.foods.get(key, 0.0) + float(grams)
            self.dry[key] = self.dry.get(key, 0.0) + float(dry)
            self.body[key] = self.body.get(key, 0.0) + body


def kind_of_stream(fate: Fate | None, stream: str, mix: Mixture | None, put_in: PutIn) -> Kind:
    """Whether what leaves is food, or a bath, a brine, bones, a bay leaf and the like.

    What the words or a reading send away is food, unless it is water and salt or less than a seasoning. What leaves by
    trade is none, unless it is a bath that takes with it most of a food which is no part of a bath (flour, meat).
    """
    if mix is None or fate is None:
        return Kind.SPENT if fate in (None, Fate.TRADE) else Kind.FOOD
    if fate is Fate.TRADE or stream == _COAT:
        most = _TAKES_LITTLE.get(stream)
        return Kind.FOOD if most is not None and _takes_food(mix, put_in, most=most) else Kind.SPENT
    salt = float(mix.constituent("salt")[0].sum())
    bath = salt + sum(float(mix.constituent(one)[0].sum()) for one in ("water", "alcohol"))
    if bath >= _BATH * float(mix.total_mass[0]):
        return Kind.FOOD if _takes_food(mix, put_in, most=_MOST) else Kind.SPENT
    eaten = [at for at, item in enumerate(mix.items) if not item.facts.bones]
    dry = float((dry_matter(mix) - mix.constituent("salt"))[0, eaten].sum())
    return Kind.FOOD if dry >= _SEASONING * sum(put_in.dry.values()) else Kind.SPENT


def _takes_food(mix: Mixture, put_in: PutIn, *, most: float) -> bool:
    """Whether a stream takes so much of a food that is no part of a bath and is more than a seasoning.

    What counts is what does not dissolve: sugar and acids of a cucumber go into its brine, the cucumber does not.
    """
    whole = sum(put_in.foods.values())
    taken: dict[Key, float] = {}
    for item, grams in zip(mix.items, body_of(mix), strict=True):
        taken[item.part, item.line] = taken.get((item.part, item.line), 0.0) + grams
    shares = {key: grams / put_in.body[key] for key, grams in taken.items() if put_in.body.get(key, 0.0) > 0}
    return any(
        shares.get(key, 0.0) >= most and shares[key] * grams >= _NO_AROMATIC * whole
        for key, grams in put_in.foods.items()
    )


def body_of(mix: Mixture) -> list[float]:
    """Solids and fat of each item: what does not dissolve [g]."""
    return [float(one) for one in (mix.constituent("solids") + mix.constituent("fat"))[0]]


def leaves_by_trade(item: Item) -> bool:
    """Whether an ingredient is bones, or what a bath, a marinade, a dressing or a frying fat is made of."""
    if item.food is None or item.facts.bones:
        return item.facts.bones
    table = load_table()
    vegetable = int(table.group_codes[table.position[item.food]]) == _VEGETABLES
    return kind_of(item.food) in _BATH_KINDS and not vegetable


def lost_in(mix: Mixture | None, put_in: PutIn) -> list[tuple[str, float]]:
    """Ingredients of which a good share of the dry matter is in a stream, most of the stream first."""
    if mix is None:
        return []
    here: dict[Key, tuple[str, float]] = {}
    for item, dry in zip(mix.items, dry_matter(mix)[0], strict=True):
        key = (item.part, item.line)
        name, grams = here.get(key, (item.name, 0.0))
        here[key] = name, grams + float(dry)
    shares = [
        (name, min(1.0, grams / put_in.dry[key]), grams)
        for key, (name, grams) in here.items()
        if put_in.dry.get(key, 0.0) > DUST and grams / put_in.dry[key] >= _TOLD
    ]
    return [(name, share) for name, share, _ in sorted(shares, key=lambda one: -one[2])]

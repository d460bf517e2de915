"""What leaves a flow: food, or a bath, a brine, bones and the like that leave by trade; and what goes with it."""

from __future__ import annotations

from labeler.cooking.kept import dry_matter
from labeler.cooking.losses import Key, PutIn, body_of
from labeler.cooking.state.mixture import Mixture
from labeler.flow.model import Fate
from labeler.flow_diagram.model import Kind

__all__ = ["DUST", "kind_of_stream", "lost_in"]

DUST = 0.05
"""Weight below which nothing is said to leave [g]."""

# A stream of which so much is water, salt and alcohol is a bath, whoever names it.
_BATH = 0.9
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

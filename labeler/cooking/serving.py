"""How the batch is divided: into servings by number or by weight, and into the packs that are sold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from labeler.cooking.state.density import density
from labeler.cooking.state.ledger import Dish
from labeler.parsing import read_line
from labeler.parsing.declared_servings import (
    HEAD_KEYS,
    MADE,
    Count,
    counts_in,
    measured_yield,
    pack_size,
    same_noun,
    things_made,
)
from labeler.parsing.model import Recipe
from labeler.parsing.units import grams_per, millilitres_per
from labeler.text.plurals import singular_phrase
from labeler.types import Problem

__all__ = ["Portion", "portion"]

# A batch, its packs and its servings agree within so much; a scraped bowl keeps some. Common practice, no source.
_AGREE = 1.05
_LEFT = 0.75
_CUSTOMARY = frozenset({"ounce", "pound", "fluid_ounce"})
# Lighter than this is no serving of anything [g].
_LEAST_G = 0.01


@dataclass(frozen=True, slots=True)
class Portion:
    """What one serving is.

    Parameters
    ----------
    count : float
        Servings in the batch, above 0.
    grams : float
        Weight of one [g].
    basis : str
        Where that comes from, in words.
    by_weight : bool
        True where the serving is an amount and the count follows; False where the count is given.
    household : str
        The serving in the cook's own measure ("1 tablespoon", "1 box"); empty where there is none.
    packs : float or None
        How many packs the batch fills, where the recipe says so ("makes: 7 jars").
    pack_g : float or None
        What one pack holds [g]: the head's `net`, else what its `pack` counts, else the batch over the packs.
    problems : tuple of Problem
        What of the head could not be read, or does not agree with the rest.
    said : str
        The words of the head that divide the batch; empty where nothing does.
    pack_ml : float or None
        What one pack holds [mL], where the head states a volume.
    low, high : float or None
        Both ends of how many servings the recipe states ("6-8"), of which `count` is the middle; equal for one number;
        None where the count follows from a weight or from nothing.
    pack_stated : bool
        True where the cook says what a pack holds: that figure is printed, and none worked out from it.
    """

    count: float
    grams: float
    basis: str
    by_weight: bool
    household: str = ""
    packs: float | None = None
    pack_g: float | None = None
    problems: tuple[Problem, ...] = ()
    said: str = ""
    pack_ml: float | None = None
    pack_stated: bool = False
    low: float | None = None
    high: float | None = None


class _Amount(NamedTuple):
    """An amount of the dish: its grams, of which of the things made it counts how many, and its volume as written."""

    grams: float
    number: float = 0.0
    made: Count | None = None
    millilitres: float | None = None


class _Batch:
    """A recipe's batch: what it weighs, and what it was made into."""

    def __init__(self, recipe: Recipe, dish: Dish, market: str) -> None:
        self.head, self.dish, self.market = recipe.head, dish, market
        self.mass = float(dish.mix.total_mass[0])
        self.packed = dish.sold_g
        pieces = [
            ledger.pieces._replace(number=ledger.pieces.number * ledger.times)
            for ledger in dish.ledgers
            if ledger.part in dish.served and ledger.pieces is not None and len(dish.served) == 1
        ]
        self.made = things_made(recipe.head) or pieces
        # "makes: 24" leaves open what of; "serves: 4" counts people and none of it.
        counts = [count for key in MADE for count in counts_in(str(recipe.head.get(key, "")))]
        self.unnamed = next((count for count in counts if not count.unit), None)

    def amount(self, text: str) -> _Amount | None:
        """What a text of the head means ("30 g", "1 tablespoon", "2 cakes"); None where it is unclear."""
        line = read_line(text)
        # Of "5 oz / 140 g" the figure in the units of the market counts, so that the label prints it as it stands.
        amounts = sorted(line.amounts, key=lambda one: (one.unit in _CUSTOMARY) is not (self.market == "us"))
        for amount in amounts:
            mass = grams_per(amount.unit)
            if mass is not None:
                return _Amount((amount.low + amount.high) / 2 * mass)
        for amount in amounts:
            volume = millilitres_per(amount.unit, market=self.market)
            if volume is not None:
                room = (amount.low + amount.high) / 2 * volume
                return _Amount(room * float(density(self.dish.mix)[0]), millilitres=room)
        return self.counted(text)

    def counted(self, text: str) -> _Amount | None:
        """What a count of the things made means ("2 cakes", "box of 6 cookies"); None where none of them is named."""
        for count in reversed(counts_in(text)):
            noun = count.unit or ("" if self.unnamed is not None or len(self.made) == 1 else "?")
            among = [one for one in (*self.made, *([self.unnamed] if self.unnamed else [])) if _is_of(noun, one.unit)]
            if among:
                return _Amount(count.number * self.mass / among[0].number, count.number, among[0])
        return None


def _is_of(noun: str, made: str) -> bool:
    """Whether a count of a noun may be of what was made: the same noun, or one side does not say ("2", "makes: 24")."""
    return not noun or not made or same_noun(noun, made) or same_noun(noun, "pieces")


def _stated(batch: _Batch) -> bool:
    """Whether the head says what a pack holds, in a way that can be read."""
    net = batch.head.get("net") or pack_size(batch.head)
    return bool(net) and batch.amount(str(net)) is not None


def _one(servings_unit: str) -> str:
    return f"1 {singular_phrase(servings_unit)}" if servings_unit else ""


def portion(recipe: Recipe, dish: Dish, *, market: str = "us") -> Portion:
    """Divide the dish as the recipe's head asks.

    A `serving` in grams, spoons or pieces settles the weight of one and the count follows from the batch; else
    `makes` or `serves` settles the count. A recipe that says neither is one serving, and that is a problem; so is
    whatever in the head cannot be, or does not agree with the batch.
    """
    batch = _Batch(recipe, dish, market)
    problems: list[Problem] = list(_unread(recipe))
    pack, packs = _pack(batch, problems)
    pack_g, pack_ml = (None, None) if pack is None else (pack.grams, pack.millilitres)
    serving = _serving(batch, pack if _stated(batch) else None, packs, pack_g, problems)
    found = _divided(batch, serving)
    if found is None:
        problems.append(
            Problem(
                "no-servings",
                "the recipe does not say how many it makes, so the whole batch counts as one serving; "
                "add “makes: 8 boxes” or “serves: 4” to its head",
            )
        )
        found = Portion(1.0, batch.mass, "the whole batch, as the recipe names no servings", False)
    return replace(
        found, packs=packs, pack_g=pack_g, pack_ml=pack_ml, pack_stated=_stated(batch), problems=tuple(problems)
    )


def _divided(batch: _Batch, serving: _Amount | None) -> Portion | None:
    """The batch over its servings; None where nothing divides it."""
    text, named = str(batch.head.get("serving", "")), batch.dish.servings
    if serving is not None:
        return Portion(batch.mass / serving.grams, serving.grams, f"serving: {text}", True, text, said=text)
    if named is None:
        return None
    household = text if text and _names_a_serving(batch) else _one(named.unit)
    middle = ", of which the middle is taken" if named.low != named.high else ""
    basis = f"the batch over “{named.text}”{middle}"
    return Portion(
        named.count, batch.mass / named.count, basis, False, household, said=named.text, low=named.low, high=named.high
    )


def _names_a_serving(batch: _Batch) -> bool:
    """Whether `serving` only says what one of so many servings is called: "serves: 12" and "serving: 1 slice"."""
    counts = counts_in(str(batch.head.get("serving", "")))
    return bool(counts) and not batch.made and batch.dish.servings is not None


def _unread(recipe: Recipe) -> Iterator[Problem]:
    """What the head says of servings that is neither a number that a kitchen makes nor a measure."""
    for key in HEAD_KEYS:
        text = recipe.head.get(key)
        if text is not None and not counts_in(str(text)) and not measured_yield({"makes": text}):
            yield Problem(
                "makes-unread",
                f"{key}: “{text}” is no number that a kitchen makes, and no weight; it is not used. Write "
                "“makes: 8 boxes”, “serves: 4” or “makes: 1.2 kg”.",
            )


def _pack(batch: _Batch, problems: list[Problem]) -> tuple[_Amount | None, float | None]:
    """What one pack holds and how many there are, by `net`, `pack` and what the batch makes."""
    named = batch.dish.servings
    packs = None if named is None else named.packs or (named.count if named.unit else None)
    net = batch.head.get("net") or pack_size(batch.head) or None
    amount = batch.amount(str(net)) if net is not None else None
    if net is not None and (amount is None or amount.grams < _LEAST_G):
        amount = None
        problems.append(
            Problem("net-unread", f"net: “{net}” is not a weight or a volume of it; write it as “net: 190 g”")
        )
    held = next((one for key in ("pack", "container") if (one := batch.counted(str(batch.head.get(key, ""))))), None)
    if held is not None and held.made is not None and held.number < held.made.number * _AGREE:
        packs = held.made.number / held.number
        if amount is not None and not _agree(amount.grams, held.grams):
            problems.append(
                Problem(
                    "net-disagrees",
                    f"net: “{net}” is {amount.grams:.4g} g, but a pack of {held.number:g} of the {held.made.number:g} "
                    f"{held.made.unit} holds {held.grams:.4g} g of this batch; the first counts. Weigh a pack, and the "
                    "batch (“> weighs 1.2 kg”).",
                )
            )
    if amount is None:
        amount = held or (_Amount(batch.mass / packs) if packs and batch.mass > 0.0 else None)
    elif batch.mass > 0.0:
        problems += _against_batch(batch, amount.grams, packs, str(net))
    return amount, packs


def _against_batch(batch: _Batch, grams: float, packs: float | None, net: str) -> Iterator[Problem]:
    """Whether so many packs can be filled from the batch, and leave little of it."""
    total = grams * (packs or 1.0)
    each = f"{packs:g} × {net} are {total:.4g} g" if packs else f"net: “{net}” is {total:.4g} g"
    if total > _AGREE * batch.packed:
        yield Problem(
            "packs-over-batch",
            f"{each}, but the batch weighs {batch.packed:.4g} g. Count the packs again (“makes: ...”), weigh one "
            "(“net: ...”), or weigh the batch (“> weighs 1.2 kg”).",
        )
    elif packs and total < _LEFT * batch.packed:
        yield Problem(
            "packs-under-batch",
            f"{each}, and the batch weighs {batch.packed:.4g} g: {batch.packed - total:.4g} g are in no pack. Count "
            "the packs again (“makes: ...”), or weigh the batch (“> weighs 1.2 kg”).",
        )


def _serving(
    batch: _Batch, pack: _Amount | None, packs: float | None, pack_g: float | None, problems: list[Problem]
) -> _Amount | None:
    """What `serving` weighs; None where there is none that can be used. A pack weighs what is stated of it."""
    text = batch.head.get("serving")
    if text is None or batch.mass <= 0.0:
        return None
    serving = batch.amount(str(text))
    if serving is not None and pack is not None and serving.made is not None and serving.made.number == packs:
        serving = serving._replace(grams=serving.number * pack.grams)
    if serving is None and _names_a_serving(batch):
        return None
    if serving is None and counts_in(str(text)) and batch.made:
        made = " and ".join(f"{count.number:g} {count.unit}" for count in batch.made)
        problems.append(
            Problem(
                "serving-noun",
                f"serving: “{text}” names nothing that the recipe makes ({made}), and is not used. Write it as so many "
                f"of those, “serving: {_one(batch.made[-1].unit)}”, or as a weight, “serving: 30 g”.",
            )
        )
    elif serving is None or serving.grams < _LEAST_G:
        problems.append(
            Problem("serving-unread", f"serving: “{text}” is not an amount; write it as “serving: 30 g” or “1 cup”")
        )
    elif serving.grams > _AGREE * batch.mass:
        problems.append(
            Problem(
                "serving-over-batch",
                f"serving: “{text}” is {serving.grams:.4g} g, but the whole batch weighs {batch.mass:.4g} g, so it is "
                "not used. Give the serving again, or weigh the batch (“> weighs 1.2 kg”).",
            )
        )
    else:
        if pack_g is not None and serving.grams > _AGREE * pack_g:
            problems.append(
                Problem(
                    "serving-over-pack",
                    f"serving: “{text}” is {serving.grams:.4g} g, but a pack holds {pack_g:.4g} g. Say what a pack "
                    "holds, as “pack: 6 cookies” or “net: 190 g”, or make the serving smaller.",
                )
            )
        return serving
    return None


def _agree(one: float, other: float) -> bool:
    return max(one, other) <= _AGREE * min(one, other)

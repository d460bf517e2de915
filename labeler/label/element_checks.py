"""The label checks itself: what its market asks for, the way the food is sold, that it does not say.

Whatever lacks is named with its paragraph and with what to write to mend it. What the program cannot print lacks as
well; it is never passed over. Nothing here certifies: that nothing lacks means that no rule held here is left out.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from labeler.foods.composition.food_table import load_table
from labeler.label.content import LabelContent
from labeler.label.dates import day_of
from labeler.label.lacks import LabelCheck, Lack
from labeler.label.words import tongues
from labeler.parsing.model import Recipe
from labeler.parsing.numbers import read_quantity
from labeler.rules.label_elements import Condition, Element
from labeler.rules.market import load_market, market_ids
from labeler.rules.model import Rule
from labeler.rules.obligations import OBLIGATIONS, Requirement
from labeler.rules.sale import FiguresShown, Sale

__all__ = ["check_label"]

_MEATS = frozenset({500, 700, 1000, 1300, 1700})
"""Food groups of the table: poultry, sausages and luncheon meats, pork, beef, lamb and game."""
_COLD = re.compile(r"\b(?:refrigerat\w*|fridge|chill\w*|keep (?:it )?(?:cold|cool)|frozen|freez\w*|°\s?[CF])", re.I)
_KEEP_COLD = "keep-cold"
"""Code of the caution that prints how the food is kept."""
_COLD_CAUTIONS = frozenset({_KEEP_COLD, "cold-and-hot-holding"})
_METRIC = re.compile(r"[\d.,/ ]+(?:g|kg|ml|l)", re.I)
_POST_BOX = re.compile(r"\bP\.?\s?O\.?\s?box\b", re.I)
_LENGTHS = {"day": 1, "week": 7, "month": 30, "year": 365}
_SHORT_DAYS, _LONG_DAYS = 90, 730


@dataclass(frozen=True, slots=True)
class _Label:
    """What is checked."""

    content: LabelContent
    recipe: Recipe
    sale: Sale
    groups: frozenset[int]
    cautions: frozenset[str]
    open_allergens: tuple[str, ...]
    emphasised: bool
    percentages: bool
    high_in: bool
    needs: frozenset[Element]
    frees: frozenset[Element]
    lack_of: Mapping[Element, str] = field(default_factory=dict)
    in_liquid: tuple[str, ...] = ()

    @property
    def keeps(self) -> int | None:
        """How many days it keeps, by the head's `keeps` or by its dates; None where nothing says so."""
        match = re.match(r"\s*(\S+)\s+(day|week|month|year)", str(self.recipe.head.get("keeps", "")))
        number = read_quantity(match[1]) if match else None
        if match and number is not None:
            return int(number.low * _LENGTHS[match[2]])
        made, last = day_of(self.recipe.head.get("made")), self.last
        return (last - made).days if made and last else None

    @property
    def last(self) -> datetime.date | None:
        """The day of its date mark."""
        head = self.recipe.head
        return day_of(head.get("use by")) or day_of(head.get("best before"))


def check_label(
    content: LabelContent,
    recipe: Recipe,
    sale: Sale,
    *,
    foods: Sequence[str] = (),
    cautions: Sequence[str] = (),
    open_allergens: Sequence[str] = (),
    emphasised: bool = False,
    percentages: bool = False,
    high_in: bool = False,
    needs: frozenset[Element] = frozenset(),
    frees: frozenset[Element] = frozenset(),
    lack_of: Mapping[Element, str] | None = None,
    in_liquid: Sequence[str] = (),
    notes: Sequence[str] = (),
    questions: Sequence[str] = (),
    sale_questions: Sequence[str] = (),
) -> LabelCheck:
    """What a label lacks.

    Parameters
    ----------
    content : LabelContent
        What it says.
    recipe : Recipe
    sale : Sale
    foods : sequence of str
        Table ids of the foods it is made of.
    cautions : sequence of str
        Codes of the cautions that the food raised.
    open_allergens : sequence of str
        What stands in the way of a whole allergen statement, in sentences.
    emphasised : bool
        Whether the name of the food emphasises an ingredient.
    percentages : bool
        Whether the list gives the quantities of those.
    high_in : bool
        Whether a front-of-package symbol is due.
    needs, frees : frozenset of Element
        What a statement of the food makes compulsory (the origin of honey), and what it frees from.
    lack_of : mapping or None
        Element → what other packages found lacking of it, in a sentence.
    in_liquid : sequence of str
        The solid foods that the flow says are sold in a liquid medium.
    notes : sequence of str
        What else the cook should know.
    questions : sequence of str
        What other packages ask the cook of the food.
    sale_questions : sequence of str
        What other packages ask of the sale: the first, where the market's own facts leave nothing open.
    """
    codes = load_table().group_codes
    rows = [load_table().position[food] for food in foods if food in load_table()]
    label = _Label(
        content, recipe, sale, frozenset(int(codes[row]) for row in rows), frozenset(cautions),
        tuple(open_allergens), emphasised, percentages, high_in, needs, frees, lack_of or {}, tuple(in_liquid),
    )  # fmt: skip
    lacks: list[Lack] = []
    for requirement in sale.obligations.requirements:
        if requirement.state not in ("mandatory", "mandatory unless"):
            continue
        if requirement.what in frees or not _asked_for(requirement, label):
            continue
        found = _wanting(requirement, label)
        if found and requirement.state == "mandatory unless" and _may_wait(requirement, label):
            continue
        if found:
            lacks.append(Lack(requirement.what, found, requirement.rule))
    asked = tuple(dict.fromkeys((*_sale_question(sale, sale_questions), *questions)))
    return LabelCheck(sale, tuple(lacks), asked, (*_notes(label), *notes))


def _sale_question(sale: Sale, others: Sequence[str]) -> Iterator[str]:
    """The one question of the sale that decides most, and what holds until it is answered; the next one comes then."""
    deciding = sale.obligations.deciding if sale.packed else None
    if sale.assumed:
        asked = load_market(sale.market).rules(OBLIGATIONS)["sale"].data["question"]
        yield f"{asked} It is taken to be {sale.kind}; say it in the head, as “sale: to shops”."
    elif deciding is not None:
        elements = ", ".join(element.value for element in deciding.elements)
        until = f"what it may free you from is asked for: {elements}"
        if sale.figures is FiguresShown.NONE and Element.NUTRITION in deciding.elements:
            until = "no nutrition figures are shown"
        yield f"{deciding.question} ({deciding.fact}) Until it is answered, {until}."
    else:
        yield from others[:1]


def _asked_for(requirement: Requirement, label: _Label) -> bool:
    """Whether the condition of a requirement is met by the food and its label."""
    if requirement.condition is Condition.STATED:
        return requirement.what in label.needs
    return requirement.condition is None or _CONDITIONS[requirement.condition](label)


def _may_wait(requirement: Requirement, label: _Label) -> bool:
    """Whether an element that an open exemption may free from is left out on purpose, its question asked."""
    return requirement.what is Element.NUTRITION and label.sale.figures is FiguresShown.NONE


def _notes(label: _Label) -> Iterator[str]:
    if label.sale.because:
        yield label.sale.because
    head = label.recipe.head
    stated = str(head.get("storage") or "").strip()
    if _KEEP_COLD in label.cautions and stated != label.content.storage.strip():
        yield f"“{stated}” is not printed as it stands: the food must be kept refrigerated, and the label says so."
    cold = bool(_COLD.search(label.content.storage)) or bool(label.cautions & _COLD_CAUTIONS)
    if label.sale.packed and cold and "best before" in head and "use by" not in head:
        yield (
            "It is kept cold and has a best-before date. Food that soon becomes a danger to health has a use-by date: "
            "which it is the maker decides, on advice of the food authority or a laboratory (“use by: ...”)."
        )


def _wanting(requirement: Requirement, label: _Label) -> str:
    """What of an element lacks, in a sentence or two; empty where it is there."""
    stated = label.lack_of.get(requirement.what)
    return stated if stated is not None else _CHECKS[requirement.what](label)


def _name(label: _Label) -> str:
    return "" if label.content.title.strip() else "Write “title: ...” in the head."


def _ingredients(label: _Label) -> str:
    return "" if label.content.ingredients else "The recipe has no ingredient that could be listed."


def _allergens(label: _Label) -> str:
    return " ".join(label.open_allergens)


def _percentages(label: _Label) -> str:
    return "" if label.percentages else "Weigh the ingredients that the name of the food emphasises."


def _net(label: _Label) -> str:
    return "" if label.content.net else "Write what a pack holds, as “net: 190 g” or “makes: 8 boxes”, in the head."


def _drained(label: _Label) -> str:
    if "drained" in label.recipe.head:
        return ""
    lying = f"{' and '.join(label.in_liquid[:2])}: sold in a liquid. " if label.in_liquid else ""
    return f"{lying[:1].upper()}{lying[1:]}Weigh a pack without its liquid and write “drained: 120 g” in the head."


def _storage(label: _Label) -> str:
    if label.content.storage or _KEEP_COLD in label.cautions:
        return ""
    return "Write how it is kept, as “storage: Keep refrigerated.”, in the head."


def _lot(label: _Label) -> str:
    return "" if label.content.lot else "Write “lot: ...” in the head."


def _date(label: _Label) -> str:
    long = label.keeps is not None and label.keeps >= _LONG_DAYS
    if label.sale.market == "anz" and long:
        return ""
    head = label.recipe.head
    if not (label.content.best_before or label.content.use_by):
        return (
            "Write “best before: 2027-03-01” in the head, or “use by: ...” for food that soon becomes a danger; the "
            "maker decides which, and how long it keeps."
        )
    made, last = day_of(head.get("made")), label.last
    if made and last and last <= made:
        return f"The date, {last.isoformat()}, is not after the day it was made, {made.isoformat()}."
    return ""


def _address(label: _Label) -> str:
    maker, place = label.content.maker, label.content.place
    if not maker or not place:
        missing = " and ".join(key for key, value in (("maker", maker), ("place", place)) if not value)
        return f"Write {' and '.join(f'“{key}: ...”' for key in missing.split(' and '))} in the head."
    form = load_market(label.sale.market).rules(OBLIGATIONS).get("address-form")
    if form is None:
        return ""
    text = f"{maker}, {place}"
    if _in_market(form, text):
        if form.market == "anz" and _POST_BOX.search(text):
            return "A post box is no address of a business: write the street."
        return ""
    for other in market_ids():
        elsewhere = load_market(other).rules(OBLIGATIONS).get("address-form")
        if elsewhere is not None and other != label.sale.market and _in_market(elsewhere, text):
            return f"“{place}” is an address in another market. Write {form.summary[0].lower()}{form.summary[1:]}"
    return f"“{place}” is not seen to be a whole address. Write {form.summary[0].lower()}{form.summary[1:]}"


def _in_market(form: Rule, text: str) -> bool:
    named = any(re.search(rf"(?<!\w){re.escape(country)}(?!\w)", text) for country in form.data["countries"])
    return named or bool(re.search(form.data["pattern"], text))


def _nutrition(label: _Label) -> str:
    if label.content.panel is not None:
        return ""
    if label.sale.figures is FiguresShown.NONE:
        return "Figures are left out (“figures: no”), and nothing frees this sale from them."
    return "The panel of this market is not drawn by the program: add it by hand."


def _symbol(label: _Label) -> str:
    return "The layout has no front-of-package symbol."


def _origin(label: _Label) -> str:
    return "" if label.recipe.head.get("origin") else "Write the statement of origin, as “origin: ...”, in the head."


def _alcohol(label: _Label) -> str:
    return "" if label.recipe.head.get("alcohol") else "Have it measured and write “alcohol: 25 % vol” in the head."


def _language(label: _Label) -> str:
    spoken = set(tongues(label.content.language))
    head = label.recipe.head
    if label.sale.market == "ca":
        wanted = ["title_fr", "ingredients_fr"]
        if label.content.panel is not None and not _METRIC.fullmatch(str(head.get("serving", "1 g")).strip()):
            wanted.append("serving_fr")
        missing = " and ".join(f"“{key}: ...”" for key in wanted if key not in head)
        if {"en", "fr"} <= spoken and not missing:
            return ""
        write = f" and write {missing} in the head" if missing else ""
        return f"Print it with --language en+fr{write}; the program translates fixed words only."
    if label.sale.market == "jp":
        return "The program prints the nutrition label in Japanese and nothing else: have the rest set in Japanese."
    if label.sale.market == "uk" and "en" not in spoken:
        return "Print it in English, or in English beside the other language (--language en+fr)."
    return ""


_CHECKS: Mapping[Element, Callable[[_Label], str]] = {
    Element.NAME: _name,
    Element.INGREDIENTS: _ingredients,
    Element.ALLERGENS: _allergens,
    Element.PERCENTAGES: _percentages,
    Element.NET: _net,
    Element.DRAINED: _drained,
    Element.ADDRESS: _address,
    Element.DATE: _date,
    Element.STORAGE: _storage,
    Element.LOT: _lot,
    Element.NUTRITION: _nutrition,
    Element.SYMBOL: _symbol,
    Element.ORIGIN: _origin,
    Element.LANGUAGE: _language,
    Element.ALCOHOL: _alcohol,
}

_CONDITIONS: Mapping[Condition, Callable[[_Label], bool]] = {
    Condition.EMPHASISED: lambda label: label.emphasised,
    Condition.MEAT: lambda label: bool(label.groups & _MEATS),
    Condition.IN_LIQUID: lambda label: "drained" in label.recipe.head or bool(label.in_liquid),
    Condition.NO_DAY: lambda label: label.last is None,
    Condition.KEEPS_SHORT: lambda label: label.keeps is None or label.keeps <= _SHORT_DAYS,
    Condition.SPECIAL_STORAGE: lambda label: bool(label.cautions & _COLD_CAUTIONS),
    Condition.HIGH_IN: lambda label: label.high_in,
}

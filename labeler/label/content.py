"""What a label says, as plain text: the one type that the layouts read.

Every string here is text and nothing else. It is never read as markup, as a file name or as an address; the
layouts draw its characters one by one. `labeler.label.printable_text` says what becomes of characters that cannot be
printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labeler.label.front_symbol import FrontSymbol
    from labeler.label.panels.content import PanelContent

__all__ = ["LabelContent", "NutritionRow", "Run"]


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text that is printed in one way; `emphasised` stretches are bold."""

    text: str
    emphasised: bool = False


@dataclass(frozen=True, slots=True)
class NutritionRow:
    """One line of the nutrition table, its figures already rounded and written out.

    Parameters
    ----------
    name : str
        Such as "Energy" or "of which saturates".
    per_serving, per_100g : str
        Figures with their unit ("1.2 g", "<0.5 g", "120 kcal"); empty where there is none.
    level : int
        0 for a main line, 1 for a line that belongs to the one above, 2 for one below that.
    percent : str
        Percentage of the reference value ("12 %"); the column is drawn if any row has one.
    """

    name: str
    per_serving: str = ""
    per_100g: str = ""
    level: int = 0
    percent: str = ""


@dataclass(frozen=True, slots=True)
class LabelContent:
    """Everything a label says. An empty field is not drawn.

    Parameters
    ----------
    title : str
        Name of the food.
    story : str
        One line below it, in the maker's own words.
    serving : str
        Serving size in words ("2 tablespoons (30 g)").
    servings : str
        How many servings ("about 11 servings").
    nutrition : tuple of NutritionRow
        In the order to print; the first row leads.
    percent_heading : str
        Heading of the percentage column ("% daily value"); needed where a row has a percentage.
    nutrition_notes : tuple of str
        How sure the figures are and what the reference values are.
    ingredients : tuple of Run
        The ingredient list without its heading.
    allergens : tuple of Run
        The allergen statement, whole.
    sign_allergens : tuple of Run
        The allergen statement of a sign (tent, strip), which has no ingredient list: it must name every allergen. A
        sign without it prints the ingredient list too.
    cautions : tuple of str
        One sentence or two each.
    net : str
        Net quantity ("Net wt 12 oz (340 g)").
    maker, place : str
        Name and address as they stand on the label.
    made, best_before, use_by, lot : str
        Dates and lot as written out; the fixed words before them are the layout's.
    date_words : str
        The market's own words before the date of `best_before` or `use_by`; empty for the layout's.
    storage : str
        How to keep it.
    digest : str
        Short hash of the recipe.
    as_of : str
        Date of the figures.
    address : str
        Web address of the post, for the square code; text, never opened.
    panel : PanelContent or None
        An official panel, drawn in place of the generic table.
    language : str
        Language of the fixed words, a key of data/words.csv; also the PDF's language.
    list_language : str
        Language of the heading of `ingredients`, where the list of a further language has a heading of its own; empty
        for `language`.
    decimal : str
        The decimal mark of the figures, "." or ",".
    origin : str
        The statement of where it comes from.
    symbol : FrontSymbol or None
        The front-of-package symbol, drawn beside the title.
    draft : str
        The mark that a draft carries across it; empty where it is none.
    sign_price : str
        What it costs, for a sign (tent, strip): a package label carries no price.
    price : str
        What is printed of it: of a sign its `sign_price`, of anything else nothing.
    """

    title: str
    story: str = ""
    serving: str = ""
    servings: str = ""
    nutrition: tuple[NutritionRow, ...] = ()
    percent_heading: str = "%"
    nutrition_notes: tuple[str, ...] = ()
    ingredients: tuple[Run, ...] = ()
    allergens: tuple[Run, ...] = ()
    sign_allergens: tuple[Run, ...] = ()
    cautions: tuple[str, ...] = ()
    net: str = ""
    maker: str = ""
    place: str = ""
    made: str = ""
    best_before: str = ""
    use_by: str = ""
    date_words: str = ""
    lot: str = ""
    storage: str = ""
    list_language: str = ""
    digest: str = ""
    as_of: str = ""
    address: str = ""
    panel: PanelContent | None = None
    language: str = "en"
    decimal: str = "."
    origin: str = ""
    symbol: FrontSymbol | None = None
    draft: str = ""
    sign_price: str = ""
    price: str = ""

    def __hash__(self) -> int:
        # The layouts look a content up many times while they try sizes: what tells foods apart is enough.
        return hash((self.title, self.story, self.net, self.lot, self.digest, len(self.nutrition)))

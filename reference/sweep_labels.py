"""Makes the label of many recipes in every market and by every kind of sale, and says which are silent or crash.

    python reference/sweep_labels.py FOLDER... [--lines LINES.csv] [--count 200] [--from 0] [--market us ...]

Each FOLDER holds recipes in any form that the program reads. LINES.csv has the columns `file` and `text`, an ingredient
line a row; the lines of one file are taken as one recipe of four servings. COUNT recipes are taken in order of the
folders, the lines last; `--from` skips some of them, so that a sweep goes in chunks.

Every recipe is given what any label needs of its maker (name, an address of the market, a lot, a last day), so that
what is left open is of the food. A label is *whole* where nothing lacks: then its page must show what the market's
table asks for, read back from the PDF. It is *a draft* where something lacks, and each lack must say in words how to
mend it. It is *refused* where the recipe is, with a message. All else is silent, or a crash.
"""

from __future__ import annotations

import json
import time
import traceback
from collections import Counter
from dataclasses import replace
from typing import Any

import pypdfium2
from recipe_files import options_of, recipes_of

from labeler.label import compose, make
from labeler.label.builder import LabelFacts, gather
from labeler.label.make import MadeLabel, make_label
from labeler.markets import MARKETS
from labeler.parsing.model import Recipe
from labeler.rules.label_elements import Element
from labeler.rules.loading.schema import SALES
from labeler.types import LabelerError

PLACES = {
    "us": "14 Quay Lane, Saltmarsh, ME 04101",
    "ca": "14 Quay Lane, Saltmarsh, NS B3H 1A1",
    "uk": "14 Quay Lane, Saltmarsh, ZZ9 9ZZ",
    "eu": "14 Quay Lane, Saltmarsh, Ireland",
    "anz": "14 Quay Lane, Saltmarsh, TAS 7000",
    "jp": "1-2-3 Quay, Saltmarsh, 100-0001, Japan",
    "codex": "14 Quay Lane, Saltmarsh",
}
SHOWN = {  # what stands on a page whose label lacks nothing: the field of its data that holds the words
    Element.NAME: "title",
    Element.NET: "net",
    Element.ADDRESS: "place",
    Element.LOT: "lot",
    Element.INGREDIENTS: "ingredients",
    Element.ALLERGENS: "allergens",
}


def with_maker(recipe: Recipe, market: str) -> Recipe:
    """The recipe with what any label needs of its maker, where its head does not say it."""
    given = {
        "maker": "Tern & Tide Kitchen",
        "place": PLACES[market],
        "lot": "A17",
        "best before": "2027-03-01",
        "storage": "Keep refrigerated.",
    }
    return replace(recipe, head=given | dict(recipe.head) | ({"place": PLACES[market]}))


def squeezed(text: str) -> str:
    """A text without white space and soft hyphens, as words of a page are compared."""
    return "".join(text.split()).replace("\u00ad", "").replace("\ufffe", "").replace("-", "")


def faults(made: MadeLabel) -> list[str]:
    """In what a label is silent or contradicts itself."""
    found = [f"{lack.element} lacks without a word" for lack in made.check.lacks if not lack.message.strip()]
    json.dumps(made.declared)
    if made.check.lacks:
        return found if made.declared["draft"] else [*found, "lacks something and is no draft"]
    page = "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(made.pdf))
    words = squeezed(page)
    for requirement in made.check.sale.obligations.requirements:
        field = SHOWN.get(requirement.what)
        if requirement.state != "mandatory" or requirement.condition is not None or field is None:
            continue
        text = str(made.declared[field])
        if not text and field != "allergens":
            found.append(f"{requirement.what} is mandatory and empty, and nothing lacks")
        elif squeezed(text) not in words:
            found.append(f"{requirement.what} does not stand on the page: {text[:60]}")
    nutrition = made.check.sale.requirement(Element.NUTRITION)
    if nutrition is not None and nutrition.state == "mandatory" and made.declared["panel"] is None:
        found.append("the panel is mandatory and is not drawn")
    return found


def once_each() -> dict[Any, Any]:
    """Compose equal labels of one recipe and market once, as many sales ask for the same; what to clear for the next.

    What a label is composed of depends, within one recipe and market, on its content, layout and size alone.
    """
    composed: dict[Any, Any] = {}
    whole = compose.compose_label

    def cached(content: Any, **options: Any) -> Any:
        key = (content, *(options.get(name) for name in ("layout", "size", "colour")))
        if key not in composed:
            composed[key] = whole(content, **options)
        return composed[key]

    make.compose_label = cached  # type: ignore[assignment]
    return composed


def main() -> int:
    """Print how many labels are whole, drafts or refused, and every one that is silent or crashed."""
    parser = options_of(__doc__, count=200)
    parser.add_argument("--market", nargs="*", default=MARKETS)
    parser.add_argument("--size", default="200x280")
    options = parser.parse_args()
    begun = time.monotonic()
    composed = once_each()
    counts: Counter[str] = Counter()
    lacking: Counter[str] = Counter()
    refusals: Counter[str] = Counter()
    for place, (name, recipe) in enumerate(recipes_of(options.folders, options.lines)):
        if place < options.first:
            continue
        if place >= options.count:
            break
        if time.monotonic() - begun > options.seconds:
            print(f"go on with --from {place}")
            break
        for market in options.market:
            given = with_maker(recipe, market)
            facts: LabelFacts | None = None
            composed.clear()
            for sale in SALES:
                where = f"{name} {market} {sale}"
                counts["labels"] += 1
                try:
                    facts = facts or gather(given, market=market, draws=0)
                    made = make_label(given, market=market, size=options.size, sale_facts={"sale": sale}, facts=facts)
                except LabelerError as refused:
                    counts["refused" if str(refused).strip() else "silent"] += 1
                    refusals[str(refused)[:110]] += 1
                    continue
                except Exception:
                    counts["crash"] += 1
                    print(f"CRASH {where}: {traceback.format_exc().strip().splitlines()[-3:]}")
                    continue
                wrong = faults(made)
                counts["silent" if wrong else "draft" if made.check.lacks else "whole"] += 1
                lacking.update(f"{market} {lack.element.value}" for lack in made.check.lacks)
                for fault in wrong:
                    print(f"SILENT {where}: {fault}")
    print(dict(counts))
    print("lacking:", dict(lacking.most_common()))
    print("refused:", dict(refusals.most_common(20)))
    return 1 if counts["crash"] or counts["silent"] else 0


if __name__ == "__main__":
    raise SystemExit(main())

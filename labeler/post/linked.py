"""The post for programs: a schema.org Recipe with its NutritionInformation, as JSON-LD.

Terms and units are those of schema.org, release 28.1: a Mass is "<number> <unit of mass>" and an Energy
"<number> <unit of energy>"; sodium and cholesterol are in milligrams and the other masses in grams;
recipeInstructions are a list of HowToStep, or of HowToSection where the recipe has several parts. A value that is not
known is left out, never written as nought. The vocabulary has no term for an allergen that is present, and no claim
that one is absent is ever made.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from labeler.post.content import PostContent, PostPart
from labeler.post.ranges import plain_figure
from labeler.post.words import rows
from labeler.types import Status

if TYPE_CHECKING:
    from labeler.label.builder import LabelFacts
    from labeler.rules.declaration import DeclaredValue

__all__ = ["linked_data", "linked_text", "nutrition_facts"]

# What could end a script block, open a comment or an entity, break a line of a script, or turn the text round, and
# what is no character of any text.
_NO_CHARACTERS = "\ud800-\udfff\ufdd0-\ufdef" + "".join(
    chr(plane | last) for plane in range(0, 0x110000, 0x10000) for last in (0xFFFE, 0xFFFF)
)
_UNSAFE = re.compile(f"[<>&\u2028\u2029\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufeff\x7f-\x9f{_NO_CHARACTERS}]")


def nutrition_facts(facts: LabelFacts) -> Iterator[tuple[str, str]]:
    """Properties of NutritionInformation with their values, each rounded as the market declares it.

    A market that declares no such line (sodium in the EU, where salt is declared) or prints it as "less than" has its
    unrounded figure taken to two significant digits.
    """
    declared = {line.id: line for line in facts.serving}
    for row in rows("vocabulary.csv"):
        unit = row["unit"]
        line = next((declared[name] for name in row["lines"].split("|") if name in declared), None)
        if line is not None and (line.unit or "kcal") == unit:
            value = _declared(line)
        else:
            figures = [facts.nutrition.per_serving.get(tagname) for tagname in row["tagnames"].split("|")]
            known = [figure.best for figure in figures if figure is not None and figure.status != Status.MISSING]
            value = plain_figure(sum(known)) if len(known) == len(figures) else None
        if value is not None:
            yield row["property"], f"{value} {unit}"


def _declared(line: DeclaredValue) -> str | None:
    if not line.known or line.amount is None:
        return None
    return f"{line.value:f}" if line.value is not None else plain_figure(line.amount)


def linked_data(content: PostContent) -> dict[str, Any]:
    """The JSON-LD of a post as data; a term that has no value is not there."""
    nutrition = {
        "@type": "NutritionInformation",
        "servingSize": content.serving,
        "description": " ".join(content.sure),
        **dict(content.facts),
    }
    recipe = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": content.title,
        "description": content.story,
        "url": content.address,
        "author": {"@type": "Organization", "name": content.maker} if content.maker else None,
        "version": content.digest,
        "recipeYield": content.makes,
        "recipeIngredient": [line for part in content.parts for line in part.lines],
        "recipeInstructions": _instructions(content.parts),
        "nutrition": {term: value for term, value in nutrition.items() if value},
    }
    return {term: value for term, value in recipe.items() if value}


def _instructions(parts: tuple[PostPart, ...]) -> list[dict[str, Any]]:
    told = [part for part in parts if part.steps]
    steps = [[{"@type": "HowToStep", "text": step} for step in part.steps] for part in told]
    if len(parts) < 2:
        return [step for part in steps for step in part]
    return [
        {"@type": "HowToSection", **({"name": part.title} if part.title else {}), "itemListElement": one}
        for part, one in zip(told, steps, strict=True)
    ]


def linked_text(content: PostContent) -> str:
    """The JSON-LD as the text of a script block, which no text in it can end."""
    text = json.dumps(linked_data(content), ensure_ascii=False, indent=1)
    return _UNSAFE.sub(lambda found: _escaped(found[0]), text)


def _escaped(char: str) -> str:
    """A character as JSON's own escape, in two where it needs two (RFC 8259, section 7)."""
    units = char.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[at : at + 4]}" for at in range(0, len(units), 4))

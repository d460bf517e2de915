"""Every shape of ``documents`` is read as a person reads it, and outlives its import.

The documents are of our own making: heads of every sort, notes, pages with and without data, tables, slips,
other kitchens' words. ``expected.csv`` says what a person reads in each, left empty where a person would not be sure:
title, what it makes, how many ingredient lines and steps, what must be kept beside them (divided by "|").
"""

import csv
from dataclasses import dataclass
from pathlib import Path

import pytest

from labeler.data_files import data_rows
from labeler.foods.resolve import weigh
from labeler.importers.reading import as_recipe_file, form_of, import_recipe, import_recipes
from labeler.parsing.declared_servings import pack_size, read_servings
from labeler.parsing.model import Recipe
from labeler.types import LabelerError

FOLDER = Path(__file__).parents[1].joinpath("documents")
_YIELDS = ("serves", "servings", "makes", "yield", "yields")


@dataclass(frozen=True)
class Document:
    """A file and what a person reads in it."""

    name: str
    data: bytes
    title: str
    makes: str
    lines: int | None
    steps: int | None
    notes: tuple[str, ...]
    recipes: int | None
    refused: bool


def _documents() -> list[Document]:
    with (FOLDER / "expected.csv").open(encoding="utf-8", newline="") as file:
        return [
            Document(
                name=row["file"],
                data=(FOLDER / row["file"]).read_bytes(),
                title=row["title"],
                makes=row["makes"],
                lines=int(row["lines"]) if row["lines"] else None,
                steps=int(row["steps"]) if row["steps"] else None,
                notes=tuple(filter(None, row["notes"].split("|"))),
                recipes=int(row["recipes"]) if row["recipes"] else None,
                refused=bool(row["refused"]),
            )
            for row in csv.DictReader(file)
        ]


DOCUMENTS = _documents()
READ = [one for one in DOCUMENTS if not one.refused]


def recipe_of(document: Document) -> Recipe:
    """As every command reads it."""
    return import_recipe(document.data, form_of(document.data, document.name), document.name)


def names_of(items: list[Document]) -> list[str]:
    """For the test's id."""
    return [one.name for one in items]


def test_there_are_sixty_documents_and_more_and_no_two_are_alike() -> None:
    """The shapes are many, and each is there once."""
    assert len(DOCUMENTS) >= 60 and len({one.data for one in DOCUMENTS}) == len(DOCUMENTS)


@pytest.mark.parametrize("document", READ, ids=names_of(READ))
def test_a_document_is_read_as_a_person_reads_it(document: Document) -> None:
    """Title, yield, the number of lines and steps, and nothing of what stands beside them is lost."""
    recipe = recipe_of(document)
    if document.title:
        assert recipe.title == document.title
    if document.makes:
        told = " ".join(str(recipe.head[key]) for key in _YIELDS if key in recipe.head)
        assert document.makes.split()[0] in told
    if document.lines is not None:
        assert len([line.text for part in recipe.parts for line in part.lines]) == document.lines
    if document.steps is not None:
        assert len([step.text for part in recipe.parts for step in part.handling]) == document.steps
    beside = " ".join([*(note.text for note in recipe.notes), *map(str, recipe.head.values())])
    assert [note for note in document.notes if note not in beside] == []
    if document.recipes is not None:
        assert (
            len(import_recipes(document.data, form_of(document.data, document.name), document.name)) == document.recipes
        )


@pytest.mark.parametrize("document", READ, ids=names_of(READ))
def test_a_document_outlives_its_import(document: Document) -> None:
    """What is written of it reads as the same recipe."""
    recipe = recipe_of(document)
    written = as_recipe_file(document.data, form_of(document.data, document.name), recipe)
    again = import_recipe(written.encode(), "text", "again.md")
    for kind in ("lines", "handling"):
        before = [(part.title, [one.text for one in getattr(part, kind)]) for part in recipe.parts]
        assert [(part.title, [one.text for one in getattr(part, kind)]) for part in again.parts] == before
    assert sorted((note.kind, note.text) for note in again.notes) == sorted(
        (note.kind, note.text) for note in recipe.notes
    )
    assert as_recipe_file(written.encode(), "text", again) == written


@pytest.mark.parametrize("document", [one for one in DOCUMENTS if one.refused], ids=lambda one: one.name)
def test_what_cannot_be_put_together_is_refused_in_one_sentence(document: Document) -> None:
    """A copy of a PDF with one word a row is no recipe."""
    with pytest.raises(LabelerError):
        recipe_of(document)


_BY_NAME = {one.name: one for one in DOCUMENTS}
_DIVIDED = data_rows(FOLDER / "expected_packs.csv")


@pytest.mark.parametrize("row", _DIVIDED, ids=lambda row: row["file"])
def test_the_lines_of_a_document_are_of_the_food_the_grams_and_the_group_that_a_person_reads(
    row: dict[str, str],
) -> None:
    """Every line that a person sees is one, in its sub-heading, with a food of those words and grams in that range."""
    weighed = weigh(recipe_of(_BY_NAME[row["file"]]))
    lines = [(part.title, line) for part in weighed.parts for line in part.lines]
    wrong = []
    for stated in (one for one in data_rows(FOLDER / "expected_lines.csv") if one["file"] == row["file"]):
        words, group = stated["line"].casefold(), stated["group"].casefold()
        beside = [pair for pair in lines if words in pair[1].line.text.casefold()]
        found = [pair for pair in beside if group in ("", pair[0].casefold(), pair[1].line.group.casefold())]
        if not found:
            wrong.append(f"{stated['line']} is no line of “{stated['group']}”")
            continue
        lines.remove(found[0])
        line = found[0][1]
        told = line.match.description.casefold() if line.match is not None else ""
        if not any(word.casefold() in told for word in stated["food"].split("|")):
            wrong.append(f"{line.line.text} is {told}")
        grams = line.grams.best if line.grams is not None else 0.0
        if stated["least_g"] and not float(stated["least_g"]) <= grams <= float(stated["most_g"]):
            wrong.append(f"{line.line.text} is {grams:.4g} g")
    assert wrong == [] and [line.line.text for _, line in lines if not line.names_no_food] == []


@pytest.mark.parametrize("row", _DIVIDED, ids=lambda row: row["file"])
def test_a_document_is_divided_as_a_person_divides_it(row: dict[str, str]) -> None:
    """Servings, packs and what one pack holds."""
    head = recipe_of(_BY_NAME[row["file"]]).head
    servings = read_servings(head)
    assert servings is not None and servings.count == float(row["servings"])
    assert not row["packs"] or servings.packs == float(row["packs"])
    assert not row["holds"] or pack_size(head) == row["holds"]

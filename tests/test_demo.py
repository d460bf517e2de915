"""The demo's recipes show what the program is for, and what README says of them is true."""

import re
from pathlib import Path

import pypdfium2
import pytest

from labeler.foods.composition.food_table import load_table
from labeler.label.make import make_label
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe

ROOT = Path(__file__).parents[1]


def demo(name):
    return read_recipe((ROOT / "demo" / f"{name}.md").read_text(encoding="utf-8"), source=f"demo/{name}.md")


def plain_sum(nutrition, key):
    """What adding up the ingredient lines would give for the batch, whatever handling does."""
    table = load_table()
    lines = [line for _, line in nutrition.lines if line.part is None]
    return sum(table.value(line.match.food, key) * line.grams.best / 100 for line in lines if line.match and line.grams)


@pytest.mark.parametrize("name", ["harbour-box", "quay-pie", "beetroot-relish"])
def test_every_ledger_adds_up_to_the_gram(name):
    """What went into a part is what was kept and what left it by a named stream."""
    for part in analyse(demo(name), draws=0).parts:
        into = sum(row.grams for row in part.ledger if row.step == "in")
        left = sum(row.grams for row in part.ledger if row.step not in ("in", "kept"))
        assert into == pytest.approx(left + part.grams_kept, abs=0.5), part.title


def test_the_sodium_of_the_box_is_what_readme_says_and_far_from_adding_up():
    """README's two sodium figures of the brined box are the program's own."""
    found = analyse(demo("harbour-box"))
    served, added = found.per_serving["NA"], plain_sum(found, "NA") / found.servings
    told = re.search(r"([\d,]+) mg of sodium a box.*?\(([\d,]+) to ([\d,]+)\)", (ROOT / "README.md").read_text(), re.S)
    adding = re.search(r"adding up the lines says ([\d,]+) mg", (ROOT / "README.md").read_text())
    figures = [float(group.replace(",", "")) for group in (*told.groups(), adding[1])]
    assert figures == pytest.approx([served.best, served.low, served.high, added], rel=0.01)
    assert added / served.best > 8


@pytest.mark.parametrize(("name", "size"), [("beetroot-relish", "jar"), ("beetroot-relish", "a6"), ("quay-pie", "a6")])
def test_the_demo_labels_fit(name, size):
    """The relish fits its jar and a card, the pie a card."""
    assert make_label(demo(name), size=size).pdf.startswith(b"%PDF-")


def test_the_demo_names_a_fish_a_crustacean_and_a_mollusc():
    """The pie's ingredient list names haddock, prawns and mussels, set apart from the rest."""
    declared = make_label(demo("quay-pie"), market="uk").declared
    for word in ("haddock", "prawns", "mussels"):
        assert word in declared["ingredients"]


def test_what_the_demo_shows_is_there():
    """Each picture and file that the pages of the demo name stands beside them."""
    for page in (ROOT / "README.md", ROOT / "demo" / "made" / "README.md"):
        for target in re.findall(r"\]\(((?!https?:)[^)#]+)\)", page.read_text(encoding="utf-8")):
            assert (page.parent / target).is_file(), f"{page.name}: {target}: run python reference/make_demo.py"


def test_the_label_that_the_demo_shows_is_the_one_that_is_made():
    """The jar label of `demo/made` says, word for word, what the program prints of the relish now."""
    shown, made = (ROOT / "demo/made/relish-jar.pdf").read_bytes(), make_label(demo("beetroot-relish"), size="jar").pdf
    assert words_of(shown) == words_of(made), "run python reference/make_demo.py"


def words_of(pdf):
    return pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().split()

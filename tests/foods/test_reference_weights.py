"""The kitchen's figures of weights: their files are sound, and quote SR28 truly."""

from __future__ import annotations

import csv
import re

import pytest

from labeler.foods.composition.food_table import load_table
from labeler.foods.resolve import weigh_line
from labeler.foods.weights.reference_weights import DATA, load_figures
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.units import SPELLINGS

FIGURES = ("volumes", "volume_defaults", "pieces", "yields", "as_bought", "drained", "unquantified")


@pytest.mark.parametrize("name", FIGURES)
def test_figures_files_are_sound(name: str) -> None:
    """Every row has ordered bounds, a food or none, and a basis in words; the head explains the columns."""
    text = (DATA / f"{name}.csv").read_text(encoding="utf-8")
    assert text.startswith("#")
    rows = list(csv.DictReader(row for row in text.splitlines() if not row.startswith("#")))
    assert rows
    for row in rows:
        assert None not in row, row
        assert 0 <= float(row["low"]) <= float(row["best"]) <= float(row["high"]), row
        assert len(row["basis"]) > 8, row
    assert load_figures(f"{name}.csv")


@pytest.mark.parametrize("name", ["pieces", "yields"])
def test_every_piece_is_a_unit_of_the_kitchen(name: str) -> None:
    """The pieces are units of the kitchen registry, or a whole one."""
    known = {*SPELLINGS.values(), "whole", "can drained", "jar drained"}
    taken = {"juice", "zest", "peel", "juice and zest", "kernels", "seeds", "whites", "yolks"}
    assert set(load_figures(f"{name}.csv")) <= (known if name == "pieces" else taken)


def test_there_is_always_a_last_resort() -> None:
    """A cup, a drained can and a line without amount of any food have a row for any food."""
    assert any(not row.wanted and not row.groups for row in load_figures("volume_defaults.csv")["any"])
    assert any(not row.wanted for row in load_figures("drained.csv")["can"])
    for purpose, rows in load_figures("unquantified.csv").items():
        assert any(not row.wanted and not row.groups for row in rows), purpose


_CLAIM = re.compile(r"= ([\d.]+) g([^()=]*)\(SR28 ([^)]*)\)")


@pytest.mark.parametrize("name", ["volumes", "pieces", "yields", "as_bought", "drained"])
def test_figures_quote_sr28_truly(name: str) -> None:
    """Where a row says "= 160 g (SR28 11282)", SR28's measures of that food hold 160 g."""
    table = load_table()
    for rows in load_figures(f"{name}.csv").values():
        for row in rows:
            for claim in _CLAIM.finditer(row.value.basis):
                quoted = [
                    float(claim[1]),
                    *(float(found) for found in re.findall(r"(?<![\d/-])(\d[\d.]*)(?= g)", claim[2])),
                ]
                held = [
                    weight
                    for food in re.findall(r"\d{5}", claim[3])
                    for measure in table.measures(food)
                    for weight in (measure.grams, measure.grams / measure.amount)
                ]
                for figure in quoted:
                    assert any(abs(figure - weight) <= max(0.006 * figure, 0.06) for weight in held), row


@pytest.mark.parametrize("name", ["as_bought", "pieces"])
def test_figures_quote_sr28_refuse_truly(name: str) -> None:
    """Where a row cites the refuse of an SR28 food, that food is in the table and has refuse."""
    table = load_table()
    for rows in load_figures(f"{name}.csv").values():
        for row in rows:
            for ids in re.findall(r"\(SR28 ([\d, ]+) refuse", row.value.basis):
                for food in re.findall(r"\d{5}", ids):
                    assert table.refuse_percent[table.position[food]] > 0, row


def test_a_heaped_spoon_holds_more_than_a_level_one_and_a_scant_one_less():
    """The level spoon is the least of a heaped one and the most of a scant one, and the basis says which it is."""
    level, heaped, scant = (
        weigh_line(read_line(f"{word} tbsp sugar")).grams for word in ("1 level", "1 heaped", "1 scant")
    )
    assert scant.best < level.best < heaped.best and heaped.high > 2 * level.best
    assert "heaped" in heaped.basis and "scant" in scant.basis

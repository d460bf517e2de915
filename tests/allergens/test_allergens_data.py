"""The allergen data: their shape, their sources, and what each market wants as the published facts say it."""

from __future__ import annotations

import csv
import json
import os
from collections import Counter
from pathlib import Path

import pytest

from labeler.allergens import EVERY_MARKET, assess_name
from labeler.allergens.market_lists import MARKETS, duties, exemptions
from labeler.allergens.vocabulary import (
    COMPILED,
    DATA,
    allergen_names,
    compiled,
    digest_of,
    load_vocabulary,
    rows,
    vocabulary_files,
)
from labeler.text.tokens import BREAK, key, tokens

KINDS = {"source", "derivative", "standard", "common", "misleads", "plant", "plain", "generic", "modifier"}
EXEMPTIONS = {"", "refined-oil", "perhaps-refined-oil", "glucose-syrup", "lactitol", "fining"}
COLUMNS = ["phrases", "contains", "possible", "kind", "base", "exemption", "source", "note"]
PUBLISHED = Path(os.environ.get("LABELER_STANDARDS", "")) / "allergens_by_jurisdiction.csv"


def vocabulary_rows() -> list[tuple[str, list[str]]]:
    found = []
    for file in sorted((DATA / "vocabulary").glob("*.csv")):
        with file.open(encoding="utf-8", newline="") as lines:
            read = list(csv.reader(line for line in lines if not line.startswith("#")))
        assert read[0] == COLUMNS, file.name
        found += [(file.name, row) for row in read[1:]]
    return found


def test_every_row_of_the_vocabulary_has_its_columns_filled_with_known_words() -> None:
    """A row names known allergens, a known kind, a known exemption and a source that sources.csv explains."""
    names, sources = allergen_names(), {row["key"] for row in rows("sources.csv")}
    bases = {base for row in rows("swaps.csv") for base in row["bases"].split("|")}
    special = {"", "flour", "claimable", "category", "passes", "head", "seafood"}  # rules of their own, in code
    for file, row in vocabulary_rows():
        assert len(row) == len(COLUMNS), (file, row)
        phrases, contains, possible, kind, base, exemption, source, _ = row
        assert phrases and all(phrase == phrase.strip() for phrase in phrases.split("|")), (file, row)
        assert {pair.partition("=")[0] for pair in f"{contains};{possible}".split(";")} - {""} <= set(names), (
            file,
            row,
        )
        assert kind in KINDS and exemption in EXEMPTIONS and source in sources, (file, row)
        assert base in bases | special, (file, row)
        if kind in {"misleads", "plant", "plain", "modifier"}:
            assert not contains and not possible, (file, row)
        else:
            assert contains or possible, (file, row)


def test_no_phrase_stands_twice_and_none_runs_across_punctuation() -> None:
    """Each phrase has one meaning, whatever its spelling, and can be found at all."""
    counts = Counter(key(phrase) for _, row in vocabulary_rows() for phrase in row[0].split("|"))
    assert [phrase for phrase, count in counts.items() if count > 1] == []
    assert [phrase for phrase in counts if BREAK in tokens(phrase) or not phrase] == []


def test_the_vocabulary_is_as_large_as_it_was_made() -> None:
    """Files that were lost or cut short would shrink it: at least 11,000 phrases, and the shares of their kinds."""
    phrases = load_vocabulary().entries
    kinds = Counter(entry.kind for entry in phrases.values())
    assert len(phrases) > 11_000
    assert kinds["source"] > 3_000 and kinds["common"] > 1_500 and kinds["misleads"] > 500
    fish = {name for entry in phrases.values() for allergen, name in entry.contains if allergen == "fish"}
    cheeses = [phrase for phrase, entry in phrases.items() if entry.base == "cheese"]
    compounds = [entry for entry in set(phrases.values()) if entry.kind in ("common", "standard") and entry.possible]
    assert len(fish) >= 60 and len(cheeses) >= 400 and len(compounds) >= 150


def test_the_compiled_vocabulary_is_that_of_the_files() -> None:
    """vocabulary.json is made of the files as they are: run reference/build_allergen_vocabulary.py after a change."""
    files = vocabulary_files()
    assert json.loads(COMPILED.read_bytes()) == {"digest": digest_of(files), **compiled(files)}


def test_every_source_says_whether_it_was_read() -> None:
    """Each source tells how it was seen, and what has none is marked as common practice."""
    for row in rows("sources.csv"):
        assert row["title"] and row["seen"]
    assert {row["key"]: row["title"] for row in rows("sources.csv")}["common"] == "common practice, no source"


def test_every_market_has_a_duty_for_every_allergen() -> None:
    """No market is silent on an allergen, and exemptions name known markets and allergens."""
    assert set(duties()) == {(market, allergen) for market in MARKETS for allergen in allergen_names()}
    levels = {duty.level for duty in duties().values()}
    assert levels == {"required", "recommended", "regional", "ingredient", "no"}
    for _, market, allergen in exemptions():
        assert market in MARKETS and allergen in allergen_names()


# --- the published facts, row by row ---

COLUMN = {"us": "us", "eu": "eu", "uk": "uk", "ca": "canada", "anz": "au_nz", "codex": "codex_2024"}
# Rows of the published file that stand for several foods or under another name here.
OURS = {"sulphites_10ppm": "sulphites"}
BY_NAME = {
    "spelt_kamut": ("wheat", ("wheat (spelt)", "wheat (khorasan)")),
    "black_walnut_heartnut_california_walnut": ("walnut", ("black walnut", "heartnut", "California walnut")),
}


def published() -> list[dict[str, str]]:
    if not PUBLISHED.is_file():
        return []
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def level(cell: str) -> str:
    """The duty that a cell of the published file states."""
    word = cell.split("(")[0].strip()
    if word.startswith("yes"):
        return "required"
    if word.startswith("wheat"):
        return "no"  # declared under the name of wheat
    if word.startswith("declare as ingredient"):
        return "ingredient"
    return {"regional": "regional", "no": "no", "": "no", "unclear": "required"}[word]


@pytest.mark.skipif(not PUBLISHED.is_file(), reason="LABELER_STANDARDS names no folder with the published facts")
@pytest.mark.parametrize("market", COLUMN)
def test_each_market_wants_what_the_published_file_says(market: str) -> None:
    """Generated from the file: every allergen's duty in the market, species by species where the file tells them apart.

    "unclear" is taken as required, the careful way.
    """
    for row in published():
        wanted = level(row[COLUMN[market]])
        allergen = OURS.get(row["allergen"], row["allergen"])
        if allergen in BY_NAME:
            allergen, names = BY_NAME[allergen]
            for name in names:
                asked = duties()[market, allergen]
                assert (asked.level == "required" and asked.covers(name)) == (wanted == "required"), (allergen, name)
        elif allergen in allergen_names():
            assert duties()[market, allergen].level == wanted, (market, allergen)
            if row[COLUMN[market]].startswith("wheat"):
                assert "wheat" in assess_name(allergen, market=market).allergens
        else:  # coconut, chestnut, shea ...: listed nowhere, so not an allergen here
            assert wanted == "no" or allergen == "other_jp", (market, allergen)


@pytest.mark.skipif(not PUBLISHED.is_file(), reason="LABELER_STANDARDS names no folder with the published facts")
def test_japan_wants_what_the_published_file_says() -> None:
    """Generated from the file: mandatory items, recommended ones, and species where a class is not listed whole."""
    for row in published():
        allergen = OURS.get(row["allergen"], row["allergen"])
        must, may = row["japan_mandatory"], row["japan_recommended"]
        if allergen == "other_jp":
            for item in may.split("; "):
                name = item.strip()
                listed = (
                    duties()["jp", "fish"] if name in ("salmon roe", "salmon", "mackerel") else duties()["jp", name]
                )
                assert listed.level == "recommended" and listed.covers(name), name
        elif allergen in allergen_names() and allergen != "fish":  # of fish Japan lists species, among other foods
            asked = duties()["jp", allergen]
            level = "required" if must and not must.startswith("proposed") else "recommended"
            named = must if level == "required" else may.removeprefix("proposed")
            assert asked.level == (level if named else "no"), allergen
            assert all(asked.covers(species) for species in named.split(";") if ";" in named), allergen


COMPOUNDED = (
    "asafoetida",
    "hing",
    "chili powder",
    "five spice",
    "pumpkin pie spice",
    "xanthan gum",
    "food colouring",
    "natural flavouring",
    "sprinkles",
    "stock cube",
    "thai curry paste",
    "harissa paste",
    "hot sauce",
    "caramel syrup",
    "cherry pie filling",
    "jelly beans",
    "liqueur",
    "fish masala",
)


@pytest.mark.parametrize("name", COMPOUNDED)
def test_a_bought_compound_is_never_silent(name: str) -> None:
    """A powder, blend, flavouring or filling whose carrier the name does not tell has a package to be read (common
    practice, no source; compounded asafoetida by the Indian food standards)."""
    found = assess_name(name, market=EVERY_MARKET)
    assert found.read_the_package and not found.contains


@pytest.mark.parametrize("name", ["pure asafoetida", "juniper berries", "cumin seeds", "dried oregano", "guar gum"])
def test_a_single_plant_asks_nothing(name: str) -> None:
    """A spice or gum that is one plant and nothing else brings no question."""
    found = assess_name(name, market=EVERY_MARKET)
    assert not found.read_the_package and not found.contains and not found.unassessed


@pytest.mark.parametrize(
    ("name", "contains"),
    [
        ("salsa inglesa", {"fish"}),
        ("pista", {"pistachio"}),
        ("til", {"sesame"}),
        ("ashta", {"milk"}),
        ("kataifi", {"wheat"}),
        ("tunnbröd", {"wheat"}),
        ("gräddfil", {"milk"}),
        ("remouladsås", {"egg", "mustard"}),
        ("shito", {"fish", "crustaceans"}),
        ("surmai", {"fish"}),
        ("takoyaki sauce", {"soybean", "wheat"}),
        ("maple butter", set()),
        ("bannock", {"wheat"}),
    ],
)
def test_names_of_many_kitchens(name: str, contains: set[str]) -> None:
    """What cooks of India, Japan, Mexico, the Middle East and the North call a food, and maple butter, which is none
    (common practice, no source)."""
    assert assess_name(name, market=EVERY_MARKET).allergens == contains

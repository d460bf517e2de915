"""The lexicon of kitchen names and the index file that holds its keys."""

from __future__ import annotations

import io
from collections import defaultdict
from pathlib import Path

import build_index
import numpy as np
import pytest

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.search import INDEX_FILE, NameIndex, load_index
from labeler.foods.matching.synonyms import keys_of, load_lexicon, read_lexicon


def test_every_food_of_the_lexicon_is_in_the_table() -> None:
    """Each id, of a meaning or of its alternatives, is a row of the table; the empty id stands for no food."""
    table = load_table()
    for entry in read_lexicon():
        assert entry.food == "" or entry.food in table, entry
        assert all(food in table for food in entry.also), entry
        assert entry.food not in entry.also, entry


def test_the_descriptions_beside_the_ids_are_the_tables_own() -> None:
    """The description that a reader sees in the lexicon file is the table's, so that a slip in an id shows."""
    import csv

    from labeler.foods.matching.synonyms import LEXICON_FILE

    with LEXICON_FILE.open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(line for line in handle if not line.startswith("#")):
            assert row["description"] == (load_table().describe(row["food"]) if row["food"] else ""), row


def test_each_name_means_one_food() -> None:
    """No name stands twice: its words and head lead to one meaning."""
    meant: dict[tuple[str, str], set[str]] = defaultdict(set)
    for entry in read_lexicon():
        for name in entry.names:
            meant[keys_of(name)].add(entry.food)
    assert {key: foods for key, foods in meant.items() if len(foods) > 1} == {}


def test_confidences_are_shares_and_doubtful_meanings_say_why() -> None:
    """Confidence lies in (0, 1]; a meaning below one half says what the cook should know."""
    for entry in read_lexicon():
        assert 0 < entry.confidence <= 1
        assert entry.note or entry.confidence >= 0.5, entry


def test_the_lexicon_is_large_enough_to_matter() -> None:
    """Some 1,600 meanings of some 8,000 names are kept."""
    lexicon = read_lexicon()
    assert len(lexicon) > 1500
    assert sum(len(entry.names) for entry in lexicon) > 7500


def test_the_index_file_is_in_step_with_what_it_is_made_from() -> None:
    """Building the index again from the table and the lists gives every member of the bundled file."""
    made = build_index.build(load_table())
    with np.load(INDEX_FILE, allow_pickle=False) as bundled:
        assert set(bundled.files) == set(made)
        for name, member in made.items():
            assert bundled[name].dtype == member.dtype, name
            assert np.array_equal(bundled[name], member), f"{name}: run python reference/build_index.py"


def test_the_same_index_is_written_as_the_same_bytes(tmp_path: Path) -> None:
    """Writing the bundled members again gives the bundled file, byte for byte."""
    with np.load(INDEX_FILE, allow_pickle=False) as bundled:
        build_index.write({name: bundled[name] for name in bundled.files}, tmp_path / "again.npz")
    assert (tmp_path / "again.npz").read_bytes() == INDEX_FILE.read_bytes()


def test_postings_are_in_row_order_within_a_word() -> None:
    """Every word's foods stand in table order, each once, as the look-ups by halving need."""
    index = load_index()
    for word in ("salt", "raw", "cheese", "milk", "babyfood"):
        rows = index.rows_of(word)
        assert len(rows) > 0
        assert (np.diff(rows) > 0).all(), word


def test_a_broken_index_file_is_refused(tmp_path: Path) -> None:
    """A file that is no index does not load as one."""
    path = tmp_path / "broken.npz"
    buffer = io.BytesIO()
    np.savez(buffer, words=np.zeros(3, dtype=np.uint8))
    path.write_bytes(buffer.getvalue())
    with pytest.raises(KeyError):
        NameIndex(path)


def test_the_head_tells_names_of_the_same_words_apart() -> None:
    """Milk chocolate is a chocolate and chocolate milk a milk."""
    lexicon = load_lexicon()
    chocolate = lexicon.find(["milk", "chocolate"], "chocolate")
    milk = lexicon.find(["milk", "chocolate"], "milk")
    assert chocolate is not None and load_table().describe(chocolate.food) == "Candies, milk chocolate"
    assert milk is not None and load_table().describe(milk.food).startswith("Milk, chocolate")

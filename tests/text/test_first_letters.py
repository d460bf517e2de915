"""Which of many patterns a text may hold, told by the first letters of its words."""

from hypothesis import given
from hypothesis import strategies as st

from labeler.data_files import data_rows
from labeler.parsing.ingredient.facts import WORDS_FILE, _words, read_facts, read_traits
from labeler.text.first_letters import FirstLetters

ROWS = [row["words"].split("|") for row in data_rows(WORDS_FILE)]
SOME_WORDS = sorted({word.strip("*$") for row in ROWS for word in row})
WORDS = st.sampled_from(SOME_WORDS).flatmap(lambda word: st.sampled_from([word, word.upper(), f"un{word}", f"{word}s"]))
TEXTS = st.lists(WORDS | st.text(max_size=4) | st.sampled_from(["-", "'", "é", "ſ", "K"]), max_size=8).map(
    lambda words: " ".join(words)
)


@given(text=TEXTS)
def test_no_row_is_left_out_whose_pattern_is_in_the_text(text: str) -> None:
    """Every row of the facts whose pattern stands in a text is among those that its words' first letters tell."""
    letters = FirstLetters(["" if word.startswith("*") else word for word in words] for words in ROWS)
    told = set(letters.of(text))
    assert all(at in told for at, (_, _, _, pattern) in enumerate(_words()) if pattern.search(text))


@given(text=TEXTS, name=TEXTS)
def test_facts_are_those_of_the_whole_table(text: str, name: str) -> None:
    """The traits of a line are those that a search for every row of the table finds."""
    traits = {value for fact, value, _, pattern in _words() if fact == "trait" and pattern.search(text)}
    assert {trait.value for trait in read_facts.__wrapped__(text, name).traits} == traits
    assert {trait.value for trait in read_traits.__wrapped__(text)} == traits


def test_a_row_of_short_or_foreign_words_may_be_meant_anywhere() -> None:
    """A row that two letters cannot tell is among those of every text, and every row among those of a foreign one."""
    letters = FirstLetters([["ox", "x"], ["élan"], ["ham"]])
    assert letters.of("2 pears") == [0, 1]
    assert letters.of("2 poires pelées") == [0, 1, 2]

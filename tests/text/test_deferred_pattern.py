"""Patterns that are compiled when a text first needs them."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeler.data_files import data_rows
from labeler.parsing.ingredient.line_states import STATES_FILE
from labeler.parsing.instructions.grammar import DATA
from labeler.parsing.row_phrases import first_words, phrases
from labeler.text.deferred_pattern import DeferredPattern, needed_by_any, pattern_when_used, phrase_pattern, words_in

MARKS = [row["phrases"].split("|") for row in data_rows(DATA / "method_marks.csv")]
STATES = [row["phrases"].split("|") for row in data_rows(STATES_FILE)]
SOME_WORDS = sorted({word for row in (*MARKS, *STATES) for phrase in row for word in phrase.split()})
TEXTS = st.lists(st.sampled_from(SOME_WORDS) | st.text(max_size=6), max_size=12).map(" ".join)


@pytest.mark.parametrize("row", range(len(MARKS)))
@given(text=TEXTS)
def test_a_text_is_searched_wherever_the_pattern_is_in_it(row: int, text: str) -> None:
    """A mark of the method is found by the deferred pattern exactly where the whole pattern finds it."""
    pattern = phrase_pattern(MARKS[row], wildcard=r"(?:[\w-]+ ){0,2}[\w-]+")
    found, whole = pattern.search(text), pattern.compiled.search(text)
    assert (found and found.span()) == (whole and whole.span())


@pytest.mark.parametrize("row", range(len(STATES)))
@given(text=TEXTS)
def test_states_are_found_wherever_they_stand(row: int, text: str) -> None:
    """The same of what an ingredient line says of states, for every match in the text."""
    pattern = phrase_pattern(STATES[row], between=r"[\s-]+")
    spans = [found.span() for found in pattern.finditer(text)]
    assert spans == [found.span() for found in pattern.compiled.finditer(text)]


@given(text=TEXTS)
def test_a_text_without_any_needed_word_holds_no_pattern(text: str) -> None:
    """Where a text holds none of the words that some patterns need together, none of them is in it."""
    patterns = [phrase_pattern(row, between=r"[\s-]+") for row in STATES]
    needed = needed_by_any(patterns)
    if needed is not None and needed.isdisjoint(words_in(text)):
        assert not any(pattern.compiled.search(text) for pattern in patterns)


def test_a_pattern_that_needs_no_word_leaves_nothing_to_be_needed_by_any() -> None:
    """Where one pattern may be in any text, no words are needed by any of them."""
    assert needed_by_any([phrase_pattern(["to serve"]), DeferredPattern(r"\d")]) is None


@pytest.mark.parametrize("phrase", sorted({phrase for row in (*MARKS, *STATES) for phrase in row}))
def test_each_phrase_is_found_in_itself(phrase: str) -> None:
    """Every phrase of the tables is found, in capitals too, with words in place of its asterisk."""
    pattern = phrase_pattern([phrase], wildcard=r"(?:[\w-]+ ){0,2}[\w-]+")
    assert pattern.search(phrase.replace("*", "some of the").upper()) is not None


@pytest.mark.parametrize("of", ["serves_word", "makes_word", "eaters"])
def test_a_first_word_stands_in_every_phrase(of: str) -> None:
    """A phrase of a row holds one of the first words of its class."""
    for phrase in phrases()[of]:
        assert not first_words(of).isdisjoint(re.findall(r"\w+", phrase.lower())), phrase


def test_a_class_with_a_sign_for_a_phrase_has_no_first_words() -> None:
    """ "~" stands for "about" and is no word, so that nothing may be taken for sure."""
    with pytest.raises(ValueError, match="about"):
        first_words("about")


def test_nothing_is_compiled_before_it_is_needed() -> None:
    """A pattern that no text needs is never compiled, so that a broken one is only seen when it is used."""
    pattern = DeferredPattern("(", needs=["never"])
    assert pattern.search("what is needed does not stand here") is None
    with pytest.raises(re.error):
        pattern.search("never")


def test_match_and_fullmatch_are_those_of_the_pattern() -> None:
    """At the start, and the whole text."""
    pattern = DeferredPattern(r"for (?:two|three)", needs=["for"])
    assert pattern.match("For two, or more") is not None and pattern.match("enough for two") is None
    assert pattern.fullmatch("for three") is not None and pattern.fullmatch("for three of us") is None
    assert pattern.fullmatch("of three") is None


@given(text=TEXTS)
def test_a_pattern_that_is_compiled_when_used_finds_what_a_compiled_one_does(text: str) -> None:
    """All that is asked of it is answered as by the pattern itself."""
    later, now = (
        pattern_when_used(r"(?P<first>\w+) (to|and)\b", re.IGNORECASE),
        re.compile(r"(?P<first>\w+) (to|and)\b", re.IGNORECASE),
    )
    assert [found.span() for found in later.finditer(text)] == [found.span() for found in now.finditer(text)]
    assert later.sub(r"\2", text) == now.sub(r"\2", text) and later.split(text) == now.split(text)
    assert (later.pattern, later.flags, later.groups) == (now.pattern, now.flags, now.groups)


def test_a_pattern_is_not_compiled_before_anything_is_asked_of_it() -> None:
    """A broken pattern is only seen when it is used, and what no pattern has is no attribute."""
    broken = pattern_when_used("(")
    with pytest.raises(AttributeError):
        broken.unknown  # type: ignore[attr-defined]  # noqa: B018
    with pytest.raises(re.error):
        broken.search("")

"""What a verb says beyond its action, and what a phrase says of each piece, of the cook's own, of "it"."""

from __future__ import annotations

import pytest

from labeler.parsing import read_recipe
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.manner import Manner, manners_of
from labeler.parsing.instructions.model import Instruction
from labeler.parsing.instructions.parser import read_method


def read(text: str) -> tuple[Instruction, ...]:
    part = read_recipe(f"## Dish\n- 500 g pork\n- 1 onion\n- 1 l stock\n- 5 g salt\n> {text}").parts[0]
    return read_method(part, market="us").instructions


@pytest.mark.parametrize("manner", list(Manner), ids=lambda manner: manner.value)
def test_each_manner_is_told_by_the_words_of_its_set(manner: Manner) -> None:
    """Each word of the set, as verb or as particle, tells the manner, and a word of no set tells none."""
    of_particle = manner in (Manner.BRINGS_IN, Manner.GOES_OVER)
    for word in grammar(manner.value):
        assert manner in (manners_of("", word) if of_particle else manners_of(word, ""))
    assert manners_of("zorch", "zorch") == frozenset()


@pytest.mark.parametrize(
    ("text", "manner"),
    [
        ("sear the pork 1 minute", Manner.SEARS),
        ("mash the onion", Manner.MASHES),
        ("pour over the stock", Manner.GOES_OVER),
        ("stir in the stock", Manner.BRINGS_IN),
    ],
)
def test_the_verb_tells_the_manner(text: str, manner: Manner) -> None:
    """A sentence gives its instruction what its verb says beyond the action."""
    assert manner in read(text)[0].manners


def test_a_phrase_says_each_and_your() -> None:
    """ "Each fillet" is every single piece; "your potatoes" the cook has apart from the recipe."""
    (season,) = read("season each chop with the salt")
    assert [one.each for one in season.mentions] == [True, False]
    (keep,) = read("keep the stock for your potatoes")
    assert [one.yours for one in keep.mentions] == [False, True]


def test_it_is_said_where_the_word_stands() -> None:
    """The clause that says "it" says it; the verb before, which shares its object, and "half" do not."""
    first, last = read("strain and chill it")
    assert (first.mentions[0].name, first.mentions[0].says_it) == ("it", False)
    assert (last.mentions[0].name, last.mentions[0].says_it) == ("it", True)
    assert not any(one.says_it for one in read("pour half over the pork")[0].mentions)

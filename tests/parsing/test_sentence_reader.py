"""What becomes of each word of a sentence: an instruction, evidence of one, or told as unread."""

import re

from hypothesis import given
from hypothesis import strategies as st

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Mark, Role
from labeler.parsing.instructions.parser import read_sentences

FOODS = frozenset("onion salt butter flour egg milk beef rice leek oil water garlic tomato crumb fish".split())
JOINTS = grammar("conjunction") | {"then"}
WORDS = (
    "chop fry boil drain stir add pour discard keep roast whisk fold rest tip use lift zorch is are was it them the a "
    "half of some onions rice butter oil water eggs pan bowl sieve oven into in over with from until when while if "
    "before after to and or then not golden soft minutes 10 2 hours gently well which that you left , ; . ( ) :"
).split()


def lost(text):
    """The words of a paragraph that stand in no instruction, in no evidence and in nothing unread."""
    found = read_sentences(text, foods=FOODS, pairs=frozenset(), market="uk")
    spans = [(one.span.start, one.span.end) for one in found.instructions]
    spans += [(one.start, one.end) for one in found.evidence]
    for one in found.unread:
        begins = text.find(one.text, one.span.start)
        spans.append((begins, begins + len(one.text)))
    words = (hit for hit in re.finditer(r"[^\W\d_]+", text) if hit[0].lower() not in JOINTS)
    return [hit[0] for hit in words if not any(start <= hit.start() and hit.end() <= end for start, end in spans)]


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=24).map(" ".join))
def test_every_word_is_an_instruction_evidence_or_unread(text):
    """No word of the method vanishes, in whatever order the words stand."""
    assert lost(text) == []


def test_words_that_are_taken_apart_are_evidence():
    """What tells which food, how early or what for stands in no clause of its own and is not lost."""
    for text in (
        "Discard the water the leeks were boiled in.",
        "Drain the rice 2 minutes before it is done.",
        "Use the oil to fry the onions.",
        "The next morning add the cream.",
        "Tip the rice into a colander to drain.",
        "Whisk until pale, as it cools.",
    ):
        assert lost(text) == [], text


def test_a_clause_that_is_no_act_is_evidence():
    """An end, a condition and an aside are kept as what tells of an act."""
    text = "Fry the onions until golden, if you like. Lovely with fish."
    found = read_sentences(text, foods=FOODS, pairs=frozenset(), market="uk")
    told = [text[one.start : one.end] for one in found.evidence]
    assert [one.action for one in found.instructions] == ["pan-fry"]
    assert told[:2] == ["until golden", "if you like"]


def test_a_removal_that_something_is_done_before_is_done_next():
    """ "Let it cool before lifting the fish out" lifts it out; "before taking from the tin" parts nothing."""
    for text, deeds in (
        ("Let the fish cool before lifting the fish out and setting it aside.", ["cool", "lift", "keep"]),
        ("Soak the rice overnight before draining.", ["soak", "drain"]),
        ("Cool 5 minutes before removing from the tin.", ["cool"]),
    ):
        found = read_sentences(text, foods=FOODS, pairs=frozenset(), market="uk")
        assert [one.action for one in found.instructions] == deeds, text


def test_words_of_two_that_tell_how_are_no_food():
    """ "Brown all over in the oil" names the oil alone; a Dutch oven is no oven; fat is skimmed, and not skinned."""

    def first(text):
        return read_sentences(text, foods=FOODS, pairs=frozenset(), market="us").instructions[0]

    assert [one.name for one in first("Brown all over in the oil.").mentions] == ["oil"]
    assert Mark.IN_OVEN not in first("Melt the butter in a large Dutch oven.").marks
    assert first("Heat the oil in a Dutch oven.").action == "heat"
    assert first("Skin any fat off the top of the stock.").action == "skim"


def test_a_bare_amount_is_so_much_of_what_is_in_hand():
    """ "Take out 50 ml" keeps so much of it; "that's your sauce" says what that is called from now on."""
    found = read_sentences(
        "Take out 50 ml and hide it in the fridge, that's your sauce.", foods=FOODS, pairs=frozenset(), market="us"
    )
    taken, kept = found.instructions
    assert [one.action for one in (taken, kept)] == ["keep", "keep"] and kept.names == "sauce"
    assert [(one.name, one.quantity.millilitres.best) for one in taken.mentions] == [("it", 50.0)]


def test_what_only_says_what_something_is_names_no_object():
    """ "Bin the brine, it's been with raw fish" throws no fish away."""
    (found,) = read_sentences(
        "Bin the brine, it's been with raw fish.", foods=FOODS, pairs=frozenset(), market="us"
    ).instructions
    assert [one.name for one in found.mentions] == ["brine"]


def test_a_list_of_what_is_left_out_goes_on_to_its_end():
    """ "Except the rum, milk and rice: butter" leaves three out; "juices and all" is not everything."""
    text = "Add everything except the rum, milk and rice: butter, juices and all."
    (found,) = read_sentences(text, foods=FOODS, pairs=frozenset(), market="us").instructions
    assert [one.name for one in found.mentions if one.role is Role.EXCEPT] == ["rum", "milk", "rice"]
    assert [one.name for one in found.mentions if one.role is Role.OBJECT] == ["everything", "butter", "juices"]

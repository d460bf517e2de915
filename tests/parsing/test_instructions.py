"""Sentences of a method, as cooks write them, read into instructions."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from method_help import only, read, steps

from labeler.parsing.instructions.actions import actions
from labeler.parsing.instructions.model import Mark, Mood, Role
from labeler.parsing.numbers import tidy

VERBS = sorted(verb for one in actions().values() for verb in one.verbs)


@pytest.mark.parametrize(
    ("text", "actions"),
    [
        ("soak 8 hours, then drain", ["soak", "drain"]),
        ("marinate 4 to 6 hours in the fridge, then drain", ["marinate", "drain"]),
        ("Brine the chicken overnight. Drain, pat dry and roast at 200 °C for 1 1/4 hours.",
         ["brine", "drain", "pat", "roast"]),
        ("bring to the boil, take off the heat, leave overnight", ["heat", "preheat", "stand"]),
        ("boil the potatoes 20 minutes, then drain", ["boil", "drain"]),
        ("steam the mussels 5 minutes, then discard the shells", ["steam", "discard"]),
        ("brown the meat and pour off the fat", ["pan-fry", "drain"]),
        ("drain and rinse", ["drain", "rinse"]),
        ("toss with the salt and leave 30 minutes, then squeeze dry", ["mix", "stand", "squeeze"]),
        ("simmer, stirring now and then, 20 minutes", ["simmer"]),
        ("bake, covered, for 1 hour", ["bake"]),
        ("put the roast in the oven for 2 hours", ["bake"]),
        ("strain, discarding the solids", ["strain", "discard"]),
        ("shape into 12 cakes and fry 4 minutes a side", ["make", "pan-fry"]),
        ("simmer until thick", ["simmer"]),
        ("cook until set", ["cook"]),
        ("mix, cover and chill for 1-2 hours", ["mix", "top", "stand"]),
        ("let it cool; serve cold", ["cool", "serve"]),
        ("deep-fried at 180 °C until golden", ["deep-fry"]),
        ("Marinated overnight and drained", ["marinate", "drain"]),
        ("boil hard 3 min. then skim off the fat", ["boil", "skim"]),
    ],
)  # fmt: skip
def test_a_sentence_falls_into_its_steps(text, actions):
    """Every clause with a known verb is a step, in order; manner and nouns that look like verbs are not."""
    assert [step.action for step in steps(text)] == actions


@pytest.mark.parametrize(
    ("text", "action", "name", "mentions"),
    [
        ("keep the liquid as brine", "keep", "brine", {"liquid"}),
        ("catch the drippings in the gravy", "catch", "", {"drippings", "gravy"}),
        ("add the drippings to the sauce", "add", "", {"drippings", "sauce"}),
        ("keep 1 cup of the cooking water", "keep", "", {"cooking water"}),
        ("reserve the marinade for the glaze", "keep", "", {"marinade"}),
    ],
)
def test_what_is_kept_has_a_name_and_a_goal(text, action, name, mentions):
    """What is kept is named, and where it goes is said."""
    one = only(text)
    assert (one.action, one.names) == (action, name)
    assert mentions <= {mention.name for mention in one.mentions}


def objects(text: str) -> list[tuple[str, Role]]:
    return [(mention.name, mention.role) for mention in only(text).mentions]


def test_objects_are_the_nouns():
    """What is acted on is named, without times and articles."""
    assert objects("discard the allspice, cinnamon and cloves") == [
        ("allspice", Role.OBJECT), ("cinnamon", Role.OBJECT), ("cloves", Role.OBJECT)
    ]  # fmt: skip
    assert objects("simmer the milk with the haddock 10 minutes") == [("milk", Role.OBJECT), ("haddock", Role.WITH)]
    assert only("makes 12 cakes").pieces.best == 12


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("makes 12 cakes", "cake"),
        ("makes 4 small jars of about 200 g each", "jar"),
        ("shape into 8 (60 g) crab cakes", "cake"),
        ("cut into 12 slices for the boxes", "slice"),
        ("makes 6", ""),
    ],
)
def test_what_is_made_has_a_noun(text, piece):
    """Pieces are called by the last word of what is made, in the singular."""
    assert only(text).piece == piece


@pytest.mark.parametrize(
    ("text", "nearest"),
    [("marrinate overnight", "marinate"), ("simer 20 minutes", "simmer"), ("zonk the fleem", "a verb first")],
)
def test_what_is_not_understood_names_the_nearest_form(text, nearest):
    """A clause without a known verb comes back whole, with the verb that it looks most like."""
    (unread,) = read(text).unread
    assert unread.text == text and unread.nearest.startswith(nearest)


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=200))
def test_any_text_is_read_or_handed_back(text):
    """No text raises; where there are letters that are no written line break, something is a step or is reported."""
    reading = read(text)
    assert reading.instructions or reading.unread or not any(letter.isalnum() for letter in tidy(text))


_GLUE = (
    "the and then 1/2 20 minutes °C to by half 350 F until ml , . of a third oil in left weighs or brine 5 % (".split(
        " "
    )
)
words = st.sampled_from([*VERBS[::7], *_GLUE])


@settings(deadline=None, max_examples=300)
@given(st.lists(words, max_size=25))
def test_any_kitchen_words_are_read_or_handed_back(chosen):
    """Kitchen words in any order neither raise nor give bounds that are upside down or shares outside 0 to 1."""
    for step in read(" ".join(chosen)).instructions:
        if step.share is not None:
            assert 0.0 <= step.share.low <= step.share.high <= 1.0
        if step.minutes is not None:
            assert step.minutes.low >= 0.0


@pytest.mark.parametrize(
    "text", ["and then gently " * 3000, "1/" * 3000, "about " * 3000, "(" * 9000, "by half " * 900]
)
def test_long_nonsense_is_kept(text):
    """Text that means nothing is reported whole, however long it is; a pattern that runs away would never end here."""
    reading = read(text)
    assert reading.instructions or reading.unread


@pytest.mark.parametrize(
    ("text", "lost", "actions"),
    [
        ("zorch the salt into the pork and leave overnight", "zorch the salt into the pork", ["stand"]),
        ("simmer 20 minutes, then zorch the lot", "then zorch the lot", ["simmer"]),
        ("roast 1 hour, zorch the juices, rest 10 minutes", "zorch the juices", ["roast", "stand"]),
    ],
)
def test_a_clause_that_is_not_understood_is_handed_back(text, lost, actions):
    """What stands where a deed would and is none that is known is not swallowed by the deed beside it."""
    reading = read(text)
    assert [one.text for one in reading.unread] == [lost]
    assert [step.action for step in reading.instructions] == actions


def test_hot_stock_that_is_stirred_in_for_a_time_goes_on_cooking():
    """A ladle of hot stock at a time, stirring for 20 minutes, is simmering and no lying in the cold."""
    (step,) = read("Add the hot stock a ladle at a time, stirring, for 20 minutes until absorbed").instructions
    assert step.action == "simmer" and step.minutes.best == 20.0


@pytest.mark.parametrize("text", ["Do not drain the beans.", "Do not let it boil.", "Don't rinse."])
def test_what_is_denied_is_one_instruction_that_is_not_done(text):
    """A denial reaches the verb behind it, also through "let"; "do" is no deed."""
    (step,) = read(text).instructions
    assert step.mood is Mood.NOT


def test_a_list_goes_on_in_its_role():
    """ "With the oil, the vinegar and salt": what follows the comma comes to the food too."""
    assert objects("toss the leaves with the oil, the vinegar and salt") == [
        ("leaves", Role.OBJECT), ("oil", Role.WITH), ("vinegar", Role.WITH), ("salt", Role.WITH)
    ]  # fmt: skip


def test_what_is_stirred_in_is_no_object_of_the_verb_before_it():
    """ "Blend and stir in the cream": what is there is blended; "drain and rinse the beans": both are of the beans."""
    blend, stir = read("Blend and stir in the cream").instructions
    drain, rinse = read("Drain and rinse the beans").instructions
    assert blend.mentions == () and stir.mentions and drain.mentions == rinse.mentions


@pytest.mark.parametrize("said", ["of choice", "of your choice", "of your own choosing"])
def test_what_the_cook_may_choose_is_what_it_is(said):
    """ "The fat of your choice" names the fat, and no further food."""
    step = only(f"Add the fat {said} to the bowl.")
    assert [mention.name for mention in step.mentions if mention.role is Role.OBJECT] == ["fat"]


@pytest.mark.parametrize("words", ["of", "from", "with", "out of"])
def test_what_is_made_of_foods_has_them_as_its_objects(words):
    """ "Make a dressing of the oil and the vinegar" mixes both and gives the mixture its name."""
    mix, _ = read(f"Make a dressing {words} the oil and the vinegar and pour it over the beans").instructions
    assert (mix.action, mix.names, [one.name for one in mix.mentions]) == ("mix", "dressing", ["oil", "vinegar"])


def test_a_lid_that_is_not_there_covers_nothing():
    """ "Without a lid" names a lid, and the pot is open."""
    assert Mark.COVERED not in only("Simmer without a lid for 20 minutes").marks
    assert Mark.COVERED in only("Simmer with a lid for 20 minutes").marks


@pytest.mark.parametrize("text", ["Tip the rice into a colander to drain.", "Drain the rice in a colander."])
def test_what_goes_into_a_colander_to_drain_is_drained(text):
    """The purpose is the deed, and the colander is no food."""
    step = only(text)
    assert (step.action, [one.name for one in step.mentions]) == ("drain", ["rice"])


@pytest.mark.parametrize("text", ["The cream and the salt are stirred in.", "The oil, the salt are mixed in."])
def test_what_is_listed_before_a_passive_is_all_done(text):
    """A noun behind "and" opens no clause that tells of the noun before it."""
    assert len(only(text).mentions) == 2

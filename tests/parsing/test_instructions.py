"""Sentences of a method, as cooks write them, read into instructions."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.parsing.document import read_recipe
from labeler.parsing.instructions.actions import actions
from labeler.parsing.instructions.model import Instruction, Mood, Role
from labeler.parsing.instructions.parser import Method, read_method
from labeler.parsing.model import Handling, Part
from labeler.parsing.numbers import tidy

VERBS = sorted(verb for one in actions().values() for verb in one.verbs)


def read(text: str, *, market: str = "us") -> Method:
    return read_method(Part("", (), (Handling(text, 1, 0),), 1), market=market)


def steps(text: str) -> list[Instruction]:
    method = read(text)
    assert not method.unread, method.unread
    return [one for one in method.instructions if one.mood in (Mood.DO, Mood.MAY)]


def only(text: str) -> Instruction:
    (step,) = steps(text)
    return step


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
    ("text", "low", "best", "high"),
    [
        ("simmer 20 minutes", 20, 20, 20),
        ("simmer 20-25 minutes", 20, 22.5, 25),
        ("marinate 4 to 6 hours", 240, 300, 360),
        ("bake 1 hour 20 minutes", 80, 80, 80),
        ("bake 1½ h", 90, 90, 90),
        ("simmer half an hour", 30, 30, 30),
        ("fry 4 minutes a side", 8, 8, 8),
        ("fry 3 minutes on each side", 6, 6, 6),
        ("pickle 3 days", 4320, 4320, 4320),
        ("soak overnight", 480, 720, 960),
        ("soak in the fridge over night", 480, 720, 960),
        ("cure for 2 weeks", 20160, 20160, 20160),
        ("roast 20 minutes at 220 °C, then 1 hour at 180 °C", 80, 80, 80),
        ("marinate 2 hours or overnight", 120, 420, 960),
    ],
)
def test_times(text, low, best, high):
    """Times are minutes; ranges keep both ends; "overnight" is 12 hours, 8 to 16."""
    minutes = steps(text)[0].minutes
    assert (minutes.low, minutes.best, minutes.high) == pytest.approx((low, best, high))


def test_about_an_hour_is_an_interval():
    """A time that is "about" has room on both sides."""
    minutes = only("simmer for about 60 minutes").minutes
    assert minutes.low < 60 < minutes.high


@pytest.mark.parametrize(
    ("text", "celsius", "core"),
    [
        ("roast at 200 °C", 200, None),
        ("roast at 375 °F", 190.6, None),
        ("bake at 350F for 25 minutes", 176.7, None),
        ("bake at 180C fan", 200, None),
        ("bake at 375 degrees", 190.6, None),
        ("bake at gas mark 4", 180.6, None),
        ("bake at 180 °C/350 °F", 180, None),
        ("roast at 375 °F to 135 °F in the middle", 190.6, 57.2),
        ("roast until 74 °C inside", None, 74),
        ("roast at 200 °C to an internal temperature of 160 °F", 200, 71.1),
        ("grill until a thermometer reads 63 °C", None, 63),
    ],
)
def test_heat_of_the_oven_and_of_the_middle(text, celsius, core):
    """Fahrenheit and Celsius are told apart, and the oven's heat from that of the food."""
    step = steps(text)[0]
    assert (step.celsius.best if step.celsius else None) == (pytest.approx(celsius, abs=0.1) if celsius else None)
    assert (step.core.best if step.core else None) == (pytest.approx(core, abs=0.1) if core else None)


@pytest.mark.parametrize(
    ("text", "action", "grams", "millilitres", "share"),
    [
        ("weighs 1.4 kg", "weigh", 1400, None, None),
        ("it should weigh 1.36 kg", "weigh", 1360, None, None),
        ("cooked weight 1,2 kg", "weigh", 1200, None, None),
        ("final weight: 3 lb", "weigh", 1360.8, None, None),
        ("reduce to 700 ml", "reduce", None, 700, None),
        ("boil down to 2 cups", "reduce", None, 473.2, None),
        ("reduce by half", "reduce", None, None, 0.5),
        ("reduce to a third", "reduce", None, None, 1 / 3),
        ("reduced by a third", "reduce", None, None, 2 / 3),
        ("reduce by 40 %", "reduce", None, None, 0.6),
        ("boil down from 5 pints to 2", "reduce", None, None, 0.4),
        ("cook down until it weighs 900 g", "simmer", 900, None, None),
        ("loses 20 % of its weight", "lose", None, None, 0.8),
        ("120 g of oil is left", "left", 120, None, None),
        ("2 cups of brine left", "left", None, 473.2, None),
    ],
)
def test_what_a_step_ends_at(text, action, grams, millilitres, share):
    """Weights, volumes and shares; "by a third" and "to a third" are not the same."""
    step = only(text)
    assert step.action == action
    for value, expected in ((step.grams, grams), (step.millilitres, millilitres), (step.share, share)):
        assert (value.best if value else None) == (pytest.approx(expected, rel=1e-3) if expected else None)


def test_cups_are_those_of_the_market():
    """A cup is 236.6 mL in the United States and 250 mL in Australia."""
    assert read("reduce to 2 cups", market="anz").instructions[0].millilitres.best == pytest.approx(500)
    assert read("reduce to 2 cups").instructions[0].millilitres.best == pytest.approx(473.2, abs=0.1)


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


def test_water_and_salt_of_the_sentence():
    """Water and salt that a sentence adds are not what the step ends at."""
    step = only("cook in 5 l of boiling water with 36 g salt 10 minutes")
    assert (step.water.best, step.salt.best, step.minutes.best) == pytest.approx((5000, 36, 10))
    assert step.millilitres is None and step.grams is None


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


def test_a_number_without_sense_is_reported():
    """A figure that nothing explains is not passed over."""
    reading = read("simmer 5 zonks")
    assert reading.instructions[0].action == "simmer" and reading.unread[0].text == "5 zonks"


@pytest.mark.parametrize(
    "text", ["boil 2 eggs", "layer with the next 6 ingredients", "bake in a 9x13 inch tin", "serves 4"]
)
def test_a_number_of_things_is_explained_by_them(text):
    """How many of a food, of a vessel's inches or of servings is no figure without sense."""
    assert read(text).unread == ()


def test_a_typo_of_a_unit_of_time_is_mended_and_reported():
    """ "20 mintes" are 20 minutes, and that they were read so is said."""
    reading = read("bake 20 mintes")
    (slip,) = reading.unread
    assert reading.instructions[0].minutes.best == 20.0 and reading.instructions[0].mentions == ()
    assert (slip.text, slip.nearest, slip.mended) == ("20 mintes", "20 minutes", True)


def test_a_typo_of_a_verb_is_mended_and_reported():
    """What was mended is an instruction like any other, and that it was read so is said."""
    reading = read("marrinate overnight")
    assert [one.action for one in reading.instructions] == ["marinate"] and reading.unread[0].mended


@pytest.mark.parametrize(
    ("text", "actions"),
    [
        ("Drained and rinsed, the beans go into the pot.", ["drain", "rinse", "add"]),
        ("The rice, boiled for 10 minutes and drained, goes in.", ["boil", "drain", "add"]),
        ("Add the rice, rinsed and drained, to the pot.", ["rinse", "drain", "add"]),
        ("Cooked rice is folded in.", ["add"]),
        ("heat gently, stirring, until thick", ["heat"]),
    ],
)
def test_a_participle_is_a_deed_of_the_food_it_stands_beside(text, actions):
    """What was done to a food before it goes in is done to that food, before; "cooked rice" is a food."""
    reading = read(text)
    assert [one.action for one in reading.instructions] == actions
    assert all(
        one.mentions and one.mentions[0] == reading.instructions[0].mentions[0] for one in reading.instructions[:-1]
    )


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


@pytest.mark.parametrize(
    ("text", "actions"),
    [
        ("let the meat lie in the salt for 24 hours, brush off the cure", ["stand", "pat"]),
        ("let the meat sit in the salt for 2 days", ["stand"]),
        ("put the roast in the oven for 2 hours", ["bake"]),
        ("dredge in flour and shake off the excess flour", ["coat", "shake-off"]),
        ("wring out the courgettes", ["squeeze"]),
        ("blanch 2 minutes, then plunge into iced water", ["blanch", "add"]),
        ("lift out of the oil", ["lift"]),
        ("boil the water and salt", ["boil"]),
        ("brine the chicken, breast side down, overnight", ["brine"]),
    ],
)
def test_putting_lying_and_squeezing(text, actions):
    """Lying in salt for a time is standing there, and putting into the oven for a time is baking."""
    assert [step.action for step in steps(text)] == actions


@pytest.mark.parametrize(
    ("said", "impossible"),
    [
        ("bake -20 minutes", "-20 minutes"), ("bake at 9000 C for 10 minutes", "9000 C"),
        ("reduce to -200 g", "-200 g"),
        ("boil 90000 hours", "90000 hours"), ("soak at -200 C", "-200 C"),
    ],
)  # fmt: skip
def test_what_no_kitchen_has_is_reported_and_not_used(said, impossible):
    """A time below nothing, a heat beyond any fire and years of boiling are problems; no figure of them is taken."""
    reading = read(said)
    assert [one.text for one in reading.unread] == [impossible]
    (step,) = reading.instructions
    assert step.celsius is None and step.grams is None and (step.minutes is None or step.minutes.best == 10.0)


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("simmer 15 -20 minutes", 17.5), ("simmer - 20 minutes", 20.0), ("freeze at -18 C for 2 days", 2880.0)],
)
def test_a_dash_that_joins_is_no_sign(said, minutes):
    """A range, a dash between words and the cold of a freezer stand as they are."""
    reading = read(said)
    assert reading.unread == () and reading.instructions[0].minutes.best == minutes


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("Roast 1 hour 20 at 200 °C", 80.0), ("Roast for 2 hours 15, basting", 135.0), ("Simmer 2 hours at 90 °C", 120.0)],
)
def test_minutes_past_the_hour_need_no_unit(said, minutes):
    """ "1 hour 20" is eighty minutes."""
    assert read(said).instructions[0].minutes.best == minutes


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("Mix the flour and warm milk", ["flour", "warm milk"]),
        ("Mix the flour and dry yeast", ["flour", "dry yeast"]),
        ("Drain the noodles and dry them", ["noodles"]),
    ],
)
def test_a_word_that_says_how_a_food_is_is_no_deed(said, names):
    """Behind an article, "and warm milk" goes on with the list; "and dry them" is done."""
    recipe = read_recipe(f"# D\n- 200 g flour\n- 1 cup milk\n- 7 g dry yeast\n- 300 g noodles\n> {said}.\n")
    first = read_method(recipe.parts[0], market="us").instructions[0]
    assert [one.name for one in first.mentions if one.role is Role.OBJECT] == names


@pytest.mark.parametrize(
    ("said", "share"),
    [
        ("Soften the leeks in half the butter", None),
        ("Fry the onions in a third of the oil for 5 minutes", None),
        ("Reduce to half the volume", 0.5),
        ("Simmer until reduced by a third", 2 / 3),
    ],
)
def test_a_part_of_a_food_is_no_yield(said, share):
    """ "In half the butter" says how much goes in; "to half the volume" says what is left."""
    step = read(said).instructions[0]
    assert (step.share.best if step.share else None) == (pytest.approx(share) if share else None)


def test_hot_stock_that_is_stirred_in_for_a_time_goes_on_cooking():
    """A ladle of hot stock at a time, stirring for 20 minutes, is simmering and no lying in the cold."""
    (step,) = read("Add the hot stock a ladle at a time, stirring, for 20 minutes until absorbed").instructions
    assert step.action == "simmer" and step.minutes.best == 20.0


def test_a_verb_that_ends_like_a_manner_is_a_deed():
    """ "Lift out, shred and toss" is three deeds; "simmer, covered, 20 minutes" is one."""
    assert [step.text for step in read("Lift out, shred and toss with the dressing").instructions][1] == "shred"
    assert len(read("simmer, covered, 20 minutes").instructions) == 1


@pytest.mark.parametrize(
    ("text", "actions"),
    [
        ("The vinegar is heated with the sugar and is poured over the onions.", ["heat", "add"]),
        ("They are rinsed and patted dry.", ["rinse", "pat"]),
        ("The legs are put in and cooked gently for 3 hours.", ["add", "cook"]),
        ("The stock is added and the gravy is simmered for 5 minutes.", ["add", "simmer"]),
        ("Pour the broth through a sieve and throw away what stays in it.", ["strain", "discard"]),
        ("Turn the potatoes in the hot fat.", ["mix"]),
        ("Roll it in the breadcrumbs.", ["coat"]),
        ("Stir in the oats and what is left of the sugar.", ["add"]),
    ],
)
def test_passives_and_particles_are_deeds_like_any_other(text, actions):
    """Each passive is its own deed in order; a preposition behind the object may be part of the verb."""
    assert [step.action for step in steps(text)] == actions


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


@pytest.mark.parametrize(
    ("said", "objects"),
    [
        ("Put in a large pot with the onions", ["onions"]),
        ("Put in the onions", ["onions"]),
        ("Stir in the pan juices", ["pan juices"]),
    ],
)
def test_a_vessel_behind_a_particle_is_where_food_is_put(said, objects):
    """ "Put in a pot" puts food into it; "put in the onions" puts them in."""
    one = read(said).instructions[0]
    things = [m.name for m in one.mentions if m.role in (Role.OBJECT, Role.WITH)]
    assert things == objects and (one.vessel == "large pot") == ("pot" in said)

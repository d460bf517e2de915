"""Which words of a sentence are verbs, and which are foods, states and places."""

from __future__ import annotations

import pytest
from method_help import read, steps

from labeler.parsing.document import read_recipe
from labeler.parsing.instructions.model import Role
from labeler.parsing.instructions.parser import read_method


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


@pytest.mark.parametrize("said", ["The leeks go in a wide pan.", "Everything but the leeks goes in the blender."])
def test_what_goes_in_a_vessel_is_put_there(said):
    """ "Goes in the blender" is a deed: without its particle the verb would say nothing."""
    assert [step.action for step in steps(said)] == ["add"]


@pytest.mark.parametrize(
    ("text", "action"),
    [("Now the rice out of the bowl and toss it well.", "mix"), ("Toss the stalks out.", "discard")],
)
def test_a_particle_of_a_verb_stands_behind_it(text, action):
    """ "Out of the bowl, and toss" tosses: what stands before a verb is none of its words."""
    assert [one.action for one in read(text).instructions] == [action]


def test_behind_a_vessel_another_thing_may_be_named():
    """ "The rice out of the bowl and the broth": the broth comes out of nothing."""
    (one,) = read("Add the rice out of the bowl and the broth.").instructions
    assert {mention.name: mention.role for mention in one.mentions}["broth"] is Role.OBJECT

"""The share of each ingredient that is in the dish, and the object of the method that tells it."""

from __future__ import annotations

import json

import pytest
from hand_flows import RIGHT, boxes, chicken, pasta, roast
from hand_kitchen import Cooked, Hand, exactly
from hypothesis import given, settings
from hypothesis import strategies as st
from told_dishes import kept as kept_in

from labeler.cooking.kept import Place, kept_shares
from labeler.flow.model import Fate, FromLine
from labeler.flow_diagram.as_json import method_object

LINES = ["2 kg water", "300 g flour", "40 g salt", "90 g butter", "1 onion"]


def shares(made: Cooked) -> dict[str, float | None]:
    """Best kept share by the name of the line, of all parts."""
    found = kept_shares(made.weighed, made.dish, made.flow, made.carried)
    named: dict[str, float | None] = {}
    for place, kept in found.items():
        if place.listed:
            named[made.weighed.parts[place.part].lines[place.index].line.text] = None if kept is None else kept.best
    return named


@given(st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5))
@settings(max_examples=25, deadline=None)
def test_what_is_parted_is_not_kept(parted: list[float]) -> None:
    """An ingredient of which a share leaves is kept for the rest of it, whatever else leaves."""
    hand = Hand("\n".join(LINES))
    pot = hand.part()
    names = [line.line.name for line in hand.weighed.parts[0].lines]
    done = pot.do("mix", "mix", *(FromLine(at) for at in range(5)), off=dict(zip(names, parted, strict=True)))
    pot.leave(pot.off(done), Fate.TRADE)
    pot.served(done)
    made = hand.finish(pot.title)
    for share, gone in zip(shares(made).values(), parted, strict=True):
        assert share == pytest.approx(1.0 - gone, abs=1e-6)


def test_the_interval_holds_the_best_share_and_stays_a_share() -> None:
    """Low, best and high are in order, between nothing and all."""
    for make in RIGHT.values():
        made = make()
        for kept in kept_shares(made.weighed, made.dish, made.flow, made.carried).values():
            assert kept is not None and 0.0 <= kept.low <= kept.best <= kept.high <= 1.0


def test_dry_matter_counts_and_water_does_not() -> None:
    """A roast that loses a fifth of its water has all its dry matter; the salt of the brine is gone with it."""
    kept = shares(roast())
    assert kept["1.8 kg pork shoulder, boneless"] == pytest.approx(1.0, abs=0.01)
    assert kept["120 g coarse salt"] == pytest.approx(0.12, abs=0.01)
    assert kept["4 bay leaves"] == 0.0


def test_what_has_no_dry_matter_is_followed_by_its_mass() -> None:
    """Water is kept by weight, as its dry matter says nothing."""
    hand = Hand("- 1 kg water\n- 100 g flour")
    pot = hand.part()
    done = pot.do("boil", "boil", FromLine(0), FromLine(1), air={"water": {"water": 0.4}})
    pot.served(done)
    assert shares(hand.finish(pot.title))["1 kg water"] == pytest.approx(0.6, abs=0.01)


def test_parts_are_followed_into_the_dish() -> None:
    """What counts is the dish: the lamb is in the box, less the fat that dripped; a line that takes a part has all."""
    kept = shares(boxes())
    assert kept["900 g leg of lamb, boneless"] == pytest.approx(0.91, abs=0.03)
    assert kept["300 g couscous"] == pytest.approx(1.0)
    assert kept["all of the Couscous"] == pytest.approx(1.0)


def test_a_line_without_weight_is_all_or_nothing_or_unknown() -> None:
    """What nobody could weigh is in the dish, or it left; where both may be, nobody knows."""
    for off, known in (({"": 0.0}, 1.0), ({"": 1.0}, 0.0)):
        hand = Hand("- 500 g flour\n- some zzyzzx")
        pot = hand.part()
        first = pot.do("mix", "mix", FromLine(1))
        if known:
            pot.served(pot.do("mix", "mix", first, FromLine(0), off=off))
        else:
            pot.leave(first, Fate.NAMED)
            pot.served(FromLine(0))
        made = hand.finish(pot.title)
        kept = kept_shares(made.weighed, made.dish, made.flow, made.carried)[Place(0, 1)]
        assert kept is not None and kept.best == known


@pytest.mark.parametrize("name", RIGHT)
def test_the_object_of_the_method_has_every_line_and_step(name: str) -> None:
    """All lines in the order of the file, all steps numbered through; it is plain JSON."""
    made = RIGHT[name]()
    found = method_object(made.weighed, made.dish, made.flow, made.carried)
    assert json.loads(json.dumps(found)) == found
    assert list(found) == ["title", "steps", "ingredients", "unlisted", "streams", "readings", "unread", "problems"]
    lines = [line.line.text for part in made.weighed.parts for line in part.lines]
    assert [one["text"] for one in found["ingredients"]] == lines
    count = sum(len(part.nodes) for part in made.flow.parts)
    assert [one["id"] for one in found["steps"]] == [str(at + 1) for at in range(count)]
    places = {*(one["id"] for one in found["steps"]), "dish", "leaves"}
    for one in found["ingredients"]:
        assert one["enters"] and {entry["step"] for entry in one["enters"]} <= places
        assert sum(entry["share"] for entry in one["enters"]) == pytest.approx(1.0)
        assert set(one["kept"]) == {"best", "low", "high"}
    for stream in found["streams"]:
        assert stream["to"] in places and stream["from"] in places
        assert (stream["fate"] is None) == (stream["to"] != "leaves")


def test_streams_say_where_what_goes() -> None:
    """The brine leaves by trade from the step that lifts the roast out; the gravy and the roast go into the dish."""
    made = roast()
    streams = method_object(made.weighed, made.dish, made.flow, made.carried)["streams"]
    brine = next(one for one in streams if one["name"] == "brine" and one["to"] == "leaves")
    assert (brine["from"], brine["fate"]) == ("3", "trade") and brine["grams"]["best"] > 3000
    assert {one["from"] for one in streams if one["to"] == "dish"} == {"6", "9"}
    dish = sum(one["grams"]["best"] for one in streams if one["to"] == "dish")
    assert dish == pytest.approx(float(made.dish.mix.total_mass[0]))


def test_a_line_that_is_divided_enters_twice() -> None:
    """Shares of a line are those that its steps took."""
    hand = Hand("- 100 g flour\n- 50 g butter")
    pot = hand.part()
    first = pot.do("mix", "half of the flour and the butter", (FromLine(0), 0.25), FromLine(1))
    pot.served(pot.do("mix", "the rest", first, FromLine(0)))
    made = hand.finish(pot.title)
    enters = method_object(made.weighed, made.dish, made.flow, made.carried)["ingredients"][0]["enters"]
    assert enters == [{"step": "1", "share": 0.25}, {"step": "2", "share": 0.75}]


def test_what_goes_straight_into_the_dish_enters_the_dish() -> None:
    """A line that no step takes and that is served says so."""
    made = pasta()
    found = method_object(made.weighed, made.dish, made.flow, made.carried)
    cheese = next(one for one in found["ingredients"] if "parmesan" in one["text"])
    assert cheese["enters"] == [{"step": "dish", "share": 1.0}] and cheese["kept"]["best"] == 1.0


def test_unlisted_foods_have_grams_and_a_kept_share() -> None:
    """What only the method names stands beside the lines."""
    hand = Hand("- 500 g spaghetti")
    pot = hand.part()
    salt = pot.adds("salt", "02047", 20.0)
    boiled = pot.do("boil", "boil in salted water", FromLine(0), salt, brings=3000.0)
    drained = pot.do("drain", "drain", boiled, off={"salt": 0.75, "water": 0.8})
    pot.leave(pot.off(drained), Fate.TRADE)
    pot.served(drained)
    made = hand.finish(pot.title)
    (found,) = method_object(made.weighed, made.dish, made.flow, made.carried)["unlisted"]
    assert found["name"] == "salt" and found["grams"]["best"] == exactly(20.0).best
    assert found["kept"]["best"] == pytest.approx(0.25)


def test_a_misread_coat_is_seen_in_its_kept_share() -> None:
    """Flour that goes into the marinade is not kept; flour in its own dish is."""
    assert (shares(chicken(wrong=True))["250 g flour"] or 0.0) < 0.2
    assert (shares(chicken())["250 g flour"] or 0.0) == pytest.approx(0.6)


def test_a_spirit_that_is_boiled_down_is_in_the_sauce_by_what_it_leaves_behind() -> None:
    """Bourbon brings alcohol, which goes, and a little of else, which stays; water is followed by its weight."""
    shares = kept_in("- 100 ml bourbon\n- 400 g ketchup", "Simmer the bourbon and the ketchup for 40 minutes.")
    assert shares["100 ml bourbon"] == pytest.approx(1.0, abs=0.01)

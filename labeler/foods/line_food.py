"""Which food a line means, in the state in which it is measured.

What stands behind the name is done after the measuring, the unit tells how a food was bought, and a market may sell
something else under a plain name.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.foods.composition.food_table import load_table
from labeler.foods.market_defaults import by_market
from labeler.foods.matching.match import match_food
from labeler.foods.matching.name_words import words
from labeler.foods.model import Match
from labeler.foods.weights.drained_weight import liquid_of
from labeler.parsing.ingredient.restated import OTHERWISE
from labeler.parsing.line_words import CONTAINERS
from labeler.parsing.model import Line, LineState
from labeler.parsing.units import kind

__all__ = ["SURE", "match_line", "pinned_food", "state_of"]

SURE = 0.7
"""A match no surer than this is reported, so that the cook can look at it: it may be a stand-in."""


# Actions that make another entry of the table of a food, where they stand behind its name.
_DONE_LATER = re.compile(
    r"\b(?:(?P<ground>(?:finely |coarsely |freshly )?ground)|"
    r"(?:hard-?)?(?:cooked|boiled|steamed|roasted|grilled|baked|fried))\b",
    re.IGNORECASE,
)
_GROWING = frozenset(["sprig", "branch", "bunch", "handful"])
_LEAN = re.compile(r"\b([789]\d)/(\d{1,2})\b")
_POWDER = re.compile(r"\b(?:dried|dry|powder(?:ed)?|dehydrated)\b")
_POURED = ("liter", "milliliter", "deciliter", "quart", "pint", "gallon")
_HERB_SURE = 0.85
_KIND_SURE = 0.9
_KIND = re.compile(r"[^\W\d]+(?:[ -][^\W\d]+){0,4}")
_NUTS = 1200
_FLESH = frozenset([500, 700, 1000, 1300, 1500, 1700])


def match_line(line: Line, name: str, market: str) -> tuple[Match, str]:
    """The food of a line as its market sells it, and the action that comes after where it is another entry.

    Parameters
    ----------
    line : Line
        What the cook wrote.
    name : str
        One food of the line.
    market : str
        Whose market.
    """
    done, later = _as_in_us(line, name)
    return by_market(done, name, market), later


def _as_in_us(line: Line, name: str) -> tuple[Match, str]:
    """The food of a line in the state in which it is measured, and the action that comes after where it is another one.

    What stands behind the name is done after the measuring: "2 cups rice, cooked" is raw rice, "1 cup almonds, ground"
    whole almonds. Only meat is never measured raw in cups, and bacon is counted by the slice that is eaten.
    """
    state = state_of(line)
    done = match_food(name, preparation=state)
    if done.food is None and line.note and not any(map(str.isdigit, line.note)):
        told = match_food(line.note.partition(";")[0])
        if told.food is not None and told.confidence > SURE:  # "buttered cookies (shortbread)": the bracket knows it
            return replace(told, confidence=SURE, reason=f"by what stands beside it: {told.reason}"), ""
    done = _as_bought(line, name, _of_kind(line, name, done, state))
    if line.amounts and line.amounts[0].unit in _GROWING and "dried" not in name.lower():
        # A bunch of coriander is no seed; and where the table has only the dried herb for a fresh one, that shows here.
        fresh = match_food(f"fresh {name}", preparation=state)
        stands_in = fresh.food == done.food and fresh.confidence <= SURE
        done = fresh if stands_in or (fresh.food != done.food and fresh.confidence >= _HERB_SURE) else done
    later = _DONE_LATER.search(line.preparation) if line.amounts and line.derived is None else None
    if later is None or line.amounts[0].unit in CONTAINERS:
        return done, ""
    found = match_food(name, preparation=_DONE_LATER.sub(" ", state))
    if found.food is None or found.food == done.food:
        return done, ""
    table = load_table()
    group = int(table.group_codes[table.position[found.food]])
    measured = kind(line.amounts[0].unit)
    if later["ground"]:
        return (found, "") if group == _NUTS else (done, "")
    flesh = group in _FLESH
    before = measured != "volume" and "bacon" not in name.lower() if flesh else measured != "count"
    return (found, later[0].lower()) if before else (done, "")


def _of_kind(line: Line, name: str, done: Match, state: str) -> Match:
    """The kind of the food that a bracket behind its name tells: "butter (unsalted)", "lettuce (romaine, torn)"."""
    for stated in re.split(r"; |, ", line.note):
        plain = stated.casefold()
        if f"({plain}" not in line.text.casefold() or not _KIND.fullmatch(plain) or plain.split()[0] in OTHERWISE:
            continue
        kind_of = match_food(f"{stated} {name}", preparation=state)
        if kind_of.food is not None and kind_of.food != done.food and kind_of.confidence >= _KIND_SURE:
            return kind_of
    return done


def _as_bought(line: Line, name: str, done: Match) -> Match:
    """Another entry of the food where the unit tells how it was bought.

    A teaspoon of a herb is the dried one unless the line says fresh; whole tomatoes without a can are none from one;
    litres are of no powder; what is used with its liquid or its peel has these; and of minced meat "90/10" says how
    lean it is. Common practice, no source.
    """
    unit = line.amounts[0].unit if line.amounts else None
    text = f"{name} {line.preparation} {line.note}".lower()
    other = None
    lean = _LEAN.search(line.text) if "ground" in text else None
    if lean is not None and int(lean[1]) + int(lean[2]) == 100:
        other = match_food(f"{name} {lean[1]}% lean")
    elif unit in _POURED and ", dried" in done.description and not _POWDER.search(text):
        other = _if_so(match_food(f"fluid {name}"), "fluid")
    elif LineState.WITH_LIQUID in line.states and "drained" in done.description:
        other = _if_so(match_food(f"{name}, solids and liquids"), "solids and liquids")
    elif LineState.UNPEELED in line.states:
        other = _with_peel(done)
    elif unit == "teaspoon" and " " not in name and not line.preparation and "fresh" not in text:
        dried = match_food(f"dried {name}")
        kept = any(word in dried.description for word in (", dried", ", ground"))
        other = dried if kept and dried.confidence >= _HERB_SURE else _seed_of(done, name)
    elif line.amounts and unit is None and name.lower() == "pepper":
        other = match_food("bell pepper")  # nobody counts peppercorns
    elif line.amounts and unit is None and "canned" in done.description and "whole " in name.lower():
        plain = match_food(re.sub(r"\bwhole ", "", name, flags=re.IGNORECASE))
        other = plain if "canned" not in plain.description else None
    return other if other is not None and other.food is not None else done


def _seed_of(done: Match, name: str) -> Match | None:
    """The spice that is the seed of a vegetable: nobody measures a bulb of fennel by the teaspoon."""
    if done.description.startswith("Spices,"):
        return None
    seed = match_food(f"{name} seed")
    return seed if seed.description.startswith("Spices,") and seed.confidence >= _HERB_SURE else None


def _if_so(found: Match, words_of_it: str) -> Match | None:
    """A match whose description has some words; None for any other."""
    return found if words_of_it in found.description else None


def _with_peel(done: Match) -> Match | None:
    """The entry of a fruit that counts its peel, where the table has one."""
    table = load_table()
    wanted = f"{done.description.split(',')[0]}, raw, with peel"
    at = next((at for at, described in enumerate(table.descriptions) if described == wanted), None)
    return None if at is None else replace(done, food=table.ids[at], description=wanted)


def state_of(line: Line) -> str:
    """The preparation, with what the unit says of the food.

    What comes in a can is canned, and drained of its liquid where cooks drain it.
    """
    unit = next((amount.unit for amount in line.amounts if amount.unit in ("can", "jar")), None)
    if unit is None:
        return line.preparation
    liquid = liquid_of(line.text.lower(), words(line.name), 0)
    poured = "drained, " if liquid.share.best < 1 else ""
    return f"canned, {poured}{line.preparation}" if unit == "can" else f"{poured}{line.preparation}"


def pinned_food(food: str, line: Line) -> Match:
    """The food that a pin names; for an id that the table does not have, none, and beside it what the words suggest."""
    table = load_table()
    if food in table:
        return Match(food, table.describe(food), 1.0, "pinned in the line")
    by_name = match_food(line.name, preparation=state_of(line)) if line.name.strip() else Match(None, "", 0.0, "")
    near = tuple(dict.fromkeys((*filter(None, (by_name.food,)), *by_name.alternatives)))
    return Match(None, "", 0.0, f"{food} is no id of the table", near)

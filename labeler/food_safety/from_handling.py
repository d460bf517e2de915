"""The facts of food safety as today's reader of handling sentences gives them.

The one place of this room that reads the words of a line or of a step. A step that names its objects speaks of those
foods alone, one that names none of everything that stands above it; what a later step names only to put it into a bowl
and pour hot broth over is not cooked by the broth's own simmering.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from labeler.allergens.words import BREAK, tokens
from labeler.food_safety.food_kinds import cooked_in_table, kinds_of, species_of
from labeler.food_safety.model import (
    Composition,
    FoodKind,
    Heating,
    HeatTreatment,
    Keeping,
    PartFacts,
    SafetyFacts,
)
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.table import load_table
from labeler.foods.words import words as food_words
from labeler.parsing.handling import Step, read_handling
from labeler.parsing.model import Handling, NoteKind

__all__ = ["facts_of"]

HOT_SMOKE = 60.0
"""Air of hot smoke [°C] from here on: common practice, no source; cold smoke stays under 30."""
HEATING = frozenset({"roast", "bake", "broil", "pan-fry", "stir-fry", "deep-fry", "boil", "simmer", "braise", "steam",
                     "microwave", "reduce"})  # fmt: skip
BRIEF = frozenset({"heat", "blanch", "flame", "toast"})
DRY_HEAT = frozenset({"roast", "bake", "broil", "pan-fry", "stir-fry", "deep-fry", "microwave"})
OVEN = frozenset({"roast", "bake", "deep-fry"})
STEEPING = frozenset({"soak", "marinate", "brine", "pickle", "cure", "stand"})
UNDERDONE = frozenset({"rare", "medium rare"})
ALREADY_COOKED = frozenset(
    {"canned", "tinned", "cooked", "precooked", "smoked", "dried", "salted", "paste", "powder", "stock", "extract",
     "boiled", "roasted", "roast", "grilled", "fried", "poached", "steamed", "baked", "kippered", "kipper", "jarred",
     "potted", "sauce", "jerky", "flake", "cured", "rotisserie", "leftover", "prosciutto", "serrano", "iberico",
     "bresaola", "coppa", "speck", "salami", "pepperoni", "mortadella", "pastrami", "frankfurter", "jamon"}
)  # fmt: skip
PACKED = frozenset({"can", "tin", "jar"})
VESSELS = frozenset(tokens("pan pot oven grill wok griddle skillet saucepan kettle dish tray fryer barbecue plate lid"))
_ADDING = re.compile(r"\badd(?:ing)?\b(.*)", re.IGNORECASE)
_POURED = re.compile(
    r"\b(?:pour|ladle|spoon|top up)\w*\b.*\b(?:boiling|hot|simmering|steaming)\b.*"
    r"\b(?:broth|stock|soup|water|dashi|milk|cream|syrup)\b|\b(?:broth|stock|soup)\b.*\b(?:poured|ladled) over\b|"
    r"\b(?:pour|ladle)\w*\b.*\b(?:broth|stock|soup|dashi)\b.*\bover\b",
    re.IGNORECASE,
)
_SEARED = re.compile(r"\b(?:sear|tataki|flash[- ]fry|seconds)\b", re.IGNORECASE)
_RAW_MEANT = re.compile(
    r"\b(?:sashimi|sushi|tartare?|carpaccio|crudo|ceviche|cebiche|tiradito|gravad\w*|gravlax|poke|kitfo|yukhoe|"
    r"kibbeh nayyeh|mett)\b",
    re.IGNORECASE,
)
_RAW_TITLE = re.compile(
    r"\b(?:tartare?|carpaccio|crudo|ceviche|cebiche|tiradito|sashimi|sushi|nigiri|maki|poke|gravad\w*|gravlax|raw)\b",
    re.IGNORECASE,
)
_CUTTING = re.compile(
    r"\b(?:chop|blend|blitz|pur[eé]e|process|grind|mash|crush|slice|halve|quarter|dice|mince|grate|shred|pulse|"
    r"li[qQ]uidi[sz]e|pound|flake|cut|tear|cube|wedge|break)\w*\b|\bhalv\w+\b",
    re.IGNORECASE,
)
_TAKEN_OUT = {
    FoodKind.BONES: re.compile(
        r"\b(?:bone|debone|bon(?:ed|ing)|fillet|shred|pull(?:ed)?|pick)\b|"
        r"\b(?:discard|remove|strain|lift|take|pull)\w*\b[^.;]*\b(?:bones?|carcass|solids|them|it)\b|\bstrain\w*\b",
        re.IGNORECASE,
    ),
    FoodKind.SHELLS: re.compile(
        r"\b(?:shell(?:ed|ing)?|shuck\w*|peel\w*|pick(?:ed)?)\b|"
        r"\b(?:discard|remove|strain|lift|take)\w*\b[^.;]*\b(?:shells?|them)\b|\bout of (?:the|their) shells?\b",
        re.IGNORECASE,
    ),
    FoodKind.STONES: re.compile(
        r"\b(?:pit|pitt?ed|stone|stoned|stoning|de-?stone\w*|destone\w*)\b|"
        r"\b(?:discard|remove|strain|sieve|take|lift)\w*\b[^.;]*\b(?:stones?|pits?|kernels?)\b|\bsieve\b",
        re.IGNORECASE,
    ),
}  # fmt: skip
_JAR = re.compile(
    r"\b(?:jars?|bottles?|bottled|bottling|preserved?|canning|mason|kilner|sterili[sz]ed|hermetically|water[- ]bath|"
    r"(?:hot[- ])?fill(?:ed)? and seal|for the (?:cupboard|pantry|shelf|larder)|shelf[- ]stable|pot up|cans)\b|"
    r"\bseal(?:ed)?\b(?=[^.;]*\b(?:jars?|bottles?|lids?|tight\w*|airtight|hot)\b)|\b(?:fill|pot|lid)\w* and seal\b",
    re.IGNORECASE,
)
_COLD = re.compile(r"\b(?:cold|refrigerat\w*|chill\w*|fridge|frozen|freez\w*|[0-8] ?°? ?c)\b", re.IGNORECASE)
_KEEPING = re.compile(
    r"\b(?:keep|keeps|kept|store|stored|storage|lasts?|up to|weeks?|months?|days|serve (?:cold|chilled))\b",
    re.IGNORECASE,
)
_ROOM = re.compile(
    r"\b(?:room temperature|ambient|cupboard|pantry|larder|cool,? (?:and )?(?:dry|dark)|dry,? (?:and )?(?:cool|dark)|"
    r"dark place|on the (?:shelf|counter|worktop|table)|unrefrigerated|no need to refrigerate|shelf[- ]stable)\b",
    re.IGNORECASE,
)
_AFTER_OPENING = re.compile(r"\b(?:once|after|when) open(?:ed|ing)?\b[^.;]*", re.IGNORECASE)
_FERMENTS = re.compile(r"\b(?:ferment\w*|lacto\w*|sauerkraut|kimchi|kraut)\b", re.IGNORECASE)
_VACUUM = re.compile(r"\b(?:vacuum|vac)[- ]?(?:pack|seal|bag)\w*|\bvacuum\b", re.IGNORECASE)
_IN_OIL = re.compile(r"\b(?:oil|confit|chilli crisp|chili crisp)\b", re.IGNORECASE)
_IN_FAT = re.compile(r"\b(?:butter|ghee|dripping|lard|rillettes|potted)\b", re.IGNORECASE)
_STUFFED = re.compile(r"\b(?:stuff(?:ed|ing)?|fill (?:the|each))\b", re.IGNORECASE)
_SMALL = 4
"""Foods up to which a part that steeps in oil is a flavoured oil."""


@dataclass(slots=True)
class _Food:
    """One line's food with the steps that act on it and those that name it."""

    line: WeighedLine
    part: int
    name: str
    said: str
    kinds: frozenset[FoodKind]
    species: dict[FoodKind, tuple[str, ...]]
    steps: list[Step] = field(default_factory=list)
    named_by: list[Step] = field(default_factory=list)


def facts_of(weighed: WeighedRecipe, *, market: str = "us") -> SafetyFacts:
    """What a recipe's lines, handling, head and notes say of food safety.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str
        Whose cups and pints the handling speaks of.
    """
    foods = [_food(line, at) for at, part in enumerate(weighed.parts) for line in _lines(part.lines)]
    handling = [part.handling for part in weighed.recipe.parts]
    read = [[(said.after, step) for said in each for step in read_handling(said.text, market=market).steps]
            for each in handling]  # fmt: skip
    _share_out(weighed, foods, read)
    steps = [[step for _, step in each] for each in read]
    handled = any(handling)
    raw_title = bool(_RAW_TITLE.search(weighed.recipe.title))
    treated = tuple(_treatment(food, steps, _about(food, handling[food.part]), raw_title=raw_title) for food in foods)
    parts = tuple(_part(weighed, at, foods, steps[at]) for at in range(len(weighed.parts)))
    return SafetyFacts(treated, parts, _keeping(weighed, steps), _composition(foods, steps), handled)


def _food(line: WeighedLine, part: int) -> _Food:
    written = line.line
    name = written.name or written.text
    beside = f"{written.preparation} {written.note}".strip()
    # "Cider vinagar" is matched as vinegar, so it is no cider here either.
    mended = " ".join(food_words(line.match.read_as if line.match is not None and line.match.read_as else name))
    species = species_of(name, line.match.food if line.match is not None and line.match.confidence >= 0.8 else None)
    kinds = kinds_of(name, beside, line.match, mended) | set(species)
    return _Food(line, part, name, f"{name}, {beside}" if beside else name, frozenset(kinds), species)


def _lines(part: Sequence[WeighedLine]) -> Iterator[WeighedLine]:
    for line in part:
        if line.part is None:
            yield line
            yield from line.also


def _share_out(weighed: WeighedRecipe, foods: list[_Food], read: list[list[tuple[int, Step]]]) -> None:
    """Give every food the steps that act on it, in its own part and in those that take it."""
    used_by = {
        at: [to for to, other in enumerate(weighed.parts) if any(line.part == part.title for line in other.lines)]
        for at, part in enumerate(weighed.parts)
    }
    for food in foods:
        beside = [other for other in foods if other.part == food.part]
        place = _place(weighed.parts[food.part].lines, food.line)
        own = [step for after, step in read[food.part] if after > place]
        food.steps += [step for step in own if _acts_on(step, food, beside)]
        food.named_by += [step for step in own if _names_it(step, food.name) or _adds_it(step, food.name)]
        for at in _later(food.part, used_by):
            others = [other for other in foods if other.part == at]
            food.steps += [step for _, step in read[at] if _acts_on(step, food, others)]


def _names_it(step: Step, name: str) -> bool:
    """True where an object of the step is the food of this name."""
    words = set(tokens(name)) - {BREAK}
    return any(words & set(tokens(thing)) for thing in step.objects)


def _adds_it(step: Step, name: str) -> bool:
    """True where a step takes the food of this name in as it goes ("simmer the stock, adding the prawns")."""
    adding = _ADDING.search(step.text)
    return adding is not None and bool((set(tokens(name)) - {BREAK}) & set(tokens(adding[1])))


def _acts_on(step: Step, food: _Food, beside: list[_Food]) -> bool:
    if not step.objects or _names_it(step, food.name) or _adds_it(step, food.name):
        return True
    said = {word for thing in step.objects for word in tokens(thing)}
    if step.action in BRIEF and not said.isdisjoint(VESSELS):
        return False  # "heat a pan"
    return not any(_names_it(step, other.name) for other in beside if other is not food)


def _place(lines: Sequence[WeighedLine], wanted: WeighedLine) -> int:
    for at, line in enumerate(lines):
        if line is wanted or any(other is wanted for other in line.also):
            return at
    return 0


def _later(part: int, used_by: dict[int, list[int]]) -> list[int]:
    """The parts that a part goes into, at any depth, each once."""
    found: list[int] = []
    waiting = list(used_by.get(part, ()))
    while waiting:
        at = waiting.pop(0)
        if at not in found and at != part:
            found.append(at)
            waiting += used_by.get(at, ())
    return found


def _about(food: _Food, handling: Sequence[Handling]) -> list[str]:
    """The sentences of its part that name a food, or its bones, shells and stones."""
    words = {*tokens(food.name), "bone", "shell", "stone", "pit", "carcass", "solid"} - {BREAK}
    return [sentence.text for sentence in handling if not words.isdisjoint(tokens(sentence.text))]


def _treatment(food: _Food, steps: list[list[Step]], said_of_it: list[str], *, raw_title: bool) -> HeatTreatment:
    said = set(tokens(food.said))
    name = tokens(food.name)
    cooked_words = said & ALREADY_COOKED - ({"roast"} if name[-1:] == ["roast"] else set())
    packed = any(amount.unit in PACKED for amount in food.line.line.amounts)
    raw_meant = bool(_RAW_MEANT.search(food.said)) and "sauce" not in name
    cooked_before = packed or bool(cooked_words) or (cooked_in_table(food.line.match) and not raw_meant)
    heating = _heating(food, steps[food.part], raw_meant=raw_meant or raw_title)
    core = next((step for step in food.steps if step.core is not None), None)
    texts = [step.text for step in food.steps] + said_of_it
    grams = food.line.grams.best if food.line.grams is not None else None
    match = food.line.match
    written = f"{food.line.line.preparation} {food.line.line.note}"
    return HeatTreatment(
        food.name,
        food.line.line.text.strip(),
        food.kinds,
        food.part,
        match.food if match is not None else None,
        tuple(name for names in food.species.values() for name in names),
        heating,
        cooked_before and not (raw_meant and not packed and "raw" in said),
        any(step.action in DRY_HEAT for step in food.steps),
        any(step.marks & UNDERDONE for step in food.steps),
        raw_meant or raw_title,
        core.core.best if core is not None and core.core is not None else None,
        core.text if core is not None else "",
        any(_STUFFED.search(text) for text in texts),
        any(_CUTTING.search(text) for text in (*texts, written)),
        frozenset(kind for kind, pattern in _TAKEN_OUT.items() if any(map(pattern.search, (*texts, written)))),
        any(step.action in STEEPING for step in food.steps),
        grams,
    )


def _heating(food: _Food, part: list[Step], *, raw_meant: bool) -> Heating:
    """The most heat that reaches a food."""
    named = [step for step in food.named_by if step.action in HEATING or step.action in BRIEF]
    cooking = [step for step in food.steps if step.action in HEATING or _hot_smoke(step)]
    poured = any(_POURED.search(step.text) for step in part)
    if raw_meant and not named:
        return Heating.POURED if poured else Heating.NONE
    if poured and food.named_by and not named:
        return Heating.POURED
    if cooking:
        seared = all(_SEARED.search(step.text) and (step.minutes is None or step.minutes.best <= 2) for step in cooking)
        fast = any(step.minutes is not None and step.minutes.best < 1.5 for step in cooking)
        return Heating.SURFACE if seared and (fast or raw_meant) else Heating.COOKED
    if any(step.action == "heat" and "boil" in step.text.lower() for step in food.steps):
        return Heating.COOKED
    brief = any(step.action in BRIEF for step in food.steps)
    return Heating.WARMED if brief else Heating.POURED if poured else Heating.NONE


def _hot_smoke(step: Step) -> bool:
    """Whether smoking cooks: said to be hot, to a core temperature, or in air that no cold smoke has."""
    if step.action != "smoke":
        return False
    hot = step.celsius is not None and step.celsius.best >= HOT_SMOKE
    return hot or step.core is not None or "hot" in tokens(step.text)


def _part(weighed: WeighedRecipe, at: int, foods: list[_Food], steps: list[Step]) -> PartFacts:
    here = [food for food in foods if food.part == at]
    title = weighed.parts[at].title or weighed.recipe.title
    few = len(here) <= _SMALL
    steeped = few and any(step.action in STEEPING for step in steps)
    in_oil = bool(_IN_OIL.search(title)) or (steeped and any(FoodKind.OIL in food.kinds for food in here))
    return PartFacts(title, in_oil, bool(_IN_FAT.search(title)) and few)


def _texts(weighed: WeighedRecipe) -> list[str]:
    return [sentence.text for part in weighed.recipe.parts for sentence in part.handling]


def _keeping(weighed: WeighedRecipe, steps: list[list[Step]]) -> Keeping:
    recipe = weighed.recipe
    head = recipe.head
    handling = _texts(weighed)
    notes = [note.text for note in recipe.notes if note.kind in (NoteKind.STORAGE, NoteKind.TIP, NoteKind.NOTE)]
    said = " ".join(str(head.get(key, "")) for key in ("title", "makes", "net", "pack", "container"))
    storage = [str(head.get("storage") or ""), *notes, *(text for text in handling if _KEEPING.search(text))]
    everything = " ".join((recipe.title, said, *handling, *notes))
    stored = " ".join(_AFTER_OPENING.sub("", text) for text in storage)
    kept_cold = any(_COLD.search(_AFTER_OPENING.sub("", text)) for text in storage)
    jar_text = " ".join((said, *handling, *notes, storage[0]))
    room = _ROOM.search(stored)
    measured = next((value for key, value in head.items() if str(key).lower() == "ph"), None)
    ferments = bool(_FERMENTS.search(everything))
    return Keeping(
        bool(_JAR.search(jar_text) or _JAR.search(recipe.title)),
        kept_cold and (room is None or ferments),
        room[0] if room is not None else "",
        ferments,
        bool(_VACUUM.search(everything)),
        _number(measured),
    )


def _number(value: object) -> float | None:
    found = re.search(r"\d+(?:[.,]\d+)?", str(value)) if value is not None else None
    return float(found[0].replace(",", ".")) if found else None


def _composition(foods: list[_Food], steps: list[list[Step]]) -> Composition | None:
    """The whole before it is cooked; None where a food or a weight is not known."""
    table = load_table()
    total = water = salt = sugar = flour = 0.0
    for food in foods:
        match, grams = food.line.match, food.line.grams
        if match is None or match.food is None or match.food not in table or grams is None:
            return None
        values = [table.value(match.food, name) for name in ("WATER", "NA", "SUGAR")]
        total += grams.best
        water += grams.best * _known(values[0]) / 100
        salt += grams.best * _known(values[1]) / 100 * 2.54e-3
        sugar += grams.best * _known(values[2]) / 100
        flour += grams.best * (FoodKind.FLOUR in food.kinds)
    oven = any(step.action in OVEN for each in steps for step in each)
    return Composition(total, water, salt, sugar, flour, oven) if total else None


def _known(value: float) -> float:
    return value if value == value else 0.0

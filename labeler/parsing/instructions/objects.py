"""What an instruction acts on where its own clause does not say all: shared objects, verbs that name food, vessels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.actions import Gathers, Handler, Trait, action, has
from labeler.parsing.instructions.clauses import Clause
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Mood, Quantity, Role
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = [
    "awaited_in",
    "drained_there",
    "kept_back",
    "pressed",
    "presses",
    "share_objects",
    "taken_over",
    "thrown_into",
    "thrown_leftovers",
    "thrown_when_out",
    "title_of",
    "told_of",
    "used_for",
    "vessel_marks",
    "vessel_of",
    "what_is_held",
    "what_is_loose",
    "with_awaited",
    "with_share_used",
    "with_verb_food",
]


def told_of(
    instructions: Sequence[Instruction], before: int, made: Instruction, chain: Mention | None
) -> tuple[int, Mention | None]:
    """Which food a participle behind it speaks of, and where it goes: before the instruction that uses that food."""
    own = next((one for one in made.mentions if one.role is Role.OBJECT and not one.alternative), None)
    if own is not None and chain is None and len(instructions) == before:
        return len(instructions), own
    for at in range(len(instructions) - 1, before - 1, -1):
        if instructions[at].mentions and not (instructions[at].adjunct and chain is not None):
            about = chain or replace(taken_over(instructions[at].mentions[-1]), role=Role.OBJECT)
            return at, about
    return len(instructions), chain or own


def taken_over(one: Mention) -> Mention:
    """A mention as another clause means it too, without saying it."""
    return replace(one, says_it=False)


def share_objects(instructions: list[Instruction], before: int, made: Instruction, *, joined: bool) -> None:
    """ "Peel, core and slice the apples": verbs without an object of their own take that of the last of them."""
    objects = tuple(one for one in made.mentions if one.role is Role.OBJECT)
    at = len(instructions) - 1
    while (
        objects
        and at >= before
        and not instructions[at].mentions
        and instructions[at].minutes is None
        and not instructions[at].adjunct
        and not instructions[at].vessel
        and Mark.PAPER not in instructions[at].marks
    ):
        row = action(instructions[at].action)
        brings = made.particle in grammar(
            "brings in"
        )  # "blend and stir in the cream": it is not the cream that is blended
        if row.handler is Handler.SERVE or (row.gathers is not Gathers.APART and (brings or not joined)):
            break
        if action(made.action).handler in (Handler.LIFT, Handler.DISCARD) and row.handler is Handler.DRAIN:
            break  # "drain and fish out the onion": it is not the onion that is drained
        if action(made.action).gathers is Gathers.INTO and Trait.COOLS in row.traits:
            break  # "leave to cool and add the dill": it is not the dill that cools
        instructions[at] = replace(instructions[at], mentions=tuple(map(taken_over, objects)))
        at -= 1


def with_verb_food(made: Instruction, foods: frozenset[str]) -> Instruction:
    """ "Salt the fish", "butter the dish": the verb names what comes to it."""
    seasons = has(made.action, Trait.SEASONS) and is_class(made.verb, "verb-seasoning")
    if not seasons and (made.verb not in foods or not is_class(made.verb, "noun-first")):
        return made
    if any(made.verb in one.name.split(" ") for one in made.mentions):
        return made
    listed = made.verb in foods
    quantity = Quantity() if listed else Quantity(Extent.SOME)
    return replace(made, mentions=(*made.mentions, Mention(made.verb, made.verb, Role.WITH, quantity, definite=listed)))


def kept_back(made: Instruction, before: Instruction) -> Instruction:
    """ "Drain off the juice, keeping back 3 tablespoons": an amount without a food is of what runs off."""
    plain = made.grams is None and made.millilitres is None and made.share is None
    runs_off = action(before.action).handler in (Handler.DRAIN, Handler.STRAIN)
    if action(made.action).handler is not Handler.KEEP or made.mentions or plain or not runs_off:
        return made
    own = (
        one for one in before.mentions if one.role is Role.OBJECT and is_class(head_of(one.name), "byproduct-liquid")
    )
    liquid = next(own, Mention("liquid", "liquid", Role.OBJECT, Quantity(), definite=True))
    extent = Extent.SHARE if made.share is not None else Extent.AMOUNT
    quantity = Quantity(extent, made.share, grams=made.grams, millilitres=made.millilitres)
    return replace(made, mentions=(replace(taken_over(liquid), quantity=quantity),))


def drained_there(made: Instruction, before: Instruction) -> Instruction:
    """ "Place on paper towels to drain the oil": the paper takes it up, and nothing is poured off."""
    if action(made.action).handler is not Handler.DRAIN or not made.adjunct or Mark.PAPER not in before.marks:
        return made
    foods = (one for one in made.mentions if not is_class(head_of(one.name), "byproduct-fat"))
    return replace(made, mentions=tuple(foods), marks=made.marks | {Mark.PAPER})


def used_for(before: Instruction, deed: Instruction) -> Instruction | None:
    """ "Use 2 tbsp of the oil to fry the onion": what is used comes to that; None where nothing is used for a deed."""
    row = action(deed.action)
    sieved = [one for one in before.mentions if is_class(head_of(one.name), "sieve")]
    sieve = bool(sieved) or is_class(head_of(before.vessel), "sieve")
    if row.handler is Handler.DRAIN and sieve and not deed.mentions:
        foods = tuple(one for one in before.mentions if one not in sieved)
        return replace(deed, mentions=foods, text=f"{before.text} {deed.text}")  # "tip into a colander to drain"
    if before.verb not in grammar("used to"):
        return None
    if not any(one.role is Role.OBJECT for one in deed.mentions):
        if row.gathers is not Gathers.INTO or Trait.JOINS not in row.traits:
            return None  # "use the wine to deglaze": it is what comes to the pan
        return replace(deed, mentions=(*before.mentions, *deed.mentions), text=f"{before.text} {deed.text}")
    if row.handler not in (Handler.HEAT, Handler.GREASE, Handler.COAT) and row.gathers is not Gathers.INTO:
        return None
    used = (replace(one, role=Role.WITH) for one in before.mentions if one.role is Role.OBJECT)
    return replace(deed, mentions=(*deed.mentions, *used), parallel=before.parallel, text=f"{before.text} {deed.text}")


def presses(made: Instruction, before: Instruction) -> bool:
    """Whether a participle behind straining presses what is in the sieve."""
    return action(before.action).handler is Handler.STRAIN and made.verb.split(" ", 1)[0] in grammar("presses")


def pressed(made: Instruction) -> frozenset[Mark]:
    """Whether what is in a sieve is pressed through it, or only gives its juice: "pressing on the solids"."""
    through = Mark.PRESSED in made.marks or bool(grammar("passes through") & set(made.text.lower().split()))
    return frozenset([Mark.PRESSED if through else Mark.PRESSED_OUT])


def vessel_of(mentions: Sequence[Mention]) -> tuple[Mention | None, list[Mention]]:
    """The vessel of a clause, and the mentions without it."""
    vessel, rest = None, []
    for one in mentions:
        head = head_of(one.name)
        contents = one.role is Role.OBJECT and is_class(one.name.split(" ", 1)[0], "everything")
        contents |= one.role is Role.WITH and is_class(head, "wrapping")  # "the peel with the water and the bag"
        if (is_class(one.name, "vessel-") or is_class(head, "vessel-")) and not contents:
            vessel = vessel if vessel is not None and one.role is not Role.INTO else one
            if one.role in (Role.OBJECT, Role.OUT_OF):
                rest.append(one)
        else:
            rest.append(one)
    return vessel, rest


def what_is_held(one: Mention, vessel: Mention | None) -> Mention:
    """What a sieve holds back, named by where it is: "what's in the sieve"."""
    if vessel is None or one.role is not Role.OBJECT or not is_class(head_of(vessel.name), "sieve"):
        return one
    return replace(one, name="solids", definite=True) if _is_relative(one) else one


def what_is_loose(one: Mention, name: str) -> Mention:
    """What is shaken off, named by what it does not do: "what doesn't stick"."""
    loose = one.role is Role.OBJECT and has(name, Trait.SHAKES) and _is_relative(one)
    return replace(one, name="excess", definite=True) if loose else one


def _is_relative(one: Mention) -> bool:
    return one.name.split(" ", 1)[0].partition("'")[0] in grammar("free relative")


def thrown_into(mentions: Sequence[Mention]) -> bool:
    """Whether the one place that a clause names is where things are thrown away: a bin, the compost, the hens."""
    places = [one for one in mentions if one.role is Role.INTO and not is_class(head_of(one.name), "sieve")]
    return bool(places) and all(is_class(head_of(one.name), "thrown-place") for one in places)


def thrown_when_out(instructions: Sequence[Instruction], made: Instruction) -> Instruction:
    """ "Fish out the sprigs and toss them", "lift it out and toss the bag": tossed with nothing, it is thrown away."""
    if made.verb not in grammar("throws spent") or action(made.action).gathers is not Gathers.NEW or made.minutes:
        return made
    out = any(action(one.action).handler is Handler.LIFT and one.mood is Mood.DO for one in instructions[-2:])
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    others = [one for one in made.mentions if one.role in (Role.WITH, Role.INTO)]
    left = all(is_class(one.name, "plain-it", "wrapping") or is_class(head_of(one.name), "wrapping") for one in objects)
    alone = not others or _is_relative(others[0])
    return replace(made, action="discard", mentions=tuple(objects)) if out and objects and left and alone else made


def thrown_leftovers(instructions: Sequence[Instruction], made: Instruction) -> Instruction:
    """ "You will have crumbs left in the bowl: bin that": thrown away is what the words before say is left."""
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    told = [one for one in objects if not is_class(one.name, "pronoun") and one.name not in grammar("persons")]
    before = instructions[-1] if instructions else None
    if action(made.action).handler is not Handler.DISCARD or told or not objects or before is None:
        return made
    left = [one for one in before.mentions if one.role is Role.OBJECT and one.name not in grammar("persons")]
    over = Mark.LEFTOVER in before.marks or any(one.quantity.extent is Extent.REST for one in left)
    tells = before.mood is Mood.SAYS or action(before.action).handler in (Handler.SERVE, Handler.LEFT, Handler.LIE)
    if not over or not tells or not left:
        return made
    rest = (replace(taken_over(one), quantity=replace(one.quantity, extent=Extent.REST)) for one in left)
    return replace(made, mentions=tuple(rest), marks=made.marks | {Mark.LEFTOVER}, share=left[0].quantity.share)


def with_share_used(before: Instruction, made: Instruction) -> Instruction | None:
    """ "Brush with egg (you will use about half)": so much is taken of what was named last; None for anything else."""
    if made.mood is not Mood.SAYS or made.verb not in grammar("used to"):
        return None
    quantity = next((m.quantity for m in made.mentions if m.quantity.extent in (Extent.SHARE, Extent.AMOUNT)), None)
    whole = [m for m in before.mentions if m.role in (Role.OBJECT, Role.WITH) and m.quantity.extent is Extent.ALL]
    others = [m for m in made.mentions if not is_class(m.name, "pronoun") and m.name not in grammar("persons")]
    if quantity is None or not whole or others:
        return None
    taken = replace(whole[-1], quantity=quantity)
    return replace(before, mentions=tuple(taken if m is whole[-1] else m for m in before.mentions))


_NEW = grammar("new vessel")
_NEW_ARTICLE = grammar("new article")


def vessel_marks(vessel: Mention | None) -> frozenset[Mark]:
    if vessel is None:
        return frozenset()
    words = vessel.text.lower().split()
    if "same" not in words and (_NEW & set(words) or words[0] in _NEW_ARTICLE or _is_set_out(vessel)):
        return frozenset([Mark.NEW_VESSEL])
    return frozenset([Mark.SAME_VESSEL]) if "same" in words or vessel.definite else frozenset()


def _is_set_out(vessel: Mention) -> bool:
    """Whether what is eaten from comes in the plural and as unknown: "into bowls", "on plates", "into four glasses"."""
    word = vessel.name.rsplit(" ", 1)[-1]
    several = singular(word) != word and not vessel.definite
    return several and vessel.role is Role.INTO and is_class(singular(word), "serving-vessel")


def title_of(tokens: Sequence[Token], clause: Clause, made: Instruction) -> str:
    """What a clause names that only says what those behind its colon do: "Cook the porridge: whisk the flour ..."."""
    closes = clause.end < len(tokens) - 1 and tokens[clause.end].text == ":"
    plain = made.minutes is None and made.core is None and made.celsius is None and not made.marks
    single = len(made.mentions) == 1 and made.mentions[0].role is Role.OBJECT
    return made.mentions[0].name if closes and plain and single else ""


def awaited_in(text: str, tokens: Sequence[Token], clause: Clause, market: str) -> tuple[Mention, ...]:
    """What a clause waits for that opens a sentence: the pasta of "when the pasta is done, drain"."""
    inside = range(clause.start, min(clause.end, len(tokens)))
    first = next((at for at in inside if not is_class(tokens[at].text, "subordinator", "adverb")), inside.stop)
    stop = clause.verb.at if clause.verb is not None and clause.verb.at > first else inside.stop
    behind = next((at for at in range(first, stop) if is_class(tokens[at].text, "aux")), stop)
    return tuple(mentions_of(text, tokens, [(first, behind)], Role.OBJECT, market=market)[:1])


def with_awaited(made: Instruction, awaited: tuple[Mention, ...]) -> Instruction:
    """What the clause before waits for: what a removal without an object is about, and what "it" is.

    "When the pasta is done, drain"; "when the water boils, add the pasta to it".
    """
    row = action(made.action)
    if awaited:
        into = [one.role is Role.INTO and is_class(one.name, "pronoun") for one in made.mentions]
        meant = replace(taken_over(awaited[0]), role=Role.INTO)
        told = (meant if pronoun else one for pronoun, one in zip(into, made.mentions, strict=True))
        made = replace(made, mentions=tuple(told))
        if row.gathers is Gathers.INTO and made.mentions and all(one.role is Role.OBJECT for one in made.mentions):
            water = head_of(meant.name) == "water"  # "when the water boils, add the potatoes"
            boiling = replace(meant, name="boiling water", definite=False)
            made = replace(made, mentions=(*made.mentions, boiling)) if water else made
    named = any(one.role in (Role.OBJECT, Role.OUT_OF) for one in made.mentions)
    removes = row.takes.value != "" or row.gathers is Gathers.OUT
    return replace(made, mentions=(*map(taken_over, awaited), *made.mentions)) if removes and not named else made

"""What an instruction does, by its verb together with its marks, figures and objects."""

from __future__ import annotations

from dataclasses import replace

from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Trait, action, has
from labeler.parsing.instructions.fragments import KEEPS_OUT
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role
from labeler.text.plurals import singular

__all__ = ["settled", "stirred_into_hot"]


def settled(made: Instruction, *, base: str, form: WordForm, opens: bool, denied: bool = False) -> Instruction | None:
    """An instruction whose action follows from its verb together with its marks, figures and objects (R8, R14)."""
    made = _into_its_object(made)
    row = action(made.action)
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    marks = made.marks
    name = made.action
    if Mark.LAST in marks and made.minutes is not None and row.heat is Heat.NONE:
        made = replace(made, last_minutes=made.minutes, minutes=None)
    if (
        base in grammar("is left verb")
        and form is WordForm.ED
        and (made.grams or made.millilitres or made.share)
        and objects
    ):
        name = "left"
    elif (denied and base in KEEPS_OUT) or (
        Mark.THROWN_AWAY in marks and (base in grammar("throws with") or row.handler is Handler.LIFT)
    ):
        name = "discard"
    elif row.heat is Heat.BY_PLACE or row.handler in (
        Handler.NONE,
        Handler.LIE,
        Handler.SERVE,
        Handler.KEEP,
        Handler.MAKE,
        Handler.DRY,
    ):
        name = _heated(made, name, base)
    if has(name, Trait.WARMS) and Mark.TO_THE_SIMMER in marks and made.minutes is not None:
        name = "simmer"
    elif has(name, Trait.WARMS) and Mark.TO_THE_BOIL in marks and made.minutes is not None:
        name = "boil"
    spent = objects and all(is_class(head_of(one.name), "byproduct-solids", "waste") for one in objects)
    plain = made.grams is None and made.millilitres is None and made.share is None
    if row.handler is Handler.LOSE and opens and form is WordForm.BASE and objects and plain:
        name = "discard"  # "keep the leeks, lose the bay leaves"
    if base in grammar("throws spent") and spent:
        name = "discard"  # "toss the solids"
    shaped = [one for one in made.mentions if one.role is Role.INTO and is_class(head_of(one.name), "product-pieces")]
    if row.handler is Handler.SQUEEZE and shaped:
        name = "make"  # "squeeze into balls"
    if row.handler is Handler.REDUCE and _turns_down(made):
        name = "preheat"  # "reduce to a low heat"
    if Mark.FOR_LATER in marks and row.handler is Handler.NONE and row.gathers is Gathers.INTO:
        name = "keep"  # "put half of it in the freezer for another day"
    if base in grammar("turns in") and row.gathers is Gathers.APART and row.handler is Handler.NONE:
        into = [one for one in made.mentions if one.role is Role.INTO and not _is_tool(one)]
        name = "mix" if into and objects and not any(map(_is_tool, objects)) else name  # "turn the potatoes in the fat"
    if _through_sieve(made) and row.handler in (Handler.NONE, Handler.COAT) and row.gathers is not Gathers.APART:
        name = "strain"  # "pour the broth through a sieve"
    placed = [one for one in made.mentions if one.role is Role.INTO and not is_class(one.name, "pronoun")]
    if has(name, Trait.STANDS) and base in grammar("rests") and objects and placed and made.minutes is None:
        name = "add"
    pats = action(name).handler is Handler.PAT and base in grammar("pats")
    if pats and placed and not is_class(head_of(placed[0].name), "tool", "vessel-"):
        name = "rub"
    if Trait.PAPER_DRAINS in action(name).traits and Mark.PAPER in marks:
        name = "drain"
    if (
        base in grammar("weighs with")
        and (made.grams is not None or made.millilitres is not None)
        and row.handler is not Handler.WEIGH
    ):
        return replace(made, action="weigh", mood=Mood.DO, mentions=())
    if action(name).handler is Handler.DRY and objects and all(is_class(head_of(one.name), "waste") for one in objects):
        name = "pat"
    keeps = action(name).handler is Handler.KEEP and base in grammar("keeps")
    if keeps and not opens and form is not WordForm.ED:
        name = "store"
    if keeps and made.minutes is not None and not any(one.role is Role.OBJECT for one in made.mentions):
        name = "store"
    unmeasured = made.pieces is None and made.grams is None and made.millilitres is None
    if action(name).handler is Handler.MAKE and unmeasured and objects:
        thing = next((one for one in objects if is_class(head_of(one.name), "product")), None)
        if thing is not None and base in grammar("forms"):
            rest = tuple(
                replace(one, role=Role.OBJECT if one.role in (Role.OUT_OF, Role.WITH, Role.OBJECT) else one.role)
                for one in made.mentions
                if one is not thing
            )
            mixes = base in grammar("makes")
            return replace(
                made,
                action="mix" if mixes else "make",
                mentions=rest if mixes else made.mentions,
                names=head_of(thing.name),
            )
    if action(name).handler is Handler.STRAIN and base in grammar("passes") and _runs(objects):
        made = replace(made, marks=made.marks - {Mark.PRESSED})  # a liquor runs through by itself
    as_name = next(
        (one for one in made.mentions if one.role is Role.EVIDENCE and f"as {one.text.lower()}" in made.text.lower()),
        None,
    )
    if as_name is not None and Trait.NAMES in action(name).traits:
        made = replace(made, names=as_name.name)
    return replace(made, action=name)


def _through_sieve(made: Instruction) -> bool:
    """ "Pour it through a sieve", "pass the liquor through a fine sieve into a clean pan"."""
    behind = made.text.lower().partition(" through ")[2].split()[:_SIEVE_NEAR]
    return any(is_class(singular(word.strip(",.;:")), "sieve") for word in behind)


def _runs(objects: list[Mention]) -> bool:
    """Whether what is passed through a sieve is called a liquid."""
    return any(is_class(head_of(one.name), "product-liquid", "byproduct-liquid") for one in objects)


_SIEVE_NEAR = 4  # words from "through" to the sieve: "a very fine sieve"


def _into_its_object(made: Instruction) -> Instruction:
    """Where what was made goes into a food: "pour into the pastry case" pours nothing but what was in hand."""
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    if not has(made.action, Trait.INTO_OBJECT) or made.particle != "into" or made.vessel or len(objects) != 1:
        return made
    (target,) = objects
    if is_class(head_of(target.name), "pronoun", "tool", "vessel-") or not target.definite:
        return made  # "scrape into a bowl", "spoon into moulds"
    mentions = tuple(replace(one, role=Role.INTO) if one is target else one for one in made.mentions)
    return replace(made, action="add", mentions=mentions)


def _turns_down(made: Instruction) -> bool:
    """Whether it is the flame that is made smaller, and nothing boiled away."""
    said = made.text.lower()
    told = [one for one in made.mentions if not is_class(one.name, "vessel-")]
    flame = [one for one in told if is_class(head_of(one.name), "heat-source")]
    return (
        bool(flame)
        and len(flame) == len(told)
        and all(one.role is Role.OBJECT or one.text.lower() in said.partition(" to ")[2] for one in flame)
    )


_HOT = grammar("hot")


def _is_tool(one: Mention) -> bool:
    return is_class(head_of(one.name), "tool", "vessel-")


def stirred_into_hot(one: Instruction) -> Instruction:
    """Hot stock that is added while stirring for a time goes on cooking: "a ladle at a time, stirring, 20 minutes"."""
    hot = any(_HOT & set(mention.text.lower().split()) for mention in one.mentions)
    row = action(one.action)
    adds = row.gathers is Gathers.INTO and Trait.JOINS in row.traits
    if not adds or one.minutes is None or Mark.STIRRED not in one.marks or not hot:
        return one
    mentions = (replace(m, role=Role.WITH) if m.role is Role.OBJECT else m for m in one.mentions)
    return replace(one, action="simmer", mentions=tuple(mentions))


def _heated(made: Instruction, name: str, base: str) -> str:
    """What heats food without saying so: "put it in the oven for 20 minutes", "give it 5 minutes"."""
    marks, timed = made.marks, made.minutes is not None or made.core is not None
    into_water = any(one.role is Role.INTO and head_of(one.name) == "water" for one in made.mentions)
    if not timed and into_water:
        return name  # "add the potatoes to boiling water"
    if not timed and Mark.DRY not in marks:
        return (
            "heat" if (Mark.TO_THE_BOIL in marks or Mark.TO_THE_SIMMER in marks) and base in grammar("is set") else name
        )
    if {Mark.OFF_HEAT, Mark.FRIDGE, Mark.STANDING} & marks:
        return "stand" if base == "give" else name
    if Mark.GRILL in marks:
        return "broil"
    if Mark.IN_OVEN in marks or (
        made.celsius is not None and made.celsius.best > 90.0 and base not in grammar("keeps")
    ):
        dries = action(name).handler is Handler.DRY and made.celsius is None and base in grammar("leaves")
        return name if dries else "bake"
    if Mark.TO_THE_SIMMER in marks:
        return "simmer"
    if Mark.TO_THE_BOIL in marks:
        return "boil"
    if Mark.FLAME in marks or (Mark.GENTLE in marks and base in grammar("stays warm")):
        return "cook"
    if base in grammar("gives"):
        return "cook"
    return name

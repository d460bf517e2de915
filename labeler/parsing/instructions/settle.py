"""What an instruction does, by its verb together with its marks, figures and objects."""

from __future__ import annotations

from dataclasses import replace

from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.figures import Found
from labeler.parsing.instructions.lexicon import Form, is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Mood, Role

__all__ = ["settled"]


def settled(made: Instruction, found: Found, *, base: str, form: Form, opens: bool) -> Instruction | None:
    """An instruction whose action follows from its verb together with its marks, figures and objects (R8, R14)."""
    row = action(made.action)
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    marks = made.marks
    name = made.action
    if Mark.LAST in marks and made.minutes is not None and row.heat is Heat.NONE:
        made = replace(made, last_minutes=made.minutes, minutes=None)
    if base in ("leave", "be") and form is Form.ED and (made.grams or made.millilitres or made.share) and objects:
        name = "left"
    elif Mark.THROWN_AWAY in marks and base in ("go", "be", "do", "have", "give", "toss", "put", "use"):
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
    if name == "heat" and Mark.TO_THE_SIMMER in marks and made.minutes is not None:
        name = "simmer"
    elif name == "heat" and Mark.TO_THE_BOIL in marks and made.minutes is not None:
        name = "boil"
    placed = [one for one in made.mentions if one.role is Role.INTO and not is_class(one.name, "pronoun")]
    if name == "stand" and base in ("sit", "stand", "rest", "set") and objects and placed and made.minutes is None:
        name = "add"
    if name == "pat" and base == "pat" and placed and not is_class(head_of(placed[0].name), "tool", "vessel-"):
        name = "rub"
    if name in ("stand", "keep") and Mark.PAPER in marks:
        name = "drain"
    if (
        base in ("have", "get")
        and (made.grams is not None or made.millilitres is not None)
        and row.handler is not Handler.WEIGH
    ):
        return replace(made, action="weigh", mood=Mood.DO, mentions=())
    if name == "dry" and objects and all(is_class(head_of(one.name), "waste") for one in objects):
        name = "pat"
    if name == "keep" and base == "keep" and not opens:
        name = "store"
    if (
        name == "keep"
        and base == "keep"
        and made.minutes is not None
        and not any(one.role is Role.OBJECT for one in made.mentions)
    ):
        name = "store"
    if name == "make" and made.pieces is None and made.grams is None and made.millilitres is None and objects:
        thing = next((one for one in objects if is_class(head_of(one.name), "product")), None)
        if thing is not None and base in ("make", "form", "shape"):
            rest = tuple(
                replace(one, role=Role.OBJECT if one.role in (Role.OUT_OF, Role.WITH, Role.OBJECT) else one.role)
                for one in made.mentions
                if one is not thing
            )
            return replace(
                made,
                action="mix" if base == "make" else "make",
                mentions=rest if base == "make" else made.mentions,
                names=head_of(thing.name),
            )
    as_name = next(
        (one for one in made.mentions if one.role is Role.EVIDENCE and f"as {one.text.lower()}" in made.text.lower()),
        None,
    )
    if as_name is not None and name in ("keep", "drain", "strain", "discard", "lift"):
        made = replace(made, names=as_name.name)
    return replace(made, action=name)


def _heated(made: Instruction, name: str, base: str) -> str:
    """What heats food without saying so: "put it in the oven for 20 minutes", "give it 5 minutes"."""
    marks, timed = made.marks, made.minutes is not None or made.core is not None
    if not timed and Mark.DRY not in marks:
        return (
            "heat"
            if (Mark.TO_THE_BOIL in marks or Mark.TO_THE_SIMMER in marks)
            and base in ("let", "put", "set", "place", "allow", "add", "keep", "leave")
            else name
        )
    if Mark.OFF_HEAT in marks or Mark.FRIDGE in marks:
        return name
    if Mark.GRILL in marks:
        return "broil"
    if Mark.IN_OVEN in marks or (made.celsius is not None and made.celsius.best > 90.0 and base not in ("keep",)):
        return name if name == "dry" and made.celsius is None and base == "leave" else "bake"
    if Mark.TO_THE_SIMMER in marks:
        return "simmer"
    if Mark.TO_THE_BOIL in marks:
        return "boil"
    if Mark.FLAME in marks or (Mark.GENTLE in marks and base in ("keep", "leave", "let", "put")):
        return "cook"
    if base == "give":
        return "cook"
    return name

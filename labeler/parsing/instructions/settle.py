"""What an instruction does, by its verb together with its marks, figures and objects."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from labeler.parsing.instructions.actions import Action, Gathers, Handler, Heat, Trait, action, has
from labeler.parsing.instructions.deeds import into_its_object, is_placed, runs, through_sieve, turns_down
from labeler.parsing.instructions.fragments import KEEPS_OUT
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Mood, Quantity, Role
from labeler.text.plurals import singular

__all__ = ["settled", "stirred_into_hot"]


def settled(made: Instruction, *, base: str, form: WordForm, opens: bool, denied: bool = False) -> Instruction | None:
    """An instruction whose action follows from its verb together with its marks, figures and objects (R8, R14)."""
    made = _of_what_is_in_hand(_made_so(into_its_object(made), base))
    if Mark.LAST in made.marks and made.minutes is not None and action(made.action).heat is Heat.NONE:
        made = replace(made, last_minutes=made.minutes, minutes=None)
    if _weighs(made, base):
        return replace(made, action="weigh", mood=Mood.DO, mentions=())
    waits = bool(grammar("not yet") & set(made.text.lower().split()))
    somewhere = bool(made.vessel) or len(made.mentions) > 1  # what is left out, and of what
    if denied and form is WordForm.ING and base in grammar("goes verb") and somewhere and not waits:
        made, base = _left_out(made), "omit"
    deed = _Deed(made, base, form, opens, denied)
    name = made.action
    for rule in _RULES:
        name = rule(deed, name) or name
    if (formed := _forms_of(deed, name)) is not None:
        return formed
    if action(name).handler is Handler.COAT and base in grammar("presses") and len(deed.objects) > 1:
        made = replace(made, mentions=tuple(replace(one, role=Role.INTO) for one in made.mentions))
    marks = made.marks
    if action(name).handler is Handler.STRAIN and base in grammar("passes") and runs(deed.objects):
        marks -= {Mark.PRESSED}  # a liquor runs through by itself
    return replace(made, action=name, marks=marks, names=_given_name(made, name))


def _made_so(made: Instruction, base: str) -> Instruction:
    """ "Get the oil hot", "have the leeks golden in the butter": what it is to become tells the heat."""
    objects = [at for at, one in enumerate(made.mentions) if one.role is Role.OBJECT and " " in one.name]
    if base not in grammar("makes so") or not objects:
        return made
    mentions = list(made.mentions)
    food, _, state = mentions[objects[-1]].name.rpartition(" ")
    deed = "heat" if state in grammar("is hot") else "cook" if state in grammar("is cooked") else ""
    if not deed:
        return made
    mentions[objects[-1]] = replace(mentions[objects[-1]], name=food)
    return replace(made, action=deed, mentions=tuple(mentions))


def _of_what_is_in_hand(made: Instruction) -> Instruction:
    """ "Take out 50 ml", "reserve 1/3 cup": so much of what is spoken of is kept."""
    amount = made.grams or made.millilitres
    objects = [one for one in made.mentions if one.role is Role.OBJECT]
    bare = all(is_class(one.name, "vessel-bowl") and one.text[:1].isdigit() for one in objects)
    if made.adjunct or action(made.action).handler not in (Handler.KEEP, Handler.LIFT) or amount is None or not bare:
        return made
    quantity = Quantity(Extent.AMOUNT, grams=made.grams, millilitres=made.millilitres)
    meant = Mention(made.text, "it", Role.OBJECT, quantity, definite=True)
    others = (one for one in made.mentions if one.role is not Role.OBJECT)
    marks = made.marks - {Mark.SAME_VESSEL, Mark.NEW_VESSEL}
    vessel = "" if objects else made.vessel
    return replace(
        made, action="keep", mentions=(meant, *others), grams=None, millilitres=None, vessel=vessel, marks=marks
    )


class _Deed(NamedTuple):
    """A verb as read: the instruction so far, and the form of its word.

    Parameters
    ----------
    made : Instruction
    base : str
        Base form of the verb.
    form : WordForm
    opens : bool
        Whether it opens its clause.
    denied : bool
        Whether it is denied.
    """

    made: Instruction
    base: str
    form: WordForm
    opens: bool
    denied: bool

    @property
    def row(self) -> Action:
        """The action that the verb stands for by itself."""
        return action(self.made.action)

    @property
    def objects(self) -> list[Mention]:
        """What is acted on."""
        return [one for one in self.made.mentions if one.role is Role.OBJECT]

    @property
    def measured(self) -> bool:
        """Whether a weight, a volume or a share is told."""
        return any(one is not None for one in (self.made.grams, self.made.millilitres, self.made.share))

    @property
    def weighed(self) -> bool:
        """Whether a weight or a volume is told."""
        return self.made.grams is not None or self.made.millilitres is not None

    def all_are(self, *classes: str) -> bool:
        """Whether something is acted on, and all of it is of one of some classes."""
        objects = self.objects
        return bool(objects) and all(is_class(head_of(one.name), *classes) for one in objects)


# Each rule gives the action that the deed turns out to be, or nothing; they are asked one behind the other, and a later
# one sees what those before it found.


def _left_or_thrown_or_heated(deed: _Deed, name: str) -> str | None:
    left = deed.base in grammar("is left verb") and deed.form is WordForm.ED
    if left and deed.measured and deed.objects:
        return "left"
    thrown = Mark.THROWN_AWAY in deed.made.marks
    if deed.denied and deed.base in KEEPS_OUT and any(map(_all_of_it, deed.objects)):
        return "idle"  # "you may not use all of it": nobody says how much
    if (deed.denied and deed.base in KEEPS_OUT) or (
        thrown and (deed.base in grammar("throws with") or deed.row.handler is Handler.LIFT)
    ):
        return "discard"
    if deed.row.heat is Heat.BY_PLACE or deed.row.handler in _HEATED_BY_PLACE:
        return _heated(deed.made, name, deed.base)
    return None


def _warmed_for_a_time(deed: _Deed, name: str) -> str | None:
    if not has(name, Trait.WARMS) or deed.made.minutes is None:
        return None
    if Mark.TO_THE_SIMMER in deed.made.marks:
        return "simmer"
    return "boil" if Mark.TO_THE_BOIL in deed.made.marks else None


def _thrown(deed: _Deed, name: str) -> str | None:
    """ "Keep the leeks, lose the bay leaves"; "toss the solids"; "bones and skin go"."""
    loses = deed.row.handler is Handler.LOSE and deed.opens and deed.form is WordForm.BASE
    if loses and deed.objects and not deed.measured:
        return "discard"
    goes = deed.base in grammar("goes verb") and not is_placed(deed.made)
    throws = goes or deed.base in grammar("throws spent")
    if deed.base in grammar("pours away") and deed.all_are("byproduct-liquid", "byproduct-fat"):
        return None if is_placed(deed.made) else "discard"  # "dump the brine"
    return "discard" if throws and deed.all_are("byproduct-solids", "waste") else None


def _shaped(deed: _Deed, name: str) -> str | None:
    """ "Squeeze into balls"."""
    into = (one for one in deed.made.mentions if one.role is Role.INTO)
    pieces = any(is_class(head_of(one.name), "product-pieces") for one in into)
    return "make" if deed.row.handler is Handler.SQUEEZE and pieces else None


def _skimmed(deed: _Deed, name: str) -> str | None:
    """ "Skin the fat off the broth": fat has no skin, so that it is skimmed."""
    skins = deed.base in grammar("skims fat")
    return "skim" if skins and deed.all_are("byproduct-fat", "byproduct-drippings") else None


def _poured_out(deed: _Deed, name: str) -> str | None:
    """ "Pour out the brine"; what is poured out alone, or over something, goes on."""
    out = deed.base in grammar("pours out") and deed.made.particle in grammar("particle out")
    placed = deed.made.vessel or any(one.role is Role.INTO for one in deed.made.mentions)
    return "drain" if out and not placed and deed.all_are("byproduct-liquid", "byproduct-fat") else None


def _turned_down(deed: _Deed, name: str) -> str | None:
    """ "Reduce to a low heat"."""
    return "preheat" if deed.row.handler is Handler.REDUCE and turns_down(deed.made) else None


def _kept_for_later(deed: _Deed, name: str) -> str | None:
    """ "Put half of it in the freezer for another day"."""
    goes_in = deed.row.handler is Handler.NONE and deed.row.gathers is Gathers.INTO
    return "keep" if goes_in and Mark.FOR_LATER in deed.made.marks else None


def _turned_in_fat(deed: _Deed, name: str) -> str | None:
    """ "Turn the potatoes in the fat"."""
    if deed.base not in grammar("turns in") or deed.row.gathers is not Gathers.APART:
        return None
    into = [one for one in deed.made.mentions if one.role is Role.INTO and not _is_tool(one)]
    foods = deed.objects and not any(map(_is_tool, deed.objects))
    return "mix" if deed.row.handler is Handler.NONE and into and foods else None


def _sieved(deed: _Deed, name: str) -> str | None:
    """ "Pour the broth through a sieve"."""
    moves = deed.row.handler in (Handler.NONE, Handler.COAT) and deed.row.gathers is not Gathers.APART
    return "strain" if moves and through_sieve(deed.made) else None


def _placed(deed: _Deed, name: str) -> str | None:
    """ "Rest the fish on the leeks"; "pat the spices onto the meat"."""
    placed = [one for one in deed.made.mentions if one.role is Role.INTO and not is_class(one.name, "pronoun")]
    if not placed:
        return None
    rests = has(name, Trait.STANDS) and deed.base in grammar("rests")
    if rests and deed.objects and deed.made.minutes is None:
        return "add"
    pats = action(name).handler is Handler.PAT and deed.base in grammar("pats")
    return "rub" if pats and not is_class(head_of(placed[0].name), "tool", "vessel-") else None


def _flattened(deed: _Deed, name: str) -> str | None:
    """ "Pat each one flat" gives a shape, and wipes nothing."""
    flat = bool(grammar("flat") & set(deed.made.text.lower().replace(",", " ").split()))
    return "cut" if action(name).handler is Handler.PAT and deed.base in grammar("pats") and flat else None


def _listed_behind_colon(deed: _Deed, name: str) -> str | None:
    """ "In with your hands: the mince, rice and onion": what such words list comes together."""
    row = action(name)
    idle = row.handler is Handler.NONE and row.gathers is Gathers.APART and Trait.CUTS not in row.traits
    before, _, behind = deed.made.text.partition(":")
    listed = [one for one in deed.objects if one.text in behind and one.text not in before]
    return "mix" if idle and len(listed) > 1 and len(listed) == len(deed.objects) else None


def _turned_in_stations(deed: _Deed, name: str) -> str | None:
    """ "Flour, egg, crumbs, press": what stands before is what food is turned in, one behind the other."""
    verb = deed.made.text.lower().find(deed.base)
    before = [one for one in deed.objects if 0 <= deed.made.text.lower().find(one.text.lower()) < verb]
    presses = deed.base in grammar("presses") and deed.opens and action(name).handler is Handler.NONE
    return "coat" if presses and len(before) > 1 and len(before) == len(deed.made.mentions) else None


def _pressed_on(deed: _Deed, name: str) -> str | None:
    """ "Press the crumbs onto the fish" puts them there; "press both sides into the crumbs" turns it in them."""
    placed = [one for one in deed.made.mentions if one.role is Role.INTO]
    plain = action(name).handler is Handler.NONE and action(name).gathers is Gathers.APART
    if deed.base not in grammar("presses") or not plain or not placed or any(map(_is_tool, placed)):
        return None
    if deed.objects and all(head_of(one.name) in grammar("sides of food") for one in deed.objects):
        return "coat"
    return "top" if deed.objects else None


def _set_apart(deed: _Deed, name: str) -> str | None:
    """ "Put the flour and the crumbs in separate dishes": they stand ready, and come to nothing yet."""
    words = deed.made.vessel.split(" ")
    apart = words[0] in grammar("set apart") and singular(words[-1]) != words[-1] and len(deed.objects) > 1
    joins = action(name).gathers is Gathers.INTO and action(name).heat is Heat.NONE
    return "idle" if apart and joins else None


def _drained_on_paper(deed: _Deed, name: str) -> str | None:
    return "drain" if Trait.PAPER_DRAINS in action(name).traits and Mark.PAPER in deed.made.marks else None


def _patted(deed: _Deed, name: str) -> str | None:
    return "pat" if action(name).handler is Handler.DRY and deed.all_are("waste") else None


def _stored(deed: _Deed, name: str) -> str | None:
    if action(name).handler is not Handler.KEEP or deed.base not in grammar("keeps"):
        return None
    tells = not deed.opens and deed.form is not WordForm.ED
    return "store" if tells or (deed.made.minutes is not None and not deed.objects) else None


_HEATED_BY_PLACE = (Handler.NONE, Handler.LIE, Handler.SERVE, Handler.KEEP, Handler.MAKE, Handler.DRY)


def _again(deed: _Deed, name: str) -> str | None:
    """ "Fry the remaining batches of fritters": the same again, with food that this recipe has counted already."""
    rest = [one for one in deed.objects if one.quantity.extent is Extent.REST]
    again = bool(rest) and all(is_class(singular(one.name.split(" of ", 1)[0]), "batch") for one in rest)
    return "repeat" if again and action(name).heat is not Heat.NONE else None


_RULES = (
    _left_or_thrown_or_heated, _warmed_for_a_time, _thrown, _shaped, _skimmed, _poured_out, _turned_down,
    _kept_for_later,
    _turned_in_fat, _sieved, _flattened, _placed, _listed_behind_colon,
    _turned_in_stations, _pressed_on, _set_apart, _drained_on_paper, _patted, _stored, _again,
)  # fmt: skip


def _weighs(made: Instruction, base: str) -> bool:
    """ "It should come to 1.4 kg"."""
    weighed = made.grams is not None or made.millilitres is not None
    amounts = [one.quantity for one in made.mentions if one.quantity.extent is Extent.AMOUNT]
    if any((one.grams or one.millilitres) in (made.grams, made.millilitres) for one in amounts):
        return False  # "get in there: the mince and 2 tsp of the salt"
    return weighed and base in grammar("weighs with") and action(made.action).handler is not Handler.WEIGH


def _left_out(made: Instruction) -> Instruction:
    """ "The rind is not going in this soup": what is spoken of is left out."""
    first = min(made.mentions, key=lambda one: made.text.find(one.text), default=None)
    spoken_of = (replace(first, role=Role.OBJECT),) if first is not None else ()
    return replace(made, mentions=spoken_of, verb="omit", particle="", vessel="", mood=Mood.DO)


def _forms_of(deed: _Deed, name: str) -> Instruction | None:
    """What makes a thing that it names: "make a dough from the flour and the water", "form a ball"."""
    made = deed.made
    if action(name).handler is not Handler.MAKE or made.pieces is not None or deed.weighed:
        return None
    thing = next((one for one in deed.objects if is_class(head_of(one.name), "product")), None)
    if thing is None or deed.base not in grammar("forms"):
        return None
    if deed.base not in grammar("makes"):
        return replace(made, action="make", names=head_of(thing.name))
    rest = tuple(
        replace(one, role=Role.OBJECT) if one.role in (Role.OUT_OF, Role.WITH) else one
        for one in made.mentions
        if one is not thing
    )
    return replace(made, action="mix", mentions=rest, names=head_of(thing.name))


def _given_name(made: Instruction, name: str) -> str:
    """What the result is called from now on: "reserve as stock"."""
    if Trait.NAMES not in action(name).traits:
        return made.names
    told = made.text.lower()
    said = (one for one in made.mentions if one.role is Role.EVIDENCE and f"as {one.text.lower()}" in told)
    return next((one.name for one in said), made.names)


def _all_of_it(one: Mention) -> bool:
    return is_class(one.name, "everything") or one.quantity.whole


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
        cold = Mark.FRIDGE in marks and action(name).heat is Heat.BY_PLACE  # "two days in the fridge"
        return "stand" if base == "give" or cold else name
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
    if base in grammar("gives") or (Mark.DRY in marks and base in grammar("goes verb")):
        return "cook"  # "let it go almost to nothing"
    return name

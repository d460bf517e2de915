"""A small model of a dish, and the many ways in which a cook may tell it: the strategies of the generated tellings.

A dish is foods with amounts and a sequence of acts. A telling words each act in one of several ways, joins or splits
the sentences, names foods one by one or by their class, and writes all of it in one of several forms. Amounts, times
and wordings: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from hypothesis import strategies as st

__all__ = ["Act", "Deed", "Dish", "Food", "Form", "Telling", "dishes", "plain", "tellings", "text_of"]


class Deed(Enum):
    """What an act does; `WORDINGS` has the ways of telling it."""

    FRY = "fry"
    BROWN = "brown"
    SIMMER = "simmer"
    SIMMER_OPEN = "simmer open"
    BOIL_DRAIN = "boil and drain"
    BRINE = "brine"
    ROAST = "roast"
    MIX = "mix"
    WHISK_POUR = "whisk and pour over"
    COMBINE = "combine"
    BAKE = "bake"
    REDUCE = "reduce"
    STIR_IN = "stir in"
    SERVE = "serve"


class Form(Enum):
    """How the recipe is written down."""

    OWN = "own form"
    OWN_ROWS = "own form, a row a sentence"
    NUMBERED = "page, numbered"
    BULLETED = "page, bullets"
    PLAIN = "page, paragraphs"
    ONE_PARAGRAPH = "page, one paragraph"


@dataclass(frozen=True)
class Food:
    """A food as a line has it and as a method calls it; `kind` is the class word that covers it, or nothing."""

    line: str
    word: str
    kind: str = ""


@dataclass(frozen=True)
class Act:
    """One thing that is done to some foods; `fat` is what they fry in, `bath` what they lie in."""

    deed: Deed
    foods: tuple[Food, ...] = ()
    minutes: int = 0
    others: tuple[Food, ...] = ()


@dataclass(frozen=True)
class Dish:
    """A sequence of acts; `sub_list` is the place of the one whose foods may stand in a list of their own."""

    title: str
    acts: tuple[Act, ...]
    sub_list: int | None = None
    list_title: str = ""

    @property
    def foods(self) -> tuple[Food, ...]:
        return tuple(dict.fromkeys(food for act in self.acts for food in (*act.foods, *act.others)))


@dataclass(frozen=True)
class Telling:
    """How a dish is told: a wording of each act, what joins it to the one before, and the form of it all."""

    wordings: tuple[int, ...]
    joints: tuple[str, ...]
    groups: tuple[bool, ...]
    form: Form
    in_list: bool
    remark: str
    remark_at: int


def plain(dish: Dish) -> Telling:
    """The plainest telling: the first wording of everything, a sentence an act."""
    count = len(dish.acts)
    return Telling((0,) * count, (". ",) * count, (False,) * count, Form.OWN_ROWS, False, "", 0)


WORDINGS: dict[Deed, tuple[str, ...]] = {
    Deed.FRY: (
        "fry {F} in {O} for {m} minutes",
        "heat {O} in a large pan and fry {F} for {m} minutes",
        "heat {O} in a pan, add {F} and fry for {m} minutes",
        "soften {F} in {O} for {m} minutes, stirring often",
        "{F} {are} fried in {O} for {m} minutes",
        "in a large pan, cook {F} in {O} for {m} minutes",
        "warm {O}. Add {F}. Fry for {m} minutes",
    ),
    Deed.BROWN: (
        "brown {F} in {O} for {m} minutes",
        "heat {O} in a large pan and brown {F} in it for {m} minutes",
        "{F} {are} browned in {O} for {m} minutes",
        "sear {F} in {O} for {m} minutes, turning",
    ),
    Deed.SIMMER: (
        "add {F} and simmer covered for {m} minutes",
        "stir in {F}, cover and simmer for {m} minutes",
        "add {F}, bring to the boil, put on the lid and simmer for {m} minutes",
        "{F} {are} added and the pot is simmered, covered, for {m} minutes",
        "tip in {F}, put the lid on and let it bubble gently for {m} minutes",
        "add {F}. Cover. Simmer for {m} minutes",
        "{F} {go} in next. Put the lid on and simmer gently for {m} minutes",
    ),
    Deed.SIMMER_OPEN: (
        "add {F} and simmer uncovered for {m} minutes",
        "stir in {F} and simmer without a lid for {m} minutes",
        "{F} {are} added and everything is simmered, uncovered, for {m} minutes",
        "add {F}. Bring to the boil. Simmer, uncovered, for {m} minutes",
    ),
    Deed.BOIL_DRAIN: (
        "boil {F} in plenty of water for {m} minutes and drain",
        "cook {F} in plenty of boiling water for {m} minutes, then drain",
        "bring a large pot of water to the boil, add {F} and cook for {m} minutes. Drain",
        "{F} {are} boiled in plenty of water for {m} minutes and drained",
        "boil {F} in plenty of water for {m} minutes. Tip into a colander to drain",
        "boil {F} in plenty of water for {m} minutes and pour off the water",
        "when a big pan of water boils, add {F}, cook for {m} minutes and drain well",
    ),
    Deed.BRINE: (
        "put {F} into {O} and leave for {m} hours, then drain",
        "mix {O}, submerge {F} in the brine for {m} hours and drain",
        "brine {F} in {O} for {m} hours. Drain",
        "{F} {are} brined in {O} for {m} hours and drained",
        "stir {O} together. Lay {F} in the brine for {m} hours. Drain and throw the brine away",
        "leave {F} in {O} for {m} hours. Take {F} out and discard the brine",
    ),
    Deed.ROAST: (
        "roast at 190 °C for {m} minutes",
        "roast for {m} minutes at 190 °C",
        "put into the oven and roast at 190 °C for {m} minutes",
        "heat the oven to 190 °C. Roast for {m} minutes",
    ),
    Deed.MIX: (
        "mix {F}",
        "combine {F} in a bowl",
        "put {F} into a bowl and mix",
        "{F} {are} mixed in a bowl",
        "stir {F} together",
    ),
    Deed.WHISK_POUR: (
        "whisk {F} and pour over {P}",
        "mix {F} in a bowl and pour over {P}",
        "{F} {are} whisked and poured over {P}",
        "whisk {F} in a jug. Pour it over {P}",
        "make a dressing of {F} and pour it over {P}",
    ),
    Deed.COMBINE: (
        "add {F} and mix to a batter",
        "stir in {F}",
        "{F} {are} stirred in",
        "whisk {F} in another bowl and stir into the dry ingredients",
        "beat {F} together. Fold into the flour mixture",
    ),
    Deed.BAKE: (
        "bake at 180 °C for {m} minutes",
        "pour into a tin and bake at 180 °C for {m} minutes",
        "scrape the batter into a cake tin and bake for {m} minutes at 180 °C",
        "heat the oven to 180 °C. Bake the batter in a tin for {m} minutes",
    ),
    Deed.REDUCE: (
        "simmer until reduced to {m} ml",
        "boil down to {m} ml",
        "let it reduce to {m} ml",
        "reduce the sauce to {m} ml",
    ),
    Deed.STIR_IN: (
        "stir in {F}",
        "add {F} and toss",
        "{F} {are} stirred in",
        "fold in {F}",
        "toss with {F}",
        "mix {F} in",
        "finally, add {F}",
    ),
    Deed.SERVE: (
        "serve with {F}",
        "top with {F} and serve",
        "scatter {F} over and serve",
        "serve topped with {F}",
        "put on plates and serve with {F}",
    ),
}
REMARKS = (
    "", "", "My aunt made this every Thursday", "The kitchen will smell wonderful", "This is the best part",
    "Do not worry if it looks odd", "I love this dish in winter",
)  # fmt: skip
JOINTS = (". ", ". ", ", then ", ". Then ", ". After that, ", "; ")

VEGETABLES = (
    Food("150 g carrots, diced", "carrots", "vegetables"), Food("120 g onions, chopped", "onions", "vegetables"),
    Food("100 g celery, sliced", "celery", "vegetables"), Food("200 g leeks, sliced", "leeks", "vegetables"),
    Food("180 g red peppers, diced", "peppers", "vegetables"),
    Food("200 g courgettes, diced", "courgettes", "vegetables"),
)  # fmt: skip
SPICES = (
    Food("3 g ground cumin", "cumin", "spices"), Food("4 g paprika", "paprika", "spices"),
    Food("2 g turmeric", "turmeric", "spices"), Food("3 g ground coriander", "coriander", "spices"),
)  # fmt: skip
FATS = (Food("40 g olive oil", "olive oil"), Food("40 g butter", "butter"))
MEATS = (
    Food("600 g chicken thighs, boneless", "chicken"), Food("700 g beef chuck, cubed", "beef"),
    Food("600 g pork shoulder, cubed", "pork"),
)  # fmt: skip
STOCKS = (Food("1 litre vegetable stock", "stock"), Food("800 ml chicken stock", "stock"))
BODIES = (
    Food("200 g brown lentils", "lentils"), Food("150 g pearl barley", "barley"),
    Food("400 g potatoes, cubed", "potatoes"),
    Food("400 g canned chickpeas, drained", "chickpeas"),
)  # fmt: skip
STARCHES = (
    Food("300 g spaghetti", "spaghetti"), Food("250 g rice", "rice"), Food("800 g potatoes, cubed", "potatoes"),
    Food("300 g green beans", "beans"), Food("200 g brown lentils", "lentils"),
)  # fmt: skip
SALT = Food("6 g salt", "salt")
FINISHES = (
    Food("100 g feta, crumbled", "feta"), Food("20 g parsley, chopped", "parsley"),
    Food("150 g plain yogurt", "yogurt"),
    Food("50 g walnuts, chopped", "walnuts"), Food("60 g Parmesan, grated", "Parmesan"),
)  # fmt: skip
DRESSING = (
    Food("50 g olive oil", "olive oil"),
    Food("30 g white wine vinegar", "vinegar"),
    Food("10 g mustard", "mustard"),
    SALT,
)
BRINE = (Food("2 litres water", "water"), Food("120 g salt", "salt"))
DRY = (Food("250 g plain flour", "flour", "dry ingredients"), Food("150 g sugar", "sugar", "dry ingredients"),
       Food("8 g baking powder", "baking powder", "dry ingredients"))  # fmt: skip
WET = (Food("3 eggs", "eggs", "wet ingredients"), Food("120 g melted butter", "butter", "wet ingredients"),
       Food("150 ml milk", "milk", "wet ingredients"))  # fmt: skip


def _some(pool: Sequence[Food], least: int, most: int) -> st.SearchStrategy[tuple[Food, ...]]:
    return st.lists(st.sampled_from(list(pool)), min_size=least, max_size=most, unique=True).map(tuple)


@st.composite
def _stews(draw: st.DrawFn) -> Dish:
    fat = (draw(st.sampled_from(FATS)),)
    acts = [Act(Deed.FRY, draw(_some(VEGETABLES, 1, 4)), 8, fat)]
    if draw(st.booleans()):
        acts.insert(0, Act(Deed.BROWN, (draw(st.sampled_from(MEATS)),), 6, fat))
        acts[1] = replace(acts[1], deed=Deed.STIR_IN, others=())
    spices = draw(_some(SPICES, 0, 3))
    rest = (draw(st.sampled_from(BODIES)), draw(st.sampled_from(STOCKS)), *spices, SALT)
    acts.append(
        Act(draw(st.sampled_from([Deed.SIMMER, Deed.SIMMER, Deed.SIMMER_OPEN])), rest, draw(st.sampled_from([25, 40])))
    )
    if draw(st.booleans()):
        acts.append(Act(draw(st.sampled_from([Deed.STIR_IN, Deed.SERVE])), (draw(st.sampled_from(FINISHES)),)))
    return Dish("Stew", tuple(acts))


@st.composite
def _salads(draw: st.DrawFn) -> Dish:
    starch = draw(st.sampled_from(STARCHES))
    acts = [Act(Deed.BOIL_DRAIN, (starch,), draw(st.sampled_from([10, 18])))]
    if draw(st.booleans()):
        acts.append(Act(Deed.STIR_IN, draw(_some(VEGETABLES, 1, 3))))
    acts.append(Act(Deed.WHISK_POUR, DRESSING, 0, (starch,)))
    if draw(st.booleans()):
        acts.append(Act(draw(st.sampled_from([Deed.STIR_IN, Deed.SERVE])), draw(_some(FINISHES, 1, 2))))
    return Dish("Salad", tuple(acts), next(at for at, act in enumerate(acts) if act.foods == DRESSING), "dressing")


@st.composite
def _roasts(draw: st.DrawFn) -> Dish:
    meat = draw(st.sampled_from((Food("1.5 kg pork loin, boneless", "pork"), Food("1 kg chicken breasts", "chicken"))))
    acts = [Act(Deed.BRINE, (meat,), draw(st.sampled_from([6, 12])), BRINE), Act(Deed.ROAST, (meat,), 50)]
    if draw(st.booleans()):
        acts.append(Act(Deed.SERVE, draw(_some(FINISHES, 1, 2))))
    return Dish("Roast", tuple(acts), 0, "brine")


@st.composite
def _cakes(draw: st.DrawFn) -> Dish:
    acts = [Act(Deed.MIX, DRY), Act(Deed.COMBINE, WET), Act(Deed.BAKE, (), draw(st.sampled_from([35, 50])))]
    if draw(st.booleans()):
        acts.insert(2, Act(Deed.STIR_IN, (Food("80 g raisins", "raisins"), Food("60 g walnuts, chopped", "walnuts"))))
    return Dish("Cake", tuple(acts))


@st.composite
def _sauces(draw: st.DrawFn) -> Dish:
    fat = (draw(st.sampled_from(FATS)),)
    acts = [
        Act(Deed.FRY, draw(_some(VEGETABLES[:4], 1, 3)), 6, fat),
        Act(Deed.STIR_IN, (Food("300 ml dry white wine", "wine"), draw(st.sampled_from(STOCKS)))),
        Act(Deed.REDUCE, (), 500),
        Act(Deed.STIR_IN, (Food("100 ml cream", "cream"), SALT)),
    ]
    return Dish("Sauce", tuple(acts))


dishes: st.SearchStrategy[Dish] = st.one_of(_stews(), _salads(), _roasts(), _cakes(), _sauces())


@st.composite
def tellings(draw: st.DrawFn, dish: Dish) -> Telling:
    """A way of telling a dish."""
    return Telling(
        tuple(draw(st.integers(0, len(WORDINGS[act.deed]) - 1)) for act in dish.acts),
        tuple(draw(st.sampled_from(JOINTS)) for _ in dish.acts),
        tuple(draw(st.booleans()) for _ in dish.acts),
        draw(st.sampled_from(list(Form))),
        draw(st.booleans()),
        draw(st.sampled_from(REMARKS)),
        draw(st.integers(0, len(dish.acts))),
    )


def _listed(foods: Sequence[Food]) -> str:
    names = [f"the {food.word}" for food in foods]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _named(dish: Dish, act: Act, grouped: bool, in_list: bool) -> str:
    """The foods of an act, one by one or by the class that covers them and no other food of the dish."""
    if in_list and dish.sub_list is not None and dish.acts[dish.sub_list] is act and act.deed is not Deed.BRINE:
        return f"the ingredients for the {dish.list_title}" if grouped else _listed(act.foods)
    if not grouped:
        return _listed(act.foods)
    told: list[Food] = []
    for kind in dict.fromkeys(food.kind for food in act.foods if food.kind):
        own = [food for food in act.foods if food.kind == kind]
        if len(own) > 1 and len(own) == sum(food.kind == kind for food in dish.foods):
            told.append(Food("", kind))
    covered = {food.word for food in told}
    return _listed([*told, *(food for food in act.foods if food.kind not in covered)])


def _sentence(dish: Dish, at: int, how: Telling) -> str:
    act = dish.acts[at]
    foods = _named(dish, act, how.groups[at], how.in_list) if act.foods else ""
    many = " and " in foods or foods.endswith("s")
    words = WORDINGS[act.deed][how.wordings[at]]
    others = _listed(act.others) if act.others else ""
    return words.format(
        F=foods, O=others, P=others, m=act.minutes, are="are" if many else "is", go="go" if many else "goes"
    )


def _sentences(dish: Dish, how: Telling) -> list[str]:
    rows: list[str] = []
    for at in range(len(dish.acts)):
        text = _sentence(dish, at, how)
        joint = how.joints[at] if rows else ". "
        passive = "{are}" in WORDINGS[dish.acts[at].deed][how.wordings[at]]
        if joint in (", then ", "; ") and (". " in rows[-1] or passive):
            joint = ". "
        if joint == ". ":
            rows.append(text)
        elif joint.startswith(". "):
            rows.append(joint[2:] + text)
        else:
            rows[-1] += joint + text
    if how.remark:
        rows.insert(min(how.remark_at, len(rows)), how.remark)
    return [row[:1].upper() + row[1:] + "." for row in rows]


def text_of(dish: Dish, how: Telling) -> str:
    """The recipe of a dish as it is told."""
    own = set(dish.acts[dish.sub_list].foods) if dish.sub_list is not None else set()
    if dish.sub_list is not None and dish.acts[dish.sub_list].deed is Deed.BRINE:
        own = set(dish.acts[dish.sub_list].others)
    apart = how.in_list and how.form not in (Form.OWN, Form.OWN_ROWS)
    lines = [f"- {food.line}" for food in dish.foods if not apart or food not in own]
    if apart and own:
        lines += ["", f"### For the {dish.list_title}", *(f"- {food.line}" for food in dish.foods if food in own)]
    if not apart:
        how = replace(how, in_list=False)
    rows = _sentences(dish, how)
    head = f"---\ntitle: {dish.title}\nserves: 4\nmarket: us\n---\n"
    if how.form is Form.OWN:
        return head + "\n".join([*lines, "> " + " ".join(rows)]) + "\n"
    if how.form is Form.OWN_ROWS:
        return head + "\n".join([*lines, *(f"> {row}" for row in rows)]) + "\n"
    method = {
        Form.NUMBERED: [f"{at}. {row}" for at, row in enumerate(rows, 1)],
        Form.BULLETED: [f"- {row}" for row in rows],
        Form.PLAIN: [line for row in rows for line in (row, "")],
        Form.ONE_PARAGRAPH: [" ".join(rows)],
    }[how.form]
    return head + "\n".join(["## Ingredients", *lines, "", "## Method", *method]) + "\n"

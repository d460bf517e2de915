"""Strategies for recipes that nobody wrote: lines of every kind of food, methods of every action, in any order."""

from __future__ import annotations

from hypothesis import strategies as st

from labeler.foods.composition.food_table import load_table
from labeler.parsing.instructions.actions import actions

__all__ = ["any_method", "method_texts", "recipes"]

KITCHEN = (
    "500 g chicken thighs|chicken", "1 kg beef shin|beef", "400 g pork belly|pork", "300 g minced lamb|lamb",
    "2 salmon fillets|salmon", "1 kg mussels|mussels", "300 g prawns, peeled|prawns", "120 g bacon|bacon",
    "2 onions, chopped|onions", "3 carrots, diced|carrots", "500 g potatoes|potatoes", "4 cloves garlic|garlic",
    "1 bunch parsley|parsley", "250 g mushrooms|mushrooms", "1 can tomatoes|tomatoes", "2 bay leaves|bay leaves",
    "1 stick cinnamon|cinnamon", "1 tsp cumin seeds|cumin seeds", "300 g white cabbage|cabbage", "2 lemons|lemons",
    "500 g strawberries|strawberries", "300 g sugar|sugar", "10 g salt|salt", "salt and pepper|salt",
    "250 g flour|flour", "3 eggs|eggs", "100 g butter|butter", "4 tbsp olive oil|oil",
    "1 l sunflower oil, for frying|oil", "1 l water|water", "500 ml chicken stock|stock",
    "200 ml white wine|wine", "300 ml milk|milk", "200 ml cream|cream",
    "150 ml vinegar|vinegar", "50 ml soy sauce|soy sauce", "2 tbsp fish sauce|fish sauce", "300 g rice|rice",
    "400 g spaghetti|spaghetti", "250 g dried chickpeas, soaked overnight|chickpeas", "1 tin beans, drained|beans",
    "80 g breadcrumbs|breadcrumbs", "100 g cheddar, grated|cheese", "200 g tofu|tofu", "60 g honey|honey",
    "30 g gelatine|gelatine", "50 g raisins|raisins", "a handful of walnuts|walnuts", "200 g yoghurt|yoghurt",
    "1 vanilla pod|vanilla pod", "5 g yeast|yeast", "1 duck, about 2 kg|duck", "parsley, to serve|parsley",
)  # fmt: skip
GROUPS = (
    "the vegetables", "the spices", "the meat", "the dry ingredients", "the wet ingredients", "everything",
    "everything else", "all the remaining ingredients", "the rest", "the marinade", "the sauce", "the dough",
    "the mixture", "the liquid", "the solids", "the fat", "the cooking water", "the brine", "the pulp", "the bones",
)  # fmt: skip
PRONOUNS = ("it", "them", "this", "both", "all of it", "half of it", "the other half", "")
SHARES = ("", "", "", "half of ", "a third of ", "the rest of ", "some of ", "most of ", "2 tbsp of ", "100 g of ")
PLACES = (
    "", "", "in a pan", "in a bowl", "in the pot", "in plenty of water", "in the oil", "in boiling salted water",
    "in a jar", "on a plate", "on kitchen paper", "in the oven", "in batches", "over a bowl", "back to the pan",
    "under the grill", "in the fridge",
)  # fmt: skip
FIGURES = (
    "", "", "for 10 minutes", "for 2 hours", "overnight", "at 180 °C", "to 63 °C", "until soft",
    "until reduced by half", "until golden", "until the liquid has gone", "until it boils", "into 8 pieces",
    "to 300 ml", "twice", "to taste",
)  # fmt: skip
LINKS = (
    ". ",
    ". ",
    ", then ",
    " and ",
    ", ",
    "; ",
    ". Meanwhile ",
    ". If it is too thick, ",
    ". Do not ",
    ". You may ",
)
ENDS = (
    "keep the liquid as stock", "reserve half of it", "discard it", "serve with it", "set it aside", "throw it away",
    "add it back", "pour it over", "lift it out", "there are 800 g of it", "the dish weighs 700 g", "put it in a jar",
)  # fmt: skip
REMARKS = ("My aunt made it so.", "It smells wonderful.", "This is the best part!", "Serves 4.", "(see note)", "Enjoy!")
VERBS = {one.id: one.verbs for one in actions().values()}


@st.composite
def _table_lines(draw: st.DrawFn) -> str:
    """A line of any food of the table, by its description, with the word that a method calls it by."""
    descriptions = load_table().descriptions
    found = str(descriptions[draw(st.integers(0, len(descriptions) - 1))])
    grams = draw(st.sampled_from([2, 30, 150, 500, 1500]))
    return f"{grams} g {found.lower()}|{found.lower().split(',')[0]}"


ingredient_lines = st.one_of(st.sampled_from(KITCHEN), st.sampled_from(KITCHEN), _table_lines())


@st.composite
def _objects(draw: st.DrawFn, names: tuple[str, ...]) -> str:
    kind = draw(st.integers(0, 9))
    if kind < 5 and names:
        some = draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True))
        share = draw(st.sampled_from(SHARES))
        return share + " and ".join(f"the {one}" for one in some)
    if kind < 7:
        return draw(st.sampled_from(PRONOUNS))
    return draw(st.sampled_from(SHARES)) + draw(st.sampled_from(GROUPS))


@st.composite
def _clauses(draw: st.DrawFn, names: tuple[str, ...]) -> str:
    if draw(st.integers(0, 9)) == 0:
        return draw(st.sampled_from(ENDS))
    action = draw(st.sampled_from(sorted(VERBS)))
    verb = draw(st.sampled_from(VERBS[action]))
    what = draw(_objects(names))
    words = [verb, what]
    more = draw(st.integers(0, 5))
    if more == 0:
        words.append(f"with {draw(_objects(names))}")
    elif more == 1:
        words.append(
            f"{draw(st.sampled_from(['into', 'to', 'over', 'from', 'out of', 'except']))} {draw(_objects(names))}"
        )
    words += [draw(st.sampled_from(PLACES)), draw(st.sampled_from(FIGURES))]
    return " ".join(word for word in words if word.strip())


@st.composite
def method_texts(draw: st.DrawFn, names: tuple[str, ...], most: int = 6) -> str:
    """Some sentences of kitchen English about some foods, sensible or not."""
    clauses = draw(st.lists(_clauses(names), min_size=1, max_size=most))
    text = clauses[0]
    for clause in clauses[1:]:
        text += draw(st.sampled_from(LINKS)) + clause
    if draw(st.integers(0, 7)) == 0:
        text += ". " + draw(st.sampled_from(REMARKS))
    return text[:1].upper() + text[1:] + draw(st.sampled_from([".", ""]))


def _heard(line: str) -> tuple[str, str]:
    text, _, name = line.partition("|")
    return text, name


@st.composite
def _own_form(draw: st.DrawFn, lines: list[str], more: tuple[str, ...] = ()) -> str:
    """Lines with `>` steps between them."""
    rows, names = [], list(more)
    for line in lines:
        text, name = _heard(line)
        rows.append(f"- {text}")
        names.append(name)
        if draw(st.integers(0, 3)) == 0:
            rows.append(f"> {draw(method_texts(tuple(names), 2))}")
    rows.append(f"> {draw(method_texts(tuple(names)))}")
    return "\n".join(rows) + "\n"


@st.composite
def _page(draw: st.DrawFn, lines: list[str]) -> str:
    """A page with its lists and its method apart."""
    cut = draw(st.integers(0, len(lines)))
    heard = [_heard(line) for line in lines]
    rows = ["## Ingredients", *(f"- {text}" for text, _ in heard[:cut])]
    if cut < len(lines):
        rows += [draw(st.sampled_from(["### For the sauce", "For the marinade:", "**Dough**"]))]
        rows += [f"- {text}" for text, _ in heard[cut:]]
    names = tuple(name for _, name in heard)
    rows += [
        "## Method",
        *(f"{at}. {step}" for at, step in enumerate(draw(st.lists(method_texts(names, 3), min_size=1, max_size=4)), 1)),
    ]
    return "\n".join(rows) + "\n"


@st.composite
def recipes(draw: st.DrawFn) -> str:
    """Own form, a page, or two parts of which one takes the other or what it keeps."""
    lines = draw(st.lists(ingredient_lines, min_size=1, max_size=7, unique=True))
    form = draw(st.integers(0, 3))
    if form < 2:
        return f"# Dish\n{draw(_own_form(lines) if form else _page(lines))}"
    first = draw(st.lists(ingredient_lines, min_size=1, max_size=4, unique=True))
    takes = draw(st.sampled_from(["- relish", "- half of the relish", "- 100 g relish", "- 100 ml stock", ""]))
    part = draw(_own_form(first))
    if "stock" in takes:
        part = part.rstrip("\n") + ". Drain, keeping the liquid as stock\n"
    return f"## Relish\n{part}## Dish\n{takes}\n{draw(_own_form(lines, ('relish', 'stock')))}"


_WORDS = st.sampled_from(
    [
        *sorted(verb for verbs in VERBS.values() for verb in verbs)[::5],
        *(word for group in (GROUPS, PLACES, FIGURES, ENDS, REMARKS, LINKS) for word in group if word.strip()),
        *"the and then 1/2 20 minutes °C by half of a third in left weighs 5 % ( ) : ; , . - or not if until".split(),
        *(_heard(line)[1] for line in KITCHEN[::3]),
    ]
)
any_method = st.one_of(
    st.text(max_size=150), st.lists(_WORDS, max_size=30).map(" ".join), st.lists(_WORDS, max_size=30).map("".join)
)

"""Flows written by hand: recipes told right, and with one misreading each."""

from __future__ import annotations

from collections.abc import Callable

from hand_kitchen import Cooked, Hand, Parted

from labeler.flow.model import (
    Basis,
    Fate,
    FromLine,
    FromNode,
    Source,
)

WATER: Parted = {"": {"water": 0.25}}

ROAST = """---
title: Brined roast pork with gravy
serves: 6
---
## Ingredients
- 1.8 kg pork shoulder, boneless
- 120 g coarse salt
- 60 g brown sugar
- 4 bay leaves
- 1 tablespoon black peppercorns
- 2 onions, quartered
- 3 carrots, cut into chunks
- 2 tablespoons flour
- 500 ml chicken stock
- 20 g butter
"""


def roast(*, wrong: bool = False) -> Cooked:
    """A roast out of its brine, with gravy of its drippings; `wrong`: resting leaves the roast in the tin's account."""
    hand = Hand(ROAST)
    pot = hand.part()
    brine = pot.do(
        "dissolve",
        "Dissolve the salt and sugar in 3 litres of water with the bay and peppercorns.",
        pot.line("salt"),
        pot.line("sugar"),
        pot.line("bay"),
        pot.line("peppercorns"),
        brings=3000.0,
        vessel="pot",
        name="brine",
    )
    lain = pot.do(
        "soak",
        "Submerge the pork and leave it in the fridge overnight.",
        brine,
        pot.line("pork"),
        minutes=720.0,
        vessel="pot",
    )
    out = pot.do(
        "lift-out",
        "Lift the pork out of the brine and pat it dry.",
        lain,
        off={"pork": 0.0, "salt": 0.88, "sugar": 0.9, "bay": 1.0, "peppercorns": 1.0, "water": 0.97},
        vessel="pot",
    )
    tin = pot.do(
        "put",
        "Put it on the onions and carrots in a roasting tin.",
        out,
        pot.line("onions"),
        pot.line("carrots"),
        vessel="roasting tin",
    )
    roasted = pot.do(
        "roast",
        "Roast for 2 hours until a thermometer reads 71 °C.",
        tin,
        air={"": {"water": 0.22}},
        minutes=120.0,
        celsius=170.0,
        vessel="roasting tin",
    )
    rested = pot.do(
        "rest",
        "Transfer the pork to a board and let it rest.",
        roasted,
        off={"pork": 0.93 if wrong else {"fat": 0.2, "water": 0.05}, "onions": 1.0, "carrots": 1.0}
        if not wrong
        else {"": 0.97},
        basis=Basis.WRITTEN,
        minutes=20.0,
    )
    if wrong:
        pot.leave(pot.off(rested), Fate.NAMED, "drippings")
        gravy = pot.do(
            "stir", "Stir the flour into the drippings over the heat.", pot.line("flour"), rested, vessel="roasting tin"
        )
    else:
        gravy = pot.do(
            "stir",
            "Stir the flour into the drippings over the heat.",
            pot.off(rested),
            pot.line("flour"),
            vessel="roasting tin",
        )
    boiled = pot.do(
        "boil",
        "Add the stock and scrape up the bits; boil until it coats a spoon.",
        gravy,
        pot.line("stock"),
        air={"stock": {"water": 0.4}},
        minutes=10.0,
    )
    strained = pot.do(
        "strain",
        "Strain the gravy and swirl in the butter.",
        boiled,
        pot.line("butter"),
        off={"onions": 0.8, "carrots": 0.8},
    )
    pot.leave(pot.off(out), Fate.TRADE, "brine")
    pot.leave(pot.off(strained), Fate.TRADE, "solids", stream="discarded")
    pot.unread_words("Pour yourself something nice.", 4)
    pot.served(*([strained] if wrong else [rested, strained]))
    return hand.finish(pot.title)


CHICKEN = """---
title: Buttermilk fried chicken
serves: 4
---
- 1.2 kg chicken thighs
- 500 ml buttermilk
- 2 teaspoons salt
- 1 teaspoon hot paprika
- 250 g flour
- 60 g cornflour
- 1 tablespoon baking powder
- 2 teaspoons garlic powder
- 1.5 litres rapeseed oil, for frying
"""


def chicken(*, wrong: bool = False) -> Cooked:
    """Chicken out of its marinade, floured and fried; `wrong`: the flour goes into the marinade."""
    hand = Hand(CHICKEN)
    pot = hand.part()
    dry = [pot.line("250 g flour"), pot.line("cornflour"), pot.line("baking powder"), pot.line("garlic")]
    first = (pot.line("thighs"), pot.line("buttermilk"), pot.line("salt"), pot.line("paprika"))
    lain = pot.do(
        "marinate",
        "Mix buttermilk, salt and paprika, add the chicken and marinate overnight.",
        *first,
        *(dry if wrong else []),
        minutes=600.0,
        vessel="bowl",
    )
    out = pot.do(
        "lift-out",
        "Lift the chicken out, letting the excess drip off.",
        lain,
        off={"buttermilk": 0.75, "salt": 0.55, "paprika": 0.75, "flour": 0.9, "baking": 0.9, "garlic": 0.9},
    )
    if wrong:
        coated = pot.do("coat", "Dredge the chicken in it.", out)
    else:
        mixed = pot.do(
            "mix",
            "Whisk the flour, cornflour, baking powder and garlic powder in a shallow dish.",
            *dry,
            vessel="shallow dish",
        )
        coated = pot.do("coat", "Dredge the chicken in it.", out, (mixed, 0.6), vessel="shallow dish")
        pot.leave(mixed, Fate.TRADE, "flour left in the dish", stream="left over")
    hot = pot.do("heat", "Heat the oil in a deep pan to 175 °C.", pot.line("oil"), vessel="deep pan", celsius=175.0)
    fried = pot.do(
        "deep-fry",
        "Fry in batches until golden.",
        coated,
        hot,
        off={"oil": 0.93},
        air={"chicken": {"water": 0.25}, "buttermilk": {"water": 0.8}},
        minutes=12.0,
        vessel="deep pan",
    )
    drained = pot.do("drain", "Drain on paper.", fried, off={"oil": 0.1})
    pot.leave(pot.off(out), Fate.TRADE, "marinade")
    pot.leave(pot.off(fried), Fate.TRADE, "frying oil")
    pot.leave(pot.off(drained), Fate.TRADE, "on the paper")
    pot.served(drained)
    return hand.finish(pot.title)


PASTA = """---
title: Spaghetti with tomato sauce
serves: 4
---
- 400 g spaghetti
- 1 tablespoon salt
- 3 tablespoons olive oil
- 1 onion, chopped
- 3 cloves garlic
- 800 g canned tomatoes
- 50 g parmesan, grated
"""


def pasta(*, wrong: bool = False, undrained: bool = False) -> Cooked:
    """Spaghetti and its sauce; `wrong`: the drain pours the sauce off; `undrained`: nothing is."""
    hand = Hand(PASTA)
    pot = hand.part()
    soft = pot.do(
        "fry",
        "Soften the onion and garlic in the oil.",
        pot.line("oil"),
        pot.line("onion"),
        pot.line("garlic"),
        minutes=8.0,
        vessel="pan",
        air={"onion": {"water": 0.2}},
    )
    sauce = pot.do(
        "simmer",
        "Add the tomatoes and simmer gently.",
        soft,
        pot.line("tomatoes"),
        minutes=25.0,
        vessel="pan",
        air={"tomatoes": {"water": 0.25}},
        name="sauce",
    )
    boiled = pot.do(
        "boil",
        "Meanwhile boil the spaghetti in plenty of salted water.",
        pot.line("spaghetti"),
        pot.line("salt"),
        brings=4000.0,
        minutes=10.0,
        vessel="large pot",
    )
    takes = (boiled, sauce) if wrong else (boiled,)
    parted = {"water": 0.86, "1 tablespoon": 0.9, "salt": 0.9}
    if wrong:
        parted |= {"tomatoes": 0.92, "onion": 0.9, "garlic": 0.9, "oil": 0.9}
    drained = pot.do("drain", "Drain.", *takes, off={} if undrained else parted)
    tossed = pot.do("toss", "Toss with the sauce.", *((drained,) if wrong else (drained, sauce)), vessel="pan")
    pot.leave(pot.off(drained), Fate.NAMED if wrong else Fate.TRADE, "cooking water")
    pot.served(tossed, pot.line("parmesan"))
    return hand.finish(pot.title)


BOXES = """---
title: Roast lamb boxes
makes: 1 box
---
## Lamb
- 900 g leg of lamb, boneless
- 10 g salt
- 2 tablespoons olive oil
> roast, keep the drippings as drippings
## Couscous
- 300 g couscous
- 20 g butter
- 50 g raisins
## Sauce
- 1 shallot, chopped
- 100 ml red wine
- 200 ml beef stock
## Box
- all of the Lamb
- all of the Couscous
- all of the Sauce
- 40 g rocket
"""


def boxes() -> Cooked:
    """Four parts, three of which go into the last."""
    hand = Hand(BOXES)
    lamb = hand.part(0)
    rubbed = lamb.do("rub", "Rub the lamb with salt and oil.", lamb.line("lamb"), lamb.line("salt"), lamb.line("oil"))
    done = lamb.do("roast", "Roast to 60 °C.", rubbed, off={"": {"fat": 0.2}}, air={"": {"water": 0.2}}, minutes=70.0)
    lamb.leave(lamb.off(done), Fate.TRADE, "drippings", into="Sauce")
    lamb.served(done)
    grain = hand.part(1)
    soaked = grain.do(
        "soak",
        "Pour boiling water over the couscous, cover, leave.",
        grain.line("couscous"),
        brings=400.0,
        minutes=10.0,
        vessel="bowl",
    )
    forked = grain.do("stir", "Fork in butter and raisins.", soaked, grain.line("butter"), grain.line("raisins"))
    grain.served(forked)
    sauce = hand.part(2)
    sweated = sauce.do(
        "fry", "Sweat the shallot in the drippings.", sauce.line("shallot"), basis=Basis.ASSUMED, why="in a pan"
    )
    boiled = sauce.do(
        "reduce",
        "Add wine and stock, reduce by half.",
        sweated,
        sauce.line("wine"),
        sauce.line("stock"),
        air={"": {"water": 0.5, "alcohol": 0.8}},
    )
    sauce.served(boiled)
    box = hand.part(3)
    packed = box.do(
        "pack",
        "Pack lamb, couscous and rocket in a box.",
        box.line("Lamb"),
        box.line("Couscous"),
        box.line("rocket"),
        vessel="box",
    )
    poured = box.do("pour-over", "Spoon the sauce over.", packed, box.line("Sauce"))
    box.served(poured)
    return hand.finish(box.title)


def many(lines: int = 40) -> Cooked:
    """A long recipe: so many lines, five a step, in three heaps that come together."""
    names = (
        "flour|sugar|butter|eggs|milk|salt|honey|walnuts|raisins|oats|cinnamon|apples|pears|cream|cocoa powder|"
        "almonds|rice|lentils|onions|carrots|celery|leeks|garlic|tomatoes|olive oil|chickpeas|spinach|potatoes|"
        "peas|pepper|cumin|yoghurt|lemon juice|parsley|mint|quinoa|feta|olives|cucumber|beetroot"
    ).split("|")
    rows = [f"- {20 + 7 * at} g {names[at % len(names)]}" for at in range(lines)]
    hand = Hand("---\ntitle: A feast of forty things\n---\n" + "\n".join(rows) + "\n")
    pot = hand.part()
    heaps: list[FromNode] = []
    for at in range(0, lines, 5):
        takes: list[Source] = [FromLine(index) for index in range(at, min(at + 5, lines))]
        stirred = [names[index % len(names)] for index in range(at, min(at + 5, lines))]
        words = f"Stir the {', the '.join(stirred)} together well."
        own = len(heaps) % 3
        if at >= 15:
            takes.insert(0, heaps[own])
            heaps[own] = pot.do("stir", words, *takes, vessel=("bowl", "pot", "pan")[own])
            heaps.append(heaps.pop(0))
        else:
            heaps.append(pot.do("mix", words, *takes, vessel=("bowl", "pot", "pan")[own]))
    last = pot.do(
        "layer",
        "Layer everything in a large dish and bake it until it is brown on top and bubbling at the edges, which "
        "takes about an hour or a little more.",
        *heaps,
        minutes=60.0,
        celsius=180.0,
        air=WATER,
        vessel="large dish",
    )
    pot.served(last)
    return hand.finish(pot.title)


RIGHT: dict[str, Callable[[], Cooked]] = {
    "roast": roast,
    "chicken": chicken,
    "pasta": pasta,
    "boxes": boxes,
    "many": many,
}
WRONG: dict[str, Callable[[], Cooked]] = {
    "roast": lambda: roast(wrong=True),
    "chicken": lambda: chicken(wrong=True),
    "pasta": lambda: pasta(wrong=True),
    "pasta undrained": lambda: pasta(undrained=True),
}

"""What comes together: food and the fat that waits for it, what was just made, pieces by their cut.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import kept

DISHES = {
    "them are the cakes, and not the oil that was heated": (
        "- 400 g canned white beans, drained\n- 1 onion, chopped\n- 800 ml sunflower oil",
        "Mash the beans with the onion and shape into small cakes. Heat the oil in a saucepan and fry them for 4 "
        "minutes. Drain on paper.",
        {"400 g canned white beans": (0.95, 1.0), "800 ml sunflower oil": (0.01, 0.3)},
    ),
    "what is lowered into the fat is fried in it": (
        "- 600 g haddock, in pieces\n- 150 g flour\n- 250 ml beer\n- 1 litre sunflower oil",
        "Heat the oil in a deep pan. Meanwhile beat the flour with the beer. The haddock is drawn through this and "
        "lowered into the fat for 6 minutes. Let it drain on kitchen paper; once cold, the oil can be thrown out.",
        {"600 g haddock": (0.95, 1.0), "1 litre sunflower oil": (0.01, 0.3), "150 g flour": (0.3, 1.0)},
    ),
    "the slices are what the list says is sliced": (
        "- 700 g courgettes, sliced\n- 300 ml cider vinegar\n- 30 g salt",
        "Bring everything but the courgettes to a boil. Pour this over the slices and forget them for two days. Lift "
        "them out of their liquid and discard it.",
        {"30 g salt": (0.1, 0.7), "700 g courgettes": (0.4, 1.0)},
    ),
    "a roast takes its butter along, and its drippings are those of the tin": (
        "- 1.5 kg whole chicken\n- 40 g butter\n- 10 g salt\n- 20 g flour\n- 400 ml chicken stock",
        "Rub the chicken with the butter and salt, roast at 190 °C for 80 minutes, lift out. Stir the flour into all "
        "of the drippings, add the stock, simmer 3 minutes and serve with the chicken.",
        {"10 g salt": (0.95, 1.0), "40 g butter": (0.9, 1.0)},
    ),
}


@pytest.mark.parametrize("case", list(DISHES))
def test_what_comes_together(case):
    """The share of each food that is in the dish is what a cook would expect."""
    lines, method, wanted = DISHES[case]
    found = kept(lines, method)
    for begins, (low, high) in wanted.items():
        share = next(value for text, value in found.items() if text.startswith(begins))
        assert low <= share <= high, (case, begins, share)

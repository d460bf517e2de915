"""Forty labels of seven markets, measured from their PDF: words and their order, type sizes, bars, net quantity."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import pytest
from label_reading import Page, read_page, read_strokes

from labeler.label.make import make_label
from labeler.label.panels.content import panel_forms
from labeler.parsing import read_recipe
from labeler.rules.market import load_market

MM = 72 / 25.4
# Order of the nutrients: 21 CFR 101.9(c); B.01.401, table; Standard 1.2.8, section 6; Annex XV of (EU) 1169/2011.
ORDER = {
    "us": "Calories;Total Fat;Saturated Fat;Trans Fat;Cholesterol;Sodium;Total Carbohydrate;Dietary Fiber;Total Sugars;"
    "Added Sugars;Protein;Vitamin D;Calcium;Iron;Potassium",
    "ca": "Calories;Fat;Saturated;+ Trans;Carbohydrate;Fibre;Sugars;Protein;Cholesterol;Sodium;Potassium;Calcium;Iron",
    "anz": "Energy;Protein;Fat, total;saturated;Carbohydrate;sugars;Sodium",
    "uk": "Energy;Fat;of which saturates;Carbohydrate;of which sugars;Protein;Salt",
    "eu": "Energy;Fat;of which saturates;Carbohydrate;of which sugars;Protein;Salt",
    "jp": "熱量;たんぱく質;脂質;炭水化物;食塩相当量",  # Food Labeling Standards, article 3
}
WORDS = {
    "us": ("Nutrition Facts", "servings per container", "Serving size", "Amount per serving", "% Daily Value*"),
    "ca": ("Nutrition Facts", "Per ", "*5% or less is a little, 15% or more is a lot"),
    "anz": ("NUTRITION INFORMATION", "Servings per package:", "Serving size:", "Average quantity", "(per 100 g)"),
    "uk": ("Nutrition declaration", "per 100 g", "kJ / ", "Reference intake of an average adult (8 400 kJ/2 000 kcal)"),
    "eu": ("Nutrition declaration", "per 100 g", "kJ / ", "Reference intake of an average adult (8 400 kJ/2 000 kcal)"),
    "jp": ("栄養成分表示", "100 g 当たり", "推定値"),
}
SALES = ("packed ahead", "by mail", "to shops")
SIZES = {"us": ("105x148", "150x115"), "ca": ("110x160", "148x150")}
LABELS = (
    [
        (market, sale, size, "en")
        for market in ("us", "uk", "eu", "ca", "anz", "jp", "codex")
        for sale in (SALES if market in ORDER else SALES[2:])
        for size in SIZES.get(market, ("105x148", "120x100"))
    ]
    + [("ca", sale, size, "en+fr") for sale in SALES[1:] for size in ("120x180", "148x190")]
    + [
        ("us", "to shops", "170x70", "en"),
        ("us", "to shops", "190x75", "en"),
    ]
)


def label(market: str, sale: str, size: str, language: str):
    """A relish with figures asked for, so that every market shows its panel."""
    net = "180 ml" if market == "us" else "200 g"
    head = f"title: Pear relish\nmakes: 6 jars\nnet: {net}\nkind: relishes\nserving: 1 tablespoon\nfigures: yes\n"
    foods = "- 1 kg pears, peeled and chopped\n- 300 g sugar\n- 250 ml cider vinegar\n> weighs 1.2 kg\n"
    return make_label(
        read_recipe(f"---\n{head}sale: {sale}\n---\n{foods}"), market=market, size=size, language=language
    )


def squeezed(text: str) -> str:
    return re.sub(r"\s", "", text)


def sizes_of(page: Page, text: str, start: int = 0) -> tuple[set[float], int]:
    """Type sizes of a text after a place, and where it ends."""
    chars = [g for g in page.glyphs if not g.char.isspace()]
    at = "".join(g.char for g in chars).index(squeezed(text), start)
    end = at + len(squeezed(text))
    return {round(g.size, 2) for g in chars[at:end]}, end


def test_there_are_forty_labels_and_more() -> None:
    """Seven markets, three sales, two sizes at least of each market that has a panel."""
    assert len(LABELS) >= 40 and len({market for market, *_ in LABELS}) == 7


def measure_names(page: Page, market: str, data: Mapping[str, Any], start: int) -> None:
    """The names of the lines stand in their order and are as large as the rule asks."""
    for name in ORDER[market].split(";"):
        sizes, start = sizes_of(page, name, start)
        if name not in ("Calories",):
            assert min(sizes) >= float(data["points"]["nutrients"]) - 0.05, (name, sizes)


def measure_vertical(page: Page, pdf: bytes, data: Mapping[str, Any]) -> None:
    """Heading and calories of a vertical panel are as large, and its bars as thick, as the rule asks."""
    heading, _ = sizes_of(page, data["heading"])
    assert min(heading) >= float(data["points"]["heading"]) - 0.05
    number, _ = sizes_of(page, "Calories")
    assert min(number) >= float(data["points"]["calories word"]) - 0.05
    weights = sorted(stroke.weight for stroke in read_strokes(pdf))
    for bar in {"thick bar", "middle bar"} & data.get("weights_points", {}).keys():
        wanted = float(data["weights_points"][bar])
        assert any(abs(weight - wanted) < 0.05 for weight in weights), (bar, weights)


@pytest.mark.parametrize(("market", "sale", "size", "language"), LABELS)
def test_a_label_measures_what_its_paragraphs_ask_for(market: str, sale: str, size: str, language: str) -> None:
    """Words and order of the panel, its least type, its bars, and the height of the net quantity."""
    made = label(market, sale, size, language)
    page = read_page(made.pdf)
    text = squeezed("".join(g.char for g in page.glyphs))
    assert not any(g.left < -0.1 or g.right > page.width + 0.1 for g in page.glyphs if g.char.strip() and g.size < 40)
    if market not in ORDER:
        assert made.declared["panel"] is None and any("panel" in lack.element.value for lack in made.check.lacks)
        return
    data = panel_forms(market)[made.declared["panel"]].data
    start = text.index(squeezed(data["heading"].split(" ")[0]))
    if language == "en" and "tabular" not in data["format"]:
        assert all(squeezed(words) in text for words in WORDS[market]), [
            w for w in WORDS[market] if squeezed(w) not in text
        ]
    if data["format"] in ("vertical", "table"):
        measure_names(page, market, data, start)
    if data["format"] == "vertical":
        measure_vertical(page, made.pdf, data)
        assert "%" in text
    least = load_market(market).rules("panel").get("panel-legibility")
    if least is not None:  # x-height of 1.2 mm; 0.536 of the type size is the x-height of the face
        assert min(g.size for g in page.glyphs if g.char.isalpha()) * 0.536 >= 1.2 * MM - 0.02
    digits = [g for g in page.glyphs if g.char.isdigit() and g.y > 0.5 * page.height]
    height = {"us": 25.4 / 8, "ca": 3.2, "uk": 3.0, "eu": 3.0}.get(market)  # 101.7(i); SFCR; Directive 76/211/EEC
    if height is not None:
        assert max(g.size for g in digits) * 0.7 >= height * MM * 0.98

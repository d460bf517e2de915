"""The larder: a package's panel, list and weights, from the file to grams, nutrients and allergens."""

from __future__ import annotations

import datetime
import json
import tempfile
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.allergens import assess_line
from labeler.cli.main import main
from labeler.foods.composition.food_table import load_table
from labeler.foods.resolve import weigh_line
from labeler.importers.read_any import read_any
from labeler.label.make import make_label
from labeler.larder.check import bar_code_fits, check_food
from labeler.larder.complete import complete, printed_values
from labeler.larder.file import Larder, add_food, as_text, read_larder
from labeler.larder.find import find_larder
from labeler.larder.model import LarderFood
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_line, read_recipe
from labeler.rules.declaration import declare
from labeler.types import LabelerError, Status

CRISP = LarderFood(
    "Copper Pan chilli crisp",
    other_names=("chilli crisp",),
    per="1 tablespoon (14 g)",
    rounded_under="us",
    panel={
        "calories": "90", "total_fat": "9 g", "saturated_fat": "1 g", "trans_fat": "0 g", "cholesterol": "0 mg",
        "sodium": "210 mg", "total_carbohydrate": "2 g", "dietary_fiber": "<1 g", "total_sugars": "0 g",
        "protein": "0 g",
    },
    ingredients="Rapeseed oil, dried chilli (24 %), fermented beans (SOYBEANS, WHEAT FLOUR, salt), sugar",
    contains="soy, wheat",
    may_contain="May contain peanuts.",
    net="210 g",
    read_on=datetime.date(2026, 3, 2),
)  # fmt: skip
LARDER = Larder([CRISP])

# Per serving, in the table's units: what a small or a large serving of anything may hold.
AMOUNTS = {
    "ENERC_KCAL": 900, "FAT": 80, "FASAT": 40, "FATRN": 5, "CHOLE": 400, "NA": 3000, "CHOCDF": 200, "FIBTG": 30,
    "SUGAR": 90, "SUGAR_ADDED": 90, "PROCNT": 90, "VITD": 20, "CA": 1500, "FE": 20, "K": 2000,
}  # fmt: skip


@st.composite
def compositions(draw):
    """One serving of anything, its figures unrounded, many of them small."""
    small = st.floats(0, 0.02, allow_nan=False)
    return {key: top * draw(st.one_of(small, st.floats(0, 1, allow_nan=False))) for key, top in AMOUNTS.items()}


@settings(deadline=None, max_examples=60)
@given(compositions())
def test_a_us_panel_of_ours_read_back_contains_what_it_was_printed_from(values):
    """Declared under 21 CFR 101.9, re-entered as printed: each interval holds the true value."""
    panel = {line.id: line.text for line in declare(values, market="us") if line.known}
    printed, _, _, problems = printed_values(
        LarderFood("anything", per="1 serving (30 g)", rounded_under="us", panel=panel)
    )
    assert set(printed) == set(values) and not problems
    for key, value in values.items():
        assert printed[key].low <= value * (1 + 1e-9) and value * (1 - 1e-9) <= printed[key].high, key


@settings(deadline=None, max_examples=25)
@given(compositions(), st.sampled_from(["eu", "uk", "ca", "anz", "codex", "jp"]))
def test_panels_of_the_other_markets_read_back_contain_what_they_were_printed_from(values, market):
    """The same law for every market's ladders, for the lines that stand for one nutrient and no energy by factors."""
    values |= {"FIBTG": min(values["FIBTG"], values["CHOCDF"])}
    declared = declare(values, market=market)
    panel = {line.id: line.text for line in declared if line.known and "energy" not in line.id}
    printed, _, _, _ = printed_values(LarderFood("anything", per="100 g", rounded_under=market, panel=panel))
    assert printed
    for key, interval in printed.items():
        assert interval.low <= values[key] * (1 + 1e-9) and values[key] * (1 - 1e-9) <= interval.high, (market, key)


def test_our_own_label_typed_into_the_larder_contains_the_recipe():
    """The label of a recipe, typed in as a package, gives back per 100 g what the recipe's own figures are."""
    recipe = read_recipe("---\nmakes: 6 slices\n---\n- 300 g flour\n- 150 g butter\n- 100 g sugar\n- 2 eggs\n")
    facts = analyse(recipe, market="us", draws=0)
    panel = {line.id: line.text for line in declare(facts.per_serving, market="us") if line.known}
    food = LarderFood("slice", per=f"1 slice ({facts.serving_g:.0f} g)", rounded_under="us", panel=panel, like="18192")
    own = complete(food)
    for key in ("ENERC_KCAL", "FAT", "FASAT", "CHOCDF", "PROCNT", "NA", "SUGAR", "FIBTG", "CHOLE"):
        assert own.per_100g[key].low <= facts.per_100g[key].best <= own.per_100g[key].high, key
        assert own.per_100g[key].status == Status.CALCULATED


def test_a_printed_zero_is_an_interval():
    """'Trans Fat 0 g' of a 14 g spoon may be up to 3.7 g in 100 g (21 CFR 101.9(c)(2)(ii): below 0.5 g is 0)."""
    trans = complete(CRISP).per_100g["FATRN"]
    assert trans.low == 0.0 and trans.high == pytest.approx(100 * 0.5 / 13.5)


def test_what_the_panel_lacks_is_lent_and_says_so():
    """Potassium is on no line of the panel: imputed, with wide bounds, and the like is named."""
    own = complete(replace(CRISP, like="04639"))
    assert own.per_100g["K"].status == Status.IMPUTED and own.per_100g["K"].high > own.per_100g["K"].low
    assert own.per_100g["FAT"].status == Status.CALCULATED and own.like == "04639"
    proximates = sum(own.per_100g[key].best for key in ("WATER", "FAT", "CHOCDF", "PROCNT", "ASH", "ALC"))
    assert proximates == pytest.approx(100, abs=0.1)


def test_without_a_like_what_is_not_printed_is_missing():
    """A name that nothing resembles and two figures: nothing is guessed."""
    own = complete(LarderFood("Zqxv", per="100 g", panel={"energy": "100 kcal", "fat": "3 g"}))
    assert own.like is None and set(own.per_100g) == {"ENERC_KCAL", "FAT"}


@pytest.mark.parametrize(
    ("panel", "code"),
    [
        ({"fat": "3 g", "saturates": "9 g"}, "panel-contradiction"),
        ({"carbohydrate": "3 g", "sugars": "9 g"}, "panel-contradiction"),
        ({"fat": "60 g", "carbohydrate": "50 g", "protein": "9 g"}, "panel-contradiction"),
        ({"energy": "900 kcal", "fat": "1 g", "carbohydrate": "5 g", "protein": "5 g"}, "panel-contradiction"),
        ({"fat": "much"}, "panel-figure"),
        ({"fat": "3 kJ"}, "panel-unit"),
        ({"fst": "3 g"}, "panel-line"),
        ({"salt": "1,2345 g"}, "panel-rounding"),
    ],
)
def test_what_cannot_stand_together_is_reported(panel, code):
    """Contradictory, unreadable and unknown lines are problems with the food's name, and the rest is still used."""
    problems = complete(LarderFood("Relish", per="100 g", rounded_under="eu", panel=panel)).problems
    assert code in [problem.code for problem in problems]
    assert all("Relish" in problem.message for problem in problems)


def test_kilojoules_alone_and_salt_are_understood():
    """1,000 kJ are 235 to 244 kcal by the factors of Annex XIV; 2.5 g of salt are 1,000 mg of sodium (x 2.5)."""
    food = LarderFood("x", per="100 g", rounded_under="eu", panel={"energy": "1000 kJ", "salt": "2.5 g"})
    printed, *_ = printed_values(food)
    assert printed["ENERC_KCAL"].low < 239 < printed["ENERC_KCAL"].high < 245
    assert printed["NA"].best == pytest.approx(1000)


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        ("2 tablespoons chilli crisp", 28), ("1 jar Copper Pan chilli crisp", 210), ("100 g chilli crisp, warm", 100),
        ("1 teaspoon chilli crisp", 14 / 3), ("half a jar of chilli crisp", 105),
    ],
)  # fmt: skip
def test_the_package_says_what_a_measure_of_it_weighs(line, grams):
    """Spoons by the serving of the panel, jars by the net weight, grams by themselves, all under the own name."""
    weighed = weigh_line(read_line(line), larder=LARDER)
    assert weighed.match.own.id == "larder:copper-pan-chilli-crisp" and weighed.match.confidence == 1.0
    assert weighed.grams.best == pytest.approx(grams, rel=0.03)


def test_own_foods_win_over_the_table_by_name_and_leave_other_names_alone():
    """'Butter' of the larder is not the table's; 'peanut butter' still is."""
    larder = Larder([LarderFood("butter", per="100 g", panel={"fat": "60 g", "energy": "540 kcal"}, like="04585")])
    assert weigh_line(read_line("100 g butter"), larder=larder).match.own is not None
    assert weigh_line(read_line("100 g peanut butter"), larder=larder).match.own is None
    assert weigh_line(read_line("100 g butter")).match.own is None
    pair = weigh_line(read_line("a pinch of salt and butter"), larder=larder)
    assert [one.match.own is not None for one in (pair, *pair.also)] == [False, True]


def test_a_dish_is_made_of_what_the_package_says():
    """100 g of the package and nothing else has the package's own figures."""
    recipe = replace(read_recipe("- 100 g chilli crisp\n"), larder=LARDER)
    batch = analyse(recipe).batch
    own = complete(CRISP).per_100g
    for key in ("ENERC_KCAL", "FAT", "NA", "CHOCDF", "FASAT", "K"):
        assert batch[key].best == pytest.approx(own[key].best, rel=1e-6), key
    assert batch["NA"].low < own["NA"].best < batch["NA"].high
    assert batch["FAT"].status == Status.CALCULATED and batch["K"].status == Status.IMPUTED


def test_the_label_lists_what_the_package_is_made_of():
    """The list in its own order in brackets, allergens set off in it, capitals of the package gone."""
    recipe = read_recipe("---\nmarket: uk\nmakes: 2 boxes\n---\n- 300 g rice\n- 100 g chilli crisp\n")
    declared = make_label(replace(recipe, larder=LARDER)).declared
    assert "chilli crisp (rapeseed oil, dried chilli, fermented beans (" in declared["ingredients"].lower()
    assert "wheat flour" in declared["ingredients"]


def test_allergens_come_from_the_list_and_the_statement():
    """Soy and wheat are contained, peanuts the package warns of, each with its place."""
    found = assess_line(weigh_line(read_line("1 jar chilli crisp"), larder=LARDER), market="uk")
    assert {"soybean", "wheat"} <= found.allergens and found.possible == {"peanut"}
    assert any("ingredients of Copper Pan chilli crisp" in finding.from_ for finding in found.contains)


def test_a_name_that_speaks_of_more_than_the_package_keeps_its_doubt():
    """'Cashew crunch' whose list has no cashew: read the package again."""
    larder = Larder([LarderFood("Cashew crunch", ingredients="sugar, rice", contains="none")])
    found = assess_line(weigh_line(read_line("50 g cashew crunch"), larder=larder))
    assert "cashew" in found.possible and "cashew" not in found.allergens


def test_a_food_in_the_file_is_the_food_that_comes_out(tmp_path):
    """Written and read again it is the same, and adding changes nothing that stands there."""
    path = tmp_path / "larder.toml"
    path.write_text('# my foods\n[[food]]\nname = "Other"\n', encoding="utf-8")
    add_food(str(path), CRISP)
    other, again = read_larder(str(path))
    assert replace(again, file="", line=None) == CRISP and other.name == "Other"
    assert path.read_text(encoding="utf-8").startswith("# my foods\n")
    with pytest.raises(LabelerError, match="already"):
        add_food(str(path), CRISP)
    assert "[food.panel]" in as_text(CRISP)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("food = 3", r"\[\[food\]\]"),
        ("[[food]]\nnme = 'x'", "no name"),
        ("[[food]]\nname = 'x'\nnte = 'y'", "did you mean|known here"),
        ("[[food]]\nname = 'x'\nname = 'y'", ":3:"),
        ("[[food]]\nname = 'x'\n[[food]]\nname = 'X'", ":3:.*twice"),
        ("[[food]]\nname = 'x'\npanel = 3", "table"),
        ("[[food]]\nname = 'x'\nread_on = 'soon'", "date"),
        ("[[food]]\nname = 'x'\ndensity = true", "millilitre"),
        ("[[food]]\nname = “x”", ":2:"),
        ("[things]\na = 1", "things"),
        ("[[food]]\nname = ['a']", "no name"),
    ],
)
def test_a_broken_larder_is_refused_with_its_place(tmp_path, text, says):
    """One line that names the file, the line or the key, and how to mend it."""
    path = tmp_path / "larder.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(LabelerError, match=says) as refused:
        read_larder(str(path))
    assert str(path) in str(refused.value) and "\n" not in str(refused.value)


@pytest.mark.parametrize("food", [LarderFood("Salt"), LarderFood("Salt", measures={"slice": "20 g"}), LarderFood("Salt", rounded_under="us"), CRISP], ids=["name", "measure", "market", "panel"])  # fmt: skip  # noqa: E501
def test_a_second_food_can_be_added_after_any_first(tmp_path, food):
    """What is written of a food, however little is known of it, can be read and added to."""
    path = tmp_path / "larder.toml"
    add_food(str(path), food)
    add_food(str(path), LarderFood("Another"))
    add_food(str(path), LarderFood("A third", per="100 g", panel={"fat": "3 g"}))
    first, *rest = read_larder(str(path))
    assert replace(first, file="", line=None) == food and [each.name for each in rest] == ["Another", "A third"]


@given(
    st.builds(
        LarderFood,
        st.text(min_size=1, max_size=12).filter(str.strip),
        other_names=st.lists(st.text(max_size=6), max_size=2).map(tuple),
        per=st.text(max_size=6),
        panel=st.dictionaries(st.text(max_size=6), st.text(max_size=6), max_size=2),
        note=st.text(max_size=12),
    )
)
@settings(deadline=None, max_examples=60)
def test_a_larder_is_never_left_unreadable(food):
    """Whatever is added, the file is read again afterwards, with the new food in it or as it was."""
    with tempfile.TemporaryDirectory() as folder:
        path = f"{folder}/larder.toml"
        add_food(path, LarderFood("Zqxv first"))
        try:
            add_food(path, food)
            wanted = 2
        except LabelerError:
            wanted = 1
        assert len(read_larder(path)) == wanted


def test_a_list_that_cannot_be_added_to_is_left_as_it_is(tmp_path):
    """Foods written as one list take no [[food]] behind them: the file stays, and the line says why."""
    path = tmp_path / "larder.toml"
    path.write_text('food = [\n { name = "Salt" },\n]\n', encoding="utf-8")
    with pytest.raises(LabelerError, match=r"left as it is.*\[\[food\]\]"):
        add_food(str(path), CRISP)
    assert [food.name for food in read_larder(str(path))] == ["Salt"]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--per", "100 g", "--value", "total_fat=-3 g"], "-3 g"),
        (["--per", "100 g", "--value", "total_fat=nan"], "nan"),
        (["--per", "100 g", "--value", "total_fat=900 g"], "more than 100 g in 100 g"),
        (["--per", "100 g", "--value", "calories=5000"], "pure fat"),
        (["--per", "100 g", "--value", "carbohydrate=3 g", "--value", "sugars=9 g"], "more sugars than carbohydrate"),
        (["--per", "0 g", "--value", "total_fat=3 g"], "what its panel is of"),
        (["--value", "total_fat=3 g"], "what its panel is of"),
        (["--measure", "slice=-3 g"], "slice"),
        (["--net", "-2 g"], "net weight"),
        (["--rounded-under", "mars"], "no market"),
        (["--like", "qqqq zzz"], "no food of the table"),
        (["--read-on", "2999-01-01"], "still to come"),
    ],
)
def test_what_no_package_says_is_not_added(tmp_path, capsys, options, says):
    """Negative, absurd and contradictory figures are refused with the reason, and no file is made."""
    path = tmp_path / "larder.toml"
    with pytest.raises(SystemExit) as left:
        main(["larder", "add", "--name", "Zqxv", "--larder", str(path), *options])
    said = capsys.readouterr()
    assert left.value.code == 2 and says in said.err and said.err.count("\n") == 1 and not path.exists()


def test_a_recipe_goes_on_without_a_larder_that_cannot_be_read(tmp_path, monkeypatch):
    """A broken file leaves its foods out, the other larder counts, and the recipe says file, line, why and the mend."""
    own = tmp_path / "own.toml"
    own.write_text('[[food]]\nname = "a\n', encoding="utf-8")
    monkeypatch.setenv("LABELER_LARDER", str(own))
    recipe = tmp_path / "dish.md"
    recipe.write_text("1 tablespoon chilli crisp\n", encoding="utf-8")
    assert [problem.code for problem in read_any(str(recipe)).problems] == ["larder-unreadable"]
    add_food(str(tmp_path / "larder.toml"), CRISP)
    read = read_any(str(recipe))
    assert f"{own}:2" in read.problems[0].message and "write key" in read.problems[0].message
    assert read.larder.named("chilli crisp").name == CRISP.name


def test_an_unknown_market_or_like_in_the_file_is_a_problem_of_its_food():
    """A food with a slip in it goes on without what the slip would have told."""
    own = complete(replace(CRISP, rounded_under="mars", like="qqqq zzz"))
    assert {"panel-market", "larder-no-such-like"} <= {problem.code for problem in own.problems} and own.per_100g


def test_the_larder_beside_the_recipe_comes_before_the_users_own(tmp_path, monkeypatch):
    """Both are read; a name in both means the one beside the recipe; neither is no larder."""
    beside, own = tmp_path / "recipes", tmp_path / "own.toml"
    beside.mkdir()
    monkeypatch.setenv("LABELER_LARDER", str(own))
    assert find_larder(str(beside / "dish.md")) is None
    add_food(str(own), replace(CRISP, net="1 kg"))
    add_food(str(beside / "larder.toml"), CRISP)
    found = find_larder(str(beside / "dish.md"))
    assert found.named("chilli crisp").measures["jar"].best == 210.0
    assert find_larder(str(tmp_path / "dish.md")).named("chilli crisp").measures["jar"].best == 1000.0


def test_bar_codes_have_a_check_digit():
    """Worked examples of GS1 (6291041500213) and of the EAN-8 and UPC-A standards (common practice, no source)."""
    assert bar_code_fits("6291041500213") and bar_code_fits("96385074") and bar_code_fits("036000291452")
    assert not bar_code_fits("6291041500214") and not bar_code_fits("12") and not bar_code_fits("629104150021x")


def test_old_and_undated_packages_are_to_be_read_again():
    """A package of last year, of next year and of no day are each reported."""
    for day, code in ((datetime.date(2024, 1, 1), "larder-old"), (None, "larder-undated"), (datetime.date(2027, 1, 1), "larder-date")):  # fmt: skip  # noqa: E501
        _, problems = check_food(replace(CRISP, read_on=day), today=datetime.date(2026, 6, 1))
        assert code in [problem.code for problem in problems]


def test_the_commands_add_list_show_and_check(tmp_path, monkeypatch, capsys):
    """A food added on the command line is listed, shown per 100 g and checked, in text and as JSON."""
    monkeypatch.setenv("LABELER_LARDER", str(tmp_path / "own" / "larder.toml"))
    monkeypatch.chdir(tmp_path)

    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main(list(arguments))
        said = capsys.readouterr()
        return left.value.code, said.out, said.err

    status, out, _ = run(
        "larder", "add", "--name", "Tern fish sauce", "--also", "fish sauce", "--per", "15 ml", "--rounded-under", "us",
        "--value", "calories=10", "--value", "sodium=1,390 mg", "--ingredients", "Anchovies, salt", "--net", "500 ml",
    )  # fmt: skip
    assert status == 0 and "added" in out
    status, out, _ = run("larder", "list", "--json")
    assert json.loads(out)["id"] == "larder:tern-fish-sauce"
    status, out, _ = run("larder", "show", "fish sauce", "--json")
    shown = json.loads(out)
    assert shown["per_100g"]["NA"]["status"] == "calculated" and shown["like"] in load_table()
    status, out, _ = run("larder", "show", "fish sauce")
    assert status == 0 and "Sodium" in out
    status, out, _ = run("larder", "check")
    assert status == 0 and "Tern fish sauce" in out
    status, _, err = run("larder", "show", "fsh sauce")
    assert status == 2 and "fish sauce" in err
    status, _, err = run("larder", "add", "--name", "x", "--value", "calories")
    assert status == 2 and "--value" in err

"""Rule files: broken ones are refused with file and key, the bundled ones agree, a new market is a folder."""

from __future__ import annotations

import csv
import os
import re
import shutil
from pathlib import Path

import pytest

from labeler.foods.composition.food_table import load_table
from labeler.rules.catalogue import describe, list_rules, rule
from labeler.rules.declaration import declare
from labeler.rules.loading.cross_references import check_market
from labeler.rules.loading.reader import read_yaml
from labeler.rules.market import DATA, load_market, market_ids
from labeler.rules.model import READINGS, RuleFileError
from labeler.types import LabelerError

MARKET = """\
name: Tern Islands
law: "Food Ordinance of the Tern Islands"
bases: [per 50 g]
words: {unknown: nobody knows, at_least: "{text} or more"}
missing: ["Everything but fat and salt."]
sources:
  ordinance: {title: "Food Ordinance", edition: "1931", kind: law}
"""
NUTRIENTS = """\
about: What the islands want to know of a food.
cited:
  since: 1931-05-01
  since_basis: printed on the ordinance
  status: one source
  sources: [ordinance]
rules:
  round-grams:
    kind: rounding
    summary: To the nearest third of a gram, or so.
    paragraph: article 4
    bands:
      - {below: 1, print: "a pinch"}
      - {up_to: 9, step: 3}
      - {step: 7}
  fat:
    kind: nutrient
    label: Grease
    summary: All fat.
    paragraph: article 5
    formula: {FAT: 1}
    unit: g
    rounding: round-grams
    requirement: mandatory
  brine:
    kind: nutrient
    label: Brine
    summary: Sodium as brine of one per cent.
    paragraph: article 6
    formula: {NA: 0.254}
    unit: mL
    rounding: round-grams
    requirement: mandatory
"""
TABLE = """\
  dv:
    kind: table
    summary: What an islander eats.
    paragraph: article 9
    file: values.csv
    holds: reference values
"""
VALUES = """\
id,label,unit,amount,type,paragraph,status,sources,note
fat,Grease,g,80,daily,article 9,one source,ordinance,
"""


def island(folder: Path, *, market: str = MARKET, nutrients: str = NUTRIENTS, values: str | None = None) -> Path:
    """A market in a folder of its own."""
    place = folder / "tern"
    place.mkdir()
    (place / "market.yaml").write_text(market, encoding="utf-8")
    (place / "nutrients.yaml").write_text(nutrients, encoding="utf-8")
    if values is not None:
        (place / "values.csv").write_text(values, encoding="utf-8")
    return place


def test_adding_a_market_is_adding_a_folder(tmp_path: Path) -> None:
    place = island(tmp_path, nutrients=NUTRIENTS + TABLE, values=VALUES)
    declared = declare({"FAT": 10.4, "NA": 30.0}, market=place)
    assert declared.market == "tern"
    assert declared.basis == "per 50 g"
    # article 4: above 9 the nearest 7, so 10.4 is 7 (10.5 would be 14); 30 mg x 0.254 = 7.62 mL, to 9 the nearest 3.
    assert [(line.label, line.text) for line in declared] == [("Grease", "7 g"), ("Brine", "9 mL")]
    assert declare({"FAT": 0.3}, market=place)["fat"].text == "a pinch g"
    assert declare({}, market=place)["brine"].text == "nobody knows"
    assert declared.missing == ("Everything but fat and salt.",)
    assert {found.id for found in list_rules(place)} == {"round-grams", "fat", "brine", "dv", "dv.fat"}
    assert rule("dv.fat", place).sources[0].title == "Food Ordinance"


def test_a_market_may_be_based_on_another_and_change_one_rule(tmp_path: Path) -> None:
    own = """\
about: Only salt differs.
rules:
  salt:
    kind: nutrient
    summary: Sodium times three.
    label: Salt
    paragraph: article 1
    since: null
    since_basis: invented
    status: memory
    sources: [memory]
    formula: {NA: 0.003}
    unit: g
    rounding: round-salt
    requirement: mandatory
"""
    place = island(tmp_path, market="name: Isle\nlaw: own\nbased_on: eu\nmissing: []\n", nutrients=own)
    declared = declare({"NA": 100, "FAT": 3}, market=place)
    assert declared["salt"].text == "0.30 g"
    assert declared["fat"].text == "3.0 g"


# Each case: what is broken, the text that is exchanged in a good file, the file and the key that the error must name.
BROKEN = [
    ("unknown key", "    unit: g\n", "    unit: g\n    untit: g\n", "nutrients.yaml", "fat.untit"),
    ("key given twice", "    unit: g\n", "    unit: g\n    unit: mg\n", "nutrients.yaml", "unit"),
    ("rule given twice", "  brine:\n", "  fat:\n", "nutrients.yaml", "fat"),
    ("day that there is not", "since: 1931-05-01", "since: 1931-02-30", "nutrients.yaml", "1931-02-30"),
    ("date in words", "since: 1931-05-01", "since: May 1931", "nutrients.yaml", "since"),
    ("no paragraph", "    paragraph: article 5\n", "", "nutrients.yaml", "fat.paragraph"),
    ("no source", "  sources: [ordinance]\n", "  sources: []\n", "nutrients.yaml", "sources"),
    ("no such source", "sources: [ordinance]", "sources: [ordnance]", "nutrients.yaml", "sources"),
    ("null date without a reason", "  since_basis: printed on the ordinance\n", "", "nutrients.yaml", "since_basis"),
    ("no such status", "status: one source", "status: rumour", "nutrients.yaml", "status"),
    ("no such kind of rule", "kind: rounding", "kind: roundng", "nutrients.yaml", "round-grams.kind"),
    ("missing value", "    formula: {NA: 0.254}\n", "", "nutrients.yaml", "brine.formula"),
    ("words where a number is wanted", "step: 3", "step: three", "nutrients.yaml", "round-grams.bands.1.step"),
    ("step of nothing", "step: 3", "step: 0", "nutrients.yaml", "round-grams.bands.1.step"),
    ("bands out of order", "up_to: 9", "up_to: 0.5", "nutrients.yaml", "round-grams.bands.1"),
    ("last band with an end", "- {step: 7}", "- {up_to: 90, step: 7}", "nutrients.yaml", "round-grams.bands.2"),
    ("band with two ways out", "- {step: 7}", '- {step: 7, print: "0"}', "nutrients.yaml", "round-grams.bands.2"),
    ("no such ladder", "rounding: round-grams", "rounding: round-gram", "nutrients.yaml", "fat.rounding"),
    ("no such quantity", "formula: {FAT: 1}", "formula: {fet: 1}", "nutrients.yaml", "fat.formula"),
    (
        "nothing to assume",
        "formula: {FAT: 1}",
        "formula: {brine: 1, FAT: 1}\n    assume_none: [salt]",
        "nutrients.yaml",
        "fat",
    ),
    ("not YAML", "formula: {FAT: 1}", "formula: {FAT: 1", "nutrients.yaml", "line"),
    ("no rules", "rules:\n", "rule:\n", "nutrients.yaml", "rule"),
    ("infinite number", "step: 7", "step: .inf", "nutrients.yaml", ".inf"),
    ("unknown key of the market", "name: Tern Islands", "nam: Tern Islands", "market.yaml", "nam"),
    ("no such base", "law:", "based_on: atlantis\nlaw:", "market.yaml", "based_on"),
    ("source without edition", ', edition: "1931"', "", "market.yaml", "sources.ordinance.edition"),
    ("unknown column", "id,label,unit", "id,lable,unit", "values.csv", "lable"),
    ("no number in a table", "Grease,g,80", "Grease,g,eighty", "values.csv", "amount"),
    ("row too short", ",ordinance,\n", ",ordinance\n", "values.csv", "8 cells under 9 columns"),
    (
        "row given twice",
        "ordinance,\n",
        "ordinance,\nfat,Oil,g,1,daily,article 9,memory,ordinance,\n",
        "values.csv",
        "id",
    ),
    ("row with no such source", "one source,ordinance", "one source,gossip", "values.csv", "fat"),
    ("no such table", "file: values.csv", "file: valuse.csv", "valuse.csv", "cannot be read"),
]


@pytest.mark.parametrize(("what", "good", "bad", "file", "key"), BROKEN, ids=[case[0] for case in BROKEN])
def test_each_broken_file_is_refused_with_its_name_and_its_key(
    tmp_path: Path, what: str, good: str, bad: str, file: str, key: str
) -> None:
    texts = {"market": MARKET, "nutrients": NUTRIENTS + TABLE, "values": VALUES}
    holder = next(name for name, text in texts.items() if good in text)
    texts[holder] = texts[holder].replace(good, bad, 1)
    place = island(tmp_path, **texts)
    with pytest.raises(RuleFileError) as error:
        declare({"FAT": 1}, market=place)
    assert file in str(error.value)
    assert key in str(error.value)
    assert "Traceback" not in str(error.value)
    assert "\n" not in str(error.value)


def test_there_are_at_least_fourteen_broken_files() -> None:
    assert len(BROKEN) >= 14


def test_a_line_that_is_made_of_itself_is_refused(tmp_path: Path) -> None:
    place = island(
        tmp_path, nutrients=NUTRIENTS.replace("formula: {FAT: 1}", "formula: {brine: 1}").replace("NA: ", "fat: ")
    )
    with pytest.raises(RuleFileError, match="sum of itself: fat of brine of fat"):
        declare({"FAT": 1}, market=place)


def test_a_mistyped_key_is_answered_with_the_nearest(tmp_path: Path) -> None:
    place = island(tmp_path, nutrients=NUTRIENTS.replace("    indent", "").replace("label: Grease", "lable: Grease"))
    with pytest.raises(RuleFileError, match="did you mean 'label'"):
        declare({}, market=place)


def test_a_file_that_is_not_text_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "market.yaml"
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RuleFileError, match=r"market\.yaml.*cannot be read"):
        read_yaml(file)


@pytest.mark.parametrize("market", ["", "..", "us/../us", "usa", "US"])
def test_a_market_that_there_is_not_is_refused_with_those_that_there_are(market: str) -> None:
    with pytest.raises(LabelerError, match="no rules for market"):
        load_market(market)


def test_a_folder_without_a_market_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(LabelerError, match="no market"):
        load_market(tmp_path)


def test_the_seven_markets_are_bundled() -> None:
    assert set(market_ids()) == {"us", "eu", "uk", "ca", "codex", "anz", "jp"}


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "codex", "anz", "jp"])
def test_the_rules_of_each_market_agree_with_each_other(market: str) -> None:
    found = load_market(market)
    check_market(found)  # raises where a name is no rule of its kind
    facts = {rule.id for rule in found.all_rules.values() if rule.kind == "fact"}
    asked = {condition["fact"] for rule in found.all_rules.values() for condition in rule.data.get("when", ())}
    assert asked <= facts


def test_a_rule_that_asks_for_a_fact_that_there_is_not_is_refused(tmp_path: Path) -> None:
    folder = tmp_path / "us"
    shutil.copytree(DATA / "us", folder)
    file = folder / "obligations.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("fact: employees", "fact: employes", 1), encoding="utf-8")
    with pytest.raises(RuleFileError, match="no rule 'employes' of kind 'fact'"):
        check_market(load_market(folder))


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "codex", "anz", "jp"])
def test_every_rule_is_cited_dated_and_says_how_it_was_read(market: str) -> None:
    rules = list_rules(market)
    assert rules
    for found in rules:
        assert found.summary and found.paragraph and found.since_basis and found.sources, found.id
        assert found.status in READINGS
        text = describe(found)
        assert found.paragraph.split()[0] in text
        assert found.reading.split()[0] in text


def test_a_memory_source_never_hides_behind_a_better_status() -> None:
    # A rule that rests on memory alone says so.
    for market in market_ids():
        for found in list_rules(market):
            if {source.kind for source in found.sources} == {"memory"}:
                assert found.status == "memory", (market, found.id)


def test_every_market_says_what_is_missing() -> None:
    for market in market_ids():
        assert load_market(market).setting("missing"), market


def test_every_tagname_that_the_food_table_has_is_spelt_as_there() -> None:
    # INFOODS tagnames that SR28 has no values for: fibre fractions, polyols, biotin, iodine, chromium, molybdenum,
    # chloride; and our own key for added sugars.
    absent = {"FIBSOL", "FIBINS", "POLYL", "BIOT", "ID", "CR", "MO", "CLD", "SUGAR_ADDED"}
    columns = set(load_table().column)
    for market in market_ids():
        for found in load_market(market).rules("nutrients").values():
            for name in found.data.get("formula", ()):
                assert not name.isupper() or name in columns | absent, (market, found.id, name)


def test_a_rule_that_there_is_not_is_answered_with_those_near_it() -> None:
    with pytest.raises(LabelerError, match="total_fat"):
        rule("total_fet")
    with pytest.raises(LabelerError, match="round-fat"):
        rule("fat")


def test_no_rule_file_names_a_path_or_an_address() -> None:
    for file in DATA.rglob("*"):
        if file.suffix in (".yaml", ".csv"):
            text = file.read_text(encoding="utf-8")
            assert "http" not in text, file
            assert not re.search(r"(?<![\w./])/(?:\w[\w.-]*/)+\w|\b[A-Z]:\\\\", text), file


# 21 CFR 101.9(c)(8)(iv) and (c)(9), as FDA's question page and a copy of the table of May 2016 give them.
DAILY_VALUES = {
    "total_fat": "78", "saturated_fat": "20", "trans_fat": "", "cholesterol": "300", "sodium": "2300",
    "total_carbohydrate": "275", "dietary_fiber": "28", "total_sugars": "", "added_sugars": "50", "protein": "50",
    "vitamin_d": "20", "calcium": "1300", "iron": "18", "potassium": "4700", "vitamin_a": "900", "vitamin_c": "90",
    "vitamin_e": "15", "vitamin_k": "120", "thiamin": "1.2", "riboflavin": "1.3", "niacin": "16", "vitamin_b6": "1.7",
    "folate": "400", "vitamin_b12": "2.4", "biotin": "30", "pantothenic_acid": "5", "phosphorus": "1250",
    "iodine": "150", "magnesium": "420", "zinc": "11", "selenium": "55", "copper": "0.9", "manganese": "2.3",
    "chromium": "35", "molybdenum": "45", "chloride": "2300", "choline": "550",
}  # fmt: skip


def test_the_37_daily_values_are_those_of_the_table() -> None:
    rows = [found for found in load_market("us").rules("nutrients").values() if found.kind == "reference values"]
    assert len(rows) == 37
    amounts = {found.data["id"]: found.data["amount"] for found in rows}
    assert {key: "" if amount is None else str(amount) for key, amount in amounts.items()} == DAILY_VALUES


@pytest.mark.skipif("LABELER_STANDARDS" not in os.environ, reason="needs the folder of standards, LABELER_STANDARDS")
def test_daily_values_and_reference_amounts_are_those_of_the_published_files() -> None:
    folder = Path(os.environ["LABELER_STANDARDS"])
    with (folder / "us_daily_values.csv").open(encoding="utf-8") as stream:
        assert {row["id"]: row["dv_adult_4plus"] for row in csv.DictReader(stream)} == DAILY_VALUES
    with (folder / "us_racc.csv").open(encoding="utf-8") as stream:
        published = [(row["amount"], row["unit"]) for row in csv.DictReader(stream)]
    with (DATA / "us" / "reference_amounts.csv").open(encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    of_meat = [row["id"] for row in rows if "9 CFR" in row["category"]]  # those of another agency, in no published file
    assert of_meat == ["meat-plain", "meat-with-sauce", "sausages", "bacon"]
    assert [(row["amount"], row["unit"]) for row in rows if row["id"] not in of_meat] == published

"""The post: what it says is what the label says, in every language, and how sure it is."""

import json
import os
import re
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_reading import DEMO, MARKETS, facts, parse, recipe, said, text_of

from labeler import read_recipe
from labeler.allergens.vocabulary import allergen_names
from labeler.as_json import post_object
from labeler.label.builder import gather, label_content, table_rows
from labeler.label.words import LANGUAGES, figure_words, line_name
from labeler.label.words import rows as label_rows
from labeler.post import make_post
from labeler.post.builder import post_content
from labeler.post.forms import FORMS, render
from labeler.post.ranges import likely_ends, plain_figure
from labeler.post.words import rows, words
from labeler.types import LabelerError

NEVER = re.compile(r"free[ -]from|\bsafe\b|compliant|certified|guarantee", re.IGNORECASE)


@pytest.fixture
def pie():
    """The demo's pie as posts of two markets say it."""
    return {market: said(market) for market in ("us", "uk")}


# What it says


@pytest.mark.parametrize("market", MARKETS)
def test_figures_are_the_labels_own(market):
    """The lines of the table, their order, names and figures are those that the label declares."""
    label, _, _ = label_content(recipe(), market=market, facts=facts(market))
    content = said(market)
    shown = [(row.name, row.per_serving, row.per_100g, row.level) for row in content.rows]
    assert shown == [(row.name, row.per_serving, row.per_100g, row.level) for row in label.nutrition]
    assert "".join(run.text for run in content.ingredients) == "".join(run.text for run in label.ingredients)
    assert content.serving == label.serving


def test_the_allergens_come_first_in_every_form(pie):
    """The first words of each form are the allergen line, with the law's name and the kind beside it."""
    assert "".join(run.text for run in pie["uk"].allergens).startswith("Contains: milk, fish (haddock), crustaceans")
    assert "".join(run.text for run in pie["us"].allergens).startswith("Contains: milk, haddock, shrimp")
    for content in pie.values():
        line = "".join(run.text for run in content.allergens)
        (first, *_) = parse(render(content)).iter("p")
        assert text_of(first) == line
        assert render(content, form="markdown").replace("*", "").startswith(line)
        assert " ".join(render(content, form="text").split()).startswith(line)


def test_nothing_found_is_no_promise():
    """A recipe in which no allergen is found says so, and says that it is no promise."""
    made = read_recipe("---\ntitle: Tea\nserves: 2\n---\n- 500 g water\n- 50 g sugar\n")
    worked = gather(made, market="us")
    for language in LANGUAGES:
        content = post_content(made, language=language, facts=worked)
        assert render(content, form="text").startswith(words(language)["none_found"][:20])
    assert "no promise" in make_post(made, form="text")


OPEN = {
    "unmatched": "200 g zorblat",
    "pin": "200 g sugar {food 99999}",
    "compound": "2 tbsp curry paste",
    "misspelt": "200 g carots",
}


@pytest.mark.parametrize("line", OPEN.values(), ids=OPEN.keys())
def test_nothing_is_said_to_be_found_while_a_line_is_open(line):
    """In no language does a post say that nothing was found beside a line that is not settled: it names that line."""
    made = read_recipe(f"---\ntitle: Tea\nserves: 2\n---\n- 500 g water\n- {line}\n")
    worked = gather(made, market="us")
    for language in LANGUAGES:
        shown = "".join(run.text for run in post_content(made, language=language, facts=worked).allergens)
        assert words(language)["none_found"] not in shown
        assert shown.startswith(words(language)["not_settled"])
        assert any(word in shown for word in line.split()[2:])


def test_nuts_without_a_name_must_be_named():
    """A post of mixed nuts says that each nut has to be named: laws list each by its own name."""
    made = read_recipe("---\ntitle: Mix\nserves: 2\n---\n- 500 g mixed nuts\n")
    assert "Each nut must be named; not named in: mixed nuts." in " ".join(make_post(made, form="text").split())


def test_what_only_a_package_knows_is_asked_for():
    """What a bought food may hold, and a name that nobody knows, stand in the post; so does what was not counted."""
    made = read_recipe("---\ntitle: Soup\nserves: 2\nmarket: uk\n---\n- 1 litre chicken stock\n- 200 g zorblewort\n")
    content = post_content(made)
    assert any(text.startswith("stock (") or "stock (" in text for text in content.package)
    assert content.unassessed == ("zorblewort",)
    assert any("Not counted" in sentence and "200 g zorblewort" in sentence for sentence in content.sure)
    for form in FORMS:
        text = " ".join(render(content, form=form).split())
        assert "zorblewort" in text and "stock (" in text


def test_it_says_how_sure_and_as_of_when(pie):
    """The likely range of the energy stands in words, and the recipe's hash, the table's edition and the market."""
    content = pie["uk"]
    assert re.search(r"nineteen times out of twenty between \d+ and \d+ kcal", " ".join(content.sure))
    assert recipe().digest[:8] in content.as_of and "SR28" in content.as_of and "United Kingdom" in content.as_of
    assert all(row.likely == "" or re.fullmatch(r"[\d.]+–[\d.]+( m?c?g| kcal)?", row.likely) for row in content.rows)


def test_a_range_holds_its_figure_and_its_interval(pie):
    """Each likely range holds the interval that was worked out."""
    checked = 0
    for row, line in zip(pie["uk"].rows, table_rows(facts("uk")), strict=True):
        if row.likely:
            low, high = map(float, re.findall(r"[\d.]+", row.likely))
            figure = line.serving[-1]
            assert low <= figure.low <= figure.high <= high
            checked += 1
    assert checked >= 3


def test_missing_values_say_at_least():
    """A figure that is not known stands in the table in words, with a sentence on what they mean."""
    text = "---\ntitle: Flat bread\nmakes: 4 breads\n---\n- 454 g flour {food 20081}\n- 100 g blorpium\n"
    content = post_content(read_recipe(text))
    rows_by_name = {row.name: row for row in content.rows}
    assert re.match(r"not known|at least", rows_by_name["Trans Fat"].per_serving)
    assert rows_by_name["Trans Fat"].likely == ""
    assert any("lacks a value" in sentence for sentence in content.sure)


def test_the_whole_recipe_as_the_cook_wrote_it(pie):
    """With the recipe come its parts, lines and steps as written; notes to the program and weighings stay out."""
    made = read_recipe(
        "---\ntitle: Flat bread\nmakes: 4 breads\n---\n- 1 lb flour {food 20081, 454 g}\n- 300 ml water\n"
        "> bake 10 minutes\n> weighs 700 g\n"
    )
    content = post_content(made)
    for form in FORMS:
        text = render(content, form=form, whole=True)
        assert "1 lb flour" in text and "bake 10 minutes" in text and "How it is made" in text
        assert "{food" not in text.replace("\\", "") and "700 g" not in text
    page = parse(render(pie["uk"], whole=True))
    assert [text_of(head) for head in page.iter("h3")][:3] == ["Filling", "Mash", "Quay pie"]
    assert "500 ml whole milk" in [text_of(item) for item in page.iter("li")]


def test_nothing_is_certified():
    """No word of any language and no post calls a food free from something, safe, compliant or certified."""
    spoken = [text for row in rows("words.csv") for text in row.values()]
    assert not [text for text in spoken if NEVER.search(text)]
    for form in FORMS:
        assert not NEVER.search(render(said("us"), form=form, whole=True))


def test_the_same_bytes_for_the_same_input():
    """Another process with other hash seeds and another clock gives the same bytes."""
    made = subprocess.run(
        [sys.executable, "-m", "labeler", "post", str(DEMO / "quay-pie.md")],
        capture_output=True,
        env=os.environ | {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"},
        check=True,
    )
    assert made.stdout == make_post(recipe()).encode()


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"form": "pdf"}, "html, markdown, text"),
        ({"language": "xx"}, "en, fr, es, de, it"),
        ({"market": "mars"}, "mars"),
        ({"heading": 6}, "1 to 5"),
        ({"heading": 0}, "1 to 5"),
        ({"address": "javascript:alert(1)"}, "https://example.org"),
        ({"address": "https://exa mple.org/"}, "https://example.org"),
        ({"address": "//example.org"}, "https://example.org"),
    ],
)
def test_what_cannot_be_is_refused(options, says):
    """An unknown form, language or market, an impossible level and an address not of the web are refused in words."""
    with pytest.raises(LabelerError) as caught:
        make_post(recipe("beetroot-relish"), **options)
    assert says in str(caught.value)


# Words and figures


def test_words_are_there_in_every_language():
    """Every key has a word in each language, with the same places to fill in."""
    for row in rows("words.csv"):
        assert set(row) == {"key", *LANGUAGES}
        assert all(row[language] for language in LANGUAGES), row["key"]
        places = {frozenset(re.findall(r"\{\w+\}", row[language])) for language in LANGUAGES}
        assert len(places) == 1, row["key"]
    for language in LANGUAGES:
        assert {"nutrition", "per_serving", "ingredients", *MARKETS} <= set(words(language))


@pytest.mark.parametrize("market", MARKETS)
def test_every_line_and_allergen_has_its_names(market):
    """Each line of each market's table has a name in each language, and so has each allergen."""
    named = {row["en"]: row for row in label_rows("line_names.csv")}
    for row in table_rows(facts(market)):
        assert all(named[row.name][language] for language in LANGUAGES)
    assert {row["allergen"] for row in label_rows("allergen_names.csv")} == set(allergen_names())
    assert all(value for row in label_rows("allergen_names.csv") for value in row.values())


def test_a_post_speaks_the_language_that_it_is_asked_to():
    """Fixed words, names of lines and allergens and the decimal mark change; what the cook wrote does not."""
    text = " ".join(render(said("eu", language="de"), form="text").split())
    assert text.startswith("Enthält: Milch, Fisch (haddock), Krebstiere (shrimp), Weichtiere (mussel)")
    assert re.search(r"davon gesättigte Fettsäuren \d+ g (\d+–\d+ g )?3,\d g", text)
    assert "Quay pie" in text and "Aus dem Rezept berechnet" in text and "Contains" not in text
    assert figure_words("at least 2.5 g", "fr") == "au moins 2,5 g"
    assert figure_words("2363 kJ / 564.5 kcal", "it") == "2363 kJ / 564,5 kcal"
    assert line_name("Unheard-of", "fr") == "Unheard-of"


@pytest.mark.parametrize(
    ("low", "high", "ends"),
    [
        (541.2, 587.9, ("540", "590")),
        (2.71, 3.33, ("2.7", "3.4")),
        (8.3, 9.7, ("8.2", "9.8")),
        (0.0, 0.013, ("0.000", "0.014")),
        (23.6, 25.0, ("23.6", "25.0")),
        (1040, 1180, ("1040", "1180")),
    ],
)
def test_ranges_read_in_round_numbers(low, high, ends):
    """Ends of a range are the round numbers that a person would say."""
    assert likely_ends(low, high) == ends


@settings(max_examples=200, deadline=None)
@given(st.floats(0, 1e5), st.floats(1e-3, 1e5))
def test_a_range_is_never_narrower_and_not_much_wider(low, width):
    """The range that is read holds the one that was found and is at most one and a half times as wide."""
    below, above = map(float, likely_ends(low, low + width))
    slack = 1e-7 * (low + width)
    assert below <= low + slack and low + width <= above + slack
    assert above - below <= 1.5 * width + slack


@pytest.mark.parametrize(
    ("value", "text"), [(0, "0"), (0.0417, "0.042"), (1.26, "1.3"), (2.0, "2"), (17.4, "17"), (1160.4, "1160")]
)
def test_single_figures_are_no_finer_than_known(value, text):
    """Two significant digits, whole numbers from 10 on."""
    assert plain_figure(value) == text


# The command


def run(*arguments):
    return subprocess.run([sys.executable, "-m", "labeler", "post", *arguments], capture_output=True, check=False)


def test_the_command_writes_what_the_library_makes(tmp_path):
    """A file with -o and what it says as data with --json; what cannot be is refused in one line."""
    path, target = str(DEMO / "beetroot-relish.md"), tmp_path / "post.md"
    made = run(path, "-o", str(target), "--json", "--form", "markdown", "--market", "eu", "--language", "fr")
    assert made.returncode == 0, made.stderr.decode()
    content = post_content(recipe("beetroot-relish"), market="eu", language="fr")
    assert json.loads(made.stdout) == json.loads(json.dumps(post_object(content)))
    assert target.read_text(encoding="utf-8") == render(content, form="markdown")
    refused = run(path, "--address", "nowhere")
    assert refused.returncode == 2 and refused.stderr.count(b"\n") == 1 and b"Traceback" not in refused.stderr


def test_a_way_that_the_cook_names_is_an_offer_and_no_claim():
    """A swap of a remark is told with its line; on no label, and never as a property of the food."""
    text = (
        "---\ntitle: Cake\nmakes: 8 slices\nmarket: uk\n---\n- 200 g butter (use oil if vegan)\n- 200 g sugar\n> bake\n"
    )
    content = post_content(read_recipe(text), market="uk")
    assert content.offers == (
        "Can be made without milk: the cook names a way in line 6 (“use oil if vegan”). An offer, no promise.",
    )
    assert "milk" in "".join(run.text for run in content.allergens)
    for form in FORMS:
        assert "the cook names a way in line 6" in " ".join(render(content, form=form).split())

"""The post: what it says is what the label says, in every form, and whatever a cook writes in it is text."""

import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_reading import HOSTILE, linked, parse, read_markdown, sample, tags, text_of

from labeler import analyse, assess, declare, read_recipe
from labeler.allergens.vocabulary import allergen_names
from labeler.interface import post_object
from labeler.knowledge import LabelerError, Status
from labeler.labelling import Facts, gather, label_content, table_rows
from labeler.post import make_post
from labeler.post.escaping import for_html, for_markdown, for_text
from labeler.post.forms import FORMS, render
from labeler.post.gather import post_content
from labeler.post.linked import linked_data, linked_text, nutrition_facts
from labeler.post.ranges import likely_ends, plain_figure
from labeler.post.words import LANGUAGES, figure_words, line_name, rows, words

HERE = Path(__file__).parent
DEMO = HERE.parent / "demo"
MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")
NEVER = re.compile(r"free[ -]from|\bsafe\b|compliant|certified|guarantee", re.IGNORECASE)


@cache
def recipe(name="quay-pie"):
    path = DEMO / f"{name}.md"
    return read_recipe(path.read_text(encoding="utf-8"), source=str(path))


@cache
def facts(market, name="quay-pie"):
    """What the rooms know of a recipe of the demo, worked out once for all tests and with few draws."""
    nutrition = analyse(recipe(name), market=market, draws=200)
    return Facts(
        market,
        nutrition,
        assess(nutrition.weighed, market=market),
        declare(nutrition.per_serving, market=market),
        declare(nutrition.per_100g, market=market),
    )


@cache
def said(market, name="quay-pie", **options):
    """What the post of a recipe of the demo says."""
    return post_content(recipe(name), market=market, facts=facts(market, name), **options)


@pytest.fixture
def pie():
    """The demo's pie as posts of two markets say it."""
    return {market: said(market) for market in ("us", "uk")}


@pytest.fixture(scope="module")
def schema():
    """The terms of schema.org that a post may use."""
    from jsonschema import Draft202012Validator

    form = json.loads((HERE / "schema_org_recipe.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(form)
    return Draft202012Validator(form)


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


def test_missing_values_say_at_least(pie):
    """A figure that is not known stands in the table in words, with a sentence on what they mean."""
    rows_by_name = {row.name: row for row in pie["us"].rows}
    assert re.match(r"not known|at least", rows_by_name["Trans Fat"].per_serving)
    assert rows_by_name["Trans Fat"].likely == ""
    assert any("lacks a value" in sentence for sentence in pie["us"].sure)


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


# The page


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize("language", ("en", "de"))
def test_a_fragment_is_valid_and_whole_in_itself(market, language):
    """A strict parser finds no error; nothing is fetched, nothing runs, no style leaks."""
    fragment = render(said(market, language=language), whole=True)
    tree = parse(fragment)
    found = tags(tree)
    assert found["section"] == found["table"] == found["caption"] == found["script"] == 1
    assert not {"style", "link", "img", "iframe", "a", "form", "input", "object"} & set(found)
    (root,) = list(tree)
    assert root.get("lang") == language and root.get("class").startswith("labeler-post")
    for element in tree.iter():
        assert set(element.keys()) <= {"class", "style", "lang", "dir", "scope", "type"}
        assert not re.search(r"url\(|expression|@import|position|z-index", element.get("style") or "")


def test_the_table_is_a_table():
    """Each row has its header, each column its header, and the caption names them."""
    tree = parse(render(sample()))
    (table,) = tree.iter("table")
    heads = [head.get("scope") for head in table.find("thead").iter("th")]
    assert heads == ["col", "col", "col"]
    for row in table.find("tbody").iter("tr"):
        assert [cell.tag for cell in row] == ["th", "td", "td", "td"]
        assert row[0].get("scope") == "row"
    assert "Nutrition" in text_of(table.find("caption"))


@pytest.mark.parametrize("heading", (1, 2, 5))
def test_headings_begin_where_they_are_asked_to(heading):
    """The title stands at the level that was asked for and everything under it one deeper."""
    found = tags(parse(render(sample(), heading=heading, whole=True)))
    assert {tag for tag in found if re.fullmatch(r"h\d", tag)} == {f"h{heading}", f"h{heading + 1}"}
    assert found[f"h{heading}"] == 1
    assert f"\n{'#' * heading} Quay pie\n" in render(sample(), form="markdown", heading=heading)


def test_every_colour_has_its_dark_other():
    """Wherever a colour is set it is set for light pages and, after that, for both."""
    for element in parse(render(sample(), whole=True)).iter():
        style = element.get("style") or ""
        for what, value in re.findall(r"((?:background-|border-)?color):(#[0-9a-f]{6})", style):
            assert f"{what}:light-dark({value}," in style


# For programs


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize("name", ("quay-pie", "beetroot-relish"))
def test_linked_data_uses_the_vocabulary_rightly(schema, name, market):
    """The JSON-LD has only terms of schema.org, each with a value of its range and unit."""
    data = linked(parse(render(said(market, name, address="https://example.org/p"))))
    assert not list(schema.iter_errors(data))
    assert data["recipeIngredient"][0].startswith("500 ml")
    assert {item["@type"] for item in data["recipeInstructions"]} == {"HowToSection"}
    assert data["nutrition"]["servingSize"]
    assert "suitableForDiet" not in json.dumps(data)


def test_one_part_gives_steps_and_several_give_sections(schema):
    """A bare list has plain steps; an untitled part among others is a section without a name."""
    one = linked_data(sample(parts=sample().parts[:1]))
    assert [step["@type"] for step in one["recipeInstructions"]] == ["HowToStep", "HowToStep"]
    untitled = (replace(sample().parts[0], title=""), sample().parts[1])
    two = linked_data(sample(parts=untitled))
    assert "name" not in two["recipeInstructions"][0] and two["recipeInstructions"][1]["name"] == "Pie"
    assert not list(schema.iter_errors(one)) and not list(schema.iter_errors(two))


def test_linked_figures_agree_with_the_label(pie):
    """What the US label declares is what programs read; sodium is in milligrams where the label declares salt."""
    linked_facts = dict(pie["us"].facts)
    printed = {row.name: row.per_serving for row in pie["us"].rows}
    assert linked_facts["calories"] == f"{printed['Calories']} kcal"
    for term, name in (("fatContent", "Total Fat"), ("sodiumContent", "Sodium"), ("proteinContent", "Protein")):
        assert linked_facts[term] == printed[name]
    sodium = facts("uk").nutrition.per_serving["NA"].best
    assert dict(pie["uk"].facts)["sodiumContent"] == f"{sodium:.0f} mg"


def test_a_missing_value_is_never_linked():
    """Each property vanishes when a value behind it is missing, alone of all, and unsaturated fat needs both parts."""
    found = facts("codex", "beetroot-relish")
    known = {key: replace(one, status=Status.ANALYSED) for key, one in found.nutrition.per_serving.items()}

    def linked_of(figures):
        nutrition = replace(found.nutrition, per_serving=figures)
        return dict(nutrition_facts(replace(found, nutrition=nutrition, serving=replace(found.serving, lines=()))))

    whole = linked_of(known)
    for row in rows("vocabulary.csv"):
        for tagname in row["tagnames"].split("|"):
            lacking = known | {tagname: replace(known[tagname], status=Status.MISSING)}
            assert set(whole) - set(linked_of(lacking)) == {row["property"]}
            without = {key: one for key, one in known.items() if key != tagname}
            assert row["property"] not in linked_of(without)


def test_a_recipe_that_was_not_counted_whole_links_no_figures():
    """Where a line is in no figure, programs, which read no caveat, get none."""
    made = read_recipe("---\ntitle: Soup\nserves: 2\n---\n- 200 g flour\n- 200 g zorblewort\n")
    nutrition = linked_data(post_content(made))["nutrition"]
    assert set(nutrition) == {"@type", "servingSize", "description"} and "zorblewort" in nutrition["description"]


@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE)
def test_no_title_ends_the_linked_data(title):
    """The script block holds no sign that could end it and reads back to the title as it was."""
    content = sample(title, parts=(replace(sample().parts[0], title=title, lines=(title,), steps=(title,)),))
    text = linked_text(content)
    assert not set("<>&\u2028\u2029\u202e\u2067") & set(text)
    data = json.loads(text)
    assert data["name"] == data["recipeIngredient"][0] == data["recipeInstructions"][0]["text"] == title
    assert linked(parse(render(content)))["name"] == title


# Text is text

ODD = st.text(
    st.characters(codec="utf-8") | st.sampled_from("<>&\"'`*_[]()#+-.!|~\\/:@=\n\t {}%$\u2028\u202e\u200f\x00\x85"),
    max_size=60,
)


def with_odd_text(text):
    part = replace(sample().parts[0], title=text or "Part", lines=(text or "x",), steps=(text or "x",))
    return sample(
        text or "x",
        story=text or "x",
        maker=text or "x",
        place=text or "x",
        storage=text or "x",
        makes=text or "x",
        cautions=(text or "x",),
        unassessed=(text or "x",),
        parts=(part, sample().parts[1]),
    )


@cache
def usual_tags(form):
    """How many elements of each kind a post of plain words has."""
    text = render(with_odd_text("word"), form=form, whole=True)
    return tags(parse(text) if form == "html" else read_markdown(text))


@settings(max_examples=60, deadline=None)
@given(ODD)
def test_any_text_is_text_on_a_page(text):
    """Whatever is written, a page has the same elements as ever, and its title is what was written."""
    tree = parse(render(with_odd_text(text), whole=True))
    assert tags(tree) == usual_tags("html")
    (title,) = tree.iter("h2")
    assert text_of(title) == " ".join(for_text(text or "x").split())


@settings(max_examples=100, deadline=None)
@given(ODD.map(lambda text: " ".join(for_text(text).split())).filter(bool))
def test_any_text_is_text_in_markdown(text):
    """Whatever is written, a reader of Markdown sees the same elements as ever and the title that was written."""
    tree = read_markdown(render(with_odd_text(text), form="markdown", whole=True))
    assert tags(tree) == usual_tags("markdown")
    (title,) = tree.iter("h2")
    assert text_of(title) == " ".join(text.split())


@settings(max_examples=100, deadline=None)
@given(ODD)
def test_any_text_is_lines_of_plain_text(text):
    """Plain text holds no control sign but its line ends, and the title stands on one line."""
    lines = render(with_odd_text(text), form="text").split("\n")
    assert " ".join(for_text(text or "x").split(" ")) in lines or not for_text(text or "x").strip()
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029]", "\n".join(lines))


@pytest.mark.parametrize(
    ("text", "escaped"),
    [
        ("1. first", "1\\. first"),
        ("2.5 g", "2.5 g"),
        ("- dash", "\\- dash"),
        ("sweet-and-sour (hot)", "sweet-and-sour (hot)"),
        ("<0.5 g", "&lt;0.5 g"),
        ("a | b", "a \\| b"),
        ("https://example.org", "https\\://example.org"),
        ("www.example.org", "www\\.example.org"),
        ("Contains: milk", "Contains: milk"),
        ("x == y", "x \\=\\= y"),
    ],
)
def test_markdown_is_escaped_no_more_than_needed(text, escaped):
    """Plain words stay plain; what any dialect could take for mark-up, a link or HTML does not."""
    assert for_markdown(text) == escaped


def test_marks_of_direction_stay_and_are_seen_in_the_source():
    """A mark that turns the direction of writing stays in the text, as a reference in the source of a page."""
    assert for_html("a\u202eb") == "a&#x202E;b"
    assert text_of(parse(f"<p>{for_html('a' + chr(0x202E) + 'b')}</p>")) == "a\u202eb"


def test_a_name_in_a_paragraph_cannot_turn_the_rest():
    """Names of ingredients lose the marks that would turn the rest of their paragraph round."""
    made = read_recipe("---\ntitle: Bread\nserves: 2\n---\n- 200 g \u202eflour\n- 100 g butter\n")
    content = post_content(made)
    said = [run.text for run in (*content.ingredients, *content.allergens)]
    assert not [text for text in (*said, *content.sure, *content.unassessed) if "\u202e" in text]


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
    named = {row["en"]: row for row in rows("line_names.csv")}
    for row in table_rows(facts(market)):
        assert all(named[row.name][language] for language in LANGUAGES)
    assert {row["allergen"] for row in rows("allergen_names.csv")} == set(allergen_names())
    assert all(value for row in rows("allergen_names.csv") for value in row.values())


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

"""The forms of a post: valid pages and linked data, and whatever a cook writes in them is text."""

import json
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_reading import HOSTILE, MARKETS, facts, linked, parse, read_markdown, said, sample, tags, text_of

from labeler import read_recipe
from labeler.post.builder import post_content
from labeler.post.escaping import for_html, for_markdown, for_text
from labeler.post.forms import render
from labeler.post.linked import linked_data, linked_text, nutrition_facts
from labeler.post.words import rows
from labeler.types import Status


@pytest.fixture
def pie():
    """The demo's pie as posts of two markets say it."""
    return {market: said(market) for market in ("us", "uk")}


@pytest.fixture(scope="module")
def schema():
    """The terms of schema.org that a post may use."""
    from jsonschema import Draft202012Validator

    form = json.loads((Path(__file__).parents[1] / "schema_org_recipe.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(form)
    return Draft202012Validator(form)


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

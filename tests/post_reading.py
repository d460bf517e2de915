"""Posts read back: contents to try, and what a page, a reader of Markdown and a program make of a post."""

import json
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

from labeler import analyse, assess, declare, read_recipe
from labeler.label.builder import LabelFacts
from labeler.label.content import Run
from labeler.post import PostContent, PostPart, PostRow
from labeler.post.builder import post_content

DEMO = Path(__file__).parents[1] / "demo"
MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")
HOSTILE = {
    "a script": "<script>window.struck = 1</script>",
    "the end of a script": "</script><img src=x onerror='window.struck = 1'>",
    "a comment": "<!-- <script> --> ]]> &lt;b&gt; &amp;",
    "quotes": '"Mum\'s" `best` \'pie\' onmouseover="window.struck = 1"',
    "right-to-left marks": "Pie \u202eeip\u202c \u200fאבג\u200e \u2067x",
    "ten thousand letters": "w" * 10_000,
    "ten thousand signs of Markdown": "*_`[x](javascript:window.struck=1)|" * 286,
    "template marks": "{{ 7 * 7 }} {% raw %} ${window.struck = 1}",
    "emphasis and links": "**bold** ~~gone~~ <https://example.org> www.example.org a@example.org :pie:",
}


@cache
def recipe(name="quay-pie"):
    path = DEMO / f"{name}.md"
    return read_recipe(path.read_text(encoding="utf-8"), source=str(path))


@cache
def facts(market, name="quay-pie"):
    """What the rooms know of a recipe of the demo, worked out once for all tests and with few draws."""
    nutrition = analyse(recipe(name), market=market, draws=200)
    return LabelFacts(
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


def sample(title="Quay pie", **changes):
    """A whole post in a few rows, every field filled."""
    content = PostContent(
        title=title,
        market="us",
        language="en",
        story="Smoked fish under mashed potato.",
        maker="Tern & Tide Kitchen",
        place="Stall 14, Quay Market",
        storage="Keep below 5 °C.",
        serving="1 pie (458 g)",
        makes="6 pies",
        allergens=(Run("Contains: "), Run("milk, haddock, wheat", True)),
        package=("stock (celery, milk)",),
        unassessed=("quay sauce",),
        rows=(
            PostRow("Calories", "570", "130", "550–610", "", 0),
            PostRow("Total Fat", "24 g", "5 g", "23–25 g", "31%", 0),
            PostRow("Saturated Fat", "at least 13.5 g", "<0.5 g", "", "70%", 1),
            PostRow("Includes Added Sugars", "not known", "not known", "", "", 2),
        ),
        percent_heading="% Daily Value*",
        ingredients=(Run("smoked "), Run("haddock", True), Run(", butter ("), Run("milk", True), Run(").")),
        cautions=("Contains raw or undercooked shellfish.",),
        sure=("Calculated from the recipe, not analysed.", "Calories: most likely 570 per serving."),
        as_of="As of recipe dd6838a9.",
        parts=(
            PostPart("Filling", ("400 g smoked haddock", "60 g butter"), ("simmer 10 minutes", "leave to cool")),
            PostPart("Pie", ("all of the Filling",), ("bake at 190 °C for 35 minutes",)),
        ),
        facts=(("calories", "570 kcal"), ("sodiumContent", "1160 mg")),
        digest="dd6838a9",
        address="https://example.org/quay-pie",
    )
    return replace(content, **changes)


def parse(fragment):
    """The tree of a fragment as the HTML standard parses it, with an error for the least slip."""
    import html5lib

    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parseFragment(fragment)


def text_of(element):
    """All the text of an element, white space as a page shows it."""
    return " ".join("".join(element.itertext()).split())


def tags(tree):
    """How many elements of each kind a tree has."""
    return Counter(element.tag for element in tree.iter() if isinstance(element.tag, str))


def linked(tree):
    """The linked data of a post's tree."""
    (script,) = tree.iter("script")
    assert script.get("type") == "application/ld+json"
    return json.loads(script.text)


def read_markdown(text):
    """The tree of a Markdown post as a reader of GitHub's dialect makes it, links found in plain text too."""
    from markdown_it import MarkdownIt

    page = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"]).render(text)
    return parse(page)

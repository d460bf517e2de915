"""The post: what a recipe holds as a block to paste into a page, and the same for programs.

An HTML fragment with schema.org JSON-LD, Markdown or plain text; a short allergen line first, the figures of the label
with how sure each is, and what they are as of. `labeler.post.builder` says what a post says, `labeler.post.forms` how.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from labeler.post.content import PostContent, PostPart, PostRow

if TYPE_CHECKING:
    from labeler.parsing.model import Recipe

__all__ = ["PostContent", "PostPart", "PostRow", "make_post"]


def make_post(
    recipe: Recipe,
    *,
    market: str | None = None,
    form: str = "html",
    language: str = "en",
    address: str = "",
    heading: int = 2,
    whole: bool = False,
) -> str:
    """The post of a recipe.

    Parameters
    ----------
    recipe : Recipe
    market : str or None
        Whose rules round the figures and name the allergens; None takes the head's `market`, else us.
    form : str
        "html", "markdown" or "text".
    language : str
        Of the fixed words: en, fr, es, de or it. What the cook wrote stays as written.
    address : str
        Where the post is to stand (http or https), for the part that programs read.
    heading : int
        Level of the title's heading, 1 to 5.
    whole : bool
        True for the recipe itself too, its ingredient lines and its handling.

    Returns
    -------
    str
        The block to paste; the same bytes for the same input. Nothing in it claims that the food is free of anything.

    Raises
    ------
    LabelerError
        For an unknown market, form or language, an impossible heading or address.

    Source: https://schema.org/Recipe and https://schema.org/NutritionInformation for the linked data of the HTML.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Satay\\n- 100 g peanut butter\\n- 1 tablespoon soy sauce\\n")
    >>> labeler.make_post(recipe, form="markdown", market="eu").splitlines()[0]
    'Contains: **peanut, soy, wheat**'
    """
    from labeler.post.builder import post_content
    from labeler.post.forms import check_form, render

    check_form(form, heading)
    content = post_content(recipe, market=market, language=language, address=address)
    return render(content, form=form, heading=heading, whole=whole)

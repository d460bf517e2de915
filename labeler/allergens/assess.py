"""The allergens of a name, a line and a recipe.

Nothing washes off: every line of every part counts, whatever the handling pours away, drains, skims or fries in,
and so does a food that only a handling sentence or a preparation names.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from labeler.allergens.compound_typos import with_state_before
from labeler.allergens.detect import assess_text, offered
from labeler.allergens.evidence import assess_food
from labeler.allergens.market_lists import EVERY_MARKET, UNNAMED_NUTS, for_market
from labeler.allergens.matched_names import SURE, as_matched
from labeler.allergens.method_foods import assess_method
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.package_statement import assess_own
from labeler.allergens.phrase_verdicts import CRUDE, NUTS, SEVERAL
from labeler.allergens.phrases import LINKING, hits
from labeler.allergens.vocabulary import load_vocabulary
from labeler.foods.composition.food_table import load_table
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.resolve import weigh_line
from labeler.markets import market_of
from labeler.parsing.model import Line
from labeler.text.tokens import BREAK, names_additives, tokens
from labeler.types import Problem

if TYPE_CHECKING:
    from labeler.foods.user_foods import OwnFoods

__all__ = ["assess", "assess_line", "assess_name", "assess_written"]

SHORT = 3
"""Words up to which an aside is read with its name: "cream (Irish)", "milk, oat"."""
QUALIFIERS = frozenset({"free", "vegan", "vegetarian", "refined", *CRUDE})
"""Words of a preparation or a note that say what the food of the name is made of, however long it is."""
OPEN_FOOD = frozenset({"respelled", "no-such-part"})
"""Problems of a line by which it is open what food was assessed; "no-such-food" of a pin is one as well."""
EXAMPLES = frozenset({"such", "like", "eg", "example", "any", "other", "your"})
"""Words by which an aside gives only examples."""
_MORE = re.compile(r"(?:plus|and|with)\s+(?!more\b|extra\b|without\b)([^\d].*)", re.IGNORECASE)
_LINKS = frozenset({"with", "and", "plus", "in", "on", "or", "over"})
"""Words before the last of several foods of a name."""
NOT_OF_ITS_KIND = LINKING | EXAMPLES | {"not", "plus", "on", "over", "into", "contain", "may"}
"""Words by which a short aside does not say of which kind the food is."""


def _is_that_food(name: str, food: str) -> bool:
    """True where the description carries every word of the name: a food that only stands in for another does not."""
    vocabulary, table = load_vocabulary(), load_table()
    naming = {word for word in tokens(name) if word != BREAK and not vocabulary.only_describes(word)}
    return bool(naming) and naming.issubset(tokens(table.descriptions[table.position[food]]))


def _from_food(words: Assessment, food: str, pinned: bool) -> Assessment:
    """What the table food adds to the words of the name."""
    evidence = assess_food(food)
    if pinned or words.unassessed:
        named = words.allergens
        further = tuple(finding for finding in evidence.contains if finding.allergen not in named)
        return replace(merge(words.text, (words, replace(evidence, contains=further))), unassessed=())
    agreed = evidence.allergens
    return replace(
        words,
        contains=tuple(
            replace(finding, reason=f"{finding.reason}; the table food {food} agrees") if finding.allergen in agreed
            else finding
            for finding in words.contains
        ),
    )  # fmt: skip


def _name(name: str, food: str | None, *, pinned: bool = False) -> Assessment:
    words = assess_text(name)
    return words if food is None or not (pinned or _is_that_food(name, food)) else _from_food(words, food, pinned)


def _sorted(assessment: Assessment, market: str) -> Assessment:
    return assessment if market == EVERY_MARKET else for_market(assessment, market)


def assess_name(name: str, *, food: str | None = None, market: str = "us") -> Assessment:
    """The allergens of one ingredient name.

    Parameters
    ----------
    name : str
        In a cook's or a label's words.
    food : str or None
        Table id where the name was matched with confidence: its scientific name and LanguaL codes are evidence too,
        where its description carries every word of the name. Raises KeyError for one that is not in the table.
    market : str
        One of `labeler.markets.MARKETS`, whose list counts; `EVERY_MARKET` keeps what any market lists.
    """
    return _sorted(_name(name, food), market)


def _place(finding: Finding, text: str) -> Finding:
    return replace(finding, from_=text if finding.from_ == text else f"{text}: {finding.from_}")


def _read_together(line: Line) -> tuple[str, list[str]]:
    """The name with the asides that say of which food it is, and the asides that are left.

    A short note in brackets stands before the name as it would be spoken ("milk (oat)" is oat milk); a preparation
    may be an action as well, and stays behind it.
    """
    vocabulary = load_vocabulary()
    if names_additives(line.text):
        return line.text, []
    name = with_state_before(line, _in_index_order(line))
    left: list[str] = []
    for note in line.note.split(";"):
        words = tokens(note)
        if words and _tells_the_kind(words, SHORT - 1, name.lower() == "oil") and BREAK not in words:
            kind = _before_its_food(note.strip(), name, line.text)
            name, left = (kind, left) if kind is not None else (name, [*left, note.strip()])
        elif words:
            left.append(note.strip())
    preparation = "" if name.startswith(f"{line.preparation} ") else line.preparation
    for aside in (preparation, *left.copy()):
        words = tokens(aside)
        speaks = any(vocabulary.longest.get(word, 0) > 1 or not vocabulary.only_describes(word) for word in words)
        qualifies = not QUALIFIERS.isdisjoint(words) and _MORE.match(aside) is None
        if (speaks and _tells_the_kind(words, SHORT)) or qualifies:
            name = f"{name}, {aside}"
            left = [other for other in left if other != aside]
        elif aside and aside not in left:
            left.append(aside)
    return name, left


def _in_index_order(line: Line) -> str:
    """The name; as it is written where it gives one food in index order: "flour, chickpea" is no two foods."""
    name = line.name or line.text
    first, _, second = name.partition(" and ")
    written = f"{first}, {second}"
    one_food = written == line.text.strip() and " ".join(tokens(f"{second} {first}")) in load_vocabulary().entries
    return written if one_food else name


def _before_its_food(note: str, name: str, text: str) -> str | None:
    """The name with a note before the food that it stands behind in the line; None where it stands behind another.

    A claim behind several foods is read behind all of them, as it is open of which it is.
    """
    words = name.split()
    behind = text[: text.find(note)].rstrip(" ([").split()[-1:] if note in text else words[-1:]
    spots = [at for at, word in enumerate(words) if [word.lower()] == [one.lower() for one in behind]]
    if not spots:
        return None
    start = next((at + 1 for at in range(spots[-1] - 1, 0, -1) if words[at].lower() in _LINKS), 0)
    if start and not QUALIFIERS.isdisjoint(tokens(note)):
        return f"{name}, {note}"
    cut = len(tokens(" ".join(words[:start])))
    if any(hit.start < cut < hit.end for hit in hits(tokens(name), load_vocabulary())):
        start = 0  # "toad in the hole"
    return " ".join((*words[:start], note, *words[start:]))


def _asides(line: Line) -> list[str]:
    """Everything that the line says beside its name."""
    words = (line.preparation, *line.note.split(";"))
    return [aside.strip() for aside in words if aside.strip()]


def _beside(aside: str) -> Assessment:
    """What an aside brings; what is said to go in as well ("plus soy sauce") is read as the name of a food."""
    more = _MORE.match(aside)
    return assess_text(more[1]) if more else replace(assess_text(aside, aside=True), unassessed=())


def _tells_the_kind(words: list[str], most: int, always: bool = False) -> bool:
    """True for an aside short and plain enough to be part of the name; what an oil's brackets say always is."""
    return always or (len(words) <= most and NOT_OF_ITS_KIND.isdisjoint(words))


def _names_its_nuts(name: str, assessment: Assessment, asides: list[str]) -> bool:
    """True where asides name the nuts that the name leaves open: "nuts (walnuts or pecans)"; a food that is
    made of nuts names none of them, and nuts in an aside are a food of their own.
    """
    if UNNAMED_NUTS not in assessment.allergens or UNNAMED_NUTS not in assess_text(name).allergens:
        return False
    return any(
        _MORE.match(aside) is None
        and EXAMPLES.isdisjoint(tokens(aside))
        and any(found.allergen in NUTS and found.rule == "source" for found in assess_text(aside, aside=True).contains)
        for aside in asides
    )


def _line(weighed: WeighedLine) -> Assessment:
    """Everything that one line names, market apart."""
    line = weighed.line
    if weighed.part is not None or weighed.kept is not None:  # its own lines say what is in it
        return Assessment(line.text)
    match = weighed.match
    food = line.pin.food if line.pin is not None and line.pin.food in load_table() else None
    pinned = food is not None
    if food is None and match is not None and match.confidence >= SURE:
        food = match.food
    own = match.own if match is not None else None
    name, asides = _read_together(line) if own is None else (line.name, _asides(line))
    stated = _name(name, food, pinned=pinned) if own is None else assess_own(own)
    if any(problem.code == "no-such-part" for problem in weighed.problems):
        stated = _made_elsewhere(stated, name)
    if own is None and not pinned and match is not None:
        stated = as_matched(stated, match)
    others = line.alternatives if SEVERAL.isdisjoint(tokens(name)) else ()
    if _names_its_nuts(line.name or line.text, stated, [*asides, *others]):
        stated = replace(stated, contains=tuple(one for one in stated.contains if one.allergen != UNNAMED_NUTS))
    found = [
        _one_of(line, stated, [assess_text(other) for other in line.alternatives]) if line.alternatives else stated
    ]
    found[0] = offered(found[0], line.remarks)
    found.extend(_beside(aside) for aside in asides)
    found.extend(_line(other) for other in weighed.also)
    text = line.text.strip()
    whole = _with_the_unread(line, merge(line.text, found))
    mended = match is not None and bool(match.read_as)
    pinned_open = line.pin is not None and bool(line.pin.food)
    open_codes = OPEN_FOOD | ({"weak-match"} if mended else set()) | ({"no-such-food"} if pinned_open else set())
    open_ = tuple(one for one in weighed.problems if one.code in open_codes)
    whole = replace(whole, problems=(*open_, *whole.problems))
    if not whole.contains and not whole.read_the_package:
        return whole
    return replace(
        whole,
        contains=tuple(_place(finding, text) for finding in whole.contains),
        read_the_package=tuple(_place(finding, text) for finding in whole.read_the_package),
    )


def _with_the_unread(line: Line, found: Assessment) -> Assessment:
    """What was found, with what words of the line that no part of it carries may name: no token is passed over."""
    vocabulary = load_vocabulary()
    further = (text for other in line.further for text in (other.text, other.name))
    carried = (
        line.name,
        line.preparation,
        line.note,
        *line.alternatives,
        *further,
        *(one.text for one in line.remarks),
    )
    passed = set(tokens(line.text)).difference(*map(tokens, filter(None, carried)))
    if not any(entry.contains for word in passed if (entry := vocabulary.entries.get(word)) is not None):
        return found
    named = assess_text(line.text, aside=True)
    asked = tuple(replace(one, certainty="possible", reason=f"{one.reason}; the line names it beside its food")
                  for one in named.contains if one.allergen not in found.allergens | found.possible)  # fmt: skip
    return merge(line.text, (found, Assessment(line.text, read_the_package=asked)))


def _one_of(line: Line, counted: Assessment, others: list[Assessment]) -> Assessment:
    """A line that leaves the choice: the food that is counted and printed, and what another choice would bring.

    What every choice holds is in the food whichever is taken; the rest of another choice is a question.
    """
    every = counted.allergens.intersection(*(other.allergens for other in others))
    instead = tuple(
        replace(finding, certainty="possible", reason=f"{finding.reason}, if “{other.text}” is taken")
        for other in others for finding in other.contains if finding.allergen not in every
    )  # fmt: skip
    sure = [replace(other, contains=tuple(one for one in other.contains if one.allergen in every)) for other in others]
    found = merge(counted.text, (counted, *sure, Assessment(counted.text, read_the_package=instead)))
    if all(other.allergens == counted.allergens and other.possible == counted.possible for other in others):
        return found
    choice = " or ".join((counted.text, *(other.text for other in others)))
    text = f"“{choice}” leaves open which allergens are in the food: “{counted.text}” is counted and printed."
    return replace(found, problems=(Problem("choice-open", f"{text} Write the one that is used.", line.number),))


def _made_elsewhere(found: Assessment, name: str) -> Assessment:
    """A part that the recipe does not hold: what its name spells out counts; of what else it is made nobody knows."""
    spelt = tuple(finding for finding in found.contains if finding.rule in ("source", "derivative"))
    guessed = tuple(
        replace(finding, certainty="possible", reason=f"{finding.reason}; the part that it names is not in the recipe")
        for finding in found.contains
        if finding not in spelt
    )
    return replace(found, contains=spelt, read_the_package=(*found.read_the_package, *guessed), unassessed=(name,))


def assess_line(weighed: WeighedLine, *, market: str = "us") -> Assessment:
    """The allergens of one ingredient line: its name, its alternatives, its preparation and its note.

    A line that names another part of its recipe brings nothing here: `assess` counts that part's own lines.
    """
    return _sorted(_line(weighed), market)


def assess_written(line: Line, *, larder: OwnFoods | None = None, market: str = "us") -> Assessment:
    """The allergens of one ingredient line that stands alone, without weighing it.

    Its food is looked up only where the vocabulary does not know its name, or where the cook has foods of their own;
    it finds what `assess_line` finds in the same line weighed.

    Parameters
    ----------
    line : Line
        As `labeler.parsing.read_line` reads it.
    larder : OwnFoods or None
        The cook's own foods, which win over the table by name.
    market : str
        As `assess_name` takes it.
    """
    if larder is None:
        further = tuple(WeighedLine(other, None, None) for other in line.further)
        found = _line(WeighedLine(line, None, None, also=further))
        if not found.unassessed:
            return _sorted(found, market)
    return assess_line(weigh_line(line, larder=larder), market=market)


def assess(weighed: WeighedRecipe, *, market: str | None = None) -> Assessment:
    """The allergens of a recipe: every line of every part and every further food that the method names.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str or None
        Whose list of allergens; None takes the market that the recipe was weighed for, else the head's, else us.
        `EVERY_MARKET` keeps what any market lists.

    Returns
    -------
    Assessment
        What is contained, which packages to read, and which names could not be assessed; each finding with its reason.
        Nothing found is no promise: an allergen may come with a package, a supplier or a shared board.

    Raises
    ------
    LabelerError
        For a market that is not known.

    Source: the lists of the markets, cited in ``labeler/allergens/data/markets.csv``.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Satay\\n- 100 g peanut butter\\n- 1 tablespoon soy sauce\\n")
    >>> [finding.allergen for finding in labeler.assess(labeler.weigh(recipe), market="eu").contains]
    ['peanut', 'soybean', 'wheat']
    """
    title = weighed.recipe.title
    lines = merge(title, (_line(line) for part in weighed.parts for line in part.lines))
    return _sorted(
        merge(title, (lines, *assess_method(weighed, lines))), market_of(weighed.recipe, market or weighed.market)
    )

"""What a label says of allergens, in the form of each market, and a table of a whole stall.

The forms differ in what an entry is called (the species, or the class that the law lists), in whether the name is
set apart in the ingredient list, and in whether a separate line is asked for, allowed or forbidden beside a list.
A statement is made of what was found; what a package must still say stands in `Statement.notes`, for the cook.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from labeler.allergens.market_lists import UNNAMED_NUTS, check_market, duties, for_market
from labeler.allergens.model import HANDLING, NOTED, SERVED, Assessment, Finding
from labeler.allergens.vocabulary import allergen_names, rows
from labeler.text.stems import stems
from labeler.types import LabelerError

__all__ = ["Matrix", "Statement", "declared_names", "matrix", "statement", "unlisted"]

SPECIES_CLASSES = frozenset({"fish", "crustaceans", "molluscs"})
GLUTEN = frozenset({"wheat", "barley", "rye", "oats", "triticale"})
IN_JAPAN = {"lobster": "shrimp", "spiny lobster": "shrimp", "langoustine": "shrimp", "crayfish": "shrimp",
            "cuttlefish": "squid"}  # fmt: skip
"""Species that Japan's Appended Table 14 counts under another name, by its annex of species (from memory)."""
SCHEDULE_9 = {"crustaceans": "crustacean", "molluscs": "mollusc", "soybean": "soy", "triticale": "wheat"}


@dataclass(frozen=True, slots=True)
class Statement:
    """What the label of one food says of its allergens in one market and language.

    Parameters
    ----------
    market, language : str
    text : str
        The whole statement; empty where nothing that the market asks for was found.
    names : tuple of str
        Its entries, in the order of the law's list.
    in_list : bool
        True where the market wants each name set apart from the rest of the ingredient list.
    beside_list : bool
        True where the text may stand beside an ingredient list; False where it takes the place of one.
    notes : tuple of str
        What the cook should settle before printing, one sentence each.
    precaution : str
        The sentence about what else the kitchen handles; empty unless the cook declares something.
    source : str
        The paragraph that the form rests on.
    unlisted : tuple of str
        Those of `names` that the ingredient list does not set apart, so that the label must state them beside it.
    """

    market: str
    language: str
    text: str
    names: tuple[str, ...]
    in_list: bool
    beside_list: bool
    notes: tuple[str, ...] = ()
    precaution: str = ""
    source: str = ""
    unlisted: tuple[str, ...] = ()


@cache
def _forms() -> dict[tuple[str, str], dict[str, str]]:
    return {(row["market"], row["language"]): row for row in rows("statements.csv")}


@cache
def _translations(language: str) -> dict[str, str]:
    """Names of allergens and species in another language, by their English ones."""
    if language == "en":
        return {}
    words = {row["en"]: row[language] for row in rows("allergens.csv")}
    words.update((row["name"], row[language]) for row in rows("species.csv") if row[language])
    return words


def _form(market: str, language: str) -> dict[str, str]:
    check_market(market)
    form = _forms().get((market, language))
    if form is None:
        known = ", ".join(spoken for place, spoken in _forms() if place == market)
        raise LabelerError(f"no allergen statement for market {market} in {language!r}; there are {known}")
    return form


def declared_names(finding: Finding, *, market: str) -> tuple[str, ...]:
    """What a market wants a finding called in an ingredient list.

    The species in us and ca, the name of the law's own list elsewhere.

    Parameters
    ----------
    finding : Finding
    market : str
    """
    kind = _form(market, "en")["names"]
    plain = allergen_names()[finding.allergen]
    if kind == "species":
        # Spelt, durum and the like are wheat by law, and a source stands once: 21 USC 321(qq), B.01.010.1(1).
        return ("wheat",) if finding.allergen == "wheat" else finding.names
    if kind == "schedule":
        return (SCHEDULE_9.get(finding.allergen, plain),)
    if market == "jp" and finding.allergen in SPECIES_CLASSES:
        return tuple(dict.fromkeys(IN_JAPAN.get(name, name) for name in finding.names))
    if finding.allergen in ("wheat", "milk", "egg") and market in ("eu", "uk"):
        return finding.names
    return (plain,)


def _summed_up(finding: Finding, market: str) -> tuple[str, ...]:
    """What the statement calls a finding: as the list does, but that Schedule 9 of anz sums cereals up as gluten."""
    names = declared_names(finding, market=market)
    if _form(market, "en")["names"] == "schedule" and finding.allergen in GLUTEN:
        return (*(name for name in names if name == "wheat"), "gluten")
    return names


def _ordered(findings: Iterable[Finding]) -> list[Finding]:
    order = list(allergen_names())
    return sorted(findings, key=lambda finding: order.index(finding.allergen))


def _asked(sorted_out: Assessment, market: str) -> list[Finding]:
    """What a label in the market must or should name, in the order of the law's list."""
    return [
        finding
        for finding in _ordered(sorted_out.declared)
        if duties()[market, finding.allergen].level in ("required", "recommended")
    ]


def unlisted(assessment: Assessment, market: str, *, set_apart: Iterable[str] = ()) -> tuple[Finding, ...]:
    """What a label must name that its printed ingredient list does not set apart.

    Whatever the cause: a food that only a handling sentence names, or one that is strained out, poured off or thrown
    away, so that it has left the list while traces of it stay.

    Parameters
    ----------
    assessment : Assessment
    market : str
    set_apart : iterable of str
        The stretches of the printed list that stand in another type.
    """
    printed = {one for text in set_apart for one in stems(text)}
    return tuple(
        finding
        for finding in _asked(for_market(assessment, market), market)
        if not all(printed.issuperset(stems(name)) for name in declared_names(finding, market=market))
    )


def statement(
    assessment: Assessment,
    market: str,
    language: str = "en",
    *,
    also_handled: Sequence[str] = (),
    set_apart: Iterable[str] = (),
) -> Statement:
    """The allergen statement of one food.

    Parameters
    ----------
    assessment : Assessment
        Of the recipe or line; it is sorted for the market here, whatever market it was made for.
    market : str
    language : str
        ``"en"``; ``"fr"`` for ca and eu; ``"ja"`` for jp.
    also_handled : sequence of str
        What the cook declares that the same kitchen also handles; nothing is added to it.
    set_apart : iterable of str
        The stretches of the printed ingredient list that stand in another type; see `unlisted`.

    Raises
    ------
    LabelerError
        For an unknown market, or a language in which the market has no form here.
    """
    form = _form(market, language)
    sorted_out = for_market(assessment, market)
    asked = _asked(sorted_out, market)
    words = _translations(language)

    def entries_of(findings: Iterable[Finding]) -> list[str]:
        names = dict.fromkeys(words.get(name, name) for finding in findings for name in _summed_up(finding, market))
        return [name[:1].upper() + name[1:] if form["capital"] == "yes" else name for name in names]

    entries = entries_of(asked)
    missing = entries_of(unlisted(assessment, market, set_apart=set_apart))
    text = _text(form, entries)
    return Statement(
        market, language, text, tuple(entries), form["in_list"] == "yes", form["box"] != "no list",
        tuple(_notes(sorted_out, asked, market)), _precaution(also_handled, language), form["source"],
        tuple(missing),
    )  # fmt: skip


def _text(form: dict[str, str], entries: list[str]) -> str:
    if not entries:
        return ""
    joined = form["joiner"].join(entries)
    if form["language"] == "ja":
        return f"（{form['title']}{joined}を含む）"
    return f"{form['title']} {joined}"


QUESTIONS = {
    "": "Read the package of “{place}”: it may hold {names}.",
    HANDLING: "“{place}” may bring {names}: write what goes in as a line.",
    SERVED: "“{place}” serves {names} beside the food: write it as a line if it goes into the pack.",
    NOTED: "“{place}” is a note that speaks of {names}: write it as a line if it goes in.",
}
"""What to ask for a possible finding, by its rule."""


def _notes(found: Assessment, asked: list[Finding], market: str) -> Iterable[str]:
    """What stands in the way of a whole statement."""
    for finding in asked:
        yield from _to_name(finding, market)
    yield from _to_read(found)
    for problem in found.problems:
        if problem.code == "choice-open":
            yield problem.message
    for name in found.unassessed:
        yield f"“{name}” could not be assessed: read its package or name its ingredients."


def _to_name(finding: Finding, market: str) -> Iterator[str]:
    """What a finding leaves to be named: a line for what the method brings, the nut, the species."""
    if finding.rule == HANDLING:
        named = ", ".join(declared_names(finding, market=market))
        text = f"“{finding.from_}” brings {named} that no ingredient line names"
        yield f"{text}: write it as a line, so that it is listed."
    if finding.allergen == UNNAMED_NUTS:
        yield f"Name each nut: “{finding.from_}” does not say which nuts it holds."
    elif _form(market, "en")["names"] == "species" and finding.allergen in SPECIES_CLASSES:
        plain = allergen_names()[finding.allergen]
        if plain in finding.names:
            yield f"Name the species: “{finding.from_}” says only {plain}."


def _to_read(found: Assessment) -> Iterator[str]:
    """A question for each package or sentence that may bring an allergen which is not known to be there."""
    known = {finding.allergen for finding in found.contains}
    open_questions: dict[tuple[str, str], list[str]] = {}
    for finding in found.read_the_package:
        if finding.allergen not in known and finding.rule != "unnamed-nut":
            question = QUESTIONS.get(finding.rule, QUESTIONS[""])
            open_questions.setdefault((finding.from_, question), []).extend(finding.names)
    for (place, question), names in open_questions.items():
        yield question.format(place=place, names=", ".join(dict.fromkeys(names)))


def _precaution(also_handled: Sequence[str], language: str) -> str:
    if not also_handled:
        return ""
    named = ", ".join(also_handled)
    if language == "fr":
        return f"Préparé dans une cuisine qui utilise aussi : {named}."
    if language == "ja":
        return f"本品製造の厨房では{'・'.join(also_handled)}を含む食品も扱っています。"
    return f"Made in a kitchen that also handles {named}."


@dataclass(frozen=True, slots=True)
class Matrix:
    """Foods by allergens for a whole stall.

    Parameters
    ----------
    market : str
    allergens : tuple of str
        Ids across, in the order of the law's list.
    titles : tuple of str
        Foods down.
    marks : tuple of tuple of str
        ``"contains"``, ``"read the package"`` or ``""`` (not found), a row for each food.
    notes : tuple of str
        What is open beside the marks, each with its food: names that could not be assessed, lines that are no food.
    """

    market: str
    allergens: tuple[str, ...]
    titles: tuple[str, ...]
    marks: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()

    def to_text(self) -> str:
        """The table in plain characters: C contains, ? read the package, · not found."""
        signs = {"contains": "C", "read the package": "?", "": "·"}
        names = [allergen_names()[allergen] for allergen in self.allergens]
        width = max((len(title) for title in self.titles), default=0)
        lines = [" " * width + "  " + "  ".join(names)]
        for title, row in zip(self.titles, self.marks, strict=True):
            cells = "  ".join(signs[mark].ljust(len(name)) for mark, name in zip(row, names, strict=True))
            lines.append(f"{title.ljust(width)}  {cells}".rstrip())
        lines.append("C contains · ? read the package · not found is not a promise")
        lines += [f"! {note}" for note in self.notes]
        return "\n".join(lines)


def matrix(foods: Iterable[tuple[str, Assessment]], market: str) -> Matrix:
    """Which food of a stall holds which allergen of a market.

    Parameters
    ----------
    foods : iterable of (title, Assessment)
    market : str
    """
    check_market(market)
    sorted_out = [(title, for_market(assessment, market)) for title, assessment in foods]
    across = tuple(
        allergen
        for allergen in allergen_names()
        if (allergen != UNNAMED_NUTS and duties()[market, allergen].level in ("required", "recommended"))
        or any(allergen == finding.allergen for _, assessment in sorted_out for finding in assessment.declared)
    )
    marks = tuple(
        tuple(
            "contains" if any(allergen == finding.allergen for finding in assessment.declared)
            else "read the package" if allergen in assessment.possible
            else ""
            for allergen in across
        )
        for _, assessment in sorted_out
    )  # fmt: skip
    notes = tuple(
        f"{title}: {stated}"
        for title, assessment in sorted_out
        for stated in (
            *(problem.message for problem in assessment.problems),
            *(f"“{name}” could not be assessed." for name in assessment.unassessed),
        )
    )
    return Matrix(market, across, tuple(title for title, _ in sorted_out), marks, notes)

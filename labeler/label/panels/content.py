"""What an official nutrition panel says, and the forms in which a market has it drawn.

Words, order, type sizes and weights of rules are the market's own, from its rule files
(``labeler/rules/data/<market>/panel.yaml``, each with its paragraph and how well it could be read); nothing about a
market is written here. A panel's sizes are least sizes in law, so a panel is not shrunk: it has a width and a height.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from labeler.label.words import figure_words, line_name, words
from labeler.types import LabelerError

if TYPE_CHECKING:
    from labeler.rules.declaration import Declaration, DeclaredValue
    from labeler.rules.model import Rule

__all__ = ["PanelContent", "PanelRow", "panel_content", "panel_forms"]


@dataclass(frozen=True, slots=True)
class PanelRow:
    """One line of a panel.

    Parameters
    ----------
    id : str
        The line's id in the rule files, which settles whether it is bold.
    name : str
        Its words; where the amount stands within them ("Includes 5 g Added Sugars") `amounts` are empty.
    amounts, percents : tuple of str
        One for each column; empty where there is none.
    indent : int
        Depth under the line above.
    group : str
        "nutrients" or "vitamins".
    """

    id: str
    name: str
    amounts: tuple[str, ...]
    percents: tuple[str, ...]
    indent: int = 0
    group: str = "nutrients"


@dataclass(frozen=True, slots=True)
class PanelContent:
    """A panel, its figures rounded and written out.

    Parameters
    ----------
    market, form : str
        The market and the id of the panel's rule ("panel-vertical").
    serving, servings : str
        Serving size in words with its metric equivalent, and the number of servings.
    headings : tuple of str
        Of the columns of figures.
    energy : tuple of str
        Energy in each column, without unit where the panel prints none.
    energy_percent : str
        Energy of the first column as a share of its reference intake; empty where the form prints no percentages.
    rows : tuple of PanelRow
        All other lines, in order.
    decimal : str
        The decimal mark of the figures, "." or ",".
    """

    market: str
    form: str
    serving: str
    servings: str
    headings: tuple[str, ...]
    energy: tuple[str, ...]
    rows: tuple[PanelRow, ...]
    decimal: str = "."
    energy_percent: str = ""
    language: str = "en"
    """In which its heading, its lines and its footnote stand, where these have words in other languages."""

    @property
    def rule(self) -> Rule:
        """The rule that the panel is drawn by."""
        return panel_forms(self.market)[self.form]

    @property
    def data(self) -> Mapping[str, Any]:
        """The figures and words of its rule, its heading in the panel's language."""
        data = self.rule.data
        if self.language == "en":
            return data
        return {**data, "heading": line_name(data["heading"], self.language)}

    def in_language(self, language: str) -> PanelContent:
        """The panel in another language; as it is where law lays down its words, so that its heading has no other."""
        heading = self.rule.data["heading"]
        if line_name(heading, language) == heading:
            return self
        rows = (
            replace(row, name=line_name(row.name, language),
                    amounts=tuple(figure_words(one, language) for one in row.amounts))
            for row in self.rows
        )  # fmt: skip
        return replace(
            self,
            language=language,
            headings=tuple(line_name(one, language) for one in self.headings),
            energy=tuple(figure_words(one, language) for one in self.energy),
            rows=tuple(rows),
            decimal=words(language)["decimal"],
        )

    def quote(self, key: str) -> str:
        """The words of another rule of the same file, such as the footnote; empty where there is none."""
        from labeler.rules.market import load_market

        rule = load_market(self.market).rules("panel").get(key)
        return line_name(rule.quote, self.language) if rule else ""


def panel_forms(market: str) -> Mapping[str, Rule]:
    """The panels that a market's rule files hold, by id.

    Raises
    ------
    LabelerError
        There is none.
    """
    from labeler.rules.market import load_market

    forms = {key: rule for key, rule in load_market(market).rules("panel").items() if rule.kind == "panel"}
    if not forms:
        raise LabelerError(f"the rule files of market {market} hold no official panel; take the generic layout")
    return forms


def panel_content(
    columns: Sequence[Declaration],
    *,
    form: str,
    serving: str = "",
    servings: str = "",
    headings: Sequence[str] = (),
    also: Sequence[str] = (),
) -> PanelContent:
    """A panel of declared values.

    Parameters
    ----------
    columns : sequence of Declaration
        The declared values of each column of figures, all of one market.
    form : str
        Id of the panel's rule.
    serving, servings : str
        As the panel prints them ("2 tbsp (30g)", "12").
    headings : sequence of str
        Of the columns; the form's own words where left out.
    also : sequence of str
        Ids of voluntary lines to print; mandatory ones always are.

    Raises
    ------
    LabelerError
        No such form, or more columns than the form has.
    """
    market = columns[0].market
    forms = panel_forms(market)
    if form not in forms:
        raise LabelerError(f"market {market} has no panel {form!r}; there are {', '.join(forms)}")
    most = int(forms[form].data["columns"])
    # A table per 100 g may have a column per portion beside it; other forms have the columns that the rule counts.
    if len(columns) > max(most, 2 if forms[form].data["format"] == "table" else 1):
        raise LabelerError(f"{form} has {most} column(s) of figures, not {len(columns)}")
    first = columns[0]
    shown = [line for line in first if line.requirement == "mandatory" or line.id in also]
    energy_ids = [line.id for line in shown if line.tagname in _ENERGY]
    return PanelContent(
        market=market,
        form=form,
        serving=serving,
        servings=servings,
        headings=tuple(headings) or _headings(forms[form].data, len(columns), serving),
        energy=tuple(_energy([column[id] for id in energy_ids], forms[form].data["words"]) for column in columns),
        energy_percent=_energy_percent(columns[0], energy_ids, forms[form].data),
        rows=tuple(_panel_rows(shown, columns, energy_ids, forms[form].data)),
    )


_ENERGY = frozenset({"ENERC_KCAL", "energy_kj", "energy_kcal"})


def _headings(data: Mapping[str, Any], count: int, serving: str) -> tuple[str, ...]:
    words: Mapping[str, str] = {**data["words"], **data.get("headings", {})}
    keys = [key for key in data["bases"] if key in words]
    keys += [key for key in ("per serving", "per container", "per portion") if key in words and key not in keys]
    return tuple(words[key].format(portion=serving) for key in keys[:count])


def _panel_rows(
    shown: Sequence[DeclaredValue], columns: Sequence[Declaration], energy: Sequence[str], data: Mapping[str, Any]
) -> Iterator[PanelRow]:
    """The lines of a form, under its own names; a percentage that stands between two lines belongs to the first."""
    names: Mapping[str, str] = data.get("names", {})
    after = _after(columns[0], data.get("vitamins_after", ""))
    shared = {line.id: line for line in shown if line.display == "percent"} if "between" in data else {}
    for line in shown:
        if line.id in energy or line.id in shared:
            continue
        row = _row(line, columns, after)
        if line.id == data.get("between"):
            percents = [column[one].percent or "" for column in columns for one in shared]
            row = replace(row, percents=tuple(percents[: len(columns)]) or row.percents)
        if not data.get("percents", True):
            row = replace(row, percents=("",) * len(columns))
        yield replace(row, name=names.get(line.id, row.name))


def _energy(lines: list[DeclaredValue], words: Mapping[str, str]) -> str:
    if "energy" in words:
        return words["energy"].format(**{line.id.removeprefix("energy_"): _number(line) for line in lines})
    return lines[0].text if lines else ""


def _energy_percent(column: Declaration, ids: Sequence[str], data: Mapping[str, Any]) -> str:
    """Kilojoules and kilocalories are one row, and their shares of the reference intake one figure."""
    shares = (column[one].percent for one in ids) if data.get("percents", True) else ()
    return next((share for share in shares if share), "")


def _number(line: DeclaredValue) -> str:
    return line.text.removesuffix(line.unit).strip()


def _row(line: DeclaredValue, columns: Sequence[Declaration], after: frozenset[str]) -> PanelRow:
    values = [next((other for other in column if other.id == line.id), None) for column in columns]
    inside = "{amount}" in line.label and len(columns) == 1
    return PanelRow(
        id=line.id,
        name=line.words if inside else " ".join(line.label.replace("{amount}", "").split()),
        amounts=tuple("" if inside or value is None or value.display == "percent" else value.text for value in values),
        percents=tuple((value.percent or "") if value is not None else "" for value in values),
        indent=line.indent,
        group="vitamins" if line.id in after else "nutrients",
    )


def _after(declaration: Declaration, id: str) -> frozenset[str]:
    """Ids of the vitamins and minerals: the lines after the one that the form names, else after protein and salt."""
    lines = list(declaration)
    ends = {id} if id else {"protein", "salt"}
    last = max((place for place, line in enumerate(lines) if line.id in ends), default=len(lines))
    return frozenset(line.id for line in lines[last + 1 :])

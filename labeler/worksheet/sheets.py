"""The worksheet as sheets of cells: which rows and columns each sheet has, and which of its cells are formulas.

Every formula is a sum, a product or a quotient of cells of the same workbook, and carries the value that the program
found on its own way, so that a reader can check the one by the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from labeler.worksheet.breakdown import WEIGHT
from labeler.worksheet.column import Column, Kind, columns
from labeler.worksheet.grid import FIRST, Cell, Live, Row, Sheet, letter
from labeler.worksheet.model import (
    Advice,
    AllergenRow,
    Alternative,
    CautionRow,
    DeclaredFor,
    DeclaredRow,
    FoodRow,
    IngredientRow,
    LineRow,
    Nutrient,
    ProblemRow,
    RequirementRow,
    SourceRow,
    StepRow,
    Term,
    Total,
    Worksheet,
)

__all__ = ["sheets"]

NOT_KNOWN, NOT_WEIGHED = "not known", "not weighed"
CAUTION = (
    "Calculated from the recipe and a table of foods, not analysed, and no approval of anything. Allergens can come "
    "with a package, a supplier or a shared board. Acidity, preserving and holding temperatures need a licensed "
    "process and the local authority; fried, cured or pickled food deserves a laboratory. Rules change: each carries "
    "its paragraph and date, and the authority of your place has the last word."
)


def _text(value: object) -> Cell:
    """A field's value as one cell."""
    if value is None:
        return None
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, (int, float, str)):
        return value
    if isinstance(value, tuple):
        return "; ".join(str(_text(one)) for one in value)
    if isinstance(value, Alternative):
        return f"{value.food} {value.description}"
    if isinstance(value, Term):
        return value.tag if value.factor == 1 else f"{value.tag} × {value.factor:g}"
    raise TypeError(f"no cell for a {type(value).__name__}")


def _cells(row: object, head: Iterable[Column]) -> tuple[Cell, ...]:
    return tuple(_text(getattr(row, column.name)) for column in head)


def _list(name: str, about: str, kind: type, rows: Sequence[object], *, fixed: int = 1, none: str = "none") -> Sheet:
    """A sheet of rows of one kind, a row a row."""
    head = columns(kind)
    body = tuple(Row(_cells(row, head)) for row in rows) or (Row((none, *[None] * (len(head) - 1)), "note"),)
    return Sheet(name, about, head, body, fixed=fixed, listed=bool(rows))


def _heads(nutrients: Iterable[Nutrient]) -> tuple[Column, ...]:
    return tuple(
        Column(
            one.tag,
            f"{one.name} [{one.unit}]",
            Kind.AMOUNT,
            _width(one.name),
            f"INFOODS tagname {one.tag}, in {one.unit}",
        )
        for one in nutrients
    )


def _width(name: str) -> float:
    """Room for the longest word of a bold heading [characters]."""
    return max(12.0, 1.25 * max(len(word) for word in name.split()))


def _amount(value: float | None) -> Cell:
    return NOT_KNOWN if value is None else value


def _same(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


def sheets(found: Worksheet) -> tuple[Sheet, ...]:
    """All sheets of a worksheet in the order of a reader's questions."""
    foods = _foods(found)
    put_in = _put_in(found, foods)
    dish = _in_the_dish(found)
    made = (
        _list(
            "Lines", "Each line: which food it was taken for, how many grams, and why.", LineRow, found.lines, fixed=3
        ),
        foods,
        put_in,
        _parts(found),
        dish,
        _went(found, put_in, dish),
        _declared(found, dish),
        _list("Allergens", _allergen_words(found), AllergenRow, found.allergens, fixed=2, none="nothing found"),
        _list("Cautions", "What a buyer must see and what the maker needs.", CautionRow, found.cautions),
        *(
            (_list("Requirements", f"Of {found.market_name}, by the facts.", RequirementRow, found.requirements),)
            if found.requirements
            else ()
        ),
        _list("Weigh next", "Measurements that would make the figures surer.", Advice, found.advice),
        _list("Problems", "What to settle before anything is printed.", ProblemRow, found.problems),
        _list("Sources", "The works behind figures and rules.", SourceRow, found.sources, fixed=1),
    )
    return (_read_me(found, made), *made)


def _allergen_words(found: Worksheet) -> str:
    stated = f"The label says “{found.statement}”. " if found.statement else ""
    return f"{stated}Not found is not a promise: packages, suppliers and shared tools can bring allergens in."


SERVINGS, SERVING_G = "'Read me'!$B$11", "'Read me'!$B$12"
"""Where the number of servings and the weight of one stand."""


def _read_me(found: Worksheet, made: Sequence[Sheet]) -> Sheet:
    head = (
        Column("what", "", Kind.WORDS, 26.0, ""),
        Column("value", "", Kind.LONG, 62.0, ""),
        Column("says", "", Kind.LONG, 70.0, ""),
    )
    tags, nutrients = {one.tag for one in found.nutrients}, _heads(found.nutrients)
    rows = [
        Row(("recipe", found.title)),
        Row(("fingerprint", found.digest, "SHA-256 of the recipe's text; the label prints its first eight letters")),
        Row(("market", f"{found.market}, {found.market_name}", "whose rules round and name")),
        Row(("food table", found.table)),
        Row(("made by", found.made_by)),
        Row(("weight of the batch [g]", found.batch_g, "what is in the dish in the end")),
        Row(("servings", found.servings, found.serving_basis)),
        Row(("one serving [g]", found.serving_g)),
        Row((None, None)),
        Row(("caution", CAUTION)),
        Row((None, None)),
        Row(("sheet", "what it holds", None), "heading"),
        *(Row((sheet.name, sheet.about)) for sheet in made),
        Row((None, None)),
        Row(("sheet", "column", "what it says"), "heading"),
        *(
            Row((sheet.name, column.heading, column.says))
            for sheet in made
            for column in sheet.head
            if column.name not in tags
        ),
        Row((None, None)),
        Row(("nutrient", "column", "what it says"), "heading"),
        *(Row((one.tag, column.heading, column.says)) for one, column in zip(found.nutrients, nutrients, strict=True)),
    ]
    rows = [replace(row, cells=(*row.cells, None, None)[: len(head)]) for row in rows]
    about = "Every figure of the label and where it comes from. Totals are formulas: they can be followed and changed."
    return Sheet("Read me", about, head, tuple(rows), fixed=0, listed=False)


def _foods(found: Worksheet) -> Sheet:
    head = (*columns(FoodRow), *_heads(found.nutrients))
    rows = tuple(
        Row((row.food, row.description, *(_amount(row.amounts[one.tag]) for one in found.nutrients)))
        for row in found.foods
    )
    about = f"What the food table says of 100 g of each food ({found.table}); “{NOT_KNOWN}” where it has no value."
    return Sheet("Foods", about, head, rows, fixed=2, listed=bool(rows))


def _ingredient_head(found: Worksheet, grams: str, says: str) -> tuple[Column, ...]:
    return (
        *columns(IngredientRow),
        Column("grams", grams, Kind.GRAMS, 11.0, says),
        *_heads(found.nutrients),
    )


def _total_row(label: str, grams: Cell, cells: Iterable[Cell]) -> Row:
    return Row((None, None, label, None, grams, *cells), "total")


def _sum(column: str, count: int, value: float) -> Cell:
    return Live(f"SUM({column}{FIRST}:{column}{FIRST + count - 1})", value) if count else value


def _put_in(found: Worksheet, foods: Sheet) -> Sheet:
    """Grams of each food times what the table says of it."""
    head = _ingredient_head(found, "put in [g]", "weight that goes into the whole batch")
    place = {row.food: FIRST + at for at, row in enumerate(found.foods)}
    rows = []
    for at, row in enumerate(found.ingredients):
        cells: list[Cell] = []
        for one in found.nutrients:
            value = row.put_in[one.tag]
            per_100g = None if row.food is None else found.foods[place[row.food] - FIRST].amounts[one.tag]
            if value is None or row.put_in_g is None:
                cells.append(NOT_KNOWN)
            elif row.food is not None and per_100g is not None and _same(value, row.put_in_g * per_100g / 100.0):
                cells.append(Live(f"Foods!{foods.at(one.tag)}{place[row.food]}*$E{FIRST + at}/100", value))
            else:
                cells.append(value)
        grams = NOT_WEIGHED if row.put_in_g is None else row.put_in_g
        rows.append(Row((row.line, row.part, row.name, row.food, grams, *cells)))
    count = len(rows)
    totals = {balance.tag: balance.put_in for balance in found.balances}
    sums = [_sum(letter(5 + at), count, totals[one.tag]) for at, one in enumerate(found.nutrients)]
    rows.append(_total_row("all that is put in", _sum("E", count, totals[WEIGHT]), sums))
    about = "What each ingredient brings before anything is done to it: its grams times the table's figure for 100 g."
    return Sheet("Put in", about, head, tuple(rows), fixed=4, listed=count > 0)


def _in_the_dish(found: Worksheet) -> Sheet:
    """What each ingredient contributes after handling, with totals for the batch, 100 g and a serving."""
    head = _ingredient_head(found, "in the dish [g]", "weight of it that is in the dish")
    rows = []
    for row in found.ingredients:
        amounts = (_amount(row.in_dish[one.tag]) for one in found.nutrients)
        rows.append(Row((row.line, row.part, row.name, row.food, row.in_dish_g, *amounts)))
    count, batch_at = len(rows), FIRST + len(rows)
    totals = {total.tag: total for total in found.totals}
    tags = [(letter(5 + at), totals[one.tag]) for at, one in enumerate(found.nutrients)]
    made = count > 0 and found.batch_g > 0
    hundred = [
        Live(f"{column}{batch_at}/$E{batch_at}*100", total.per_100g[0]) if made else total.per_100g[0]
        for column, total in tags
    ]
    serving = [
        Live(f"{column}{batch_at}/{SERVINGS}", total.per_serving[0]) if made else total.per_serving[0]
        for column, total in tags
    ]
    grams = _sum("E", count, found.batch_g)
    one = Live(f"E{batch_at}/{SERVINGS}", found.batch_g / found.servings) if made else found.serving_g
    rows += [
        _total_row("in the batch", grams, (_sum(column, count, total.batch[0]) for column, total in tags)),
        _total_row("in 100 g", Live(f"E{batch_at}/E{batch_at}*100", 100.0) if made else 100.0, hundred),
        _total_row("in one serving", one, serving),
        _total_row("a serving: 95 % from", None, (total.per_serving[1] for _, total in tags)),
        _total_row("a serving: 95 % to", None, (total.per_serving[2] for _, total in tags)),
        _total_row("100 g: 95 % from", None, (total.per_100g[1] for _, total in tags)),
        _total_row("100 g: 95 % to", None, (total.per_100g[2] for _, total in tags)),
        _total_row("rests on", None, (total.status for _, total in tags)),
    ]
    about = (
        "What each ingredient contributes after handling. A sum over a figure that is not known is the least that it "
        "can be; then it rests on “missing”."
    )
    return Sheet("In the dish", about, head, tuple(rows), fixed=4, listed=count > 0)


def _went(found: Worksheet, put_in: Sheet, dish: Sheet) -> Sheet:
    """For the weight and each nutrient: put in, what left by each stream, what is in the dish."""
    streams = tuple(dict.fromkeys(name for balance in found.balances for name in balance.streams))
    over = any(balance.left_over for balance in found.balances)
    head = (
        Column("nutrient", "nutrient", Kind.WORDS, 26.0, "the weight, then each nutrient"),
        Column("unit", "unit", Kind.WORDS, 7.0, "of the row"),
        Column("put_in", "put in", Kind.AMOUNT, 12.0, "everything that is put in, for the whole batch"),
        *(Column(name, name, Kind.AMOUNT, 14.0, "what left this way and was not used again") for name in streams),
        *((Column("left_over", "left over", Kind.AMOUNT, 12.0, "made and taken by no other part"),) if over else ()),
        Column("in_dish", "in the dish", Kind.AMOUNT, 12.0, "what is there in the end"),
        Column("kept", "in the dish, of what was put in", Kind.SHARE, 14.0, "share of it"),
        Column("open", "not accounted for", Kind.AMOUNT, 12.0, "put in less all the rest: nothing, but for rounding"),
    )
    names = {one.tag: one for one in found.nutrients}
    total_in = FIRST + len(found.ingredients)
    rows = []
    for at, balance in enumerate(found.balances):
        here = FIRST + at
        source = "grams" if balance.tag == WEIGHT else balance.tag
        lost = [balance.streams.get(name, 0.0) for name in streams] + ([balance.left_over] if over else [])
        last = letter(2 + len(lost))
        dish_at = letter(3 + len(lost))
        taken = f"SUM(D{here}:{last}{here})" if lost else "0"
        opened = balance.put_in - math.fsum(lost) - balance.in_dish
        share: Cell = None
        if balance.put_in > 0:
            share = Live(f"{dish_at}{here}/C{here}", balance.in_dish / balance.put_in)
        rows.append(
            Row(
                (
                    "Weight" if balance.tag == WEIGHT else names[balance.tag].name,
                    "g" if balance.tag == WEIGHT else names[balance.tag].unit,
                    Live(f"'Put in'!{put_in.at(source)}{total_in}", balance.put_in),
                    *lost,
                    Live(f"'In the dish'!{dish.at(source)}{total_in}", balance.in_dish),
                    share,
                    Live(f"ROUND(C{here}-{taken}-{dish_at}{here},6)", round(opened, 6)),
                )
            )
        )
    about = (
        "Where everything went, for the whole batch. “Difference of table entries” is what the table's figures of a "
        "cooked food differ by from those of the raw one."
    )
    return Sheet("Where it went", about, head, tuple(rows), fixed=1)


def _parts(found: Worksheet) -> Sheet:
    """The account of each part by step, closed by what is not accounted for."""
    plain = columns(StepRow)
    head = (*plain, *_heads(found.nutrients))
    rows: list[Row] = []
    for _, account in _by_part(found.steps):
        first = FIRST + len(rows)
        rows += [
            Row((*_cells(row, plain), *(_amount(row.amounts[one.tag]) for one in found.nutrients))) for row in account
        ]
        rows.append(_closing(account, first, found.nutrients))
    about = (
        "The account of each part, for the whole batch: what goes in, what leaves by which step and how that was "
        "worked out, what is kept. In less out less kept leaves nothing."
    )
    return Sheet("Parts", about, head, tuple(rows), fixed=5, listed=False)


def _by_part(steps: Sequence[StepRow]) -> Iterator[tuple[str, list[StepRow]]]:
    """Each part's rows; two parts of one title stay apart, as each account ends with what is kept."""
    account: list[StepRow] = []
    for row in steps:
        account.append(row)
        if row.grams_kept is not None:
            yield row.part, account
            account = []


def _closing(account: Sequence[StepRow], first: int, nutrients: Sequence[Nutrient]) -> Row:
    names = [column.name for column in columns(StepRow)]
    grams_in, grams_out, grams_kept = (letter(names.index(x)) for x in ("grams_in", "grams_out", "grams_kept"))
    last = first + len(account) - 1
    entering = sum(row.grams_in is not None for row in account)

    def weights(column: str) -> str:
        return f"SUM({column}{first}:{column}{last})"

    opened = math.fsum((row.grams_in or 0.0) - (row.grams_out or 0.0) - (row.grams_kept or 0.0) for row in account)
    balance = Live(
        f"ROUND({weights(grams_in)}-{weights(grams_out)}-{weights(grams_kept)},6)", round(opened, 6)
    )  # fmt: skip
    cells: list[Cell] = [None] * len(names)
    cells[names.index("stream")] = "not accounted for"
    cells[names.index("grams_kept")] = balance
    for at, one in enumerate(nutrients):
        column = letter(len(names) + at)
        values = [row.amounts[one.tag] or 0.0 for row in account]
        left = math.fsum(values[:entering]) - math.fsum(values[entering:])
        gone = f"SUM({column}{first + entering}:{column}{last})"
        came = f"SUM({column}{first}:{column}{first + entering - 1})" if entering else "0"
        cells.append(Live(f"ROUND({came}-{gone},6)", round(left, 6)))
    return Row(tuple(cells), "total")


def _declared(found: Worksheet, dish: Sheet) -> Sheet:
    """Declared values; the unrounded amount is a formula over the totals of the dish."""
    head = columns(DeclaredRow)
    at = {
        DeclaredFor.HUNDRED_GRAMS: FIRST + len(found.ingredients) + 1,
        DeclaredFor.SERVING: FIRST + len(found.ingredients) + 2,
    }
    totals = {total.tag: total for total in found.totals}
    rows = []
    for row in found.declared:
        cells = list(_cells(row, head))
        place = next(number for number, column in enumerate(head) if column.name == "amount")
        cells[place] = _made_of(row, totals, dish, at[row.basis])
        rows.append(Row(tuple(cells)))
    about = (
        "Each value from its unrounded amount to the printed text, with the rule, its paragraph and how well it could "
        f"be read. Market: {found.market_name}."
    )
    return Sheet("Declared", about, head, tuple(rows), fixed=3, listed=bool(rows))


def _made_of(row: DeclaredRow, totals: Mapping[str, Total], dish: Sheet, at: int) -> Cell:
    value, terms = 0.0, []
    for term in row.made_of:
        total = totals[term.tag]
        figure = total.per_100g[0] if row.basis is DeclaredFor.HUNDRED_GRAMS else total.per_serving[0]
        value += figure * term.factor
        cell = f"'In the dish'!{dish.at(term.tag)}{at}"
        terms.append(cell if term.factor == 1 else f"{cell}*{term.factor!r}")
    if row.amount is None or not terms or not _same(value, row.amount):
        return _amount(row.amount)
    return Live("+".join(terms), value)

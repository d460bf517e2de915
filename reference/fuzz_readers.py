"""What reads input, for `fuzz.py`: each takes any bytes, and a broken promise is an AssertionError that says which."""

from __future__ import annotations

import json
import math
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from mutate_documents import lost

from labeler.batch.table_files import READERS as TABLES
from labeler.foods.resolve import weigh, weigh_line
from labeler.importers.reading import import_recipes
from labeler.label.make import read_size
from labeler.larder.complete import complete
from labeler.larder.file import larder_of_files
from labeler.larder.find import LarderFile
from labeler.larder.ingredients import read_list
from labeler.larder.model import LarderFood
from labeler.markets import market_of
from labeler.open_data import fooddata, foodfacts
from labeler.open_data.http_client import Answer
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.types import Interval

__all__ = ["READERS", "Target"]

ROOT = Path(__file__).parents[1]
CODE = "4006381333931"
MOST_GRAMS = 1e9
"""A line over a thousand tonnes is no line of a recipe: nothing that is read may come out larger."""
MOST_KCAL = 905.0
"""Of 100 g: pure fat has 902 by the food table's own factors."""


@dataclass(frozen=True, slots=True)
class Target:
    """A reader or a writer with the inputs that are changed to make others."""

    call: Callable[[bytes], object]
    seeds: Callable[[], list[bytes]]
    cost: int = 1
    """About how many of the cheapest inputs one of these takes."""


def text_of(data: bytes) -> str:
    """Any bytes as the text that a file of them would be."""
    return data.decode("utf-8", "replace")


def interval_holds(what: str, found: Interval | None, most: float) -> None:
    """Figures are finite, in order, not negative and within physics."""
    if found is None:
        return
    figures = (found.low, found.best, found.high)
    assert all(math.isfinite(one) for one in figures), f"{what} is not finite: {figures}"
    assert 0.0 <= found.low <= found.best * (1 + 1e-9) + 1e-9, f"{what}: low and best {figures}"
    assert found.best <= found.high * (1 + 1e-9) + 1e-9 and found.high <= most, f"{what}: best and high {figures}"


def _line(data: bytes) -> None:
    line = read_line(text_of(data))
    for amount in line.amounts:
        assert math.isfinite(amount.low) and math.isfinite(amount.high), f"an amount is not finite: {amount}"
        assert 0 <= amount.low <= amount.high, f"an amount is out of order: {amount}"
    json.dumps([line.name, line.preparation, line.note], allow_nan=False)


def _weighed_line(data: bytes) -> None:
    weighed = weigh_line(read_line(text_of(data)))
    for one in (weighed, *weighed.also):
        interval_holds("grams", one.grams, math.inf)


def _document(form: str) -> Callable[[bytes], None]:
    def call(data: bytes) -> None:
        recipes = import_recipes(data, form, "document")
        assert recipes, "neither read nor refused"
        # Half a character reference is text to one reader and a letter to another: no word can be looked for then.
        words = lost(data, recipes) if form == "text" and b"&#" not in data else []
        words = [word for word in words if f"[!{word}]" not in text_of(data).casefold()]  # kinds of a marked-off note
        assert not words, f"lost {words[:6]}"

    return call


def _larder(data: bytes) -> None:
    larder = larder_of_files((LarderFile("larder.toml", data),))
    for food in larder.foods if larder is not None and hasattr(larder, "foods") else ():
        _completed(food)


def _completed(food: LarderFood) -> None:
    own = complete(food)
    for tag, value in own.per_100g.items():
        interval_holds(tag, value, MOST_KCAL if tag == "ENERC_KCAL" and not own.problems else math.inf)


def _panel(data: bytes) -> None:
    rows = [row.partition("=") for row in text_of(data).split("\n") if "=" in row][:40]
    given = {key.strip(): value.strip() for key, _, value in rows}
    per, market = given.pop("per", ""), given.pop("rounded_under", "none")
    _completed(LarderFood("Seed mix", per=per, rounded_under=market, panel=given, read_on=date(2026, 3, 2)))


def _package_list(data: bytes) -> None:
    found = read_list(text_of(data))
    for one in found.ingredients:
        assert one.name.strip(), "an ingredient without a name"


def _answer(service: str) -> Callable[[bytes], None]:
    def call(data: bytes) -> None:
        try:
            said = json.loads(data.decode("utf-8-sig"))
        except (ValueError, RecursionError):
            return
        answer = Answer(200, said)
        if service == "package":
            found = foodfacts.read_product(answer, CODE, "https://example.org")
        else:
            found = fooddata.read_food(answer, "534358")
        assert found.food.name.isprintable(), "a name with signs that cannot be printed"
        _completed(found.food)

    return call


def _settings(data: bytes) -> None:
    text = text_of(data)
    recipe = read_recipe(f"---\n{text}\n---\n- 1 egg\n")
    market_of(recipe, None)
    weighed = weigh(recipe)
    assert weighed.parts, "the line has gone"


def _size(data: bytes) -> None:
    width, height = read_size(text_of(data))
    assert 0 < width < 1e6 and 0 < height < 1e6, f"a size of {width} x {height}"


def _table(ending: str) -> Callable[[bytes], None]:
    def call(data: bytes) -> None:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / f"t{ending}"
            path.write_bytes(data)
            for row in TABLES[ending](path, "id", "text").rows():
                assert row.id.isprintable() and isinstance(row.data, bytes), "a row that is none"

    return call


@cache
def _page() -> Any:
    from page_help import Asked

    folder = Path(tempfile.mkdtemp(prefix="labeler-fuzz-"))
    (folder / "bun.md").write_text("- 1 egg\n", encoding="utf-8")
    return Asked(folder)


ADDRESSES = ("/api/save", "/api/new", "/api/bring-file", "/api/read", "/api/foods", "/api/day-lines", "/api/larder")


def _request(data: bytes) -> None:
    from labeler.page.folder import Folder  # noqa: F401  # the page needs its extras; without them there is no target

    page = _page()
    address = ADDRESSES[sum(data[:8]) % len(ADDRESSES)]
    answer = page.send(address, data, **{"content-type": "application/json"})
    assert answer.status_code < 500, f"{address}: status {answer.status_code}"
    named = page.get("/api/text?name=" + text_of(data[:60]).replace("#", "").replace("\n", "")[:40].encode().hex())
    assert named.status_code < 500, f"/api/text: status {named.status_code}"
    outside = [path for path in page.app.page.folder.path.parent.iterdir() if path.name in ("bun.md", "x.md")]
    assert not outside, "a file was written outside the folder"


def _documents(*endings: str) -> Callable[[], list[bytes]]:
    @cache
    def found() -> list[bytes]:
        paths = sorted((ROOT / "tests" / "documents").iterdir())
        return [path.read_bytes()[:6000] for path in paths if path.suffix in endings]

    return found


@cache
def _lines() -> list[bytes]:
    texts = [data.decode("utf-8", "replace") for data in _documents(".md", ".txt")()]
    rows = {row.lstrip("-* ").strip() for text in texts for row in text.split("\n") if row[:1] in ("-", "*", "1", "2")}
    return [row.encode() for row in sorted(rows) if 3 < len(row) < 160]


def _given(*texts: str) -> Callable[[], list[bytes]]:
    return lambda: [text.encode() for text in texts]


def _answers(name: str) -> Callable[[], list[bytes]]:
    def found() -> list[bytes]:
        import opendata_help as told

        products = [{"status": 1, "code": CODE, "product": told.GOOD}]
        return [json.dumps(one).encode() for one in (products if name == "package" else [told.BRANDED, told.LEGACY])]

    return found


_LARDER = """[[food]]
name = "Marram seed mix"
other_names = ["seed mix"]
net = "210 g"
ingredients = "Sunflower seeds (60 %), soy sauce (water, SOYA, wheat), salt. May contain nuts."
contains = "soya, wheat"
read_on = 2026-03-02
density = 0.6
[food.panel]
per = "2 tablespoons (30 g)"
rounded_under = "us"
calories = "170"
total_fat = "14 g"
[food.measures]
cup = "120 g"
"""
_PANEL = "per = 100 g\nrounded_under = eu\nenergy = 1950 kJ / 466 kcal\nfat = 19 g\nsalt = 0.9 g"
_HEAD = "title: Quay pie\nmarket: uk\nmakes: 8 boxes\nsale: packed ahead\nserving: 120 g\nfood_sales: 20000"
_ROWS = '{"id": 1, "text": "- 1 egg", "stars": 4}\n{"id": "b", "text": "# Bun\\n- 100 g flour", "stars": null}'
_ASKED = '{"name": "bun.md", "text": "- 2 eggs\\n> simmer 5 minutes", "title": "x", "market": "uk", "base": ""}'

READERS: dict[str, Target] = {
    "line": Target(_line, _lines),
    "weighed line": Target(_weighed_line, _lines, 3),
    "recipe and Markdown": Target(_document("text"), _documents(".md", ".txt"), 60),
    "HTML": Target(_document("page"), _documents(".html"), 60),
    "JSON-LD": Target(_document("json"), _documents(".json"), 40),
    "table of a recipe": Target(_document("table"), _documents(".csv", ".tsv"), 20),
    "larder": Target(_larder, _given(_LARDER), 10),
    "panel": Target(_panel, _given(_PANEL, _PANEL.replace("eu", "us").replace("100 g", "1 cup (240 ml)")), 30),
    "list of a package": Target(
        _package_list,
        _given("Ingredients: oats (52 %), sugar, butter (MILK), salt. Contains: milk, oats. May contain nuts."),
    ),
    "answer on a package": Target(_answer("package"), _answers("package"), 30),
    "answer on a food": Target(_answer("food"), _answers("food"), 30),
    "settings": Target(_settings, _given(_HEAD), 10),
    "size of a label": Target(_size, _given("a6", "100x70", "62.5 x 29 mm")),
    "JSON Lines of recipes": Target(_table(".jsonl"), _given(_ROWS)),
    "CSV of recipes": Target(_table(".csv"), _given('id,text,stars\n1,"- 1 egg\n> boil",4\nb,# Bun,\n')),
    "page request": Target(_request, _given(_ASKED), 60),
}

"""Open Food Facts: a package by its bar code, as volunteers typed it in.

The panel is taken as it was typed (``_value`` with its unit, of a serving or of 100 g as the entry says); where that
is not to be had, as the service standardised it. Nothing of it is sure: names in other languages, kilojoules
alone, figures of 100 mL, salt that is not its sodium. What can be settled is, and everything that was is said.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from labeler.data_files import data_folder, data_rows
from labeler.larder.check import bar_code_fits
from labeler.larder.model import LarderFood
from labeler.larder.panel import read_basis
from labeler.open_data.found import FoundFood, clean, day_of, figure, number_of
from labeler.open_data.http_client import Answer, Service, ask
from labeler.types import LabelerError, Problem

__all__ = ["HOST", "LICENCE", "package"]

HOST = "https://world.openfoodfacts.org"
PLACE = "LABELER_FOODFACTS"
"""Environment variable that names another address of the service: a mirror, a test."""
LICENCE = "Open Database License (ODbL) 1.0; contents Database Contents License 1.0"
# 15 product queries a minute and address (Open Food Facts, API documentation, rate limits).
PER_MINUTE = 15

FIELDS = (
    "code,product_name,product_name_en,brands,quantity,product_quantity_unit,serving_size,nutrition_data_per,"
    "no_nutrition_data,nutriments,ingredients_text,ingredients_text_en,lang,allergens_tags,traces_tags,countries_tags,"
    "last_modified_t"
)
_NORTH_AMERICA = frozenset({"en:united-states", "en:canada"})
_UNITS = {"μg": "µg", "mcg": "µg", "ug": "µg", "kj": "kJ", "% dv": "%", "": ""}
_MODIFIERS = {"<": "<", "≤": "<", "~": "", "=": "", "": "", ">": "", "≥": ""}
# Beyond this an entry's salt is not its sodium, nor its kJ its kcal; rounding of small figures apart.
_APART = 0.15


@cache
def _nutrients() -> tuple[tuple[str, str, str], ...]:
    rows = data_rows(data_folder("labeler.open_data") / "foodfacts_nutrients.csv")
    return tuple((row["nutrient"], row["line"], row["standard"]) for row in rows)


def package(bar_code: str, *, offline: bool = False) -> FoundFood:
    """A package by its bar code.

    Parameters
    ----------
    bar_code : str
        8 to 14 digits, spaces and hyphens between them.
    offline : bool
        True asks nobody and serves what is kept.

    Raises
    ------
    LabelerError
        For a code that is none, a package that the service does not have, and where nothing can be had.
    """
    code = bar_code.replace(" ", "").replace("-", "")
    if not (code.isascii() and code.isdigit() and 8 <= len(code) <= 14):
        raise LabelerError(f"{bar_code[:40]}: is no bar code; give its 8, 12, 13 or 14 digits")
    if not bar_code_fits(code):
        raise LabelerError(f"{code}: its check digit does not fit, so a digit is wrong; read it again")
    service = Service("Open Food Facts", os.environ.get(PLACE, HOST), PER_MINUTE, 60.0)
    path, fields = f"/api/v2/product/{code}.json", {"fields": FIELDS}
    answer = ask(service, path, worth=lambda data: _is_of(data, code), offline=offline, parameters=fields)
    return read_product(answer, code, service.address)


def _is_of(data: Any, code: str) -> bool:
    """Whether an answer is a package with a name, and of this bar code."""
    product = data.get("product") if isinstance(data, dict) else None
    if not isinstance(product, dict) or not _Reader(product).name():
        return False
    return clean(product.get("code") or data.get("code"), 20).lstrip("0") in ("", code.lstrip("0"))


def read_product(answer: Answer, code: str, address: str) -> FoundFood:
    """What an answer says of a bar code; raises LabelerError where it says nothing that can be used."""
    data = answer.data
    if answer.status == 404 or (isinstance(data, dict) and data.get("status") in (0, "0", "failure")):
        raise LabelerError(f"{code}: Open Food Facts does not have this package; type it in with: labeler larder add")
    product = data.get("product") if isinstance(data, dict) else None
    if answer.status != 200 or not isinstance(product, dict):
        raise LabelerError(
            f"{code}: Open Food Facts answered with something else than a package (status {answer.status})"
        )
    reader = _Reader(product)
    name = reader.name()
    if not name:
        raise LabelerError(f"{code}: Open Food Facts has no name for this package; type it in with: labeler larder add")
    if not _is_of(data, code):
        raise LabelerError(f"{code}: Open Food Facts answered for another bar code; nothing is taken")
    per, panel = reader.panel()
    changed = day_of(product.get("last_modified_t"))
    if answer.stale:
        reader.say("kept", f"is the copy kept since {answer.kept_since}, as the service did not answer")
    food = LarderFood(
        name,
        per=per,
        panel=panel,
        ingredients=reader.ingredients(),
        contains=reader.tags("allergens_tags"),
        may_contain=reader.tags("traces_tags"),
        net=reader.net(),
        bar_code=code,
        read_on=changed,
        source=f"Open Food Facts, {address.rstrip('/')}/product/{code}",
        licence=LICENCE,
    )
    return FoundFood(food, f"{address.rstrip('/')}/product/{code}", changed, tuple(reader.problems))


class _Reader:
    """Reads one product entry and gathers what is odd about it."""

    def __init__(self, product: Mapping[str, Any]) -> None:
        self.product = product
        self.problems: list[Problem] = []
        nutriments = product.get("nutriments")
        self.nutriments: Mapping[str, Any] = nutriments if isinstance(nutriments, dict) else {}

    def say(self, code: str, what: str) -> None:
        """Something that the cook should hear about."""
        self.problems.append(Problem(f"opendata-{code}", f"The entry {what}."))

    def name(self) -> str:
        """Its English name or the one it has, with its brand."""
        found = clean(self.product.get("product_name_en"), 120) or clean(self.product.get("product_name"), 120)
        brand = clean(self.product.get("brands"), 60).split(",")[0].strip()
        return found if not brand or brand.casefold() in found.casefold() else f"{brand} {found}".strip()

    def net(self) -> str:
        """Its quantity where it is one weight or volume."""
        text = clean(self.product.get("quantity"), 60).replace("℮", "").strip()
        return text if text and read_basis(text) is not None else ""

    def ingredients(self) -> str:
        """Its English list; another language is said, as allergens are found in English words only."""
        english = clean(self.product.get("ingredients_text_en"), 8000)
        found = english or clean(self.product.get("ingredients_text"), 8000)
        language = clean(self.product.get("lang"), 8).lower()
        if found and not english and language not in ("en", ""):
            self.say("language", f"has its ingredient list in “{language}”, which is not read; copy the English one")
        if not found:
            self.say("no-list", "has no ingredient list; copy it from the package")
        return found

    def tags(self, key: str) -> str:
        """Allergen tags ("en:milk") as words; tags of other languages are left out and said."""
        tags = self.product.get(key)
        words: list[str] = []
        for tag in tags if isinstance(tags, list) else []:
            language, _, word = clean(tag, 60).partition(":")
            if language == "en" and word:
                words.append(word.replace("-", " "))
            elif language:
                self.say(
                    "tag", f"has “{clean(tag, 60)}” among its allergens, which is not understood; read the package"
                )
        return ", ".join(dict.fromkeys(words))

    def panel(self) -> tuple[str, dict[str, str]]:
        """What its panel is of, and its figures; empty where it has none."""
        if self.product.get("no_nutrition_data") in ("on", True, 1):
            self.say("no-panel", "says that the package has no panel")
            return "", {}
        serving = clean(self.product.get("serving_size"), 60)
        of_serving = clean(self.product.get("nutrition_data_per"), 20).lower() == "serving"
        liquid = clean(self.product.get("product_quantity_unit"), 8).lower() == "ml"
        basis = read_basis(serving) if serving else None
        typed = not of_serving or basis is not None
        if of_serving and basis is None and self.nutriments:
            self.say("serving", f"is of a serving that it does not weigh (“{serving}”); its figures of 100 g are taken")
        hundred = "100 ml" if liquid or (basis is not None and basis.volume) else "100 g"
        per = serving if of_serving and typed else hundred
        panel = dict(self._figures(typed))
        if hundred == "100 ml" and per == hundred and panel:
            self.say("volume", "gives figures of 100 ml; grams follow from a density")
        self._settle(panel)
        if not panel:
            self.say("no-panel", "has no panel that can be read; copy it from the package")
        return per if panel else "", panel

    def _figures(self, typed: bool) -> Iterator[tuple[str, str]]:
        countries = self.product.get("countries_tags")
        total = isinstance(countries, list) and bool(_NORTH_AMERICA & set(map(str, countries)))
        seen: set[str] = set()
        for nutrient, line, standard in _nutrients():
            if line in seen:
                continue
            text = self._typed(nutrient) if typed else ""
            text = text or (self._standard(nutrient, standard) if not typed else "")
            if not text:
                continue
            if nutrient == "carbohydrates" and total:
                line = "total_carbohydrate"
                self.say("carbohydrate", "is of North America, so its carbohydrate is taken with the fibre in it")
            seen.add(line)
            yield line, text
        self._unknown()

    def _typed(self, nutrient: str) -> str:
        """A figure as it was typed in, with its unit; empty where there is none."""
        raw = self.nutriments.get(f"{nutrient}_value", self.nutriments.get(nutrient))
        if raw is None:
            return ""
        if isinstance(raw, str) and raw.strip().lower() in ("traces", "trace"):
            return "traces"
        number = number_of(raw)
        unit = clean(self.nutriments.get(f"{nutrient}_unit"), 20)
        unit = _UNITS.get(unit.lower(), unit)
        modifier = _MODIFIERS.get(clean(self.nutriments.get(f"{nutrient}_modifier"), 4))
        if number is None or modifier is None:
            self.say("figure", f"has {clean(raw, 30) or 'nothing readable'} for {nutrient}, which is left out")
            return ""
        default = "kcal" if nutrient.endswith("kcal") else "kJ" if nutrient.startswith("energy") else "g"
        return modifier + figure(number, unit or default)

    def _standard(self, nutrient: str, standard: str) -> str:
        """A figure of 100 g as the service standardised it; small ones in milligrams or micrograms."""
        number = number_of(self.nutriments.get(f"{nutrient}_100g"))
        if number is None:
            return ""
        if standard == "g" and 0 < number < 1e-3:
            return figure(number * 1e6, "µg")
        if standard == "g" and 0 < number < 0.1:
            return figure(number * 1e3, "mg")
        return figure(number, standard)

    def _unknown(self) -> None:
        """Alcohol and what else the panel has no line for."""
        alcohol = number_of(self.nutriments.get("alcohol_value", self.nutriments.get("alcohol")))
        if alcohol:
            self.say("alcohol", f"has {alcohol:g} % alcohol, which no panel holds; choose a like that has it")

    def _settle(self, panel: dict[str, str]) -> None:
        """Salt that is not its sodium, kilojoules that are not its kilocalories: the larger salt is the careful one."""
        salt, sodium = (self._grams(panel, line) for line in ("salt", "sodium"))
        if salt is not None and sodium is not None:
            if abs(salt - 2.5 * sodium) > _APART * max(salt, 2.5 * sodium) + 0.05:
                kept, left = ("salt", "sodium") if salt > 2.5 * sodium else ("sodium", "salt")
                self.say("contradiction", f"has {panel['salt']} salt and {panel['sodium']} sodium; {kept} is taken")
                del panel[left]
            elif "sodium" in panel:
                del panel["sodium"]  # the service works one out from the other
        kcal, kilojoules = number_of(panel.get("energy_kcal", "").split(" ")[0]), None
        if "energy_kj" in panel:
            number, _, unit = panel["energy_kj"].partition(" ")
            kilojoules = number_of(number)
            if unit.lower() == "kcal":  # the general energy figure of an entry that has only kilocalories
                panel.setdefault("energy_kcal", panel["energy_kj"])
                del panel["energy_kj"]
                return
        if kcal and kilojoules and abs(kilojoules / kcal - 4.184) > 0.1 * 4.184:
            self.say(
                "contradiction",
                f"has {panel['energy_kj']} and {panel['energy_kcal']}, which are not the same energy; neither is taken",
            )
            del panel["energy_kj"], panel["energy_kcal"]
        elif kcal and kilojoules:
            del panel["energy_kj"]
        elif kilojoules and "energy_kcal" not in panel:
            self.say("kilojoules", "has energy in kilojoules only; kilocalories follow within 2 %")

    @staticmethod
    def _grams(panel: Mapping[str, str], line: str) -> float | None:
        number, _, unit = panel.get(line, "").lstrip("<").partition(" ")
        value = number_of(number)
        factor = {"g": 1.0, "mg": 1e-3, "µg": 1e-6}.get(unit)
        return None if value is None or factor is None else value * factor

"""FoodData Central of the US Department of Agriculture: foods by words and by id.

Branded foods carry the label's figures of a serving, worked back from 100 g ("8.9992 g"): where one lies within a
twentieth of what US rounding prints, it is taken for that print. The other kinds carry figures of 100 g by nutrient
number, the same numbers as the bundled table's.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.larder.model import LarderFood
from labeler.larder.panel import read_basis
from labeler.open_data.found import FoundFood, clean, day_of, figure, number_of
from labeler.open_data.http_client import Answer, Service, ask
from labeler.rules.market import load_market
from labeler.rules.rounding import exact
from labeler.types import LabelerError, Problem

__all__ = ["HOST", "KEY", "LICENCE", "FoodDataHit", "food", "search"]

HOST = "https://api.nal.usda.gov/fdc"
PLACE = "LABELER_FOODDATA"
"""Environment variable that names another address of the service: a mirror, a test."""
KEY = "FOODDATA_CENTRAL_KEY"
"""Environment variable that holds the key which the service gives out."""
LICENCE = "CC0 1.0 (public domain)"
# 1,000 requests an hour and address (FoodData Central, API guide).
PER_HOUR = 1000
MOST_HITS = 25

_UNITS = {"g": "g", "mg": "mg", "ug": "µg", "µg": "µg", "mcg": "µg", "kcal": "kcal", "kj": "kJ", "iu": "IU"}
_SERVING_UNITS = {"g": "g", "grm": "g", "ml": "ml", "mlt": "ml", "mg": "mg", "oz": "oz"}
# Energy by general and by specific factors, which Foundation foods carry instead of 208.
_ENERGY = ("208", "958", "957")
# A label figure worked back from 100 g is the printed one within this share.
_NEAR = 0.05
# What is in a food besides: lipids by class are enough, single fatty acids and amino acids are lent.
_TAKEN = (
    *("PROCNT", "FAT", "CHOCDF", "FIBTG", "SUGAR", "WATER", "ASH", "ALC", "CHOLE", "FASAT", "FAMS", "FAPU", "FATRN"),
    *("NA", "K", "CA", "FE", "MG", "P", "ZN", "CU", "MN", "SE", "VITC", "THIA", "RIBF", "NIA", "PANTAC", "VITB6A"),
    *("VITB12", "VITA_RAE", "VITD", "TOCPHA", "VITK1", "FOLDFE", "CHOLN", "CAFFN"),
)


@dataclass(frozen=True, slots=True)
class FoodDataHit:
    """One food that a search found."""

    id: str
    description: str
    kind: str
    brand: str


def _service() -> Service:
    key = os.environ.get(KEY, "").strip()
    if not key:
        raise LabelerError(
            f"FoodData Central: wants a key; it gives one out free of charge (fdc.nal.usda.gov), put it into {KEY}"
        )
    if not key.isascii() or any(sign.isspace() for sign in key):
        raise LabelerError(f"FoodData Central: what {KEY} holds is no key")
    return Service("FoodData Central", os.environ.get(PLACE, HOST), PER_HOUR, 3600.0, key)


def _refused(answer: Answer, what: str) -> None:
    if answer.status in (401, 403):
        raise LabelerError(f"FoodData Central: does not accept the key in {KEY}; check it")
    if answer.status == 404:
        raise LabelerError(f"{what}: FoodData Central has no such food")
    if answer.status != 200:
        raise LabelerError(f"{what}: FoodData Central refused this (status {answer.status})")


def _is_list(data: Any) -> bool:
    return isinstance(data, dict) and isinstance(data.get("foods"), list)


def _is_of(data: Any, number: str) -> bool:
    """Whether an answer is a food of this id with a name."""
    return (
        isinstance(data, dict) and clean(data.get("fdcId"), 12) == number and bool(clean(data.get("description"), 150))
    )


def search(words: str, *, offline: bool = False) -> tuple[FoodDataHit, ...]:
    """Foods whose description has the words, as the service ranks them, at most 25.

    Raises
    ------
    LabelerError
        Where there is no key, nothing can be had, or the words are empty.
    """
    stated = " ".join(words.split())[:200]
    if not stated:
        raise LabelerError("say what to look for, such as “sesame oil”")
    parameters = {"query": stated, "pageSize": str(MOST_HITS)}
    answer = ask(_service(), "/v1/foods/search", worth=_is_list, offline=offline, parameters=parameters)
    _refused(answer, stated)
    if not _is_list(answer.data):
        raise LabelerError(f"{stated}: FoodData Central answered with something else than a list of foods")
    hits = []
    for entry in answer.data["foods"][:MOST_HITS]:
        if isinstance(entry, dict):
            id, description = clean(entry.get("fdcId"), 12), clean(entry.get("description"), 150)
            if id.isdigit() and description:
                brand = clean(entry.get("brandOwner"), 60)
                hits.append(FoodDataHit(id, description, clean(entry.get("dataType"), 30), brand))
    return tuple(hits)


def food(id: str, *, offline: bool = False) -> FoundFood:
    """A food by its FDC id.

    Raises
    ------
    LabelerError
        For an id that is none or that the service does not have, and where nothing can be had.
    """
    number = id.strip()
    if not (number.isascii() and number.isdigit() and len(number) <= 9):
        raise LabelerError(f"{id[:40]}: is no id of FoodData Central; it is a number such as 534358")
    answer = ask(_service(), f"/v1/food/{number}", worth=lambda data: _is_of(data, number), offline=offline)
    _refused(answer, number)
    return read_food(answer, number)


def read_food(answer: Answer, number: str) -> FoundFood:
    """What an answer says of an id; raises LabelerError where it says nothing that can be used."""
    entry = answer.data
    if not _is_of(entry, number):
        raise LabelerError(f"{number}: FoodData Central answered with something else than this food and its name")
    description = clean(entry.get("description"), 150)
    problems: list[Problem] = []
    labelled = entry.get("labelNutrients")
    serving = _serving(entry)
    if isinstance(labelled, dict) and labelled and serving:
        per, under, panel = serving, "us", dict(_label(labelled, problems))
    else:
        if isinstance(labelled, dict) and labelled:
            problems.append(
                _problem("serving", "has a label of a serving that it does not weigh; figures of 100 g are taken")
            )
        per, under, panel = "100 g", "none", dict(_hundred(entry.get("foodNutrients"), problems))
        if _SERVING_UNITS.get(clean(entry.get("servingSizeUnit"), 12).lower()) == "ml":
            problems.append(_problem("volume", "is a liquid, whose figures may be of 100 ml"))
    if not panel:
        problems.append(_problem("no-panel", "has no nutrients that can be read"))
    changed = day_of(entry.get("modifiedDate")) or day_of(entry.get("publicationDate"))
    if answer.stale:
        problems.append(_problem("kept", f"is the copy kept since {answer.kept_since}, as the service did not answer"))
    brand = clean(entry.get("brandName"), 60) or clean(entry.get("brandOwner"), 60)
    name = description if not brand or brand.casefold() in description.casefold() else f"{brand} {description}"
    code = clean(entry.get("gtinUpc"), 14)
    address = f"https://fdc.nal.usda.gov/food-details/{number}/nutrients"
    found = LarderFood(
        name,
        per=per if panel else "",
        rounded_under=under,
        panel=panel,
        ingredients=clean(entry.get("ingredients"), 8000),
        like=_like(entry),
        bar_code=code if code.isdigit() else "",
        read_on=changed,
        source=f"FoodData Central {number}, {clean(entry.get('dataType'), 30) or 'food'}, US Department of Agriculture",
        licence=LICENCE,
    )
    return FoundFood(found, address, changed, tuple(problems))


def _problem(code: str, what: str) -> Problem:
    return Problem(f"opendata-{code}", f"The entry {what}.")


def _serving(entry: Mapping[str, Any]) -> str:
    """The serving in words, such as "1 tbsp (14 g)"; empty where it has no weight."""
    size = number_of(entry.get("servingSize"))
    unit = _SERVING_UNITS.get(clean(entry.get("servingSizeUnit"), 12).lower())
    if not size or unit is None:
        return ""
    household = clean(entry.get("householdServingFullText"), 40)
    amount = figure(size, unit)
    return f"{household} ({amount})" if household and read_basis(household) is None else amount


def _like(entry: Mapping[str, Any]) -> str:
    """The bundled table's id of a food of the same data base, which has the same number with zeros before it."""
    number = clean(entry.get("ndbNumber"), 6)
    id = number.zfill(5) if number.isdigit() else ""
    return id if id in load_table() else ""


@cache
def _label_lines() -> Mapping[str, str]:
    rows = data_rows(data_folder("labeler.open_data") / "fooddata_label.csv")
    return {row["name"]: row["line"] for row in rows}


def _label(labelled: Mapping[str, Any], problems: list[Problem]) -> Iterator[tuple[str, str]]:
    """Label figures of a serving, each as US rounding prints it where it lies near such a print."""
    rules = load_market("us").rules("nutrients")
    for name, one in labelled.items():
        line = _label_lines().get(name)
        if line is None:
            continue
        number = number_of(one.get("value") if isinstance(one, dict) else one)
        if number is None:
            problems.append(_problem("figure", f"has nothing readable for {clean(name, 30)}, which is left out"))
            continue
        rule = rules[line]
        printed = rules[rule.data["rounding"]].data["ladder"].apply(exact(number))
        near = printed.value is not None and abs(float(printed.value) - number) <= _NEAR * number
        unit = rule.data["unit"]
        yield line, f"{printed.text} {unit}".strip() if near else figure(number, unit)


@dataclass(frozen=True, slots=True)
class _Told:
    """One figure of an entry: the service's number of the nutrient, what it says of it, and that as amount and unit."""

    number: str
    raw: Any
    unit_name: str
    amount: float | None
    unit: str | None


def _told(nutrients: Any) -> Iterator[_Told]:
    """The figures of an entry that have a number; full and abridged forms of the service's answer alike."""
    for one in nutrients if isinstance(nutrients, list) else []:
        if not isinstance(one, dict):
            continue
        nested = one.get("nutrient")
        inner = nested if isinstance(nested, dict) else one
        number = clean(inner.get("number") or inner.get("nutrientNumber"), 8)
        raw = one.get("amount", one.get("value"))
        if raw is not None and number.isdigit():
            unit_name = clean(inner.get("unitName"), 12)
            yield _Told(number, raw, unit_name, number_of(raw), _UNITS.get(unit_name.lower()))


def _hundred(nutrients: Any, problems: list[Problem]) -> Iterator[tuple[str, str]]:
    """Figures of 100 g by nutrient, energy last."""
    by_number = {nutrient.number: nutrient for nutrient in load_table().nutrients}
    energy: dict[str, str] = {}
    seen: set[str] = set()
    for one in _told(nutrients):
        if one.number in (*_ENERGY, "268"):
            if one.amount is not None and one.unit in ("kcal", "kJ"):
                energy.setdefault("268" if one.unit == "kJ" else one.number, figure(one.amount, one.unit))
            continue
        known = by_number.get(int(one.number))
        if known is None or known.key not in _TAKEN or known.key in seen:
            continue
        if one.amount is None or one.unit is None:
            text = f"has {clean(one.raw, 20)} {one.unit_name} for {known.name}, which is left out"
            problems.append(_problem("figure", text))
            continue
        seen.add(known.key)
        yield known.key, figure(one.amount, one.unit)
    yield from _energy(energy, problems)


def _energy(energy: Mapping[str, str], problems: list[Problem]) -> Iterator[tuple[str, str]]:
    """The energy that is taken of those that an entry gives."""
    chosen = next((energy[number] for number in (*_ENERGY, "268") if number in energy), None)
    if chosen is not None:
        yield "energy_kcal" if chosen.endswith("kcal") else "energy_kj", chosen
        if chosen.endswith("kJ"):
            problems.append(_problem("kilojoules", "has energy in kilojoules only; kilocalories follow within 2 %"))

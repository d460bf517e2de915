"""The larder file: `larder.toml` beside the recipe or in the user's data folder, read strictly and only ever added to.

What is to be written is read back first; only text that holds what stood there and the new food takes the file's place.

[[food]]
name = "Copper Pan chilli crisp"
other_names = ["chilli crisp"]
net = "210 g"
ingredients = "Rapeseed oil, dried chilli (24 %), soybeans, salt"
contains = "soybeans"
read_on = 2026-03-02

[food.panel]
per = "1 tablespoon (14 g)"
rounded_under = "us"
calories = "90"
total_fat = "9 g"

[food.measures]
jar = "210 g"
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable, Mapping
from dataclasses import fields
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from labeler.files import as_text as file_text
from labeler.files import read_bytes, read_text, write_whole
from labeler.foods.matching.name_words import words
from labeler.larder.model import LarderFood
from labeler.types import LabelerError, Problem

if TYPE_CHECKING:
    from labeler.foods.user_foods import UserFood
    from labeler.larder.find import LarderFile

__all__ = ["Larder", "add_food", "as_text", "larder_of_files", "read_larder", "unreadable"]

_TEXTS = ("name", "ingredients", "contains", "may_contain", "net", "like", "bar_code", "source", "licence", "note")
_KEYS = (*_TEXTS, "other_names", "density", "read_on", "panel", "measures")
_PANEL_TEXTS = ("per", "rounded_under")
_AT = re.compile(r"at line (\d+)")


class Larder:
    """The cook's own foods by every name that they go by; what is asked of it is `labeler.foods.user_foods.OwnFoods`.

    Parameters
    ----------
    foods : iterable of LarderFood
        Where two go by one name the first counts.
    problems : iterable of Problem
        What of the larder could not be used at all.
    """

    def __init__(self, foods: Iterable[LarderFood], problems: Iterable[Problem] = ()) -> None:
        self.foods = tuple(foods)
        self.problems = tuple(problems)
        self._completed: dict[str, UserFood] = {}

    @cached_property
    def _by_words(self) -> Mapping[frozenset[str], LarderFood]:
        found: dict[frozenset[str], LarderFood] = {}
        for food in self.foods:
            for name in food.names:
                key = frozenset(words(name)) or frozenset({name.casefold()})
                found.setdefault(key, food)
        return found

    def entry(self, name: str) -> LarderFood | None:
        """The entry that a name means: all its words in any order, an id, or a bar code; None where there is none."""
        text = name.strip()
        for food in self.foods:
            if text in (food.id, food.bar_code) and text:
                return food
        return self._by_words.get(frozenset(words(text)) or frozenset({text.casefold()}))

    def named(self, name: str) -> UserFood | None:
        """The own food that a name means, completed; None where the larder has none of that name."""
        food = self.entry(name)
        if food is None:
            return None
        if food.id not in self._completed:
            from labeler.larder.complete import complete

            self._completed[food.id] = complete(food)
        return self._completed[food.id]


def read_larder(path: str) -> tuple[LarderFood, ...]:
    """The foods of a larder file.

    Parameters
    ----------
    path : str
        Of a TOML file, one ``[[food]]`` a package.

    Returns
    -------
    tuple of LarderFood
        As typed, in the order of the file; `Larder` looks them up by name and reads their panels.

    Raises
    ------
    LabelerError
        Where it cannot be read, is no TOML, has a key that nothing is known of, a value of the wrong kind, or two foods
        of one name; the message names file, line and food.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = Path(folder, "larder.toml")
    ...     _ = file.write_text('[[food]]\\nname = "Chilli crisp"\\nnet = "210 g"\\nlike = "peanut oil"\\n')
    ...     foods = labeler.read_larder(str(file))
    >>> [(food.name, food.net) for food in foods]
    [('Chilli crisp', '210 g')]
    """
    return _foods_of(read_bytes(path), path)


def larder_of_files(files: Iterable[LarderFile]) -> Larder | None:
    """The larder of files that are at hand, the foods of the first before the others.

    None where they hold nothing; a file that could not be read or cannot be used is one of the larder's problems.
    """
    foods: list[LarderFood] = []
    problems: list[Problem] = []
    for file in files:
        try:
            if file.unread:
                raise LabelerError(file.unread)
            foods.extend(_foods_of(file.data, file.path))
        except LabelerError as error:
            problems.append(unreadable(error))
    return Larder(foods, problems) if foods or problems else None


def _foods_of(data: bytes, path: str) -> tuple[LarderFood, ...]:
    """The foods of a larder's bytes; an empty file has none."""
    return _foods(file_text(data, path), path) if data else ()


def unreadable(error: LabelerError) -> Problem:
    """What is told where a larder cannot be used."""
    return Problem(
        "larder-unreadable",
        f"{error}. Until then none of its foods is known here: figures and allergens of your own packages are missing "
        "or those of other foods.",
    )


def _foods(text: str, path: str) -> tuple[LarderFood, ...]:
    """The foods of a larder's text; raises as `read_larder`, in the name of the file `path`."""
    import tomllib

    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        stated = str(error)
        at = _AT.search(stated)
        what = stated.partition(" (at")[0].lower() or "it is not TOML"
        number = at[1] if at else text.rstrip().count("\n") + 1
        raise LabelerError(
            f"{path}:{number}: the larder cannot be read ({what}); write key = “value”, text in straight quotes"
        ) from None
    for key in data:
        if key != "food":
            raise LabelerError(f"{path}: “{key}” is unknown at the top; every food begins with [[food]]")
    entries = data.get("food", [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise LabelerError(f"{path}: every food begins with [[food]], with two brackets")
    rows = [at for at, row in enumerate(text.split("\n"), start=1) if row.strip().replace(" ", "") == "[[food]]"]
    foods = []
    seen: dict[str, int | None] = {}
    for place, entry in enumerate(entries):
        line = rows[place] if len(rows) == len(entries) else None
        food = _food(entry, path, line)
        if food.id in seen:
            raise LabelerError(
                f"{path}:{line or 1}: “{food.name}” stands twice in the larder (also on line {seen[food.id]}); take "
                "one out"
            )
        seen[food.id] = line
        foods.append(food)
    return tuple(foods)


def _food(entry: Mapping[str, Any], path: str, line: int | None) -> LarderFood:
    where = f"{path}:{line or 1}"
    name = entry.get("name")
    if not isinstance(name, str) or not name.strip():
        raise LabelerError(f"{where}: this food has no name; write name = “...”")
    where = f"{where}: “{name}”"
    for key in entry:
        if key not in _KEYS:
            from labeler.rules.loading.reader import nearest

            raise LabelerError(f"{where}: “{key}” is unknown{nearest(key, _KEYS)}")
    texts = {key: _text(entry[key], key, where) for key in _TEXTS if key in entry}
    panel = _table(entry, "panel", where)
    return LarderFood(
        **texts,
        other_names=_other_names(entry.get("other_names", []), where),
        density=_density(entry.get("density"), where),
        read_on=_read_on(entry.get("read_on"), where),
        per=panel.pop("per", ""),
        rounded_under=panel.pop("rounded_under", "none").lower(),
        panel=panel,
        measures=_table(entry, "measures", where),
        file=path,
        line=line,
    )


def _other_names(value: Any, where: str) -> tuple[str, ...]:
    names = [value] if isinstance(value, str) else value
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise LabelerError(f"{where}: other_names is a list of names, such as [“chilli crisp”]")
    return tuple(names)


def _density(value: Any, where: str) -> float | None:
    """Grams of a millilitre; None where it is not given."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0.05 < value < 3:
        raise LabelerError(f"{where}: density is grams of a millilitre, a number such as 1.05")
    return float(value)


def _read_on(value: Any, where: str) -> datetime.date | None:
    """The day on which the package was read; None where it is not given."""
    if isinstance(value, str):
        try:
            return datetime.date.fromisoformat(value)
        except ValueError:
            raise LabelerError(f"{where}: read_on = “{value}” is no date such as 2026-03-02") from None
    if isinstance(value, datetime.datetime):
        return value.date()
    if value is not None and not isinstance(value, datetime.date):
        raise LabelerError(f"{where}: read_on is a date such as 2026-03-02")
    return value


def _text(value: Any, key: str, where: str) -> str:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise LabelerError(f"{where}: {key} is text in quotes")
    return " ".join(str(value).split())


def _table(entry: Mapping[str, Any], key: str, where: str) -> dict[str, str]:
    table = entry.get(key, {})
    if not isinstance(table, dict):
        raise LabelerError(f"{where}: {key} is a table; write [food.{key}] on a line of its own")
    return {str(name): _text(value, f"{key}.{name}", where) for name, value in table.items()}


def as_text(food: LarderFood) -> str:
    """A food as it stands in a larder file, from ``[[food]]`` on."""
    import tomli_w

    # The writer is free to put a short table on one line, and nothing can be added after `food = [...]`: the headings
    # that a cook knows are written here.
    entry: dict[str, Any] = {"name": food.name}
    if food.other_names:
        entry["other_names"] = list(food.other_names)
    entry |= {key: getattr(food, key) for key in _TEXTS[1:] if getattr(food, key)}
    if food.density is not None:
        entry["density"] = food.density
    if food.read_on is not None:
        entry["read_on"] = food.read_on
    text = "[[food]]\n" + tomli_w.dumps(entry)
    if food.panel or food.per or food.rounded_under != "none":
        panel = {"per": food.per, "rounded_under": food.rounded_under, **food.panel}
        text += "\n[food.panel]\n" + tomli_w.dumps(panel)
    if food.measures:
        text += "\n[food.measures]\n" + tomli_w.dumps(dict(food.measures))
    return text


def add_food(path: str, food: LarderFood) -> None:
    """Add a food at the end of a larder file, which is made where there is none; nothing in it is changed.

    Raises
    ------
    LabelerError
        Where the file cannot be used, has a food of that name, or would not be read back as it is meant; then it is
        left as it is.
    """
    before = ""
    known: tuple[LarderFood, ...] = ()
    if Path(path).is_file():
        known = read_larder(path)
        if any(one.id == food.id for one in known):
            raise LabelerError(
                f"{path}: “{food.name}” is in the larder already; change it there, or give this one another name"
            )
        before = read_text(path).rstrip("\n") + "\n\n" if Path(path).stat().st_size else ""
    else:
        try:
            Path(path).parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise LabelerError(
                f"{path}: its folder cannot be made ({(error.strerror or str(error)).lower()})"
            ) from None
    text = before + as_text(food)
    _check_read_back(text, path, known, food)
    write_whole(path, text.encode())


def _check_read_back(text: str, path: str, known: tuple[LarderFood, ...], food: LarderFood) -> None:
    """Refuse a text that does not hold the foods that stood there and the new one after them."""
    try:
        back = _foods(file_text(text.encode(), path), path)
    except LabelerError as error:
        raise LabelerError(
            f"{path}: left as it is, for with “{food.name}” it could not be read ({error}); every food of the file has "
            "to begin with [[food]] on a line of its own"
        ) from None
    if back[:-1] != known or _bare(back[-1]) != _bare(food):
        raise LabelerError(
            f"{path}: left as it is, for “{food.name}” would not be read back as it was given; leave control "
            "characters out of its names and figures"
        )


def _bare(food: LarderFood) -> LarderFood:
    """A food as the reader leaves its texts, without the place where it stands."""

    def plain(value: Any) -> Any:
        if isinstance(value, str):
            return " ".join(value.split())
        if isinstance(value, Mapping):
            return {key: plain(each) for key, each in value.items()}
        return value

    return LarderFood(
        **{one.name: plain(getattr(food, one.name)) for one in fields(food) if one.name not in ("file", "line")}
    )

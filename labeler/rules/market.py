"""One market: its folder of rule files, read when first asked for and checked as a whole.

``load_market("us")`` opens a bundled folder, ``load_market(Path(...))`` any other, so that adding a market is
adding a folder. A market may be based on another one (``based_on``): it then has all rules of that one except
those that its own files give anew.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any

from labeler.rules.loading.reader import Where, check_fields, nearest, read_table, read_yaml
from labeler.rules.loading.schema import CITATION, KINDS, MARKET, TABLES, rounding
from labeler.rules.model import Rule, RuleFileError, Source
from labeler.rules.rounding import Ladder
from labeler.types import LabelerError

__all__ = ["DATA", "Market", "load_market", "market_ids"]

DATA = Path(__file__).with_name("data")
MARKET_FILE = "market.yaml"
RULE_FILE_KEYS = ("about", "cited", "rules")


@dataclass(frozen=True)
class Market:
    """A market's rules, file by file.

    Parameters
    ----------
    folder : Path
        Holds ``market.yaml`` and the rule files.
    """

    folder: Path

    @property
    def id(self) -> str:
        """The market's id: the name of its folder."""
        return self.folder.name

    @cached_property
    def head(self) -> Mapping[str, Any]:
        """What ``market.yaml`` says: name, law, bases, words, what is missing."""
        file = self.folder / MARKET_FILE
        return MappingProxyType(check_fields(read_yaml(file), MARKET, Where(file)))

    @cached_property
    def base(self) -> Market | None:
        """The market that this one is based on."""
        name = self.head.get("based_on")
        if name is None:
            return None
        if name == self.id or not (DATA / name / MARKET_FILE).is_file():
            Where(self.folder / MARKET_FILE, "based_on").fail(f"no market '{name}'{nearest(name, market_ids())}")
        return load_market(name)

    def setting(self, key: str) -> Any:
        """One entry of ``market.yaml``, from the base where this market does not give it; None where neither does."""
        if key in self.head:
            return self.head[key]
        return self.base.setting(key) if self.base else None

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """The works that the rule files may cite."""
        found = dict(self.base.sources) if self.base else {}
        found |= {key: Source(key, **entry) for key, entry in self.head.get("sources", {}).items()}
        return MappingProxyType(found)

    @cached_property
    def files(self) -> tuple[str, ...]:
        """Names of the rule files, without their ending."""
        own = {file.stem for file in self.folder.glob("*.yaml") if file.name != MARKET_FILE}
        return tuple(sorted(own | set(self.base.files if self.base else ())))

    @cached_property
    def _read(self) -> dict[str, Mapping[str, Rule]]:
        return {}

    def rules(self, name: str) -> Mapping[str, Rule]:
        """The rules of one file in file order, empty where the market has no such file."""
        if name not in self._read:
            found = dict(self.base.rules(name)) if self.base else {}
            file = self.folder / f"{name}.yaml"
            if file.is_file():
                found |= _read_rules(file, self)
            self._read[name] = MappingProxyType(found)
        return self._read[name]

    @cached_property
    def all_rules(self) -> Mapping[str, Rule]:
        """Every rule of the market, the rows of its tables included."""
        found: dict[str, Rule] = {}
        for name in self.files:
            for key, entry in self.rules(name).items():
                if key in found:
                    Where(self.folder / f"{name}.yaml", key).fail("another file of this market has a rule of this name")
                found[key] = entry
        return MappingProxyType(found)

    def rule(self, name: str, key: str) -> Rule:
        """One rule of one file; raises RuleFileError where the market does not state it."""
        try:
            return self.rules(name)[key]
        except KeyError:
            raise RuleFileError(
                f"{self.folder / f'{name}.yaml'}: '{key}': missing: market {self.id} does not state this rule"
            ) from None

    def ladder(self, name: str, key: str) -> Ladder:
        """The ladder of one rounding rule."""
        found: Ladder = self.rule(name, key).data["ladder"]
        return found


def _cite(entry: Mapping[str, Any], market: Market, key: str, kind: str, data: Mapping[str, Any]) -> Rule:
    return Rule(
        id=key,
        market=market.id,
        kind=kind,
        summary=entry["summary"],
        paragraph=entry["paragraph"],
        since=entry["since"],
        since_basis=entry["since_basis"],
        status=entry["status"],
        sources=tuple(market.sources[name] for name in entry["sources"]),
        quote=entry.get("quote", ""),
        note=entry.get("note", ""),
        data=MappingProxyType(dict(data)),
    )


def _read_rules(file: Path, market: Market) -> dict[str, Rule]:
    found = read_yaml(file)
    where = Where(file)
    if not isinstance(found, dict):
        where.fail("a rule file is a mapping with the keys about, cited and rules")
    for key in found:
        if key not in RULE_FILE_KEYS:
            where.at(key).fail(f"unknown key{nearest(key, RULE_FILE_KEYS)}")
    cited = found.get("cited") or {}
    optional = {key: (check, False) for key, (check, _) in CITATION.items()}
    check_fields(cited, optional, where.at("cited"))
    entries = found.get("rules")
    if not isinstance(entries, dict) or not entries:
        where.at("rules").fail("missing: a rule file holds at least one rule")
    rules: dict[str, Rule] = {}
    for key, own in entries.items():
        here = where.at(key)
        if not isinstance(own, dict):
            here.fail(f"a rule is a mapping of keys, not {own!r}")
        entry = cited | own
        if entry.get("kind") not in KINDS:
            here.at("kind").fail(f"{entry.get('kind')!r} is no kind of rule{nearest(entry.get('kind'), KINDS)}")
        kind = KINDS[entry["kind"]]
        checked = check_fields(entry, {**CITATION, **kind}, here)
        _check_sources(checked["sources"], market, here)
        data = {name: checked[name] for name in kind if name in checked}
        if entry["kind"] == "table":
            rules |= _read_rows(file, key, checked, market)
        rules[key] = _cite(checked, market, key, entry["kind"], rounding(data) if entry["kind"] == "rounding" else data)
    return rules


def _check_sources(names: tuple[str, ...], market: Market, where: Where) -> None:
    if not names:
        where.at("sources").fail("missing: a rule names at least one source")
    for name in names:
        if name not in market.sources:
            where.at("sources").fail(f"no source '{name}' in {MARKET_FILE}{nearest(name, market.sources)}")


def _read_rows(file: Path, key: str, table: Mapping[str, Any], market: Market) -> dict[str, Rule]:
    """The rows of a table as rules of their own, citing the table's rule for what they do not say."""
    place = file.with_name(table["file"])
    rows: dict[str, Rule] = {}
    for name, row in read_table(place, TABLES[table["holds"]], "id").items():
        _check_sources(row.get("sources", table["sources"]), market, Where(place, name))
        entry = {**table, **row, "paragraph": row.get("paragraph") or table["paragraph"]}
        if "summary" not in row:
            figure = "no figure" if row["amount"] is None else f"{row['amount']} {row['unit']}"
            entry["summary"] = f"{row.get('label') or row['category']}: {figure}"
        row_id = f"{key}.{name}"
        rows[row_id] = _cite(entry, market, row_id, table["holds"], row)
    return rows


def market_ids() -> tuple[str, ...]:
    """The markets that are bundled."""
    return tuple(sorted(file.parent.name for file in DATA.glob(f"*/{MARKET_FILE}")))


def load_market(market: str | Path | Market) -> Market:
    """A market by its id, or from any folder of rule files.

    Raises
    ------
    LabelerError
        For an id that is not bundled (with the nearest that is), or a folder without ``market.yaml``.
    """
    if isinstance(market, Market):
        return market
    if isinstance(market, Path):
        if not (market / MARKET_FILE).is_file():
            raise LabelerError(f"{market}: no {MARKET_FILE} in this folder, so it holds no market")
        return Market(market)
    return _bundled(market)


@cache
def _bundled(market: str) -> Market:
    if market not in market_ids():
        raise LabelerError(f"no rules for market '{market}'{nearest(market, market_ids())}")
    return Market(DATA / market)

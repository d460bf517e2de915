"""Labels as people who know the trade would ask for them: a file of cases, read and printed one by one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import yaml

from labeler.label.make import make_label
from labeler.parsing import read_recipe

FILE = yaml.safe_load((Path(__file__).parents[1] / "data" / "label_cases.yaml").read_text(encoding="utf-8"))
CASES: list[dict[str, Any]] = FILE["cases"]
KEYS = {
    *("name", "paragraph", "market", "recipe", "head", "language", "stands", "stands_not", "lacks", "panel"),
    *("figures", "asks", "asked", "says", "message", "method"),
}


def recipe_of(case: dict[str, Any]):
    """The recipe of a case, with the address of its market and what the case changes in the head."""
    base = FILE["recipes"][case["recipe"]]
    own = base.get("in", {}).get(case["market"], {})
    head = {
        **base["head"],
        **own,
        "maker": "Tern & Tide Kitchen",
        "place": FILE["addresses"][case["market"]],
        **case["head"],
    }
    kept = {key: value for key, value in head.items() if value is not None}
    written = (*base["lines"], *case.get("method", ()))
    lines = "\n".join(line if line.startswith(">") else f"- {line}" for line in written)
    return read_recipe(f"---\n{yaml.safe_dump(kept, allow_unicode=True, sort_keys=False)}---\n{lines}\n")


def printed(case: dict[str, Any]):
    """The label of a case and the words that stand on it."""
    made = make_label(recipe_of(case), market=case["market"], language=case.get("language", "en"), size="200x280")
    return made, " ".join(pypdfium2.PdfDocument(made.pdf)[0].get_textpage().get_text_range().split())


def faults(case: dict[str, Any]) -> list[str]:
    """In what a label differs from its case."""
    made, words = printed(case)
    found = [f"lacks the words {text!r}" for text in case.get("stands", ()) if text not in words]
    found += [f"has the words {text!r}" for text in case.get("stands_not", ()) if text in words]
    lacks = list(dict.fromkeys(lack.element.value for lack in made.check.lacks))
    if "lacks" in case and sorted(lacks) != sorted(case["lacks"]):
        found.append(f"says it lacks {lacks}, not {case['lacks']}")
    if made.declared["draft"] != bool(lacks) or ("DRAFT" in words) != bool(lacks):
        found.append("has a draft mark and nothing lacking, or none and something lacking")
    for key in ("panel", "figures"):
        if key in case and made.declared[key] != case[key]:
            found.append(f"{key} is {made.declared[key]}, not {case[key]}")
    if "asked" in case and len(made.check.questions) != case["asked"]:
        found.append(f"asks {len(made.check.questions)} questions, not {case['asked']}")
    for key, texts in (("asks", made.check.questions), ("says", made.check.notes)):
        if key in case and not any(case[key] in text for text in texts):
            found.append(f"{key} nothing with {case[key]!r}")
    if "message" in case and not any(case["message"] in lack.message for lack in made.check.lacks):
        found.append(f"no lack says {case['message']!r}")
    return found


def test_the_file_of_cases_is_whole() -> None:
    """Sixty cases and more, each with a name of its own, a paragraph and known keys; half of them lack nothing."""
    assert len(CASES) >= 60 and len({case["name"] for case in CASES}) == len(CASES)
    for case in CASES:
        assert set(case) <= KEYS and case["paragraph"] and case["recipe"] in FILE["recipes"], case["name"]
    assert sum(case.get("lacks") == [] for case in CASES) >= 30
    assert {case["market"] for case in CASES} == set(FILE["addresses"])


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_label_is_what_its_case_asks_for(case: dict[str, Any]) -> None:
    """Words, panel, figures, questions and what lacks are those of the case, and a draft is marked as one."""
    assert faults(case) == []


def test_a_case_that_is_not_met_fails() -> None:
    """The reader of the cases sees words that lack, words too many, and another verdict."""
    shown = next(case for case in CASES if case["market"] == "us" and case.get("figures") not in (None, "none"))
    wrong = {**shown, "stands": ["Nutrition Farce"], "stands_not": ["Calories"], "lacks": ["date"]}
    assert len(faults(wrong)) == 3

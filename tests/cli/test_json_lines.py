"""Many rows get the answers that each would get alone, in order, however many processes share the work."""

import json

import pytest

from labeler.cli import json_lines as rows


@pytest.mark.parametrize("worth", [10**9, 5])
def test_shared_work_gives_the_same_answers_in_order(monkeypatch, worth):
    """Lines, names and allergens are the same from one process and from several."""
    monkeypatch.setattr(rows, "WORTH_SHARING", worth)
    monkeypatch.setattr(rows, "_cores", lambda: 2)
    texts = [f"{number} g {food}" for number in range(1, 6) for food in ("butter", "cod", "plain flour", "")]
    lines = [json.loads(line) for line in rows.line_answers(texts, "-")]
    assert [line["text"] for line in lines] == texts
    names = [json.loads(line)["query"] for line in rows.food_answers(["salt", "qzxv", "milk"] * 4)]
    assert names == ["salt", "qzxv", "milk"] * 4
    found = [json.loads(line) for line in rows.allergen_answers(texts, "-", market="us")]
    assert [[one["allergen"] for one in item["contains"]] for item in found] == [["milk"], ["fish"], ["wheat"], []] * 5

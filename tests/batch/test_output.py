"""A batch never takes what it wrote for a recipe."""

from labeler.batch.dataset import columns_text
from labeler.batch.output import is_output


def test_tables_and_reports_are_known_by_name_and_head(tmp_path):
    """A cook's own file of the same name is a recipe."""
    for name, text, own in (
        ("recipes.csv", "file,outcome,title,market,servings\n", True),
        ("recipes.csv", "amount,unit,ingredient\n", False),
        ("report.md", "# The batch\n\n- 3 recipes done\n", True),
        ("report.md", "# The batch bake\n- 1 egg\n", False),
        ("bun.md", "# The batch\n", False),
        ("columns.csv", columns_text(), True),
        ("columns.csv", "table,amount,ingredient\n", False),
    ):
        (tmp_path / name).write_text(text, encoding="utf-8")
        assert is_output(tmp_path / name) is own
    assert not is_output(tmp_path / "gone" / "report.md")

"""The worked example that ends the help of each command: what is typed, and what of the answer is worth seeing.

The recipes are those of the demo, which ``labeler page --demo`` writes into a folder. A row of dots stands for rows of
the answer that are left out.
"""

from __future__ import annotations

import click

__all__ = ["EXAMPLES", "add_examples"]

EXAMPLES = {
    "lines": """
$ echo "1 cup sugar" | labeler lines -
 line         food                sure  grams  between
 1 cup sugar  Sugars, granulated   97%    200  184–230
""",
    "foods": """
$ labeler foods "double cream"
 name          id     food of the table    sure  why
 double cream  01053  Cream, fluid, heavy   95%  “heavy cream” is a usual ...
...
""",
    "nutrition": """
$ labeler nutrition quay-pie.md
Quay pie
6 servings of ...
                   a serving       range  per 100 g        range  from
 Energy [kcal] ...
 Fat [g] ...
...
""",
    "allergens": """
$ labeler allergens quay-pie.md
Quay pie
 allergen                        why
 contains  milk                  "milk" is milk ...
...
 contains  fish: haddock         "haddock" is a fish; ...
...
""",
    "matrix": """
$ labeler matrix quay-pie.md beetroot-relish.md
         Quay pie  Beetroot and apple relish
 milk     C         ·
...
 fish     C         ·
...
""",
    "requirements": """
$ labeler requirements beetroot-relish.md --fact sale="packed at the stall"
Beetroot and apple relish, market uk
Serving: 17 g; about 11 in the pack
...
 ingredient list             mandatory         The full ingredient list, ...
...
""",
    "rules": """
$ labeler rules --market eu round-salt
round-salt  [eu, rounding]
  Salt: 1 g and more the nearest 0.1 g, above 0.0125 g the nearest 0.01 g, ...
...
  - below 1: nearest 0.01
  - otherwise: nearest 0.1
  Paragraph: Commission guidance of December 2012, rounding
...
""",
    "method": """
$ labeler method beetroot-relish.md
 step  as written               takes                    leaves
    1  bring to the boil        cider vinegar, yellow
                                mustard seed, ...
...
""",
    "label": """
$ labeler label beetroot-relish.md --size jar -o relish.pdf
relish.pdf: Beetroot and apple relish, 100 × 70 mm, market uk, packed ahead
...
""",
    "worksheet": """
$ labeler worksheet quay-pie.md -o pie.xlsx
pie.xlsx: Quay pie, market uk
...
""",
    "post": """
$ labeler post quay-pie.md --form text
Contains: milk, fish (haddock), crustaceans (shrimp), molluscs (mussel),
wheat

Quay pie
...
""",
    "larder": """
$ labeler larder add --name "Chilli crisp" --like "peanut oil" \\
    --per "14 g" --value total_fat="9 g" --contains soybeans
...: Chilli crisp added
...
""",
    "larder add": """
$ labeler larder add --name "Chilli crisp" --like "peanut oil" \\
    --per "14 g" --rounded-under us --value calories=90 --value total_fat="9 g" \\
    --ingredients "Rapeseed oil, dried chilli, soybeans" --contains soybeans
...: Chilli crisp added
...
""",
    "larder list": """
$ labeler larder list
Chilli crisp: panel of 14 g, read ...
...
""",
    "larder show": """
$ labeler larder show "chilli crisp"
Chilli crisp  (larder:chilli-crisp)
Panel: 14 g: calories 90, total fat 9 g
...
 Fat              64.3 g    58.6    70.4  calculated
...
""",
    "larder check": """
$ labeler larder check
Chilli crisp: ...
""",
    "opendata": """
$ labeler opendata search cheddar cheese
...
  173414  Cheese, cheddar (SR Legacy)
...
""",
    "opendata search": """
$ labeler opendata search cheddar cheese
...
  173414  Cheese, cheddar (SR Legacy)
...
""",
    "opendata food": """
$ labeler opendata food 173414 --name "farm cheddar" --keep
...: farm cheddar added, from ...
""",
    "opendata pack": """
$ labeler opendata pack 2012345678903 --name "seed mix" --keep
...: seed mix added, from ...
""",
    "import": """
$ labeler import list.txt
---
title: list
---
- 1 cup sugar
- 2 garlic cloves
""",
    "batch": """
$ labeler batch stall -o made --labels
made: 3 of 3 recipes done, 0 refused, 0 faults; see report.md
""",
    "page": """
$ labeler page stall --demo
http://127.0.0.1:...
""",
}
"""Words of the command line → what is typed with what is answered, as a terminal shows it."""


def add_examples(group: click.Group, above: str = "") -> None:
    """Put the example of every command of a group behind its options."""
    for name, command in group.commands.items():
        words = f"{above} {name}".strip()
        rows = f"Example:\n\n{EXAMPLES[words].strip()}".split("\n\n")
        command.epilog = "\n\n".join(f"\b\n{row}" for row in rows)  # \b: click leaves the rows of a paragraph alone
        if isinstance(command, click.Group):
            add_examples(command, words)

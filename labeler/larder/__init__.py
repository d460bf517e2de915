"""The larder: the cook's own packaged foods, from a readable file beside the recipes or in the user's data folder.

What a package says beats any table: its panel as printed, its ingredient list, its allergen statement, its net weight.
``file.py`` reads and adds to ``larder.toml``; ``panel.py`` turns printed figures back into the amounts that they may
stand for; ``nearest.py`` and ``complete.py`` find the table food that lends what the panel does not give;
``ingredients.py`` reads the list; ``check.py`` says what does not agree.
"""

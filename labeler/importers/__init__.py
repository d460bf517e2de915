"""Recipes from elsewhere: a saved web page, JSON, pasted text or a table, turned into a recipe file of ours.

``reading.py`` tells what a file is and reads it: ``page.py`` takes a page apart, ``linked.py`` finds schema.org recipes
in data, ``plain.py`` reads pasted text by its headings, ``table.py`` rows and columns; each gives a `Carried`, which
``write.py`` writes down as a recipe file. Only files and standard input are read.
"""

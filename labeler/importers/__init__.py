"""Recipes from elsewhere: a saved web page, JSON, pasted text or a table, read as a `Recipe` like a file of ours.

``reading.py`` tells what a file is and reads it: ``page_data.py`` finds the data of a page and ``schema_org.py`` the
recipes in them, ``web_page.py`` reads what a page shows, ``table.py`` rows and columns; text goes to
`labeler.parsing`. What data say beside a recipe ``rest.py`` keeps. Only files and standard input are read.
"""

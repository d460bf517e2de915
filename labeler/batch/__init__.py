"""A folder of recipes at once: tables, labels and one report, over several processes, and never the same work twice.

``journal.py`` keeps what is done, a line a recipe, as it is done; ``work.py`` is one recipe; ``run.py`` shares the
recipes out and survives whatever one of them does; ``tables.py`` writes the tables and the report from the journal.
"""

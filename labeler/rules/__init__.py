"""The rules of each market: what a label must say, how its figures are rounded, and where that stands in the law.

Every number of every regulation is a dated, cited entry of a data file under ``data/<market>/``; the modules here
are small engines that run those files. Nothing about a market is written in code. One call in each module::

    declare.declare(values, market="us")                  # the figures of the nutrition panel
    serving.serving_size(market="us", title=...)          # "1 tbsp (15 g)", about 23
    ingredients.ingredient_list(weighed, allergens)       # in descending order, parts in parentheses
    net.net_quantity(grams=340)                           # "Net Wt 12 oz (340 g)"
    claims.claims(per_100g, reference_g=30)               # what could be claimed, and what that costs
    obligations.obligations({"sale": "packed ahead"})     # what must stand on it at all
    tolerance.tolerance(values)                           # how likely an analysis would differ too much
    panel.panel("vertical")                               # the official panel as data
    catalogue.rule("total_fat")                           # any rule with its paragraph, date and status
"""

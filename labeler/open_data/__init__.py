"""Open food data over the network: optional, never needed for the main job; nothing is kept that the cook has not seen.

Two services: FoodData Central of the USDA (CC0) for foods by words and by id, and Open Food Facts (ODbL) for packages
by bar code. ``http_client.py`` asks politely and remembers; ``fooddata.py`` and ``foodfacts.py`` read what comes back,
which may be anything; ``found.py`` is what they hand on: a larder food with its source, its licence and its date, and
what is odd about it.
"""

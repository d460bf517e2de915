"""How far to trust a figure: what is uncertain, the intervals that follow, and what to weigh next."""

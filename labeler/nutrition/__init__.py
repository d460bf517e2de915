"""Nutrition of a recipe: totals, their status and intervals, per serving, per 100 g and per batch."""

"""Weights: from an amount as a cook writes it to grams of the edible portion, with bounds and a reason."""

"""Food matching: from the words of a name to the entry of the food table that they mean."""

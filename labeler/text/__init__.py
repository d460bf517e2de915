"""English nouns and words, for every room that reads names: plurals and word stems."""
